"""Is a picture built about its very middle, one side like the other?"""

from dataclasses import dataclass

import numpy as np

from critique.measures.salience import Float

THIRD = (1 / 3, 2 / 3)  # of the width
# Shares of all that differs, that lie as far to the left as to the right.
PAIRS = ((0.1, 0.9), (0.25, 0.75), (0.5, 0.5))


@dataclass(frozen=True, slots=True)
class Centred:
    """Where all lies, from left to right, that differs from the middle of its own row.

    ``share`` is how much of it (0–1) lies in the middle third, ``off`` how far its halves, quarters and tenths lie off
    the middle, one with the other (of the width), ``mirror`` the correlation (−1–1) of its course from left to right
    with that from right to left.
    """

    share: float
    off: float
    mirror: float


def measure_centred(differs: Float) -> Centred:
    """See whether it is the same on both sides of the middle; ``differs`` (height, width) by how much, squared."""
    across = differs.sum(axis=0, dtype=np.float64)
    total, width = float(across.sum()), len(across)
    if total <= 0 or width < 2:
        return Centred(0.0, 1.0, 0.0)
    columns = (np.arange(width) + 0.5) / width
    summed, ends = np.concatenate([[0.0], np.cumsum(across)]) / total, np.arange(width + 1) / width
    off = sum(abs(float(np.interp(pair, summed, ends).mean()) - 0.5) for pair in PAIRS)
    rest = across - across.mean()
    return Centred(
        share=float(across[(columns > THIRD[0]) & (columns < THIRD[1])].sum() / total),
        off=off,
        mirror=float((rest * rest[::-1]).sum() / max(float(np.square(rest).sum()), 1e-9)),
    )
