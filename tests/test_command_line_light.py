"""The commands take a grey, a card or a chart of the photograph, remember it, and say what was done."""

import json
import re

import numpy as np
import pytest
from click.testing import CliRunner
from demo_pictures import demo_path
from PIL import Image

from critique.cli.main import main
from critique.perception.srgb import linear_to_srgb8
from critique.photograph.read import read_photograph

LAMP = np.array([1.25, 1.0, 0.55], np.float32) * 0.8


@pytest.fixture(scope="module")
def easel(tmp_path_factory):
    """A photograph by a warm lamp of a painting on a grey wall, a grey card to its right."""
    painting = read_photograph(demo_path("tolvesk_01_ostermell_meadow.jpg")).light[::2, ::2]
    scene = np.full((900, 1200, 3), 0.5, np.float32)
    scene[150:750, 150:950] = painting
    scene[200:400, 1000:1150] = 0.18
    path = tmp_path_factory.mktemp("light") / "easel.jpg"
    Image.fromarray(linear_to_srgb8(scene * LAMP)).save(path, quality=93)
    return path


def run(*words):
    done = CliRunner().invoke(main, [str(word) for word in words])
    return done.exit_code, done.output


@pytest.mark.slow
def test_a_review_is_of_the_balanced_painting_and_remembers_its_grey(easel, tmp_path):
    code, told = run("review", easel, "--out", tmp_path / "a", "--json")
    as_photographed = json.loads(told)
    assert code == 0 and as_photographed["picture"]["view"]["light"]["how"] is None
    # A sure sky is no green; and by the lamp the greens turn from place to place by more than they do.
    assert as_photographed["light_decides"] == ["green_relief", "green_evenness", "green_cast"]
    code, told = run("review", easel, "--out", tmp_path / "b", "--grey", "0.9,0.33", "--json")
    balanced = json.loads(told)
    assert code == 0 and balanced["picture"]["view"]["light"]["how"] == "spot"
    assert balanced["light_decides"] == []
    even = [{finding["kind"] for finding in of["findings"]} & {"green_evenness"} for of in (as_photographed, balanced)]
    assert even == [set(), {"green_evenness"}]
    assert balanced["cast"]["reference"]["chroma"] < 0.5
    assert balanced["greens"]["area_share"] < as_photographed["greens"]["area_share"] - 0.1
    again = json.loads(run("review", easel, "--out", tmp_path / "b", "--json")[1])
    assert again == balanced
    code, told = run("review", easel, "--out", tmp_path / "b", "--as-photographed", "--json")
    assert json.loads(told) == as_photographed


@pytest.mark.slow
def test_the_page_says_what_another_light_could_change(easel, tmp_path):
    run("review", easel, "--out", tmp_path)
    page = (tmp_path / "easel" / "report.html").read_text(encoding="utf-8")
    pasted = re.sub("<[^>]*>", "", page)  # as a browser copies it: a command's breaks are marks
    assert "No grey was named" in page and "green balance" in page and re.search(r"--grey 0\.\d+,0\.\d+", pasted)
    run("review", easel, "--out", tmp_path, "--card", "0.9,0.33", "--card-value", "4.95")
    page = (tmp_path / "easel" / "report.html").read_text(encoding="utf-8")
    assert "No grey was named" not in page and "made neutral by the card" in page


def test_straighten_says_that_nothing_grey_was_named(easel, tmp_path):
    for named, words in ((False, ()), (True, ("--grey", "0.9,0.33"))):
        code, told = run("straighten", easel, "--out", tmp_path, *words)
        assert code == 0 and ("Nothing grey was named" in told) != named


@pytest.mark.slow
def test_straighten_says_so_where_the_size_stretches_what_the_corners_show(easel, tmp_path):
    """The painting on the drawn easel is 800 × 600 px, seen square on."""
    corners = "0.125,0.1667 0.7917,0.1667 0.7917,0.8333 0.125,0.8333"
    for size, stretched in (("40x30cm", False), ("41x30cm", False), ("45x30cm", True), ("36x30cm", True)):
        code, told = run("straighten", easel, "--out", tmp_path, "--corners", corners, "--size", size)
        assert code == 0 and ("its corners show about 1.33" in told) == stretched, (size, told)
    assert "made 11 % higher than it looks" in told


@pytest.mark.slow
def test_a_photograph_straightened_otherwise_leaves_the_earlier_one(easel, tmp_path):
    corners = ["0.125,0.1667 0.7917,0.1667 0.7917,0.8333 0.125,0.8333", "0.2,0.2 0.7917,0.1667 0.7917,0.8333 0.2,0.8"]
    for number in (0, 0, 1, 1, 0):
        assert run("straighten", easel, "--out", tmp_path, "--corners", corners[number])[0] == 0
    folder = tmp_path / "easel"
    lines = json.loads((folder / "history.json").read_text(encoding="utf-8"))["runs"]
    assert [line["kind"] for line in lines] == ["straightened"] * 3
    files = [(folder / line["page"]).read_bytes() for line in lines]
    assert files[0] == files[2] and files[1] != files[0] and lines[2]["page"] == "straightened/easel_straightened.jpg"


@pytest.mark.slow
def test_straighten_tells_light_and_fitness(easel, tmp_path):
    code, told = run("straighten", easel, "--out", tmp_path, "--grey", "0.9,0.33", "--format", "png", "--json")
    record = json.loads(told)
    assert code == 0 and record["light"]["how"] == "spot"
    assert {one["subject"] for one in record["fitness"]} >= {"sharpness", "glare", "noise", "few px", "border", "moire"}
    back = read_photograph(record["picture"])
    assert back.bits == 16 and (back.original_width, back.original_height) == (record["width"], record["height"])
    painting = read_photograph(demo_path("tolvesk_01_ostermell_meadow.jpg")).light
    seen, wanted = (light.mean((0, 1)) / light.mean() for light in (back.light, painting))
    assert np.abs(seen - wanted).max() < 0.04  # the lamp moved them by 0.4


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--grey", "2,0.3"), "lies outside the photograph"),
        (("--chart", "0.1,0.1 0.9,0.9 0.9,0.1 0.1,0.9"), "the chart: the corners cross"),
        (("--card", "0.9"), "can't be read"),
    ],
)
def test_bad_places_are_one_line_and_are_not_remembered(easel, tmp_path, words, told):
    code, output = run("straighten", easel, "--out", tmp_path, *words)
    assert code == 2 and told in output and output.count("\n") == 1
    assert not (tmp_path / "light.json").exists()


def test_one_grey_belongs_to_one_photograph(easel, tmp_path):
    code, output = run("review", easel, easel, "--out", tmp_path, "--grey", "0.9,0.33")
    assert code == 2 and "--grey belongs to one photograph" in output
