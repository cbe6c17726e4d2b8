"""At which height, if at any, does a picture mirror itself, as a lake does?"""

import numpy as np
from numpy.typing import NDArray

from critique.measures.smoothing import means_of_parts

Float = NDArray[np.float32]

ROWS = 100  # heights that are tried: a hundredth of the picture apart
STRIPS = 64  # upright strips that the picture is cut into: shapes are compared, not ripples
BROAD = (5, 4)  # rows and strips: spread of the Gaussian that is taken off, as any sun's glow mirrors itself
REACH = 30  # hundredths of the height that are compared above and below: less is alike by chance
FAINT = 1.0  # ΔE*ab: what varies less is no shape
# Correlation of what lies above with what lies below, turned over, less that about half the heights: trunks are alike
# about every height. Two lakes of 124 pictures have 0.63 and 0.57, the next has 0.39.
ALIKE = 0.48


def mirror_height(lab: Float) -> float | None:
    """The height (0–1 from the top) at which what lies below mirrors what lies above, None where nothing does.

    ``lab`` is (height, width, 3). Shapes are compared, without broad masses and without what a row has all along: water
    is darker than its sky, and bands that lie level mirror each other anywhere.
    """
    from scipy.ndimage import gaussian_filter

    strips = _strips(lab)
    shapes = strips - gaussian_filter(strips, (*BROAD, 0), mode="nearest")
    shapes -= shapes.mean(axis=1, keepdims=True)
    alike = np.array([_likeness(shapes, border) for border in range(REACH, ROWS - REACH + 1)])
    best = int(alike.argmax())
    return (best + REACH) / ROWS if alike[best] - np.median(alike) >= ALIKE else None


def _likeness(shapes: NDArray[np.float64], border: int) -> float:
    """Correlation (−1 to 1) of the rows above a border, turned over, with those below."""
    above, below = shapes[border - REACH : border][::-1], shapes[border : border + REACH]
    spread = np.sqrt(np.square(above).sum() * np.square(below).sum())
    return float((above * below).sum() / (spread + REACH * STRIPS * FAINT**2))


def _strips(lab: Float) -> NDArray[np.float64]:
    """Means over even rows and strips: (rows, strips, 3)."""
    return means_of_parts(means_of_parts(lab, ROWS).swapaxes(0, 1), STRIPS).swapaxes(0, 1)
