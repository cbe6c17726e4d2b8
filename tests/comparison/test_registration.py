"""Laying one picture on another: known homographies come back, other pictures are refused."""

import sys
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from critique.pair.frame import common_frame
from critique.pair.register import _stretched_otherwise, register
from critique.picture.picture import picture_from_srgb

sys.path.insert(0, str(Path(__file__).parent))
from pictures import MEADOW, OTHERS, REPAINT, demo, line_moved, seen_askew


@pytest.mark.parametrize(("name", "seed"), [(MEADOW, 1), (REPAINT, 2), (OTHERS[1], 3), (OTHERS[3], 4)])
def test_a_known_homography_is_recovered_within_one_hundredth_of_the_long_edge(name: str, seed: int) -> None:
    picture = demo(name)
    askew, matrix = seen_askew(picture, seed)
    found = register(picture, askew)
    assert found.found, found.reason
    height, width = np.array(picture.srgb.shape[:2]) / max(picture.srgb.shape)
    points = np.array([(x * width, y * height) for x in (0.1, 0.5, 0.9) for y in (0.1, 0.5, 0.9)])
    carried = np.concatenate([points, np.ones((9, 1))], axis=1) @ matrix.T
    expected = carried[:, :2] / carried[:, 2:]
    assert np.hypot(*(found.place(points) - expected).T).max() < 0.01


def test_a_picture_lies_on_itself() -> None:
    found = register(demo(REPAINT), demo(REPAINT))
    assert found.found
    assert found.matrix == pytest.approx(np.eye(3), abs=1e-6)


@pytest.mark.slow
@pytest.mark.parametrize("pair", list(combinations((MEADOW, *OTHERS[:3]), 2)))
def test_two_different_pictures_are_refused_with_a_reason(pair: tuple[str, str]) -> None:
    found = register(demo(pair[0]), demo(pair[1]))
    assert not found.found
    assert found.reason


def test_a_bare_canvas_is_refused() -> None:
    bare = picture_from_srgb(np.full((300, 400, 3), 200, np.uint8))
    assert not register(bare, demo(MEADOW)).found


@pytest.mark.slow
def test_a_mirrored_picture_does_not_lie_on_itself() -> None:
    """No camera mirrors a painting."""
    picture = demo(MEADOW)
    mirrored = picture_from_srgb(np.ascontiguousarray(picture.srgb[:, ::-1]))
    assert not register(picture, mirrored).found


@pytest.mark.slow
@pytest.mark.parametrize("name", [MEADOW, OTHERS[1]])
def test_where_a_part_of_the_drawing_was_moved_the_whole_is_refused_and_the_part_told(name: str) -> None:
    """The upper part stretched and the lower pressed by a tenth of the height at the line between them."""
    picture = demo(name)
    found = register(picture, line_moved(picture, 0.5, 0.1))
    assert not found.found
    assert found.moved is not None and "moved" in found.reason
    assert 0.02 < found.moved.down < 0.1 and abs(found.moved.right) < 0.01


def test_a_slight_crop_is_found_and_both_are_held_in_the_frame_that_they_share() -> None:
    picture = demo(REPAINT)
    height, width = picture.srgb.shape[:2]
    top, left = round(0.02 * height), round(0.03 * width)
    cropped = picture_from_srgb(np.ascontiguousarray(picture.srgb[top:, left:]))
    frame = common_frame(picture, cropped, register(picture, cropped))
    assert frame is not None
    assert frame.first == pytest.approx((0.03, 0.02, 1, 1), abs=0.004)
    assert frame.second == pytest.approx((0, 0, 1, 1), abs=0.004)
    both = frame.of_first(picture), frame.of_second(cropped)
    assert np.abs(np.subtract(both[0].lab.shape[:2], both[1].lab.shape[:2])).max() <= 3
    assert frame.cut_first == pytest.approx(1 - 0.97 * 0.98, abs=0.006) and frame.cut_second < 0.006


@pytest.mark.slow
def test_the_whole_is_the_frame_of_a_picture_with_itself_and_a_part_is_no_frame_of_the_whole() -> None:
    picture = demo(REPAINT)
    assert common_frame(picture, picture, register(picture, picture)) is None
    half = picture_from_srgb(np.ascontiguousarray(picture.srgb[:, : picture.width * 3 // 4]))
    assert common_frame(picture, half, register(picture, half)) is None


def test_where_the_line_rose_under_the_same_sky_the_land_is_not_said_to_lie_on_the_land() -> None:
    """Laid on by the sky alone, grass that was stretched taller was told to be gone along the bottom."""
    picture = demo(OTHERS[3])
    height, width = picture.srgb.shape[:2]
    line, by = round(0.395 * height), round(0.1 * height)
    land = Image.fromarray(picture.srgb[line:]).resize((width, height - line + by), Image.Resampling.BICUBIC)
    raised = picture_from_srgb(np.concatenate([picture.srgb[by:line], np.asarray(land)]))
    found = register(picture, raised)
    assert not found.found and found.moved is not None
    assert found.moved.down == pytest.approx(-0.1, abs=0.005)
    window = picture_from_srgb(np.ascontiguousarray(picture.srgb[by:]))
    assert register(picture, window).found  # the same shift, with the land that goes with it


@pytest.mark.parametrize(
    ("shift", "below", "told"),
    [(0.2, "stretched", True), (0.2, "by chance", False), (0.02, "stretched", False), (0.2, "with the rest", False)],
)
def test_what_lies_straight_below_its_place_was_stretched_and_chance_matches_were_not(
    shift: float, below: str, told: bool
) -> None:
    """Forty places of a sky that rose by so much, and eight below the line at half the height."""
    rng = np.random.default_rng(3)
    square = picture_from_srgb(np.zeros((100, 100, 3), np.uint8))
    sky, land = rng.uniform((0, 0.2), (1, 0.5), (40, 2)), rng.uniform((0, 0.55), (1, 0.95), (8, 2))
    up = np.array([0, -shift])
    stretched = np.stack([land[:, 0], 1 - (1 - land[:, 1]) * (0.5 + shift) / 0.5], axis=1)
    there = {"stretched": stretched, "by chance": rng.uniform((0, 0.3), (1, 0.8), (8, 2)), "with the rest": land + up}
    keeps = np.arange(48) < (48 if below == "with the rest" else 40)
    matrix = np.array([[1.0, 0, 0], [0, 1, -shift], [0, 0, 1]])
    here, second = np.concatenate([sky, land]), np.concatenate([sky + up, there[below]])
    found = _stretched_otherwise(here, second, keeps, matrix, square, square)
    assert (found is not None) == told
    if found is not None:
        assert list(np.flatnonzero(found)) == list(range(40, 48))
