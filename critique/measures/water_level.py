"""Does the line where water or plain meets the sky lie level?"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from critique.measures.lines import Segment, long_lines
from critique.measures.salience import Float
from critique.picture.picture import Picture, lab_at

Fault = Literal["watch", "rework"]

LONG_EDGE = 400  # px
LEAST_LENGTH = 0.35  # of the long edge: shorter straight edges are roofs, clouds and banks that rise into the distance
STEEPEST = 12.0  # degrees: what falls by more is a slope, and meant
ABOVE, BELOW = (0.01, 0.06), (0.01, 0.08)  # of the height, from the line: what is looked at on its two sides
CALM_ABOVE = 4.0  # L*, spread along the line of what lies above: sky, not hills or trees
LEVEL_TEXTURE = 1.3  # how much more L* changes down than across below the line: waves, banks and furrows lie level
LEAST_STEP = 12.0  # ΔE*ab of the two sides: a line that is plainly seen
PLACES = (0.15, 0.9)  # of the height: farther out lies no horizon
# A photograph taken askew by 2° must not make a fault of a level sea.
WATCH, REWORK = 2.6, 5.0  # degrees


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


def measure_water_level(picture: Picture) -> WaterLevel:
    """Measure how level the far edge of water lies, where a plain one is seen."""
    lab = lab_at(picture, LONG_EDGE)
    height, width = lab.shape[:2]
    for segment in long_lines(lab):
        if segment.length >= LEAST_LENGTH * max(height, width) and _is_far_edge(lab, segment):
            return WaterLevel(
                found=True,
                tilt=_tilt(segment),
                length=segment.length / max(height, width),
                x1=(segment.x1 + 0.5) / width,
                y1=(segment.y1 + 0.5) / height,
                x2=(segment.x2 + 0.5) / width,
                y2=(segment.y2 + 0.5) / height,
            )
    return WaterLevel(found=False, tilt=0.0, length=0.0, x1=0.0, y1=0.0, x2=0.0, y2=0.0)


def water_fault(level: WaterLevel) -> Fault | None:
    """Water that runs downhill."""
    if not level.found or abs(level.tilt) < WATCH:
        return None
    return "rework" if abs(level.tilt) >= REWORK else "watch"


def _tilt(segment: Segment) -> float:
    return float(np.degrees(np.arctan2(segment.y2 - segment.y1, segment.x2 - segment.x1)))


def _is_far_edge(lab: Float, segment: Segment) -> bool:
    """Whether a line has calm above it, level texture below, and is plain to see."""
    height = lab.shape[0]
    middle = (segment.y1 + segment.y2) / 2 / height
    if abs(_tilt(segment)) > STEEPEST or not PLACES[0] <= middle <= PLACES[1]:
        return False
    above, below = _strip(lab, segment, (-ABOVE[1], -ABOVE[0])), _strip(lab, segment, BELOW)
    step = above.mean((0, 1), dtype=np.float64) - below.mean((0, 1), dtype=np.float64)
    if float(np.sqrt(np.square(step).sum())) < LEAST_STEP or float(above[..., 0].mean(0).std()) > CALM_ABOVE:
        return False
    down = float(np.abs(np.diff(below[..., 0], axis=0)).mean(dtype=np.float64))
    across = float(np.abs(np.diff(below[..., 0], axis=1)).mean(dtype=np.float64))
    return down >= LEVEL_TEXTURE * across


def _strip(lab: Float, segment: Segment, reach: tuple[float, float]) -> Float:
    """The picture along a line, from ``reach`` (parts of the height) below it: (rows, columns, 3)."""
    height = lab.shape[0]
    x = np.arange(int(np.ceil(segment.x1)), int(segment.x2))
    y = segment.y1 + (segment.y2 - segment.y1) * (x - segment.x1) / (segment.x2 - segment.x1)
    rows = np.arange(max(3, round((reach[1] - reach[0]) * height))) + reach[0] * height
    at = np.clip(np.rint(y[None] + rows[:, None]), 0, height - 1).astype(np.intp)
    return lab[at, np.broadcast_to(x, at.shape)]
