"""Where several pictures are judged, what was cropped out of a photograph is said and shown."""

import json
from dataclasses import replace

import numpy as np
import pytest
from click.testing import CliRunner
from demo_pictures import demo_path
from PIL import Image

from critique.cli.main import main
from critique.pair.balance import balance_by_points
from critique.perception.srgb import linear_to_srgb8
from critique.photograph.corners import ALL
from critique.photograph.read import read_photograph
from critique.picture.read import read_picture
from critique.report.plates.canvas import canvas_plate

pytestmark = pytest.mark.slow  # whole runs of many pictures

MEADOW, REPAINT = "tolvesk_01_ostermell_meadow.jpg", "tolvesk_02_ostermell_repaint.jpg"
SAID = "cropped to the canvas, as it was found"


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A photograph of a painting on a grey wall, with a grey card, and a file that is all painting."""
    made = tmp_path_factory.mktemp("crops")
    scene = np.full((900, 1200, 3), 0.5, np.float32)
    scene[150:750, 150:950] = read_photograph(demo_path(MEADOW)).light[::2, ::2]
    scene[200:400, 1000:1150] = 0.18
    Image.fromarray(linear_to_srgb8(scene * np.array([1.1, 1, 0.8], np.float32))).save(made / "easel.jpg", quality=93)
    (made / REPAINT).write_bytes(demo_path(REPAINT).read_bytes())
    return made


def run(*words):
    done = CliRunner().invoke(main, [str(word) for word in words])
    assert done.exit_code == 0, done.output
    return done.output


@pytest.mark.parametrize(
    ("command", "page"), [("compare", "comparison.html"), ("passes", "passes.html"), ("lineup", "lineup.html")]
)
def test_a_crop_is_said_and_shown_beside_others(folder, tmp_path, command, page):
    told = run(command, folder / "easel.jpg", folder / REPAINT, "--out", tmp_path)
    assert f"easel.jpg: {SAID}" in told and f"{REPAINT}: {SAID}" not in told
    (written,) = tmp_path.rglob(page)
    html = written.read_text(encoding="utf-8")
    assert html.count('class="crops"') == 1 and SAID in html


@pytest.mark.parametrize("command", ["plan", "palette", "gallery", "study"])
def test_a_crop_is_said_and_shown_where_one_picture_is_worked_from(folder, tmp_path, command):
    """A plan of the wall around a canvas is none: whoever mixes by it has to see what was taken for the painting."""
    assert SAID in run(command, folder / "easel.jpg", "--out", tmp_path)
    (written,) = tmp_path.rglob(f"{command}.html")
    html = written.read_text(encoding="utf-8")
    assert html.count('class="crops"') == 1 and SAID in html


@pytest.mark.slow
def test_compare_takes_corners_and_the_whole(folder, tmp_path):
    whole = json.loads(run("compare", folder / "easel.jpg", folder / REPAINT, "--whole", "--out", tmp_path, "--json"))
    assert whole["first"]["picture"]["view"]["how"] == "asked whole"
    corners = "0.2,0.2 0.7,0.2 0.7,0.8 0.2,0.8"
    given = ("--corners-original", corners, "--out", tmp_path, "--json")
    record = json.loads(run("compare", folder / "easel.jpg", folder / REPAINT, *given))
    assert record["first"]["picture"]["view"]["how"] == "given"
    assert record["second"]["picture"]["view"]["how"] == "whole"


def test_a_grey_beside_the_canvas_serves_both_photographs(folder):
    first, second = (read_picture(folder / "easel.jpg") for _ in range(2))
    done = balance_by_points(first, second, (0.9, 0.33), (0.9, 0.33))
    red, _, blue = done.gains_first
    assert blue / red == pytest.approx(1.1 / 0.8, rel=0.02)


def test_a_portfolio_shows_its_photographs(folder, tmp_path):
    told = run("portfolio", folder, "--out", tmp_path, "--jobs", 1)
    assert "1 cropped out of their photographs" in told
    html = (tmp_path / "portfolio.html").read_text(encoding="utf-8")
    assert "Cropped out of photographs" in html
    (outline,) = tmp_path.glob("thumbnails/*/*_outline.jpg")
    assert outline.relative_to(tmp_path).as_posix() in html


def test_no_outline_is_drawn_around_all_of_a_photograph(folder):
    picture = read_picture(folder / "easel.jpg")
    plate = canvas_plate(replace(picture.view, how="unsure", corners=ALL))
    assert np.array_equal(np.asarray(plate.image), picture.view.shown)
    assert "utlined" not in plate.caption


def test_a_portfolio_says_of_which_photographs_the_wall_was_judged_too(folder, tmp_path):
    pictures = tmp_path / "pictures"
    pictures.mkdir()
    scene = np.full((900, 1200, 3), 0.5, np.float32)
    scene[150:750, :800] = read_photograph(demo_path(MEADOW)).light[::2, ::2]  # cut off at the photograph's edge
    Image.fromarray(linear_to_srgb8(scene)).save(pictures / "cut_off.jpg", quality=93)
    for name in ("easel.jpg", REPAINT):
        (pictures / name).write_bytes((folder / name).read_bytes())
    assert "1 not cropped" in run("portfolio", pictures, "--out", tmp_path / "sheet", "--jobs", 1)
    html = (tmp_path / "sheet" / "portfolio.html").read_text(encoding="utf-8")
    data = html.split('id="data"', 1)[1].split(">", 1)[1].split("</script>", 1)[0]
    assert {card[1]: card[12] for card in json.loads(data)["pictures"]} == {
        "cut_off.jpg": 1,
        "easel.jpg": 0,
        REPAINT: 0,
    }
    assert "One photograph is counted with wall or frame around its canvas" in html
