"""Does a strip of one colour run along a whole side, as a post or a wall does, or what lay beside a canvas?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.salience import Float
from critique.perception.channels import over_channels

# Of the width, or of the height at the top and the foot: there what is wider is sky, or sea, and lies as it should.
WIDTHS = (0.02, 0.03, 0.045)
RIM = 0.006  # of the same: what lies nearer to a side may be the rim of a scan
BESIDE = (0.025, 0.07)  # of the same beyond it: what it is held against
PIECES = 16  # that it is looked at in, from end to end
MOST_OF_IT = 35  # percentile of its pieces: grass at its foot may be as dark
ALMOST_ALL = 15  # the same at the top and the foot, where no ground runs across its end
ONE_COLOUR = 4.0  # ΔE*ab, spread of its pieces: of 171 untouched pictures two have such a side


@dataclass(frozen=True, slots=True)
class SideStrip:
    """The strip most unlike what lies beside it, by how many ΔE*ab; its middle is 0–1."""

    side: str  # 'left', 'right', 'top' or 'bottom'
    x: float
    y: float
    apart: float


def side_strip(lab: Float) -> SideStrip | None:
    """Find it in a picture of some 400 px, ``lab`` (height, width, 3) CIELAB; None where no side is of one colour."""
    down = lab.transpose(1, 0, 2)
    found = [
        strip
        for side, turned, most in (
            ("left", lab, MOST_OF_IT),
            ("right", lab[:, ::-1], MOST_OF_IT),
            ("top", down, ALMOST_ALL),
            ("bottom", down[:, ::-1], ALMOST_ALL),
        )
        if (strip := _along(side, turned, most)) is not None
    ]
    return max(found, key=lambda strip: strip.apart, default=None)


def _along(side: str, turned: Float, most_of_it: int) -> SideStrip | None:
    """The plainest strip along one side, in a picture turned so that it lies at the left."""
    width = turned.shape[1]
    cuts = np.linspace(0, len(turned), min(PIECES, len(turned)) + 1).round().astype(np.intp)
    found = None
    rim = round(RIM * width)
    for wide in WIDTHS:
        strip = _pieces(turned[:, rim : max(rim + 2, round(wide * width))], cuts)
        if float(np.sqrt(over_channels(np.square(strip - strip.mean(0))).mean())) > ONE_COLOUR:
            continue
        first, last = (round((wide + way) * width) for way in BESIDE)
        beside = _pieces(turned[:, first : max(last, first + 1)], cuts)
        apart = float(np.percentile(np.sqrt(over_channels(np.square(beside - strip))), most_of_it))
        if found is None or apart > found.apart:
            x, y = {"left": (wide / 2, 0.5), "right": (1 - wide / 2, 0.5), "top": (0.5, wide / 2)}.get(
                side, (0.5, 1 - wide / 2)
            )
            found = SideStrip(side, x, y, apart)
    return found


def _pieces(strip: Float, cuts: NDArray[np.intp]) -> Float:
    """The middle colour of each piece (pieces, 3), from end to end."""
    heights = np.diff(cuts)
    middle = np.empty((len(heights), strip.shape[2]), dtype=np.float32)
    for height in np.unique(heights):  # one or two: those of a height are asked together, far quicker than one by one
        those = np.flatnonzero(heights == height)
        rows = strip[cuts[those][:, None] + np.arange(height)]
        middle[those] = np.median(rows.reshape(len(those), -1, strip.shape[2]), axis=1)
    return middle
