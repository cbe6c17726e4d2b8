"""The commands about paint as a painter types them, with good input and bad."""

import json

import numpy as np
import pytest
from click.testing import CliRunner
from PIL import Image

from critique.cli.main import main
from critique.paints.catalogue import known_paints


def run(*arguments):
    return CliRunner().invoke(main, [str(argument) for argument in arguments])


@pytest.fixture
def meadow(tmp_path):
    """Sky over two greens and a brown, small."""
    codes = np.zeros((90, 120, 3), np.uint8)
    codes[:30], codes[30:60], codes[60:80], codes[80:] = (150, 190, 225), (96, 160, 40), (60, 110, 50), (120, 90, 60)
    file = tmp_path / "meadow.png"
    Image.fromarray(codes).save(file)
    return file


@pytest.fixture
def box(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text('paints = ["yellow ochre", "red oxide", "PB29", "PG7", "PY74"]\n', encoding="utf-8")
    return file


@pytest.mark.slow
def test_palette_writes_its_page_and_says_what_each_palette_is_for(meadow, box, tmp_path):
    done = run("palette", meadow, "--paints", 3, "--box", box, "--out", tmp_path / "out")
    assert done.exit_code == 0
    assert "palette/palette.html" in (tmp_path / "out" / "meadow" / "index.html").read_text(encoding="utf-8")
    folder = tmp_path / "out" / "meadow" / "palette"
    assert {"palette.html", "palette.json", "plates"} == {path.name for path in folder.iterdir()}
    for words in ("closest:", "Caution:", str(folder / "palette.html")):
        assert words in done.stdout
    assert done.stderr == ""


def test_palette_prints_its_record_for_machines(meadow, box, tmp_path):
    done = run("palette", meadow, "--paints", 3, "--box", box, "--out", tmp_path / "out", "--json", "--light", "led")
    record = json.loads(done.stdout)
    assert record["light"] == "LED-B3" and record["paints"] == 3
    assert record == json.loads((tmp_path / "out" / "meadow" / "palette" / "palette.json").read_text(encoding="utf-8"))


@pytest.mark.slow
def test_chart_writes_its_page_from_names_or_from_a_box(box, tmp_path):
    done = run("chart", "ochre", "PB29", "--out", tmp_path / "two")
    assert done.exit_code == 0 and "greys yellow oxide" in done.stdout
    assert {path.name for path in (tmp_path / "two" / "plates").iterdir()} == {"chart.png", "reach.png"}
    whole = run("chart", "--box", box, "--out", tmp_path / "box", "--json", "--light", "A")
    assert len(json.loads(whole.stdout)["pairs"]) == 10


def test_paints_are_listed_whole_or_from_a_box(box):
    everything = run("paints", "list")
    assert everything.exit_code == 0
    assert all(facts.name in everything.stdout for facts in known_paints())
    assert "typical, not measured" in everything.stdout and "cadmium" in everything.stdout
    assert len(run("paints", "list", "--box", box).stdout.splitlines()) == 6
    rows = json.loads(run("paints", "list", "--json").stdout)
    assert [row["name"] for row in rows] == [facts.name for facts in known_paints()]


def test_a_paint_is_shown_with_how_it_covers_and_what_greys_it():
    shown = run("paints", "show", "thalo green")
    assert shown.exit_code == 0
    for words in ("phthalo green (blue shade) (PG7)", "transparent", "glaze", "greys phthalo green", "#"):
        assert words in shown.stdout
    record = json.loads(run("paints", "show", "PR108", "--json", "--light", "A").stdout)
    assert record["light"] == "A" and "cadmium" in record["caution"] and record["coats"]["over_green"].startswith("#")


def test_an_own_paint_is_added_shown_and_charted(box, tmp_path):
    added = run("paints", "add", "old green", "--box", box, "--masstone", "24,-14,10", "--tint", "#7fab87", "--json")
    assert added.exit_code == 0 and json.loads(added.stdout)["origin"] == "own dabs"
    assert "own dabs" in run("paints", "show", "old green", "--box", box).stdout
    assert run("chart", "old green", "red oxide", "--box", box, "--out", tmp_path / "own").exit_code == 0


def test_a_box_begun_by_adding_a_paint_says_what_else_it_holds(tmp_path):
    file = tmp_path / "new.toml"
    dabs = ("--masstone", "24,-14,10", "--tint", "66,-22,14")
    begun = run("paints", "add", "old green", "--box", file, *dabs)
    assert begun.exit_code == 0 and "12 paints of the landscape set; take out those you don't own" in begun.stderr
    assert "opacity not told" in begun.stdout and "mostly covers" not in begun.stdout
    again = run("paints", "add", "old green", "--box", file, "--masstone", "25,-14,10", "--tint", "66,-22,14")
    assert again.exit_code == 1 and f"take its [[own]] lines out of {file}" in again.stderr
    assert "another name" in again.stderr
    other = run("paints", "add", "older green", "--box", file, *dabs)
    assert other.exit_code == 0 and other.stderr == "", "the box is no longer new"


@pytest.mark.parametrize("command", [("review",), ("palette",), ("paints",)])
def test_help_shows_what_a_box_looks_like(command):
    assert "paints = [" in " ".join(run(*command, "--help").stdout.split())


def test_an_own_paint_is_added_from_a_photograph(box, tmp_path):
    codes = np.zeros((80, 90, 3), np.uint8)
    codes[:, :30], codes[:, 30:60], codes[:, 60:] = (32, 44, 34), (118, 140, 110), (225, 215, 190)
    Image.fromarray(codes).save(tmp_path / "dabs.png")
    spots = ("--masstone-at", "0.17,0.5", "--tint-at", "0.5,0.5", "--white-at", "0.83,0.5")
    added = run("paints", "add", "mud", "--box", box, "--photo", tmp_path / "dabs.png", *spots)
    assert added.exit_code == 0 and "added to" in added.stdout and "mud" in box.read_text(encoding="utf-8")


def write_boxes(folder):
    (folder / "empty.toml").touch()
    (folder / "one.toml").write_text('paints = ["PG7"]', encoding="utf-8")
    (folder / "white.toml").write_text('paints = ["PW6"]', encoding="utf-8")
    (folder / "slip.toml").write_text('name = "field"\nmy paints: PG7, PY74\n', encoding="utf-8")
    (folder / "wrong.toml").write_text('paints = ["PG7", "unobtainium"]', encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("palette", "nothing.png"), "nothing.png"),
        (("palette", "meadow.png", "--box", "empty.toml"), "empty.toml: the paint box is empty"),
        (("palette", "meadow.png", "--box", "one.toml"), "at least 2"),
        (("palette", "meadow.png", "--box", "wrong.toml"), "unobtainium"),
        (("palette", "meadow.png", "--box", "not there.toml"), "can't read this paint box"),
        (("palette", "empty.toml"), "empty.toml"),
        (("chart", "PG7"), "2 to 8 paints beside white, and 1 was named"),
        (("chart", "PG7", "PB999"), "nearest are"),
        (("chart", "PG7", "zzz", "unobtainium"), "no paint is called 'zzz'; no paint is called 'unobtainium'"),
        (("chart", "PG7", "umber"), "burnt umber or raw umber"),
        (("paints", "show", "nothing like it"), "critique paints list"),
        (("paints", "show", "carmine"), "nearest are quinacridone red"),
        (("palette", "meadow.png", "--box", "white.toml"), "holds no paints beside white"),
        (("palette", "meadow.png", "--box", "slip.toml"), "slip.toml: line 2 can't be read"),
        (("paints", "add", "x", "--box", "mine.toml", "--masstone", "24,0,0", "--tint", "24,0,0"), "the same colour"),
        (("paints", "list", "--box", "one.toml"), "at least 2"),
        (("paints", "add", "x", "--box", "mine.toml"), "masstone is missing"),
        (("paints", "add", "x", "--box", "mine.toml", "--masstone", "66,0,0", "--tint", "24,0,0"), "darker than its"),
        (("paints", "add", "x", "--box", "mine.toml", "--masstone", "24,0,0", "--tint", "99.8,0,0"), "lighter than"),
        (("paints", "add", "x", "--box", "mine.toml", "--masstone", "-9,0,0", "--tint", "60,0,0"), "L* runs from 0"),
        (("paints", "add", "x", "--box", "empty.toml", "--masstone", "24,0,0", "--tint", "60,0,0"), "is empty"),
        (("paints", "add", "x", "--box", "mine.toml", "--photo", "meadow.png"), "three spots"),
    ],
)
def test_what_cannot_be_done_is_told_in_one_line(meadow, box, tmp_path, monkeypatch, arguments, words):
    write_boxes(tmp_path)
    before = sorted(path.name for path in tmp_path.iterdir())
    monkeypatch.chdir(tmp_path)
    done = run(*arguments)
    assert done.exit_code == 1 and done.stdout == ""
    assert done.stderr.startswith("critique: ") and done.stderr.count("\n") == 1 and words in done.stderr
    assert sorted(path.name for path in tmp_path.iterdir()) == before, "nothing is left behind"


