"""How bare the foreground is: whether its tones and colours lie close together, with little drawn in it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.figure import LIGHTNESS, OWN, Figure, rounded
from critique.measures.parts import Parts
from critique.measures.smoothing import gaussian
from critique.picture.areas import same_frame
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at

VIEW = 320  # px along the long edge: what is asked for is seen at a glance
NEAR = 0.73  # of the height: below it lies the foreground
SHAPE = 0.015  # of the long edge, spread of a Gaussian: coarser are tones and colours, finer is what is drawn in them
LEAST_MOST = (10, 90)  # percentiles between which tones and colours are told to lie


@dataclass(frozen=True, slots=True)
class BareForeground:
    """The lowest quarter of a picture: how far its tones and colours lie apart, and how much is drawn in it.

    ``spread`` is what its L* and its a*b* span from the first tenth to the last, added up; ``drawn`` the root mean
    square of the L* that a small blur takes away; ``above_and_below`` the span of L* in the whole picture; ``water``
    the share of it that is water.
    """

    spread: float
    drawn: float
    above_and_below: float
    water: float


@kept
def _at_a_glance(picture: Picture) -> tuple[float, float, float]:
    lab = lab_at(picture, VIEW)
    soft = np.stack([gaussian(plane, SHAPE * max(lab.shape[:2])) for plane in np.moveaxis(lab, -1, 0)], axis=-1)
    low = min(round(NEAR * len(lab)), len(lab) - 1)
    tones, a, b = (_span(soft[low:, :, channel]) for channel in range(3))
    drawn = float(np.sqrt(np.square(lab[low:, :, 0] - soft[low:, :, 0]).mean(dtype=np.float64)))
    return tones + float(np.hypot(a, b)), drawn, _span(soft[..., 0])


def measure_bare_foreground(picture: Picture, parts: Parts) -> BareForeground:
    """Measure the lowest quarter of a picture."""
    water = same_frame(parts.mask("water"), (100, 100))[round(NEAR * 100) :]
    return BareForeground(*_at_a_glance(picture), float(water.mean()))


def _span(plane: NDArray[np.floating]) -> float:
    least, most = np.percentile(plane, LEAST_MOST)
    return float(most - least)


FIGURES = (
    Figure(
        name="bare_foreground.spread",
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
