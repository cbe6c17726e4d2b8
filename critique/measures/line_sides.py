"""What lies on the two sides of a nearly level edge?"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.measures.level_lines import LevelLine
from critique.measures.salience import Float

NARROW = (0.012, 0.08)  # of the height, from the line: what is looked at on its two sides
BELOW = (0.02, 0.12)  # of the height, from the line: what part lies there
OVER = (-0.08, -0.01)  # of the height, from the line: what part lies on it


def along(field: NDArray[Any], line: LevelLine, reach: tuple[float, float]) -> NDArray[Any]:
    """A map (height, width, k) along a line, between two distances below it of the height."""
    height, width = field.shape[:2]
    x = np.arange(width)
    course = line.y * height + np.tan(np.radians(line.tilt)) * (x + 0.5 - width / 2)
    rows = np.arange(max(3, round((reach[1] - reach[0]) * height))) + reach[0] * height
    down = np.clip(np.floor(course[None] + rows[:, None]), 0, height - 1).astype(np.intp)
    return np.asarray(field[down, np.broadcast_to(x, down.shape)])


def levelness(lab: Float, line: LevelLine) -> float:
    """How much more L* changes down than across, below a line."""
    near = along(lab, line, NARROW)[..., 0]
    down = float(np.abs(np.diff(near, axis=0)).mean(dtype=np.float64))
    across = float(np.abs(np.diff(near, axis=1)).mean(dtype=np.float64))
    return down / max(across, 1e-3)


def part_over(labels: NDArray[np.uint8], line: LevelLine, part: int) -> float:
    """How much of what lies on a line is that part of the picture."""
    return float((along(labels[..., None], line, OVER) == part).mean())


def part_below(labels: NDArray[np.uint8], line: LevelLine, part: int) -> float:
    """How much of what lies below a line is that part."""
    return float((along(labels[..., None], line, BELOW) == part).mean())
