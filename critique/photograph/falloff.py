"""How steeply light falls off over a photograph, told by what lies around its canvas, be it one even wall or not."""

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float
from critique.photograph.corners import Corners, filled

Array = NDArray[np.float64]

WORKING = 160  # px along the long edge: light is broad
AWAY = 0.05  # of the long edge around the canvas that is left out: its frame's shadow lies there
CLIPPED, DARK = 0.97, 0.01  # of full light
PAIRS, LEAST_PAIRS = 30000, 500  # drawn among all px beside the canvas; of one paint, at the least
SAME_PAINT = 0.06  # natural log of a ratio of channels, by which two places of one paint differ at most
NEAREST = 0.03  # of the photograph's sides: two places nearer than that hardly differ in light
SCATTER = 0.15  # natural log of light, by which boards, bricks or grass differ in the same light
ROUNDS, WIDE, STILL = 20, 3, 5e-4  # at most, of which by the pairs' own scatter; log of light that a last one moves
SEED = 0


def surround_of(light: Float, corners: Corners) -> tuple[Float, NDArray[np.bool_]]:
    """A few px of a photograph, and which of them lie beside the canvas and tell their light."""
    step = max(1, max(light.shape[:2]) // WORKING)
    small = light[::step, ::step]
    height, width, _ = small.shape
    points = np.asarray(corners) * [width, height]
    middle = points.mean(axis=0)
    away = AWAY * max(height, width)
    out = middle + (points - middle) * (1 + away / np.maximum(np.hypot(*(points - middle).T), 1))[:, None]
    brightest = np.maximum(np.maximum(small[..., 0], small[..., 1]), small[..., 2])
    return small, ~filled(out, (height, width)) & (brightest < CLIPPED) & (brightest > DARK)


def falloff_of(logs: Float, beside: NDArray[np.bool_]) -> tuple[Array, float] | None:
    """How steeply the log of light rises over a photograph's width and height (2,), and how far its places agree, 0–1.

    None where too few places share a paint.

    Parameters
    ----------
    logs : natural log of light (height, width, 3).
    beside : those of its px that are looked at.

    Notes
    -----
    Between two places of one paint nothing but the light differs. So pairs of places of nearly one chromaticity tell
    how steeply it falls off, whatever lies around, as long as those that happen to be two paints alike in chromaticity
    count for little: the slope is fitted by weights that fall off with what a pair is off by, and the mean weight is
    how far they agree. [Geman and McClure, Bulletin of the International Statistical Institute 52, 1987; by iteratively
    reweighted least squares: Holland and Welsch, Communications in Statistics A 6(9), 1977]
    """
    there = np.flatnonzero(beside)
    if len(there) < 2:
        return None
    first, second = there[np.random.default_rng(SEED).integers(len(there), size=(2, PAIRS))]
    red, green, blue = (logs[..., channel].ravel() for channel in range(3))
    height, width = beside.shape
    (above, left), (below, right) = np.divmod(first, width), np.divmod(second, width)
    across, down = (left - right) / width, (above - below) / height
    one_paint = np.ones(PAIRS, dtype=np.bool_)
    for ratio in (red - green, blue - green):
        one_paint &= np.abs(ratio[first] - ratio[second]) < SAME_PAINT
    chosen = one_paint & ((np.abs(across) > NEAREST) | (np.abs(down) > NEAREST))
    if chosen.sum() < LEAST_PAIRS:
        return None
    level = (red + green + blue) / 3
    apart = (level[first[chosen]] - level[second[chosen]]).astype(np.float64)
    return fitted_slope(np.stack([across[chosen], down[chosen]], axis=1), apart)


def fitted_slope(steps: Array, apart: Array) -> tuple[Array, float]:
    """How steeply (2,) something rises, from steps (n, 2) and what lies between their ends (n,), and the mean weight.

    Their own scatter counts at first, so that a steep slope isn't taken for a fault.
    """
    found: Array = np.zeros(2)
    for around in range(ROUNDS):
        off = apart - steps @ found
        scatter = max(1.4826 * float(np.median(np.abs(off))), SCATTER) if around < WIDE else SCATTER
        weights = 1 / (1 + (off / scatter) ** 2) ** 2
        weighed = steps * weights[:, None]
        step = np.linalg.solve(steps.T @ weighed + 1e-9 * np.eye(2), weighed.T @ off)
        found = found + step
        if around > WIDE and np.abs(step).max() < STILL:
            break
    return found, float(weights.mean())
