"""How a mixture is told in whole parts that a painter can measure with a knife."""

from itertools import product

import numpy as np
from numpy.typing import NDArray

# Parts of the whole mixture: small numbers first; a pale sky wants one part in a hundred, which is a touch on the tip.
TOTALS = (*range(1, 25), 28, 30, 32, 36, 40, 45, 50, 60, 72, 80, 100, 120)
SIMPLER_WITHIN = 0.3  # ΔE00 given up for smaller numbers: well under what an eye tells between two dabs

Whole = NDArray[np.int64]


def whole_candidates(parts: NDArray[np.floating]) -> Whole:
    """Whole-number parts (n, members) near a mixture (members,), for each of ``TOTALS``.

    Every part is rounded both down and up; common factors are taken out, so that 2 : 4 appears as 1 : 2.
    """
    share = np.asarray(parts, dtype=np.float64) / np.sum(parts)
    corners = np.array(list(product((0, 1), repeat=len(share))))
    totals = np.array(TOTALS)
    found = (np.floor(totals[:, None] * share)[:, None, :] + corners[None]).reshape(-1, len(share)).astype(np.int64)
    found = found[found.sum(axis=1) > 0]
    return np.asarray(np.unique(found // np.gcd.reduce(found, axis=1)[:, None], axis=0))


def simplest(parts: Whole, error: NDArray[np.float64]) -> int:
    """Index of the parts to give: among those within ``SIMPLER_WITHIN`` of the best, the fewest paints and parts."""
    close = np.flatnonzero(error <= error.min() + SIMPLER_WITHIN)
    order = np.lexsort((error[close], parts[close].sum(axis=1), (parts[close] > 0).sum(axis=1)))
    return int(close[order[0]])
