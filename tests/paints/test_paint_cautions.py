"""Cautions: each substance once, worst first, all its paints named."""

import pytest

from critique.paints.box import find_paint, whole_box
from critique.paints.cautions import cautions_for, in_one, substances
from critique.paints.paint import OWN_DABS, Paint


def named(*queries):
    return [find_paint(query) for query in queries]


def test_a_substance_is_told_once_with_every_paint_that_holds_it():
    (cadmium,) = cautions_for(named("PO20", "PR108", "ultramarine", "PR108"))
    assert cadmium.substance == "cadmium" and cadmium.paints == ("cadmium orange", "cadmium red light")
    assert cadmium.text.startswith("Cadmium orange and cadmium red light contain cadmium: don't sand, spray or eat")


def test_the_worst_comes_first_and_the_dust_of_white_last():
    found = cautions_for(named("white", "burnt umber", "PY150", "cobalt blue", "PO20"))
    assert [one.substance for one in found] == ["cadmium", "cobalt", "nickel", "manganese", "titanium dioxide dust"]
    assert [one.rank for one in found] == sorted(one.rank for one in found)
    assert "its dust is what harms" in found[-1].text


def test_every_caution_says_what_not_to_do_and_defers_to_the_label_and_the_data_sheet():
    """No substance is called harmless: the label of the tube in hand always wins."""
    for one in cautions_for(whole_box().with_white):
        assert "don't sand" in one.text and "spray" in one.text, one.text
        assert "read the label and safety data sheet" in one.text and "no worry" not in one.text, one.text


def test_a_label_of_ones_own_is_taken_seriously_and_lead_comes_before_all():
    def own(name, hazard):
        blue = find_paint("ultramarine")
        return Paint(name, "", "", "", hazard, OWN_DABS, blue.K, blue.S)

    found = cautions_for([*named("PO20"), own("old tube", "lead;arsenic"), own("old green", "chromium")])
    assert [one.substance for one in found] == ["lead", "arsenic", "cadmium", "chromium"]


def test_an_own_paint_of_which_nothing_was_told_is_not_called_harmless():
    """Two dabs tell a colour, not what is in the tube: the label always wins."""
    blue = find_paint("ultramarine")

    def own(name, hazard=""):
        return Paint(name, "", "", "", hazard, OWN_DABS, blue.K, blue.S)

    found = cautions_for([*named("PO20"), own("attic green"), own("attic blue"), own("old tube", "lead")])
    assert [one.substance for one in found] == ["lead", "cadmium", "not told"]
    assert found[-1].text == (
        "What attic green and attic blue may hold isn't known here: read their label and safety data sheet; follow "
        "local rules."
    )


@pytest.mark.parametrize("between", [", ", "; ", ";", " and ", " / ", " & ", " + "])
def test_substances_of_a_label_are_told_apart_however_a_painter_parts_them(between):
    blue = find_paint("ultramarine")
    tube = Paint("old tube", "", "", "", between.join(("Lead", "chromium", "nickel")), OWN_DABS, blue.K, blue.S)
    found = cautions_for([tube])
    assert [one.substance for one in found] == ["lead", "nickel", "chromium"]
    assert "wash hands" in found[0].text and "keep it from children" in found[0].text
    assert "gloves if nickel" in found[1].text
    assert substances("chromium(II, III), Chromium (III)") == ("chromium(II, III)", "chromium(III)")


@pytest.mark.parametrize(
    ("hazard", "words"),
    [("lead carbonate", "keep it from children"), ("Cobalt oxide", "gloves if cobalt"), ("zinc oxide", "rinse water")],
)
def test_a_compound_that_the_table_lacks_gets_the_words_of_its_metal_and_no_milder_a_rank(hazard, words):
    blue = find_paint("ultramarine")
    (one,) = cautions_for([Paint("old tube", "", "", "", hazard, OWN_DABS, blue.K, blue.S)])
    assert words in one.text and hazard in one.text and one.rank <= 1.5


def test_a_label_that_was_read_and_warns_of_nothing_is_neither_a_substance_nor_unread():
    blue = find_paint("ultramarine")
    read, unread = (Paint("tube", "", "", "", told, OWN_DABS, blue.K, blue.S) for told in ("None", " - "))
    assert cautions_for([read]) == () and [one.substance for one in cautions_for([unread])] == ["not told"]


def test_every_listed_hazard_of_the_catalogue_has_words_of_its_own():
    found = cautions_for(whole_box().with_white)
    assert all(one.rank != 1.5 for one in found)
    assert cautions_for(named("ultramarine", "PY74")) == ()


def test_metals_that_make_skins_allergic_are_told_with_gloves():
    """Nickel and cobalt compounds: H317, may cause an allergic skin reaction. [GHS; sellers' data sheets]"""
    for name, metal in (("PY150", "nickel"), ("cobalt blue", "cobalt"), ("cerulean blue", "cobalt")):
        assert f"gloves if {metal} irritates your skin" in " ".join(one.text for one in cautions_for(named(name)))


def test_on_the_sheet_every_hazard_is_named_and_every_warning_said_once():
    paints = named(
        "cadmium yellow light", "cobalt blue", "cerulean blue", "burnt umber", "zinc white", "titanium white"
    )
    told = in_one(cautions_for(paints))
    for one in cautions_for(paints):
        assert f"({one.substance})" in told and all(name in told for name in one.paints)
    once = ("don't sand, spray or eat near them", "gloves if cobalt", "rinse water", "data sheet", "follow local rules")
    for words in once:
        assert told.count(words) == 1, words
    (white,) = cautions_for(named("titanium white"))
    assert in_one([white]) == white.text
