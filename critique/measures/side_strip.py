"""Does a strip of one colour run along a whole side, as a post does, or what lay beside a canvas?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.salience import Float
from critique.perception.channels import over_channels
from critique.perception.ranks import quantiles_of

WIDTHS = (0.02, 0.03, 0.045)  # of the width
RIM = 0.006  # of the width: what lies nearer to a side may be the rim of a scan
BESIDE = (0.025, 0.07)  # of the width beyond it: what it is held against
PIECES = 16  # that it is looked at in, from the top down
MOST_OF_IT = 35  # percentile of its pieces: grass at its foot may be as dark
ONE_COLOUR = 4.0  # ΔE*ab, spread of its pieces: of 171 untouched pictures two have such a side


@dataclass(frozen=True, slots=True)
class SideStrip:
    """The strip most unlike what lies beside it, by how many ΔE*ab; its middle is 0–1."""

    side: str  # 'left' or 'right'
    x: float
    y: float
    apart: float


def side_strip(lab: Float) -> SideStrip | None:
    """Find it in a picture of some 400 px, ``lab`` (height, width, 3) CIELAB; None where no side is of one colour."""
    width = lab.shape[1]
    cuts = np.linspace(0, len(lab), min(PIECES, len(lab)) + 1).round().astype(np.intp)
    found = None
    for side, turned in (("left", lab), ("right", lab[:, ::-1])):
        rim = round(RIM * width)
        for wide in WIDTHS:
            strip = _pieces(turned[:, rim : max(rim + 2, round(wide * width))], cuts)
            if float(np.sqrt(over_channels(np.square(strip - strip.mean(0))).mean())) > ONE_COLOUR:
                continue
            first, last = (round((wide + way) * width) for way in BESIDE)
            beside = _pieces(turned[:, first : max(last, first + 1)], cuts)
            apart = quantiles_of(np.sqrt(over_channels(np.square(beside - strip))), (MOST_OF_IT / 100,))[0]
            if found is None or apart > found.apart:
                found = SideStrip(side, wide / 2 if side == "left" else 1 - wide / 2, 0.5, apart)
    return found


def _pieces(strip: Float, cuts: NDArray[np.intp]) -> Float:
    """The middle colour of each piece (pieces, 3), from the top down."""
    heights = np.diff(cuts)
    middle = np.empty((len(heights), strip.shape[2]), dtype=np.float32)
    for height in np.unique(heights):  # one or two: those of a height are asked together, far quicker than one by one
        those = np.flatnonzero(heights == height)
        rows = strip[cuts[those][:, None] + np.arange(height)]
        middle[those] = np.median(rows.reshape(len(those), -1, strip.shape[2]), axis=1)
    return middle