@pytest.mark.parametrize(
    "arguments",
    [
        ("palette",),
        ("palette", "meadow.png", "--light", "moon"),
        ("chart", "PG7", "PY74", "--light", "moon"),
        ("palette", "meadow.png", "--paints", "2"),
        ("palette", "meadow.png", "--paints", "many"),
        ("chart",),
        ("paints", "add", "x", "--masstone", "24,0,0", "--tint", "60,0,0"),
        ("paints", "add", "x", "--box", "mine.toml", "--masstone", "24,0", "--tint", "60,0,0"),
        ("paints", "add", "x", "--box", "mine.toml", "--masstone", "#12345g", "--tint", "60,0,0"),
        ("paints", "add", "x", "--box", "mine.toml", "--photo", "d.png", "--tint-at", "left"),
        ("paints", "mix"),
    ],
)
def test_wrong_usage_leaves_with_two(arguments):
    assert run(*arguments).exit_code == 2


@pytest.mark.parametrize(
    "command", [("palette",), ("chart",), ("paints",), ("paints", "list"), ("paints", "show"), ("paints", "add")]
)
def test_help_gives_an_example(command):
    done = run(*command, "--help")
    assert done.exit_code == 0 and "Example" in done.stdout and f"critique {' '.join(command)}" in done.stdout


