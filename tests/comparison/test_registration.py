"""Laying one picture on another: known homographies come back, other pictures are refused."""

import sys
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from critique.picture.picture import picture_from_srgb
from critique.picture.register import register

sys.path.insert(0, str(Path(__file__).parent))
from pictures import MEADOW, OTHERS, REPAINT, demo, seen_askew


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


@pytest.mark.parametrize("pair", list(combinations((MEADOW, *OTHERS[:3]), 2)))
def test_two_different_pictures_are_refused_with_a_reason(pair: tuple[str, str]) -> None:
    found = register(demo(pair[0]), demo(pair[1]))
    assert not found.found
    assert found.reason


def test_a_bare_canvas_is_refused() -> None:
    bare = picture_from_srgb(np.full((300, 400, 3), 200, np.uint8))
    assert not register(bare, demo(MEADOW)).found


def test_a_mirrored_picture_does_not_lie_on_itself() -> None:
    """No camera mirrors a painting."""
    picture = demo(MEADOW)
    mirrored = picture_from_srgb(np.ascontiguousarray(picture.srgb[:, ::-1]))
    assert not register(picture, mirrored).found
