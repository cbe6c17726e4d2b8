"""Which long edges fall so far that among nearly level ones they aren't seen?"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from critique.measures.level_lines import STEEPEST, LevelLine, level_lines
from critique.measures.salience import Float

SHEARED = 10.0  # degrees: so far a picture is sheared, either way, for steep edges to lie nearly level in it
# Degrees: from the first on an edge is fainter among nearly level ones than it is; what falls by more than the second
# is a slope, and meant.
STEEP = (STEEPEST - 1, 15.5)
LONG, LOWEST = 0.55, 0.85  # of the width; of the height: an edge below it is of the ground at one's feet


def steep_lines(lab: Float) -> tuple[LevelLine, ...]:
    """The long edges that fall too far to be seen among nearly level ones, those to the left first.

    ``lab`` is (height, width, 3) CIELAB, of some 400 px.
    """
    lines = (line for way in (-SHEARED, SHEARED) for line in lines_about(lab, way))
    return tuple(
        line for line in lines if STEEP[0] <= abs(line.tilt) <= STEEP[1] and line.length >= LONG and line.y <= LOWEST
    )


def lines_about(lab: Float, way: float) -> list[LevelLine]:
    """The edges that fall by about so many degrees: nearly level in a picture (height, width, 3) sheared by as much."""
    falls = np.tan(np.radians(way))
    return [
        replace(line, tilt=float(np.degrees(np.arctan(np.tan(np.radians(line.tilt)) + falls))))
        for line in level_lines(_sheared(lab, falls))
    ]


def _sheared(lab: Float, falls: float) -> Float:
    """A picture whose columns are moved up, about its middle, by as much as an edge that ``falls`` lies lower there.

    They are moved by whole px: a strip's many columns, each off by less than half of one, are off by nothing.
    """
    height, width = lab.shape[:2]
    columns = np.arange(width)
    down: NDArray[np.intp] = np.rint(falls * (columns + 0.5 - width / 2)).astype(np.intp)
    rows = np.clip(np.arange(height)[:, None] + down, 0, height - 1)
    return np.asarray(np.take(lab.reshape(-1, lab.shape[2]), rows * width + columns, axis=0))
