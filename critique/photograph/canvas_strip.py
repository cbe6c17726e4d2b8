"""Whether the strip by which one candidate is larger than another is surround: of the same colours as what lies around.

A course of bricks or a plank beside a canvas ends in a straight edge too, and outlines it as well as its own edge does.
Where a seam of them runs on from a canvas's side, it looks as if the painting went on there.
"""

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float
from critique.photograph.canvas_lines import opponent
from critique.photograph.corners import filled

Array = NDArray[np.float64]

STEP = 2  # px of the small copy: colours are broad
LEVELS, SPREAD = (8, 10, 10), 0.35  # bins of lightness and of two colours, which run from −SPREAD to SPREAD
SOFT = 0.7  # bins by which counts are spread, so that a bin's border parts nothing
AROUND, BESIDE = 1.12, 1.015  # times the larger candidate: between them lies what is around it
CORE = 0.75  # times the smaller one: what lies farther in is left out
NEAR = 0.07  # of the long edge, from the strip: what else is around or inside says nothing of it
LEAST_PX = 25  # of each that is compared
SURROUND = 0.6  # share of colours that strip and surround have in common beyond what either has with the inside
# Of the length of the two sides that meet it: how far beyond a side is looked, and how far a painting may go on there.
BEYOND, FURTHER = 0.12, 0.4


def is_surround(codes: Float, outer: Array, inner: Array) -> bool:
    """Whether ``outer`` takes in surround that ``inner`` leaves out; corners (4, 2) in px of ``codes``, 0–1."""
    return _surrounding(codes, outer, inner, outer) >= SURROUND


def surround_beyond(codes: Float, corners: Array, side: int) -> float:
    """How much surround lies just beyond a side (0–3: upper, right, lower, left), between the lines that meet it.

    The share of colours that it has in common with what lies around it, beyond what either has with the inside: −1–1.
    """
    first, last = side, (side + 1) % 4
    way = np.zeros_like(corners)
    way[first] = corners[first] - corners[first - 1]
    way[last] = corners[last] - corners[(last + 1) % 4]
    return _surrounding(codes, corners + BEYOND * way, corners, corners + FURTHER * way)


def _surrounding(codes: Float, outer: Array, inner: Array, covered: Array) -> float:
    """The share of colours that the strip between ``outer`` and ``inner`` has in common with what lies around it.

    Beyond what either has in common with the inside; −1 where too little of them shows. What is ``covered`` is no
    surround, whatever it is.
    """
    from scipy.ndimage import binary_dilation

    small = codes[::STEP, ::STEP]
    shape = small.shape[:2]

    def within_scaled(corners: Array, scale: float = 1.0) -> NDArray[np.bool_]:
        middle = corners.mean(axis=0)
        return filled((middle + (corners - middle) * scale) / STEP, shape)

    inside = within_scaled(inner)
    strip = within_scaled(outer) & ~inside
    near = binary_dilation(strip, iterations=round(NEAR * max(shape)))
    around = within_scaled(outer, AROUND) & ~within_scaled(covered, BESIDE) & near
    core = inside & ~within_scaled(inner, CORE) & near
    if min(strip.sum(), around.sum(), core.sum()) < LEAST_PX:
        return -1.0
    bins = _bins(small)
    own, out, within = (_colours(bins[part]) for part in (strip, around, core))
    return _common(own, out) - max(_common(own, within), _common(out, within))


def _bins(codes: Float) -> NDArray[np.intp]:
    """The bin of each px's colour."""
    colours = opponent(codes)
    parts = [colours[..., 0], *((colours[..., axis] + SPREAD) / (2 * SPREAD) for axis in (1, 2))]
    places = [
        np.clip((part * levels).astype(np.intp), 0, levels - 1) for part, levels in zip(parts, LEVELS, strict=True)
    ]
    return np.asarray(np.ravel_multi_index(tuple(places), LEVELS))


def _colours(bins: NDArray[np.intp]) -> Array:
    from scipy.ndimage import gaussian_filter

    counts = np.bincount(bins, minlength=int(np.prod(LEVELS))).astype(np.float64).reshape(LEVELS)
    soft = gaussian_filter(counts, SOFT, mode="constant")
    return np.asarray(soft / max(float(soft.sum()), 1e-9))


def _common(one: Array, other: Array) -> float:
    return float(np.minimum(one, other).sum())
