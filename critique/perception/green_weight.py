"""How much a colour is a green that a change of the greens should reach, without a border where none is painted."""

import numpy as np
from numpy.typing import NDArray

from critique.perception.channels import chroma_of
from critique.perception.hue import GREEN_FAMILY, YELLOW_GREEN, side_of, turn
from critique.perception.srgb import Float

HUE_FEATHER = 10.0  # degrees beyond the band over which a change fades out
DARKEST = -1.0  # L*, for which the band begins soonest; below 0 by rounding
LEAST, FULL = 6.0, 12.0  # C*: below the first a colour is left alone, from the second on it is changed in full


def green_weight(lab: Float, bluest: float = GREEN_FAMILY.end) -> Float:
    """How much each colour (..., 3) is a green, 0–1, falling off softly to both sides of the band and toward grey.

    ``bluest`` is the hue in degrees at which the band ends.
    """
    chroma = chroma_of(lab)
    hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1]))
    start = YELLOW_GREEN.start_at(lab[..., 0])  # the border to yellow rises with lightness
    middle, half = (start + bluest) / 2, (bluest - start) / 2
    outside = np.abs(turn(middle, hue)) - half
    within = np.clip(1 - outside / HUE_FEATHER, 0, 1)
    coloured = np.clip((chroma - LEAST) / (FULL - LEAST), 0, 1)
    return np.asarray(eased(within) * eased(coloured), dtype=np.float32)


def may_be_green(lab: Float, bluest: float = GREEN_FAMILY.end) -> NDArray[np.bool_]:
    """Which colours (..., 3) have any ``green_weight``, and a few more: a test without angles, that misses none."""
    a, b = lab[..., 1], lab[..., 2]
    start, end = float(YELLOW_GREEN.start_at(DARKEST)) - HUE_FEATHER, bluest + HUE_FEATHER
    return np.asarray((side_of(start, a, b) >= 0) & (side_of(end, a, b) <= 0) & (a * a + b * b > LEAST**2))


def eased(x: NDArray[np.floating]) -> NDArray[np.floating]:
    """From 0 to 1 as ``x`` goes, of any shape, but starting and ending without a bend that would be seen as an edge."""
    return np.asarray(x * x * (3 - 2 * x))
