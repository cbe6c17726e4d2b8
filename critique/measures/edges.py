"""Whether a picture's edges are hard everywhere, or lost in places and found in others."""

from dataclasses import dataclass

import numpy as np

from critique.picture.picture import Picture, lab_at

VIEW = 640  # px along the long edge
COARSE = 0.006  # of the long edge: the spread at which an edge is found, however soft
REACH = 0.012  # of the long edge: the width across which its step is read
SHARP = 0.7  # px: the spread at which its steepness is read
STEP = 6.0  # L*: a smaller step isn't counted as an edge
FEWEST = 40  # edges: of fewer nothing is said
FLAT = 0.05  # L* per px: less slope than this is none
# One figure of the two: paint between the edges that lies flat makes them look harder. Weighed on faulted pictures.
WEIGHT = 0.10


@dataclass(frozen=True, slots=True)
class Edges:
    """``sharpness`` is an edge's steepest L* a px against its whole step, the middle of all edges.

    ``softest`` and ``hardest`` are the same of the softest and hardest tenth, ``flatness`` how far the steepest slopes
    exceed the common one, and ``hardness`` the two in one.
    """

    sharpness: float
    softest: float
    hardest: float
    flatness: float
    hardness: float
    count: int


def measure_edges(picture: Picture) -> Edges:
    """Measure how hard the edges of value are, by their steepness against their step."""
    from scipy.ndimage import gaussian_filter, maximum_filter, minimum_filter

    light = lab_at(picture, VIEW)[..., 0]
    long_edge = max(light.shape)
    if min(light.shape) < 8:
        return Edges(0.0, 0.0, 0.0, 0.0, 0.0, 0)
    size = max(3, round(REACH * long_edge) | 1)
    slope = np.hypot(*np.gradient(gaussian_filter(light, SHARP, mode="nearest")))
    soft = np.hypot(*np.gradient(gaussian_filter(light, COARSE * long_edge, mode="nearest", truncate=3)))
    fine = gaussian_filter(light, 0.0015 * long_edge, mode="nearest")
    step = maximum_filter(fine, size) - minimum_filter(fine, size)
    crest = (soft == maximum_filter(soft, 5)) & (step > STEP)
    count = int(crest.sum())
    usual, steep = np.percentile(slope[::2, ::2], (60, 97))
    flatness = float(steep / max(usual, FLAT))
    if count < FEWEST:
        return Edges(0.0, 0.0, 0.0, flatness, 0.0, count)
    sharpness = maximum_filter(slope, 5)[crest] / step[crest]
    softest, middle, hardest = (float(part) for part in np.percentile(sharpness, (10, 50, 90)))
    hardness = middle + WEIGHT * float(np.log(max(flatness, 1.0)))
    return Edges(middle, softest, hardest, flatness, hardness, count)
