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


@dataclass(frozen=True, slots=True)
class Symmetry:
    """How far the halves mirror each other. ``likeness`` is the correlation (−1–1) of the picture with its mirror.

    It is taken of what differs from the mean of its row, so that bands of sky and ground, which every landscape has on
    both sides, are no likeness.
    """

    likeness: float


def measure_symmetry(picture: Picture) -> Symmetry:
    """Measure how alike left and right are."""
    lab = blur(lab_at(picture, LONG_EDGE), BLUR * LONG_EDGE)
    weighted: Float = lab * np.array([1, CHROMA_WEIGHT, CHROMA_WEIGHT], dtype=np.float32)
    rest = weighted - weighted.mean(axis=1, keepdims=True)
    energy = float(over_channels(np.square(rest)).mean(dtype=np.float64))
    shared = float(over_channels(rest * rest[:, ::-1]).mean(dtype=np.float64))
    return Symmetry(shared / (energy + FAINT**2))


FIGURES = (
    Figure(
        name="symmetry.likeness",
        label="Left like right",
        meaning="1 is a mirror image",
        definition="Correlation of the blurred picture with its mirror image, less the mean of each row.",
        source=OWN,
        show=rounded(2),
        norm=True,
        worth=PART,
        jumps=False,
    ),
)
