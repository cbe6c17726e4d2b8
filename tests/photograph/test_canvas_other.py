"""A second picture on the wall is told of, with where it hangs; a card beside the canvas and an empty wall are not."""

import json

import numpy as np
import pytest
from click.testing import CliRunner
from demo_pictures import demo_path
from PIL import Image

from critique.cli.main import main
from critique.perception.srgb import linear_to_srgb8
from critique.photograph.painting import painting_of
from critique.photograph.read import read_photograph
from critique.photograph.straighten import homography
from critique.picture.picture import picture_of
from critique.picture.view import view_of
from critique.report.view_words import crop_said, view_told

pytestmark = pytest.mark.slow

SIZE = (800, 600)
LEFT = np.array([[40.0, 90.0], [430.0, 100.0], [425.0, 400.0], [45.0, 395.0]])  # px in a photograph of that size
RIGHT = np.array([[520.0, 150.0], [760.0, 155.0], [757.0, 340.0], [518.0, 335.0]])
GREY = np.full((40, 60, 3), 0.2, np.float32)


@pytest.fixture(scope="module")
def paintings():
    names = ("tolvesk_04_lirren_evening.jpg", "tolvesk_01_ostermell_meadow.jpg")
    return [read_photograph(demo_path(name)).light for name in names]


def wall_with(*hung):
    """Codes of a wall with pictures (light, corners) on it, drawn twice as large and averaged."""
    wide, high = (2 * side for side in SIZE)
    scene = np.broadcast_to(np.array((0.55, 0.5, 0.42), np.float32), (high, wide, 3)).copy()
    x, y = np.meshgrid(np.arange(wide) + 0.5, np.arange(high) + 0.5)
    for light, corners in hung:
        tall, long, _ = light.shape
        there = (
            np.stack([x, y, np.ones_like(x)], axis=-1)
            @ homography(2 * corners, [[0, 0], [long, 0], [long, tall], [0, tall]]).T
        )
        u, v = there[..., 0] / there[..., 2], there[..., 1] / there[..., 2]
        inside = (u >= 0) & (u < long) & (v >= 0) & (v < tall)
        scene[inside] = light[v[inside].astype(int), u[inside].astype(int)]
    scene = scene.reshape(SIZE[1], 2, SIZE[0], 2, 3).mean(axis=(1, 3))
    scene += np.random.default_rng(1).normal(0, 0.004, scene.shape)
    return linear_to_srgb8(np.clip(scene, 0, 1).astype(np.float32))


def off(corners, truth):
    """The farthest corner's distance from the truth in parts of the picture's long edge."""
    longest = np.hypot(*(np.roll(truth, -1, axis=0) - truth).T).max()
    return np.hypot(*(np.array(corners) * SIZE - truth).T).max() / longest


def test_of_two_pictures_the_other_is_told_at_the_top_with_its_corners(paintings):
    photograph = read_photograph(wall_with((paintings[0], LEFT), (paintings[1], RIGHT)))
    painting = painting_of(photograph)
    assert painting.how == "found" and off(painting.corners, LEFT) < 0.01
    assert painting.other is not None and painting.other.first == "left"
    assert off(painting.other.corners, RIGHT) < 0.01
    picture = picture_of(painting.photograph, view_of(photograph, painting))
    told = view_told(picture)
    assert told.first and "--corners" in told.said[0].command
    given = told.said[0].command.split('"')[1].split()
    assert off([[float(number) for number in corner.split(",")] for corner in given], RIGHT) < 0.01
    assert "left one is judged" in crop_said(picture)


@pytest.mark.parametrize("card", [False, True])
def test_one_picture_alone_or_with_a_card_beside_it_is_one_picture(paintings, card):
    beside = [(GREY, RIGHT)] if card else []
    painting = painting_of(read_photograph(wall_with((paintings[0], LEFT), *beside)))
    assert painting.how == "found" and painting.other is None


def test_the_corners_that_are_told_give_the_other_picture(tmp_path, paintings):
    path = tmp_path / "wall.png"
    Image.fromarray(wall_with((paintings[0], LEFT), (paintings[1], RIGHT))).save(path)
    command = ["straighten", str(path), "--json", "--out", str(tmp_path / "out")]
    record = json.loads(CliRunner().invoke(main, command).stdout)
    assert record["sure"] and off(record["corners"], LEFT) < 0.01
    corners = " ".join(f"{x},{y}" for x, y in record["other"]["corners"])
    again = json.loads(CliRunner().invoke(main, [*command, "--corners", corners]).stdout)
    assert off(again["corners"], RIGHT) < 0.01 and again["other"] is None
    told = CliRunner().invoke(main, ["straighten", str(path), "--whole", "--out", str(tmp_path / "out")]).stdout
    assert "Two pictures" not in told
