"""A whole job at the command line: a photograph of the easel, its plan, three states of the repaint, the comparison."""

import json
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from demo_pictures import demo_path
from PIL import Image, ImageFilter

from critique.cli.main import main
from critique.perception.srgb import linear_to_srgb8
from critique.photograph.read import read_photograph

pytestmark = pytest.mark.slow
LAMP = np.array([1.2, 1.0, 0.6], np.float32) * 0.8


def run(*words) -> str:
    done = CliRunner().invoke(main, [str(word) for word in words])
    assert done.exit_code == 0, done.output
    return done.output


@pytest.fixture(scope="module")
def job(tmp_path_factory) -> dict[str, str | Path]:
    """What each command said, and the files that it left."""
    folder = tmp_path_factory.mktemp("job")
    painting = read_photograph(demo_path("tolvesk_01_ostermell_meadow.jpg")).light
    height, width = painting.shape[:2]
    wall = np.full((int(height * 1.5), int(width * 1.5), 3), 0.5, np.float32)
    top, left = height // 4, width // 5
    wall[top : top + height, left : left + width] = painting
    wall[top + 100 : top + 300, int(width * 1.27) : int(width * 1.45)] = 0.18  # a grey card
    photograph = folder / "easel.jpg"
    Image.fromarray(linear_to_srgb8(wall * LAMP)).save(photograph, quality=94)
    straight = json.loads(run("straighten", photograph, "--out", folder / "straight", "--grey", "0.9,0.3", "--json"))
    planned = run("plan", straight["picture"], "--out", folder / "plan", "--size", "16x12in", "--json")
    aim = next((folder / "plan").rglob("aim.png"))
    states = painted(Image.open(aim).convert("RGB"), folder)
    plan = ("--plan", aim.parent)
    passes = run("passes", straight["picture"], *states, *plan, "--out", folder / "passes")
    early = run("passes", straight["picture"], *states[:1], *plan, "--out", folder / "early")
    compared = run("compare", straight["picture"], states[-1], *plan, "--out", folder / "compared")
    return {
        "straight": straight,
        "plan": json.loads(planned),
        "early": early,
        "passes": passes,
        "compared": compared,
        "folder": folder,
    }


def painted(aim: Image.Image, folder: Path) -> list[Path]:
    """The aim in flat patches of ten colours, in broad forms, and finished."""
    block_in = aim.filter(ImageFilter.ModeFilter(25)).quantize(10).convert("RGB")
    states = {
        "block_in": block_in,
        "second": aim.filter(ImageFilter.GaussianBlur(6)),
        "third": aim.filter(ImageFilter.GaussianBlur(1)),
    }
    for name, state in states.items():
        state.save(folder / f"{name}.png")
    return [folder / f"{name}.png" for name in states]


def test_the_painting_is_found_on_the_wall_and_its_light_made_neutral(job):
    straight = job["straight"]
    truth = np.array([[2 / 15, 1 / 6], [12 / 15, 1 / 6], [12 / 15, 5 / 6], [2 / 15, 5 / 6]])
    assert straight["sure"] and np.abs(np.array(straight["corners"]) - truth).max() < 0.01
    with Image.open(straight["picture"]) as found, Image.open(demo_path("tolvesk_01_ostermell_meadow.jpg")) as true:
        ours, theirs = (np.asarray(one.convert("RGB").resize((64, 48)), float) for one in (found, true))
    lightness = ours.sum() / theirs.sum()  # a spot makes the light neutral; how bright it is stays the photograph's
    assert np.abs(ours / lightness - theirs).mean() < 6


def test_the_plan_is_for_the_painting_and_within_what_a_leaf_can_be(job):
    greens = job["plan"]["aim"]["greens"]
    assert greens["beyond_leaf_before"] > 0.3 and greens["beyond_leaf_after"] <= 0.002
    assert greens["chroma_share_after"] < greens["chroma_share_before"]


def test_a_block_in_is_told_what_comes_next_and_not_to_stop(job):
    assert "Stop here" not in job["early"]
    assert "came nearer to the colour aimed at" in job["early"]


def test_the_third_state_is_told_to_stop(job):
    assert "brushwork came" in job["passes"] and "Stop here" in job["passes"]


def test_the_comparison_says_first_that_the_aim_was_reached(job):
    said = job["compared"].splitlines()[1]
    assert "What was aimed at is reached: quieter, as meant." in said
    assert "Nothing is worse" in job["compared"]


def test_every_step_left_a_page(job):
    for page in ("plan.html", "sheet.html", "passes.html", "comparison.html"):
        assert list(job["folder"].rglob(page))
