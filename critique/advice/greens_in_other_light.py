"""What the greens of a picture would measure in slightly other light, on a small copy of it."""

from collections.abc import Iterator

import numpy as np

from critique.measures.greens import Greens, measure_greens
from critique.measures.land_greens import land_greens
from critique.measures.parts import Parts
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.perception.srgb import Float
from critique.picture.other_light import other_lights
from critique.picture.picture import Picture, lab_at, picture_from_lab

LONG_EDGE = 160  # px: shares of the picture within a hundredth of what the full size gives


def greens_in_other_light(picture: Picture) -> Iterator[Greens]:
    """The greens in each of the other lights, one after another."""
    light = small_light(picture)
    for _, gains in other_lights():
        yield greens_of_light(light * np.asarray(gains, dtype=np.float32), picture)


def green_area_in_other_light(picture: Picture, parts: Parts) -> float:
    """The least share of the area that is yellow-green, and no sky, in any of the other lights."""
    light = small_light(picture)
    lights = (np.clip(light * np.asarray(gains, dtype=np.float32), 0, 1) for _, gains in other_lights())
    return min(float(np.mean(land_greens(linear_to_lab(each), parts))) for each in lights)


def small_light(picture: Picture) -> Float:
    """A small copy of the picture in linear light, (height, width, 3)."""
    return lab_to_linear(np.asarray(lab_at(picture, LONG_EDGE)))


def greens_of_light(light: Float, picture: Picture) -> Greens:
    """The greens of a small copy in linear light; ``picture`` is what it is a copy of."""
    return measure_greens(picture_from_lab(linear_to_lab(light), picture))
