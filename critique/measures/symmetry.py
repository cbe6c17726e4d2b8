"""Are the left and the right half of a picture alike, as in a mirror?"""

from dataclasses import dataclass

import numpy as np

from critique.measures.figure import OWN, PART, Figure, rounded
from critique.measures.salience import Float, blur
from critique.perception.channels import over_channels
from critique.picture.picture import Picture, lab_at

LONG_EDGE = 128  # px: likeness of masses, not of leaves
BLUR = 0.03  # of the long edge: what remains when the eye half closes
CHROMA_WEIGHT = 0.8  # of a*, b* beside L*: as in the search for the dividing line
FAINT = 2.0  # ΔE*ab: what differs less than this from its row's mean is flat, and flat is no likeness
FAINT_STEP = 0.1  # ΔE*ab per px: the same of a slope


@dataclass(frozen=True, slots=True)
class Symmetry:
    """How far the halves mirror each other. ``likeness`` is the correlation (−1–1) of the picture with its mirror.

    It is taken of what differs from the mean of its row, so that bands of sky and ground, which every landscape has on
    both sides, are no likeness; also without the light that falls from one side to the other, and of the slopes, which
    is of the shapes alone. The highest of the three counts: shapes traced over are alike in another light too.
    """

    likeness: float


def measure_symmetry(picture: Picture) -> Symmetry:
    """Measure how alike left and right are."""
    lab = blur(lab_at(picture, LONG_EDGE), BLUR * LONG_EDGE)
    weighted: Float = lab * np.array([1, CHROMA_WEIGHT, CHROMA_WEIGHT], dtype=np.float32)
    rest = weighted - weighted.mean(axis=1, keepdims=True)
    if min(rest.shape[:2]) < 2:
        return Symmetry(0.0)
    down, across = (np.gradient(rest, axis=axis) for axis in (0, 1))
    slopes = _energy(down, down) + _energy(across, across)
    alike = _energy(down, down[:, ::-1]) - _energy(across, across[:, ::-1])
    return Symmetry(max(_likeness(rest), _likeness(_evenly_lit(rest)), alike / (slopes + FAINT_STEP**2)))


def _likeness(rest: Float) -> float:
    return _energy(rest, rest[:, ::-1]) / (_energy(rest, rest) + FAINT**2)


def _evenly_lit(rest: Float) -> Float:
    """Without the trend from left to right that runs through all of it."""
    x = np.linspace(-1, 1, rest.shape[1], dtype=np.float32)[:, None]
    trend = (rest * x).mean((0, 1), dtype=np.float64) / float(np.square(x).mean(dtype=np.float64))
    return np.asarray(rest - x * trend.astype(np.float32), dtype=np.float32)


def _energy(one: Float, other: Float) -> float:
    return float(over_channels(one * other).mean(dtype=np.float64))


FIGURES = (
    Figure(
        name="symmetry.likeness",
        label="Left like right",
        meaning="1 is a mirror image",
        definition="Correlation with its mirror image of the blurred picture, less each row's mean, or of its slopes.",
        source=OWN,
        show=rounded(2),
        norm=True,
        worth=PART,
        jumps=False,
    ),
)
