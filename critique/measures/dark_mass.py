"""Which is the largest dark mass of a picture, and how much of it?"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.black_mass import SHAPE
from critique.measures.closed_darks import HEAVY
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.measures.smoothing import gaussian
from critique.picture.kept import kept
from critique.picture.one_piece import largest_piece
from critique.picture.picture import Picture, lab_at


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class DarkMass:
    """The largest connected dark: its share of the picture (0–1), and where it is (height, width)."""

    share: float
    mask: NDArray[np.bool_] = field(repr=False)


@kept
def measure_dark_mass(picture: Picture) -> DarkMass:
    """Measure the largest dark mass, open or closed; of share 0 where nothing is dark."""
    dark = gaussian(lab_at(picture, MAP_LONG_EDGE)[..., 0], SHAPE * MAP_LONG_EDGE, truncate=3) < HEAVY
    largest = largest_piece(dark)
    return DarkMass(float(largest.mean()), largest)
