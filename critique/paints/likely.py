"""How near the mixtures of many sets of paints are likely to land, all at once: what a recipe is told to expect.

The nearest by calculation may be one that turns with a hair more of one paint, one of a paint nearly alone of which
two makers' tubes differ, or one of paints that were never measured. A choice of paints is judged by what is likely.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.paints.expected import (
    MISSED_BY_TINTS,
    UNSURE_ALONE,
    UNSURE_IN_WHITE,
    added_by,
    doubt_of_shares,
    doubted_alone,
)
from critique.paints.mixtures import BLOCK, Index, Mixer, Nearest, Reach, ellipsoid
from critique.paints.paint import Paint
from critique.perception.difference import delta_e_2000

WORTH_TRYING = 0.5  # ΔE00 of doubt from which another mixture of the set is looked for: less is no gain
MIXED_IN = (0.1, 0.2, 0.3, 0.4)  # shares of another paint in place of so much of the doubted one
HELD = 0.01  # of a mixture: with less of it, whether a paint was measured hardly matters

Float64 = NDArray[np.float64]


def likely_error(reach: Reach, solved: Nearest, targets: ArrayLike, paints: Sequence[Paint]) -> Float64:
    """ΔE00 (sets, targets) by which the nearest mixtures are likely to miss, weighed exactly.

    Where a paint is nearly alone and doubted, each other paint of the set is mixed in as well, as a recipe would.
    """
    aims = np.asarray(targets, dtype=np.float64).reshape(-1, 3)
    metric = ellipsoid(aims)
    alone = doubted_alone(paints)[reach.sets]
    sets, count = len(reach.sets), len(aims)
    shape = (sets, count)
    rows, columns = np.repeat(np.arange(sets), count), np.tile(np.arange(count), sets)
    parts = solved.parts.reshape(sets * count, -1)

    def judged(rows: Index, columns: Index, parts: NDArray[np.floating]) -> Float64:
        made = [
            _likely(reach.mixer, reach.sets[row], part, aims[column], metric[column], paints)
            for row, column, part in (
                (rows[start : start + BLOCK], columns[start : start + BLOCK], parts[start : start + BLOCK])
                for start in range(0, len(rows), BLOCK)
            )
        ]
        return np.concatenate(made)

    found = judged(rows, columns, parts)
    share = parts / parts.sum(axis=1, keepdims=True)
    todo = np.flatnonzero(doubt_of_shares(share, alone[rows]) > WORTH_TRYING)
    if len(todo):
        main = np.eye(share.shape[1])[share[todo].argmax(axis=1)]
        for other in np.eye(share.shape[1]):
            for part in MIXED_IN:
                mixed = main * (1 - part) + other * part
                found[todo] = np.minimum(found[todo], judged(rows[todo], columns[todo], mixed))
    return found.reshape(shape)


def likely_miss(
    mixer: Mixer, amounts: NDArray[np.integer], aim: NDArray[np.float64], paints: Sequence[Paint]
) -> Float64:
    """ΔE00 (n,) by which whole parts (n, paints) of all paints of a box are likely to miss one colour (3,)."""
    every = np.tile(np.arange(amounts.shape[1]), (len(amounts), 1))
    aims, metric = (np.repeat(one[None], len(amounts), axis=0) for one in (aim, ellipsoid(aim)))
    return _likely(mixer, every, amounts.astype(np.float32), aims, metric, paints)


def _likely(
    mixer: Mixer,
    sets: Index,
    parts: NDArray[np.floating],
    aims: Float64,
    metric: Float64,
    paints: Sequence[Paint],
) -> Float64:
    """ΔE00 (n,) to expect of mixtures (n, members), as ``expected_error`` has it for one, by their slopes."""
    white = np.array([paint.is_white for paint in paints])[sets]
    added = np.array([added_by(paint) for paint in paints])[sets]
    alone = doubted_alone(paints)[sets]
    share = parts / parts.sum(axis=1, keepdims=True)
    lab, slope = mixer.lab_and_slope(sets, share.astype(np.float32))
    coloured = np.where(white, 0.0, share)
    of_white = 1 - coloured.sum(axis=1)
    own = coloured / np.maximum(coloured.sum(axis=1), 1e-9)[:, None]
    steep = np.where(white[:, None, :], 0.0, slope)
    turned = steep - own[:, None, :] * steep.sum(axis=2, keepdims=True)  # nudged alone, the white's share being kept
    moved = np.einsum("nij,njm->nim", metric, turned) * np.where(white, 0.0, 1.0)[:, None, :]
    unsure = UNSURE_ALONE * (1 - of_white) + UNSURE_IN_WHITE * of_white
    square = delta_e_2000(lab, aims) ** 2 + MISSED_BY_TINTS**2
    square += unsure**2 * (moved**2).sum(axis=(1, 2)) + np.where(share > HELD, added, 0.0).max(axis=1) ** 2
    return np.asarray(np.sqrt(square + doubt_of_shares(share, alone) ** 2), dtype=np.float64)
