"""Which is the largest mass of a picture that the eye takes for one black, without a colour in it?"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.measures.rising import rising
from critique.measures.smoothing import gaussian
from critique.perception.channels import chroma_of
from critique.picture.kept import kept
from critique.picture.one_piece import largest_piece
from critique.picture.picture import Picture, lab_at

SHAPE = 0.012  # of the long edge, spread of a Gaussian: a mass is a shape and not a stroke
# L*, after a squint: darker is black beside daylight; and by how much either way a place comes to be, none by a hair.
AS_BLACK, BLACK_FADES = 24.0, 2.0
# C*ab, after a squint. In 40 pictures that two readers each had judged the masses that they called holes or shut have
# 1.7 to 3.1 at the middle; the browns and greens of old shadows have 6 and more.
COLOURLESS, COLOUR_FADES = 6.0, 1.0
# Of the picture, darker than that: from where on it is a dark picture, in which its darks are at home, and up to where.
DARK_PICTURE = (0.32, 0.36)


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class BlackMass:
    """The largest connected near-black without colour, and where it is (height, width).

    ``weighed`` is its share of the picture (0–1) where that isn't a dark one, and less to 0 the more it is.
    """

    weighed: float
    mask: NDArray[np.bool_] = field(repr=False)


@kept
def measure_black_mass(picture: Picture) -> BlackMass:
    """Measure the largest near-black mass, whatever lies in it; weighing 0 where nothing is near black."""
    squint = gaussian(lab_at(picture, MAP_LONG_EDGE), SHAPE * MAP_LONG_EDGE, truncate=3)
    dark = rising(AS_BLACK - squint[..., 0], (-BLACK_FADES, BLACK_FADES))
    black = dark * rising(COLOURLESS - chroma_of(squint), (-COLOUR_FADES, COLOUR_FADES))
    mask = largest_piece(black >= 0.5, black)
    share = float(black.sum(where=mask, dtype=np.float64)) / mask.size
    in_daylight = 1 - float(rising(dark.mean(dtype=np.float64), DARK_PICTURE))
    return BlackMass(share * in_daylight, mask)