def test_a_mixture_that_was_made_corrects_an_own_paint_from_the_command_line(tmp_path):
    dabs = ("--masstone", "24,-14,10", "--tint", "66,-22,14")
    plain = run("paints", "add", "old green", "--box", tmp_path / "plain.toml", *dabs, "--json")
    mixed = ("--mixed", "1:3 white 58,-26,16", "--mixed", "1:1 ultramarine 20,-6,-10")
    done = run("paints", "add", "old green", "--box", tmp_path / "mixed.toml", *dabs, *mixed, "--json")
    assert plain.exit_code == done.exit_code == 0
    assert "[[own.mixed]]" in (tmp_path / "mixed.toml").read_text(encoding="utf-8")
    assert json.loads(plain.stdout)["tint_lab"] != json.loads(done.stdout)["tint_lab"]
    wrong = run("paints", "add", "older", "--box", tmp_path / "mixed.toml", *dabs, "--mixed", "three of white")
    assert wrong.exit_code == 2 and "3:1 white" in wrong.stderr


def test_a_name_that_was_guessed_is_told_and_a_tube_says_what_it_is_mixed_of(tmp_path):
    guessed = run("paints", "show", "raw siena")
    assert guessed.exit_code == 0 and "'raw siena' was taken for raw sienna." in guessed.stderr
    tube = run("paints", "show", "sap green")
    assert "nickel azo yellow" in tube.stdout and "tube of several pigments" in tube.stdout and tube.stderr == ""
    (tmp_path / "box.toml").write_text('paints = ["PY74", "ultramarin bleu"]', encoding="utf-8")
    assert "was taken for ultramarine blue" in run("paints", "list", "--box", tmp_path / "box.toml").stderr
    purple = run("paints", "show", "PV23").stdout
    assert "II, in pale tints III" in purple
