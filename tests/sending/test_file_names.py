"""Names of files that are sent: any title, any letters, and still a name that every file system takes."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as some

from critique.errors import CritiqueError
from critique.sending.file_names import FIELDS, filled, names_apart, needed, spelt

ROW = {field: field.title() for field in FIELDS} | {"n": 7}


def named(pattern, **fields):
    return filled(pattern, {**ROW, **fields})


def test_a_pattern_is_filled():
    assert named("{artist}_{title}_{n}", artist="Åse Lindqvåg", title="Haze, early") == "Ase-Lindqvag_Haze-early_7"
    assert named("../../etc/{n}") == "etc-7"
    assert named("show 2026 {n:02} {size}", size="40,5 × 30 cm") == "show-2026-07-40-5-x-30-cm"
    assert needed("{artist}_{n}_{artist}") == ("artist", "n")


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Schönes Groß-Übel", "Schoenes-Gross-Uebel"),
        ('a/b\\c:d*e?f"g<h>i|j', "a-b-c-d-e-f-g-h-i-j"),
        ("  ..hidden.. ", "hidden"),
        ("CON", "CON_"),
        ("nul.jpg", "nul-jpg"),
        ("Painter's hut", "Painters-hut"),
        ("Утро", "Утро"),
        ("朝霧", "朝霧"),
        ("½ light", "12-light"),
        ("tab\tand\nline", "tab-and-line"),
        ("-rf", "rf"),
    ],
)
def test_titles_become_safe(title, name):
    assert named("{title}", title=title) == name


@pytest.mark.slow
@given(some.text(min_size=1, max_size=400), some.text(max_size=400))
def test_any_title_gives_a_name_that_any_file_system_takes_or_none(title, artist):
    try:
        name = named("{artist}_{title}_{n}", title=title, artist=artist)
    except CritiqueError as error:
        assert "\n" not in str(error)
        return
    assert name and len(name.encode("utf-8")) <= 100
    assert not set(name) & set('<>:"/\\|?* ') and name == name.strip(" .")
    assert not any(unicodedata.category(letter) in ("Cc", "Cf", "Cs", "Zl", "Zp") for letter in name)
    assert name.endswith("7")  # however long the title, the number that tells names apart stays


def test_ten_thousand_letters_leave_the_number_in():
    name = named("{artist}_{title}_{medium}_{n:03}", title="a" * 10_000, artist="b" * 10_000, medium="c" * 10_000)
    assert name.endswith("_007") and len(name) <= 100


@pytest.mark.parametrize(
    ("pattern", "what"),
    [
        ("{painter}_{n}", "{painter}"),
        ("{title.upper}", "isn't known"),
        ("{title[0]}", "isn't known"),
        ("{}", "isn't known"),
        ("{title", "brace"),
        ("title}", "brace"),
        ("{title:>9}", "{n:02}"),
        ("{n:999999999d}", "{n:02}"),
        ("same", "same for every picture"),
        ("x" * 200 + "{n}", "too long"),
    ],
)
def test_a_pattern_that_cannot_be_filled_is_one_line(pattern, what):
    with pytest.raises(CritiqueError) as error:
        named(pattern)
    assert what in str(error.value) and "\n" not in str(error.value)


def test_names_that_differ_in_capitals_only_are_one_name():
    with pytest.raises(CritiqueError, match=r"a\.jpg, b\.jpg: put \{n\}"):
        names_apart(["Sea", "sea", "Land"], "{title}", ["a.jpg", "b.jpg", "c.jpg"])
    names_apart(["Sea_1", "Sea_2"], "{title}_{n}", ["a.jpg", "b.jpg"])


def test_what_is_spelt_stays_as_it_is():
    for text in ("Schönes Ufer", "a/b.c", "Ærø & Łódź"):
        assert spelt(spelt(text)) == spelt(text)
