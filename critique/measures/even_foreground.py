"""How even the foreground is: whether its tones and colours lie close together, with no strong marks in it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.figure import LIGHTNESS, OWN, Figure, rounded
from critique.measures.parts import Parts
from critique.measures.smoothing import gaussian_planes, planes_of
from critique.perception.ranks import quantiles_of
from critique.picture.areas import same_frame
from critique.picture.picture import Picture, lab_at

VIEW = 320  # px along the long edge: what is asked for is seen at a glance
NEAR = 0.73  # of the height: below it lies the foreground
SHAPE = 0.015  # of the long edge, spread of a Gaussian: coarser are tones and colours, finer is what is drawn in them
LEAST_MOST = (10, 90)  # percentiles between which tones and colours are told to lie


@dataclass(frozen=True, slots=True)
class EvenForeground:
    """The lowest quarter of a picture: how far its tones and colours lie apart, and how much is drawn in it.

    ``spread`` is what its L* and its a*b* span from the first tenth to the last, added up; ``drawn`` the root mean
    square of the L* that a small blur takes away; ``above_and_below`` the span of L* in the whole picture; ``water``
    the share of it that is water.
    """

    spread: float
    drawn: float
    above_and_below: float
    water: float


def measure_even_foreground(picture: Picture, parts: Parts) -> EvenForeground:
    """Measure the lowest quarter of a picture."""
    planes = planes_of(lab_at(picture, VIEW))
    height, width = planes.shape[1:]
    soft = gaussian_planes(planes, SHAPE * max(height, width))
    low = min(round(NEAR * height), height - 1)
    tones, a, b = (_span(plane[low:]) for plane in soft)
    drawn = np.square(planes[0, low:] - soft[0, low:]).mean(dtype=np.float64)
    water = same_frame(parts.mask("water"), (height, width))[low:]
    return EvenForeground(
        spread=tones + float(np.hypot(a, b)),
        drawn=float(np.sqrt(drawn)),
        above_and_below=_span(soft[0]),
        water=float(water.mean()),
    )


def _span(plane: NDArray[np.floating]) -> float:
    least, most = quantiles_of(plane, [rank / 100 for rank in LEAST_MOST])
    return float(most - least)


FIGURES = (
    Figure(
        name="even_foreground.spread",
        label="Tones and colours in front",
        meaning="how far they lie apart in the foreground",
        definition="Span of L*, and of a*b*, from the first tenth to the last of the lowest quarter, a little blurred.",
        source=OWN,
        unit="L* and C*ab",
        show=rounded(0),
        norm=True,
        worth=LIGHTNESS,
        jumps=False,
    ),
)
