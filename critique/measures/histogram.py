"""How much of a picture each colour covers: a histogram in CIELAB."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

BIN = 3.0  # units of L*, a* and b*: about one just visible step of muted colours, and few bins to work with
_A_RANGE = 128.0
_L_BINS = int(100 // BIN) + 2
_AB_BINS = int(2 * _A_RANGE // BIN) + 1


@dataclass(frozen=True, slots=True)
class ColourHistogram:
    """Mean CIELAB colour (n, 3) of each occupied bin, and the share of the area (n,) that it covers."""

    lab: NDArray[np.float64]
    share: NDArray[np.float64]


def colour_histogram(lab: NDArray[np.float32]) -> ColourHistogram:
    """Histogram of CIELAB colours (..., 3), occupied bins only, in a fixed order."""
    flat = lab.reshape(-1, 3)
    if len(flat) == 0:
        return ColourHistogram(np.zeros((0, 3)), np.zeros(0))
    inverse = np.float32(1 / BIN)
    row = np.clip(flat[:, 0] * inverse, 0, _L_BINS - 1).astype(np.int32)
    for axis in (1, 2):
        row *= _AB_BINS
        row += np.clip((flat[:, axis] + np.float32(_A_RANGE)) * inverse, 0, _AB_BINS - 1).astype(np.int32)
    count = np.bincount(row)
    filled = np.flatnonzero(count)
    means = [np.bincount(row, weights=flat[:, axis])[filled] / count[filled] for axis in range(3)]
    return ColourHistogram(np.stack(means, axis=1), count[filled] / len(flat))
