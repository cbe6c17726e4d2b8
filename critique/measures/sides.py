"""Does what stands along the left or the right edge hold the eye there?"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.measures.salience import blur

Float = NDArray[np.float32]

STRIP = (
    0.12  # of the width: what lies so close to a side stands along it; of the height, what is left out above and below
)
FAINT, SPARE = 0.05, 0.05  # of the full scale of upright edges: less inside than this is none; added to their ratio
SKY_ROWS = 0.25  # of the height from the top: a light there is the sky's, which passes behind the edge
GATHERING = 0.01  # of the long edge: what lies within it acts as one light
LIGHTEST, LIGHTS = 97, 95  # percentiles of value in the strip, and of that inside

# Log-odds that a reader speaks of a pull at an edge: by the logarithm of how many more upright edges a strip has
# than the inside, by how far its lights outshine the lights inside (values), and by how far the two strips differ in
# value. Fitted to what two machine readings noted of 58 paintings; leaving out each in turn it agrees with a note 0.85
# times as often as the notes with each other, where the salience of the whole border does 0.78 times; in 18 others kept
# back 0.63 times, where that does 0.70 times: it is sure only where it is high.
BY_UPRIGHT, BY_LIGHT, BY_DIFFERENCE, CONSTANT = 2.2, 0.4, 0.42, -0.18


@dataclass(frozen=True, slots=True)
class Sides:
    """How much the sides hold the eye (log-odds that a reader would say so), and which of the two does so more."""

    weight: float
    heavier: Literal["left", "right"]


def measure_sides(lightness: Float, upright: Float) -> Sides:
    """Weigh the sides of a picture of a few hundred pixels.

    ``lightness`` is L* (height, width), ``upright`` the salience of its upright edges, of the same shape.
    """
    height, width = upright.shape
    down, across = round(STRIP * height), max(1, round(STRIP * width))
    rows, low = slice(down, height - down), slice(round(SKY_ROWS * height), height)
    strips = (slice(0, across), slice(width - across, width))
    value = lightness / np.float32(10)
    lights = blur(value, GATHERING * max(height, width))
    inside = upright[rows, across : width - across]
    usual = max(float(inside.mean(dtype=np.float64)), FAINT)
    brightest = float(np.percentile(value[rows, across : width - across], LIGHTS))
    edges = [float(upright[rows, strip].mean(dtype=np.float64)) / usual for strip in strips]
    shine = [float(np.percentile(lights[low, strip], LIGHTEST)) - brightest for strip in strips]
    means = [float(value[:, strip].mean(dtype=np.float64)) for strip in strips]
    weight = (
        BY_UPRIGHT * np.log(max(edges) + SPARE)
        + BY_LIGHT * max(shine)
        + BY_DIFFERENCE * abs(means[0] - means[1])
        + CONSTANT
    )
    each = [BY_UPRIGHT * np.log(edge + SPARE) + BY_LIGHT * light for edge, light in zip(edges, shine, strict=True)]
    return Sides(float(weight), "left" if each[0] >= each[1] else "right")
