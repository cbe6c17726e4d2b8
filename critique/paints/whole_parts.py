"""How a mixture is told in parts that a painter can measure with a knife.

A painter counts dabs of one paint up to eight, and halves a dab by eye four times at most. So parts are whole numbers
to about 8 : 1, and what is less may be a touch: a half, a quarter, an eighth or a sixteenth of one part. Inside the
program all are whole: where a touch is an eighth, a part is eight.
"""

from collections.abc import Sequence
from itertools import product

import numpy as np
from numpy.typing import ArrayLike, NDArray

EASY_TOTAL = 20  # parts that are counted without losing count; common practice, no source
MOST_TOTAL = 40  # parts beyond which nobody would count: kept for mixtures that nothing smaller comes near
MOST_PART = 8  # dabs of one paint; what stands further behind is a touch; common practice, no source
FINEST = 16  # touches to a part: a sixteenth, a trace on the tip of the knife, is the least that can be halved out
TOUCHES = {2: "½", 4: "¼", 8: "⅛", 16: "1/16"}  # of one part
TOUCH_SHARE = 1 / 12  # of the whole: more is no touch, and is counted in parts
SIMPLER_WITHIN = 0.8  # ΔE00 given up for a plainer mixture: with 2.2 missed by theory it moves what is expected by 0.2
NEAR_ENOUGH = 1.2  # ΔE00, about just seen: where a nearer mixture stays below it, a plainer one must too
PAINT_EFFORT = 3  # parts that one paint more is worth: it must be squeezed out, and mixes less surely
ERROR_EFFORT = 1.5  # parts that one ΔE00 is worth
BEYOND_EFFORT = 1.0  # parts that each dab of one paint beyond ``MOST_PART`` weighs more
TOUCH_EFFORT = 1  # parts that a touch is worth, and again for every halving

Whole = NDArray[np.int64]

LEAST_MEASURES = (0, *(FINEST // unit for unit in sorted(TOUCHES, reverse=True)))  # in sixteenths of a part
_MEASURES = np.concatenate([LEAST_MEASURES, FINEST * np.arange(1, MOST_TOTAL + 1)])
_SCALES = FINEST * np.array([*range(1, EASY_TOTAL + 1), 22, 24, 26, 28, 30, 33, 36, MOST_TOTAL], dtype=np.float64)


def whole_near(parts: ArrayLike) -> tuple[Whole, NDArray[np.intp]]:
    """Whole-number parts (n, members) near mixtures (k, members), and which mixture each row is near.

    Each is measurable as ``told_units`` has it. A mixture is scaled to every total and each part is rounded both down
    and up; common factors are taken out, so that 2 : 4 appears as 1 : 2.
    """
    amounts = np.asarray(parts, dtype=np.float64)
    share = amounts / amounts.sum(axis=1, keepdims=True)
    mixtures, members = share.shape
    scaled = _SCALES[:, None] * share[:, None, :]
    below = np.searchsorted(_MEASURES, scaled + 1e-9, side="right") - 1
    corners = np.array(list(product((0, 1), repeat=members)))
    rounded = np.minimum(below[:, :, None, :] + corners, len(_MEASURES) - 1)
    found = _MEASURES[rounded].reshape(-1, members)
    near = np.repeat(np.arange(mixtures), len(found) // mixtures)
    some = found.sum(axis=1) > 0
    found, near = found[some], near[some]
    found = found // np.gcd.reduce(found, axis=1)[:, None]
    base = int(found.max()) + 1
    code = found @ base ** np.arange(members) + near * base**members
    _, first = np.unique(code, return_index=True)
    found, near = found[first], near[first]
    measurable = told_units(found) > 0
    return np.asarray(found[measurable], dtype=np.int64), near[measurable]


def told_units(amounts: ArrayLike) -> NDArray[np.int64]:
    """How many of its own units each mixture (n, members) counts as one part; 0 where it can't be measured so.

    1 when its parts are few enough to count; otherwise 2, 4, 8 or 16, when what is less is a touch and all else whole.
    """
    counts = np.asarray(amounts, dtype=np.int64)
    total = counts.sum(axis=1)
    units = np.zeros(len(counts), np.int64)
    largest = counts.max(axis=1)
    halved = counts & (counts - 1) == 0  # powers of two, as all units are: what divides one is another
    measurable = {}
    for unit in (1, *TOUCHES):
        touch = (counts > 0) & (counts < unit)
        whole = ((counts & (unit - 1)) == 0) | (touch & halved)
        measurable[unit] = (whole & (~touch | (counts <= total[:, None] * TOUCH_SHARE))).all(axis=1)
    for most, most_part in ((EASY_TOTAL, MOST_PART), (EASY_TOTAL, EASY_TOTAL), (MOST_TOTAL, MOST_TOTAL)):
        for unit, can_be in measurable.items():
            fits = (total <= unit * most) & (largest <= unit * most_part)
            units = np.where((units == 0) & can_be & fits, unit, units)
    return units


def simplest(
    amounts: Whole,
    error: NDArray[np.float64],
    burden: ArrayLike = PAINT_EFFORT,
    bars: Sequence[float] = (NEAR_ENOUGH,),
    extra: ArrayLike = 0.0,
) -> int:
    """Index of the parts to give: those easiest to measure among all within ``SIMPLER_WITHIN`` of the best.

    ``burden`` (members,) is what each paint's presence weighs, in parts; ``extra`` (n,) what each mixture weighs
    beside. Nearness weighs too, ``ERROR_EFFORT`` a unit. Simplicity never pushes a mixture over one of
    the ``bars`` (ΔE00) that the best lies below.
    """
    best = float(error.min())
    most = min([best + SIMPLER_WITHIN, *(bar for bar in bars if best < bar)])
    close = np.flatnonzero(error <= most)
    near = amounts[close]
    unit = np.maximum(told_units(near), 1)
    fineness = np.log2(2 * unit[:, None] / np.maximum(near, 1))
    touches = np.where((near > 0) & (near < unit[:, None]), fineness, 0).sum(axis=1)
    effort = near.sum(axis=1) / unit + ((near > 0) * np.asarray(burden)).sum(axis=1) + TOUCH_EFFORT * touches
    effort = effort + BEYOND_EFFORT * np.maximum(near.max(axis=1) / unit - MOST_PART, 0)
    effort = effort + np.broadcast_to(np.asarray(extra), len(amounts))[close] + ERROR_EFFORT * error[close]
    return int(close[np.lexsort((error[close], effort))[0]])


def told_unit(amounts: ArrayLike) -> int:
    """How many of its own units a mixture (members,) counts as one part: 1, 2, 4, 8 or 16."""
    return max(int(told_units(np.asarray(amounts)[None])[0]), 1)


def measures(amounts: Sequence[int], unit: int | None = None) -> tuple[str, ...]:
    """How much of each paint in words: "11 parts", "1 part", "a touch (¼ part)"; in the order given."""
    one = unit or told_unit(amounts)
    return tuple(_measure(amount, one) for amount in amounts)


def _measure(amount: int, unit: int) -> str:
    if 0 < amount < unit:
        return f"a touch ({TOUCHES[unit // amount]} part)"
    parts = amount // unit if amount % unit == 0 else amount / unit
    return "1 part" if parts == 1 else f"{parts:g} parts"
