"""Whether a picture's edges are hard everywhere, or lost in places and found in others."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.picture.picture import Picture, lab_at

VIEW = 640  # px along the long edge
COARSE = 0.006  # of the long edge: the spread at which an edge is found, however soft
REACH = 0.012  # of the long edge: the width across which its step is read
SHARP = 0.8  # px: the spread at which its steepness is read
STEP = 6.0  # L*: a smaller step isn't counted as an edge
FEWEST = 40  # edges, or places: of fewer nothing is said
PLACE = 0.0235  # of the long edge, 15 px: what lies beside an edge, and the edge
STILL = 0.3  # L* per px, root mean square: a place with less slope is empty and says nothing of edges


@dataclass(frozen=True, slots=True)
class Edges:
    """How hard the edges of value are.

    ``softness`` is the mean slope of a place against its root mean square, the middle of all places: towards 1 where
    the change of value is spread out by blended paint or by touch, low where the paint lies flat and all change sits in
    a cut edge. ``sharpness`` is the steepest L* a px of an edge against its whole step, the middle of all edges;
    ``softest`` and ``hardest`` the same of the softest and hardest tenth (0 where there are too few edges).
    """

    softness: float
    sharpness: float
    softest: float
    hardest: float
    count: int


def measure_edges(picture: Picture) -> Edges:
    """Measure how hard the edges of value are, by the slope beside them and by their steepness against their step."""
    from scipy.ndimage import gaussian_filter, maximum_filter, minimum_filter

    light = lab_at(picture, VIEW)[..., 0]
    long_edge = max(light.shape)
    if min(light.shape) < 8:
        return Edges(1.0, 0.0, 0.0, 0.0, 0)
    size = max(3, round(REACH * long_edge) | 1)
    slope = np.hypot(*np.gradient(gaussian_filter(light, SHARP, mode="nearest")))
    soft = np.hypot(*np.gradient(gaussian_filter(light, COARSE * long_edge, mode="nearest", truncate=3)))
    fine = gaussian_filter(light, 0.0015 * long_edge, mode="nearest")
    step = maximum_filter(fine, size) - minimum_filter(fine, size)
    crest = (soft == maximum_filter(soft, 5)) & (step > STEP)
    count = int(crest.sum())
    softness = _softness(slope, long_edge)
    if count < FEWEST:
        return Edges(softness, 0.0, 0.0, 0.0, count)
    sharpness = maximum_filter(slope, 5)[crest] / step[crest]
    softest, middle, hardest = (float(part) for part in np.percentile(sharpness, (10, 50, 90)))
    return Edges(softness, middle, softest, hardest, count)


def _softness(slope: NDArray[np.float32], long_edge: int) -> float:
    """Mean slope against its root mean square, the middle of all places that aren't empty; 1 where all are."""
    from scipy.ndimage import uniform_filter

    size = max(3, round(PLACE * long_edge) | 1)
    skip = max(1, size // 4)
    mean = uniform_filter(slope, size, mode="nearest")[::skip, ::skip]
    square = uniform_filter(np.square(slope), size, mode="nearest")[::skip, ::skip]
    places = square > STILL**2
    if places.sum() < FEWEST:
        return 1.0
    return float(np.median(mean[places] / np.sqrt(square[places])))
