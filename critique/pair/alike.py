"""Whether all of a picture moved as another light would move it, though nothing in it proves that it was the light."""

from dataclasses import dataclass

import numpy as np

from critique.pair.balance import melted, well_exposed
from critique.pair.overlay import Overlay
from critique.perception.cielab import LIGHT_TO_LUMINANCE, lab_to_linear

ALIKE = 0.12  # of the light: within this of one change of light all over, a place moved with the rest
MOST = 0.7  # of what is well exposed that must have
WORTH_A_WORD = 0.1  # of the light that at least one of red, green and blue lost or gained
TINTED = 0.1  # of the light between red and blue that reads as warmer or cooler


@dataclass(frozen=True, slots=True)
class OneChange:
    """One change of light that nearly all of a picture went through, from the first to the second.

    ``gains`` are what its red, green and blue were multiplied by, ``share`` how much of what is well exposed moved so.
    """

    gains: tuple[float, float, float]
    share: float

    @property
    def word(self) -> str:
        """What the light would be, such as "warmer" or "darker"."""
        red, green, blue = self.gains
        if abs(np.log(red / blue)) >= TINTED:
            return "warmer" if red > blue else "cooler"
        if green < np.sqrt(red * blue) / (1 + WORTH_A_WORD / 2) or green > np.sqrt(red * blue) * (1 + WORTH_A_WORD / 2):
            return "greener" if green > red else "pinker"
        return "lighter" if float(np.dot(self.gains, LIGHT_TO_LUMINANCE)) > 1 else "darker"


def moved_alike(both: Overlay) -> OneChange | None:
    """The one change of light that takes nearly all of the first to the second; None where none does."""
    exposed = both.covered & well_exposed(both.first) & well_exposed(both.second)
    if not exposed.any():
        return None
    first, second = (np.maximum(melted(lab_to_linear(lab)), 1e-4)[exposed] for lab in (both.first, both.second))
    ratio = np.log(second / first)
    middle = np.median(ratio, axis=0)
    share = float((np.abs(ratio - middle).max(axis=1) <= ALIKE).mean())
    if share < MOST or np.abs(middle).max() < np.log1p(WORTH_A_WORD):
        return None
    red, green, blue = (float(gain) for gain in np.exp(middle))
    return OneChange((red, green, blue), share)
