"""The same picture photographed in other light: a little more or less of it, or with a cast."""

from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from critique.perception.cielab import LIGHT_TO_LUMINANCE, lab_to_linear, linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.srgb import Float

Gains = tuple[float, float, float]

EXPOSURE = 0.1  # of the light, up and down
CAST = 4.0  # ΔE00 on a light grey: what an automatic white balance misses by, at worst
GREY = (70.0, 0.0, 0.0)  # L*a*b* of that grey
SIDES = ((1.0, 0.0, -1.0), (-1.0, 0.0, 1.0), (-0.5, 1.0, -0.5), (0.5, -1.0, 0.5))  # warm, cool, green, pink


def other_lights() -> Iterator[tuple[str, Gains]]:
    """Each kind of change, 'brightness' or 'cast', with the gains of linear light that make it."""
    for factor in (1 - EXPOSURE, 1 + EXPOSURE):
        yield "brightness", (factor, factor, factor)
    for side in SIDES:
        yield "cast", cast_gains(side, CAST)


@lru_cache(maxsize=16)  # a few sides, each of one size
def cast_gains(side: Gains, size: float) -> Gains:
    """Gains of linear light that move the grey by ``size`` ΔE00 toward a side and keep its luminance."""
    grey = lab_to_linear(np.array(GREY, dtype=np.float32))

    def gains(amount: float) -> Float:
        gain = np.exp(amount * np.array(side))
        return np.asarray(gain / (gain @ LIGHT_TO_LUMINANCE))

    low, high = 0.0, 1.0
    for _ in range(40):
        middle = (low + high) / 2
        moved = linear_to_lab((grey * gains(middle)).astype(np.float32))
        low, high = (low, middle) if float(delta_e_2000(moved, GREY)) > size else (middle, high)
    red, green, blue = (float(gain) for gain in gains(low))
    return red, green, blue
