"""Where in the picture a finding lies, for those that a part's own plate doesn't show."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.measure import Measures


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in the picture, as fractions of its width and height from the upper left."""

    x: float
    y: float


Where = NDArray[np.bool_] | Spot  # a mask (height, width) of whatever size, or a spot


def of_loudest(measures: Measures) -> Where:
    """The patch that shouts."""
    return measures.loudest.mask


def of_closed_darks(measures: Measures) -> Where:
    """Where most of the closed dark lies."""
    return Spot(measures.closed_darks.x, measures.closed_darks.y)


def of_outlines(measures: Measures) -> Where:
    """Where most of the drawn lines lie."""
    return Spot(measures.outlines.x, measures.outlines.y)


def of_far_land(measures: Measures) -> Where:
    """The far land."""
    return measures.parts.mask("far")
