"""Medians and quantiles of whole pictures: what numpy gives, several times sooner.

Of some hundred thousand values only those of the few narrow bins that hold a rank are put in order.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

BINS = 2048  # then each holds so few values that ordering them costs next to nothing
MANY = 10_000  # values from which on bins are sooner than ordering them all


def median_of(values: NDArray[np.floating]) -> float:
    """The median of all values, which must be finite; NaN of none."""
    return quantiles_of(values, (0.5,))[0]


def quantiles_of(values: NDArray[np.floating], parts: Sequence[float]) -> tuple[float, ...]:
    """Quantiles (``parts`` 0–1) of all values, which must be finite, straight between two ranks; NaN of none."""
    flat = values.ravel()
    if not flat.size:
        return (float("nan"),) * len(parts)
    places = [part * (flat.size - 1) for part in parts]
    ranks = sorted({rank for place in places for rank in (int(place), min(int(place) + 1, flat.size - 1))})
    at = dict(zip(ranks, _at_ranks(flat, ranks), strict=True))
    return tuple(
        at[int(place)] + (at[min(int(place) + 1, flat.size - 1)] - at[int(place)]) * (place - int(place))
        for place in places
    )


def middle_colour(colours: NDArray[np.floating]) -> NDArray[np.float32]:
    """The median of each channel of colours (n, channels)."""
    return np.array([median_of(channel) for channel in colours.T], dtype=np.float32)


def _at_ranks(flat: NDArray[np.floating], ranks: Sequence[int]) -> list[float]:
    """What stands at those ranks (rising) once the values are in order."""
    low, high = (float(flat.min()), float(flat.max())) if flat.size >= MANY else (0.0, 0.0)
    if not 0 < high - low < np.inf:
        ordered = np.partition(flat, ranks)
        return [float(ordered[rank]) for rank in ranks]
    bins = ((flat - flat.dtype.type(low)) * flat.dtype.type((BINS - 1) / (high - low))).astype(np.int16)
    upto = np.cumsum(np.bincount(bins))
    found: dict[int, float] = {}
    for number in sorted({int(np.searchsorted(upto, rank, side="right")) for rank in ranks}):
        before = int(upto[number - 1]) if number else 0
        inside = np.sort(flat[bins == number])
        found |= {rank: float(inside[rank - before]) for rank in ranks if before <= rank < int(upto[number])}
    return [found[rank] for rank in ranks]
