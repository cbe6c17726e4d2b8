"""What is asked of one picture again is not found again, of another it is, and nothing is kept of one that is gone."""

import gc
import weakref

import numpy as np

from critique.picture.kept import kept
from critique.picture.picture import picture_from_srgb


def plain(code):
    return picture_from_srgb(np.full((40, 60, 3), code, np.uint8))


def test_it_is_asked_once_a_picture_and_forgotten_with_it():
    asked = []

    @kept
    def mean(picture):
        """Its mean L*."""
        asked.append(weakref.ref(picture))
        return float(picture.lab[..., 0].mean())

    light, dark = plain(200), plain(50)
    assert mean(light) == mean(light) > mean(dark) == mean(dark)
    assert len(asked) == 2 and mean.__doc__ == "Its mean L*."
    del light
    gc.collect()
    assert asked[0]() is None and asked[1]() is dark


def test_what_is_given_beside_it_is_asked_anew_where_it_is_another():
    asked = []

    @kept
    def lighter_than(picture, limits):
        asked.append(limits)
        return float((picture.lab[..., 0] > limits[0]).mean())

    light, low, high = plain(200), (20.0,), (99.0,)
    assert lighter_than(light, low) == lighter_than(light, low) == 1 and lighter_than(light, high) == 0
    assert lighter_than(plain(30), low) == 0
    assert lighter_than(light, high) == 0 and lighter_than(light, low) == 1
    assert asked == [low, high, low, low]
