"""A strip of the wall isn't taken for a part of the painting, nor a part of the painting for wall."""

import numpy as np
import pytest

from critique.photograph.canvas import PLAIN_SEAMS, SEAMS
from critique.photograph.canvas_strip import is_surround, surround_beyond

OUTER = np.array([[80.0, 40], [320, 40], [320, 250], [80, 250]])
INNER = np.array([[80.0, 70], [320, 70], [320, 250], [80, 250]])


def scene(strip):
    """Bricks around a green painting, with ``strip`` between the two upper edges."""
    random = np.random.default_rng(5)
    codes = np.array([0.62, 0.34, 0.26]) * random.uniform(0.85, 1.15, (300, 400, 1))
    codes[::12], codes[:, ::30] = 0.7, 0.7  # mortar
    inside = {"green": (0.25, 0.42, 0.15), "sky": (0.6, 0.75, 0.9), "frame": (0.1, 0.08, 0.06)}
    codes[70:250, 80:320] = np.array(inside["green"]) * random.uniform(0.7, 1.3, (180, 240, 1))
    if strip != "brick":
        codes[40:70, 80:320] = np.array(inside[strip]) * random.uniform(0.95, 1.05, (30, 240, 1))
    return np.clip(codes, 0, 1).astype(np.float32)


@pytest.mark.parametrize(("strip", "expected"), [("brick", True), ("sky", False), ("frame", False), ("green", False)])
def test_only_a_strip_of_the_wall_is_surround(strip, expected):
    assert is_surround(scene(strip), OUTER, INNER) is expected


def test_a_wall_of_the_paintings_own_colours_tells_nothing():
    codes = scene("brick")
    codes[70:250, 80:320] = codes[0:180, 0:240]
    assert not is_surround(codes, OUTER, INNER)


def test_two_that_are_one_have_no_strip():
    assert not is_surround(scene("brick"), OUTER, OUTER)


@pytest.mark.parametrize(("strip", "expected"), [("brick", True), ("sky", False), ("green", False)])
def test_beyond_a_side_lies_wall_or_more_painting(strip, expected):
    upper, right, lower = (surround_beyond(scene(strip), INNER, side) for side in range(3))
    assert (upper > PLAIN_SEAMS if expected else upper < SEAMS) and min(right, lower) > PLAIN_SEAMS
