"""How much of a picture each colour covers: a histogram in CIELAB."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.picture.picture import Picture, lab_at

BIN = 3.0  # units of L*, a* and b*: about one just visible step of muted colours, and few bins to work with
COLOURS_LONG_EDGE = 320  # px: the finest detail, which every saving of a file changes, makes no colours of its own
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
    every = np.bincount(row)
    filled = np.flatnonzero(every)
    count = every[filled]
    every[filled] = np.arange(len(filled))  # the number of each bin among those: sums of a few stay in the cache
    number = np.take(every, row)
    means = [np.bincount(number, weights=flat[:, axis]) / count for axis in range(3)]
    return ColourHistogram(np.stack(means, axis=1), count / len(flat))


def picture_histogram(picture: Picture) -> ColourHistogram:
    """Histogram of a picture seen from twice as far as it is viewed: strokes mix, and a file's size tells nothing."""
    return colour_histogram(lab_at(picture, COLOURS_LONG_EDGE))


def coarser(colours: ColourHistogram, bin_size: float) -> ColourHistogram:
    """The same histogram in bins of ``bin_size`` CIELAB units."""
    cell = np.floor(colours.lab / bin_size).astype(np.int64)
    cell -= cell.min(axis=0, initial=0)
    width = cell.max(axis=0, initial=0) + 1
    _, row = np.unique((cell[:, 0] * width[1] + cell[:, 1]) * width[2] + cell[:, 2], return_inverse=True)
    share = np.bincount(row, weights=colours.share).astype(np.float64)
    means = [np.bincount(row, weights=colours.lab[:, axis] * colours.share) / share for axis in range(3)]
    return ColourHistogram(np.stack(means, axis=1), share)


RANK_STEPS = 1 << 14  # of a figure's range: an L* to within 0.006, and no sorting of millions


def rank_value(values: NDArray[np.float32], rank: float | Sequence[float]) -> NDArray[np.float64]:
    """Values below which ``rank`` (0–1) of ``values`` (n,) lie, to one part in 16,384 of their range."""
    low, high = float(values.min()), float(values.max())
    step = max(high - low, 1e-6) / RANK_STEPS
    count = np.bincount(((values - np.float32(low)) * np.float32(1 / step)).astype(np.int32))
    below = np.cumsum(count) / values.size
    return np.asarray(low + (np.searchsorted(below, np.asarray(rank)) + 0.5) * step)
