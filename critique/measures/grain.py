"""How do the nearly level strokes and edges of a picture lie, taken all together?"""

from dataclasses import dataclass

import numpy as np

from critique.measures.smoothing import Float, gaussian_planes, planes_of
from critique.perception.ranks import quantiles_of

SPREAD, JOINED = 2.5, 3.0  # px of some 400: of the Gaussian under the slopes, and over their products
REACH, STEP = 15.0, 0.5  # degrees from level that are looked at, and how finely
SMOOTHED = 1.6  # steps: spread of the Gaussian over the counts
STRONGEST = 95  # percentile of all weights: what has more counts no more, be it a skyline


@dataclass(frozen=True, slots=True)
class Grain:
    """The tilt that most strokes have, in degrees, above 0 falling to the right; and how many beside the mean tilt."""

    tilt: float
    plainness: float


def grain_of(lab: Float) -> Grain:
    """The grain of a picture of some 400 px; ``lab`` is (height, width, 3) CIELAB.

    Every place votes for the way its edges run, by how alike they run there. [Structure tensor: Bigün and Granlund,
    Optimal orientation detection of linear symmetry, ICCV 1987, from memory]
    """
    from scipy.ndimage import gaussian_filter1d

    planes = gaussian_planes(planes_of(lab), SPREAD, truncate=3)
    down, across = np.gradient(planes, axis=1), np.gradient(planes, axis=2)
    products = np.stack([(across * across).sum(0), (down * down).sum(0), (across * down).sum(0)])
    level, upright, both = gaussian_planes(products, JOINED, truncate=3)
    energy = level + upright
    swing = np.hypot(level - upright, 2 * both)
    weight = np.square(swing / (energy + np.float32(1e-6))) * np.sqrt(energy)
    tilt = (np.degrees(np.arctan2(2 * both, level - upright)) / 2 + 180) % 180 - 90  # along the edge, not across
    edges = np.arange(-REACH - STEP / 2, REACH + STEP, STEP)
    limited = np.minimum(weight, quantiles_of(weight, (STRONGEST / 100,))[0])
    place = ((tilt - edges[0]) / STEP).ravel()
    level_enough = (place >= 0) & (place < len(edges) - 1)
    bins = place[level_enough].astype(np.intp)
    counts = np.bincount(bins, limited.ravel()[level_enough], minlength=len(edges) - 1)
    counts = gaussian_filter1d(counts.astype(np.float64), SMOOTHED, mode="nearest")
    mean = float(counts.mean())
    if mean <= 0:
        return Grain(0.0, 0.0)
    best = int(counts.argmax())
    return Grain(float(edges[best] + STEP / 2), float(counts[best]) / mean)
