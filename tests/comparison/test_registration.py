"""Laying one picture on another: known homographies come back, other pictures are refused."""

import sys
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from critique.pair.frame import common_frame
from critique.pair.register import register
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
