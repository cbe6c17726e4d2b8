"""The smooth curve through rising points that rises everywhere and swings past none of them.

Piecewise cubic, its slopes the weighted harmonic means of those of the chords. [F. N. Fritsch and J. Butland, SIAM J. Sci.
Stat. Comput. 5(2), 1984, for the slopes within; its ends as in C. Moler, Numerical Computing with MATLAB, 2004, 3.4.]
scipy.interpolate has it too, and takes longer to be imported than a review takes to measure a picture.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray


def rising_curve(x: Sequence[float], y: Sequence[float], at: ArrayLike) -> NDArray[np.float64]:
    """The curve through points (n ≥ 3, both rising), at places within them."""
    places, heights, asked = (np.asarray(values, dtype=np.float64) for values in (x, y, at))
    widths = np.diff(places)
    chords = np.diff(heights) / widths
    slopes = np.empty_like(places)
    before, after = widths[:-1] + 2 * widths[1:], 2 * widths[:-1] + widths[1:]
    slopes[1:-1] = (before + after) / (before / chords[:-1] + after / chords[1:])
    slopes[0], slopes[-1] = _end(widths[:2], chords[:2]), _end(widths[:-3:-1], chords[:-3:-1])
    piece = np.clip(np.searchsorted(places, asked, side="right") - 1, 0, len(widths) - 1)
    width = widths[piece]
    t = (asked - places[piece]) / width
    low, high = heights[piece], heights[piece + 1]
    bent = t * (1 - t) * width * ((1 - t) * slopes[piece] - t * slopes[piece + 1])
    return np.asarray(low + (high - low) * t * t * (3 - 2 * t) + bent)


def _end(widths: NDArray[np.float64], chords: NDArray[np.float64]) -> float:
    """The slope at an end, by the parabola through three points, held so that the curve rises."""
    slope = ((2 * widths[0] + widths[1]) * chords[0] - widths[0] * chords[1]) / widths.sum()
    return float(np.clip(slope, 0, 3 * chords[0]))
