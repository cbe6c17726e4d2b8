"""What lies around a thing, the colours of a picture with the thing left out, flowing in from its sides; or within it."""

import numpy as np
from numpy.typing import NDArray

from critique.measures.smoothing import gaussian

REACHES = (0.02, 0.06, 0.18)  # of the long edge: near colours where there are any, else those farther off
ENOUGH = 0.12  # of a window that must be left for its colour to count in full


def surroundings(lab: NDArray[np.float32], thing: NDArray[np.floating]) -> NDArray[np.float32]:
    """Smooth colours (height, width, 3) of what isn't ``thing`` (height, width; 0–1)."""
    kept = np.clip(1 - thing, 0, 1).astype(np.float64)[..., None]
    filled = np.zeros(lab.shape)
    left = np.ones((*lab.shape[:2], 1))
    for reach in REACHES:
        spread = reach * max(lab.shape[:2])
        weight = gaussian(kept, spread)
        colour = gaussian(lab * kept, spread) / np.maximum(weight, 1e-6)
        sure = left * np.clip(weight / ENOUGH, 0, 1)
        filled, left = filled + sure * colour, left - sure
    mean = (lab * kept).sum(axis=(0, 1)) / max(float(kept.sum()), 1e-6) if kept.sum() > 1 else lab.mean(axis=(0, 1))
    return np.asarray(filled + left * mean, dtype=np.float32)


def within(values: NDArray[np.float32], thing: NDArray[np.floating], reach: float) -> NDArray[np.float32]:
    """Smooth values (height, width) of ``thing`` alone (height, width; over 0–1), over ``reach`` of the long edge.

    What lies beside the thing counts as little as it belongs to it, so that its rim is told by its own inside.
    """
    spread = reach * max(values.shape)
    weight = np.asarray(thing, dtype=np.float32)
    return np.asarray(gaussian(values * weight, spread) / gaussian(weight, spread), dtype=np.float32)
