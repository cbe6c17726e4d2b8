"""Could a colour be that of a grey in some lamp's light? How far it lies from grey, and from the nearest lamp."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from critique.perception.cielab import LIGHT_TO_LUMINANCE, XYZ_TO_LINEAR, linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.lamps import black_body

Array = NDArray[np.float64]

KELVIN = (1900, 2200, 2500, 2850, 3300, 4000, 5000, 6500, 8000, 11000, 20000)  # a candle to a blue sky
DAYLIGHT = 6504  # K: by what sRGB is white
BALANCED = np.linspace(-1, 1, 41)  # how much of a lamp a camera left in; below 0 it took out more than there was
LUMINANCE = 0.2  # of full light, at which all are held beside each other: a dark spot's colour counts as a light one's
LEAST = 0.01  # of a channel: sRGB holds no candle's blue


def from_grey(seen: Array) -> tuple[float, float]:
    """ΔE00 of linear sRGB (3,) from grey, and from a grey in the light of the lamp that comes nearest to it."""
    lab = linear_to_lab((seen * LUMINANCE / float(seen @ LIGHT_TO_LUMINANCE)).astype(np.float32))
    lamps = _greys_in_lamps()
    return float(delta_e_2000(lab, np.array([lab[0], 0.0, 0.0]))), float(delta_e_2000(lab, lamps).min())


@cache
def _greys_in_lamps() -> Array:
    """CIELAB (n, 3) of one grey under each lamp, and by cameras that took part of the lamp out."""
    white = np.maximum([XYZ_TO_LINEAR @ black_body(kelvin) for kelvin in (*KELVIN, DAYLIGHT)], LEAST)
    gains = np.log(white[:-1] / white[-1])
    light = np.exp(BALANCED[:, None, None] * gains).reshape(-1, 3)
    return np.asarray(linear_to_lab((light * LUMINANCE / (light @ LIGHT_TO_LUMINANCE)[:, None]).astype(np.float32)))
