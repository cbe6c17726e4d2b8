"""Does the line where water or plain meets the sky lie level?"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.measures.division import Division
from critique.measures.figure import OWN, Figure, rounded
from critique.measures.salience import Float, blur
from critique.picture.picture import Picture, lab_at

Fault = Literal["watch", "rework"]

LONG_EDGE = 400  # px
SEARCH = 0.03  # of the height: how far from the dividing line the edge itself is sought, column by column
CLOSE = 0.006  # of the height, and no less than a pixel: columns this near to one straight line are on it
LEAST_SHARE = 0.5  # of the columns that lie on it: sails and headlands may hide the rest
ENDS = 1 / 3  # of the width: some of the line must be seen in the left part and in the right
LEAST_END = 0.25  # of the columns of either part
STEEPEST = 12.0  # degrees: what falls by more is a slope, and meant
ABOVE, BELOW = (0.01, 0.06), (0.01, 0.08)  # of the height, from the line: what is looked at on its two sides
CALM_ABOVE = 7.0  # L*, spread along the line of what lies above: sky, not hills or trees
LEVEL_TEXTURE = 1.3  # how much more L* changes down than across below the line: waves, banks and furrows lie level
LEAST_STEP = 6.0  # ΔE*ab of the two sides: a line that is plainly seen
PLACES = (0.15, 0.9)  # of the height: farther out lies no horizon
# A photograph taken askew by 2° must not make a fault of a level sea.
WATCH, REWORK = 2.8, 5.0  # degrees


@dataclass(frozen=True, slots=True)
class WaterLevel:
    """The longest straight line between a calm above and level water or ground below.

    ``found`` says whether there is one; ``tilt`` is its fall to the right in degrees, ``length`` a part of the long
    edge; its ends are 0–1 from the left and the top.
    """

    found: bool
    tilt: float
    length: float
    x1: float
    y1: float
    x2: float
    y2: float


def measure_water_level(picture: Picture, division: Division) -> WaterLevel:
    """Measure how level the far edge of water lies, where a plain one is seen along the dividing line."""
    nothing = WaterLevel(found=False, tilt=0.0, length=0.0, x1=0.0, y1=0.0, x2=0.0, y2=0.0)
    if not division.present:
        return nothing
    lab = lab_at(picture, LONG_EDGE)
    height, width = lab.shape[:2]
    slope, at, on = _straight_edge(lab, division)
    left, right = round(ENDS * width), round((1 - ENDS) * width)
    if on.mean() < LEAST_SHARE or min(on[:left].mean(), on[right:].mean()) < LEAST_END:
        return nothing
    if not _is_far_edge(lab, slope, at, on):
        return nothing
    ends = np.flatnonzero(on)[[0, -1]].astype(np.float64)
    return WaterLevel(
        found=True,
        tilt=float(np.degrees(np.arctan(slope))),
        length=float(on.sum()) / max(height, width),
        x1=float((ends[0] + 0.5) / width),
        y1=float((at + slope * ends[0]) / height),
        x2=float((ends[1] + 0.5) / width),
        y2=float((at + slope * ends[1]) / height),
    )


def _straight_edge(lab: Float, division: Division) -> tuple[float, float, NDArray[np.bool_]]:
    """Slope (px a px), height at the left edge (px) and columns of the straight line through most of the edge."""
    height, width = lab.shape[:2]
    x = np.arange(width)
    path = np.interp((x + 0.5) / width, (np.arange(len(division.path)) + 0.5) / len(division.path), division.path)
    path = path * height
    slope, at = _through_most(x, path)
    reach = max(2, round(SEARCH * height))
    smooth = blur(lab, 1.0)
    step = np.sqrt(np.square(smooth[2:] - smooth[:-2]).sum(-1))
    rows = np.rint(at + slope * x)[None] + np.arange(-reach, reach + 1)[:, None]
    steps = step[np.clip(rows - 1, 0, len(step) - 1).astype(np.intp), np.broadcast_to(x, rows.shape)]
    edge = rows[steps.argmax(0), x] + 0.5
    close = max(1.0, CLOSE * height)
    slope, at = _through_most(x, edge)
    for _ in range(3):
        on = np.abs(edge - at - slope * x) <= 2 * close
        if on.sum() < 10:
            break
        slope, at = (float(number) for number in np.polyfit(x[on], edge[on], 1))
    return slope, at, np.abs(edge - at - slope * x) <= close


def _through_most(x: NDArray[np.integer], y: NDArray[np.floating]) -> tuple[float, float]:
    """Slope and height at 0 of a line that a third of strays doesn't turn: medians over pairs half a width apart."""
    half = len(x) // 2
    slope = float(np.median((y[half:] - y[: len(y) - half]) / half))
    return slope, float(np.median(y - slope * x))


def water_fault(level: WaterLevel) -> Fault | None:
    """Water that runs downhill."""
    if not level.found or abs(level.tilt) < WATCH:
        return None
    return "rework" if abs(level.tilt) >= REWORK else "watch"


def _is_far_edge(lab: Float, slope: float, at: float, on: NDArray[np.bool_]) -> bool:
    """Whether a line has calm above it, level texture below, and is plain to see."""
    height, width = lab.shape[:2]
    middle = (at + slope * width / 2) / height
    if abs(np.degrees(np.arctan(slope))) > STEEPEST or not PLACES[0] <= middle <= PLACES[1]:
        return False
    columns = np.flatnonzero(on)
    above, below = (_strip(lab, at + slope * columns, columns, reach) for reach in ((-ABOVE[1], -ABOVE[0]), BELOW))
    step = above.mean((0, 1), dtype=np.float64) - below.mean((0, 1), dtype=np.float64)
    if float(np.sqrt(np.square(step).sum())) < LEAST_STEP or float(above[..., 0].mean(0).std()) > CALM_ABOVE:
        return False
    down = float(np.abs(np.diff(below[..., 0], axis=0)).mean(dtype=np.float64))
    across = float(np.abs(np.diff(below[..., 0], axis=1)).mean(dtype=np.float64))
    return down >= LEVEL_TEXTURE * across


def _strip(lab: Float, y: NDArray[np.floating], x: NDArray[np.intp], reach: tuple[float, float]) -> Float:
    """The picture along a line, between two distances below it (parts of the height): (rows, columns, 3)."""
    height = lab.shape[0]
    rows = np.arange(max(3, round((reach[1] - reach[0]) * height))) + reach[0] * height
    down = np.clip(np.rint(y[None] + rows[:, None]), 0, height - 1).astype(np.intp)
    return np.asarray(lab[down, np.broadcast_to(x, down.shape)])


FIGURES = (
    Figure(
        name="water_level.tilt",
        label="Far edge of the water falls by",
        meaning="0 is level",
        definition="Fall to the right of the straight edge between a calm above and level water below.",
        source=OWN,
        unit="degrees",
        show=rounded(1, "°"),
        worth=2.5,
        jumps=True,
    ),
)
