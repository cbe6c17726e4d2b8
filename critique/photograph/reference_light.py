"""By how much a card gets other light than the canvas, told by what lies around, be it one even wall or not."""

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float
from critique.photograph.corners import Corner, Corners
from critique.photograph.evening import LEAST_PX, surround_of

Array = NDArray[np.float64]

PAIRS, LEAST_PAIRS = 30000, 500  # drawn among all px beside the canvas; of one paint, at the least
SAME_PAINT = 0.06  # natural log of a ratio of channels, by which two places of one paint differ at most
NEAREST = 0.03  # of the photograph's sides: two places nearer than that hardly differ in light
SCATTER = 0.15  # natural log of light, by which boards, bricks or grass differ in the same light
ROUNDS, STILL = 20, 1e-5
SEED = 0


def light_beside(light: Float, corners: Corners, place: Corner) -> float | None:
    """By what the light at a place outdoes the canvas's mean light; None where too little around it tells.

    Parameters
    ----------
    light : (height, width, 3), the photograph's.
    corners, place : the canvas's, and where the card or the chart lies, fractions of the photograph.

    Notes
    -----
    Between two places of one paint nothing but the light differs. So pairs of places of nearly one chromaticity tell
    how steeply it falls off, whatever lies around, as long as those that happen to be two paints alike in chromaticity
    count for little: the slope is fitted by weights that fall off with what a pair is off by. [Geman and McClure,
    Bulletin of the International Statistical Institute 52, 1987; by iteratively reweighted least squares: Holland and
    Welsch, Communications in Statistics A 6(9), 1977]
    """
    small, beside = surround_of(light, corners)
    there = np.flatnonzero(beside)
    if beside.mean() < LEAST_PX:
        return None
    logs = np.log(np.maximum(small.reshape(-1, 3), np.float32(1e-3)))
    first, second = there[np.random.default_rng(SEED).integers(len(there), size=(2, PAIRS))]
    apart = logs[first] - logs[second]
    height, width = beside.shape
    steps = np.stack([(first % width - second % width) / width, (first // width - second // width) / height], axis=1)
    one_paint = np.maximum(np.abs(apart[:, 0] - apart[:, 1]), np.abs(apart[:, 2] - apart[:, 1])) < SAME_PAINT
    chosen = one_paint & (np.hypot(*steps.T) > NEAREST)
    if chosen.sum() < LEAST_PAIRS:
        return None
    slope = _slope(steps[chosen], apart[chosen].mean(axis=1, dtype=np.float64))
    return float(np.exp((np.asarray(place) - np.mean(corners, axis=0)) @ slope))


def _slope(steps: Array, apart: Array) -> Array:
    """How steeply (2,) the log of light rises, from steps (n, 2) between places and the logs (n,) by which they differ.

    The scatter is that of the pairs themselves at first, so that a steep slope isn't taken for a fault.
    """
    found: Array = np.zeros(2)
    for around in range(ROUNDS):
        off = apart - steps @ found
        scatter = max(1.4826 * float(np.median(np.abs(off))), SCATTER) if around < ROUNDS // 2 else SCATTER
        weighed = steps * (1 / (1 + (off / scatter) ** 2) ** 2)[:, None]
        step = np.linalg.solve(steps.T @ weighed + 1e-9 * np.eye(2), weighed.T @ off)
        found = found + step
        if around >= ROUNDS // 2 and np.abs(step).max() < STILL:
            break
    return found
