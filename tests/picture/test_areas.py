"""The words for the area that a shape fills."""

import numpy as np
import pytest

from critique.picture.areas import area_of

SIDE = 60  # px


def boxed(left: float, top: float, right: float, bottom: float) -> np.ndarray:
    shape = np.zeros((SIDE, SIDE), dtype=bool)
    shape[round(top * SIDE) : round(bottom * SIDE), round(left * SIDE) : round(right * SIDE)] = True
    return shape


@pytest.mark.parametrize(
    ("box", "words"),
    [
        ((0, 0, 1, 0.25), "along the top"),
        ((0, 0.55, 1, 1), "in the lower half"),
        ((0, 0, 0.48, 1), "in the left half"),
        ((0.75, 0, 1, 1), "down the right side"),
        ((0.5, 0.5, 1, 1), "in the lower right"),
        ((0, 0, 1, 1), "over most of it"),
    ],
)
def test_a_box_is_told_by_the_area_that_it_fills(box, words):
    assert area_of(boxed(*box)) == words


def test_two_wings_are_both_sides_and_a_corner_with_two_arms_is_both_of_them():
    wings = boxed(0, 0, 0.25, 1) | boxed(0.75, 0, 1, 1)
    assert area_of(wings) == "down both sides"
    assert area_of(boxed(0, 0, 0.33, 1) | boxed(0, 0.7, 1, 1)) == "on the left and along the bottom"


def test_what_lies_in_flecks_fills_no_area_and_a_tiny_map_is_read():
    rng = np.random.default_rng(1)
    assert area_of(rng.random((SIDE, SIDE)) < 0.1) == ""
    assert area_of(np.zeros((SIDE, SIDE))) == ""
    assert area_of(np.array([[1.0, 0.0]])) == "in the left half"


def test_the_size_of_the_map_does_not_matter():
    small = boxed(0, 0, 1, 0.5)
    assert area_of(small) == area_of(np.kron(small, np.ones((7, 5)))) == "in the upper half"


def test_an_area_is_named_where_each_third_of_it_is_filled():
    # Houses stand in the foot's middle, between a dark wall and a dark corner; a road runs along the foot of a green.
    wall_and_corner = boxed(0, 0, 0.35, 1) | boxed(0.72, 0.7, 1, 1)
    assert area_of(wall_and_corner) == "down the left side"
    assert area_of(wall_and_corner | boxed(0.35, 0.7, 0.72, 1)) == "on the left and along the bottom"
    assert area_of(boxed(0, 0.36, 1, 0.78)) not in ("over the lower two thirds", "in the lower half")


def test_two_thirds_are_called_dark_where_each_third_of_their_height_mostly_is():
    # A pale crag rises from the foot into a dark valley: what is dark lies across the middle.
    valley = boxed(0, 0.33, 1, 0.72) | boxed(0.6, 0.72, 1, 1)
    assert area_of(valley) == "over the lower two thirds"  # as a shape's place
    assert area_of(valley, claimed=True) == "across the middle"
    assert area_of(valley | boxed(0.3, 0.72, 0.6, 1), claimed=True) == "over the lower two thirds"
