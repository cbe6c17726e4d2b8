"""How alike is what lies below an edge to what lies above it, upside down?"""

import numpy as np

from critique.measures.level_lines import LevelLine
from critique.measures.line_sides import along
from critique.measures.salience import Float, blur
from critique.perception.channels import over_channels

WIDE = 0.15  # of the height: how far a reflection is looked for


def mirrored(lab: Float, line: LevelLine) -> float:
    """How alike what lies below a line is to what lies above it, upside down: a correlation along the line (-1–1).

    ``lab`` is (height, width, 3) CIELAB.
    """
    above, below = (along(lab, line, reach) for reach in ((-WIDE, -0.01), (0.01, WIDE)))
    deep = min(len(above), len(below))
    means = (
        np.asarray(over_channels(side) / np.float32(3), dtype=np.float32) for side in (above[::-1][:deep], below[:deep])
    )
    sides = [blur(mean, 2.0)[::4, ::4] for mean in means]
    one, other = (_without_trend(side) for side in sides)
    size = float(np.sqrt(np.square(one).sum(dtype=np.float64) * np.square(other).sum(dtype=np.float64)))
    return float((one * other).sum(dtype=np.float64)) / max(size, 1e-6)


def _without_trend(side: Float) -> Float:
    """Without the light that grows or fades along the line: a sun at one side lights sky and ground alike."""
    x = np.linspace(-1, 1, side.shape[1], dtype=np.float32)
    shapes = np.stack([np.ones_like(x), x, np.square(x)])
    weights, *_ = np.linalg.lstsq(shapes.T, side.T, rcond=None)
    return np.asarray(side - (shapes.T @ weights).T, dtype=np.float32)
