"""How a heap is mixed that is too small for quarters of a dab: a touch of a roof, a cloud of under a millilitre.

So few mixtures can be measured there that all of them are tried: few parts with a half at least, and few whole parts
of which one is let down with white.
"""

from functools import cache, lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.paints.at_easel import (
    LEAST_STEP,
    MOST_WHITE,
    PART_EFFORT,
    STEP_EFFORT,
    TOUCH_EFFORT,
    Way,
    told_in_steps,
)
from critique.paints.box import PaintBox
from critique.paints.expected import doubt
from critique.paints.mixtures import Mixer, small_sets
from critique.paints.recipes import OFF, PAINTS_IN_A_MIXTURE, Recipe, recipe_of
from critique.paints.studio import tint_colour, waste, waste_effort
from critique.paints.whole_parts import told_unit, told_units
from critique.perception.difference import delta_e_2000

LITTLE_ML = 0.75  # a heap smaller than that is mixed by the knife's tip
LITTLE_FINEST, LITTLE_MOST = 2, 8  # halves of a part, and parts: of half a millilitre an eighth is still a dab
LITTLE_STRONG = 4  # whole parts of a strong mixture of which one is let down to so little: no more is thrown away
LITTLE_COST = 2.5  # ΔE00 that few parts may cost: as much as places mixed from one heap may differ
ONE_PAINT_MORE = 0.3  # ΔE00 that squeezing out one tube less is worth
MOST_TUBES = 8  # of a box that is tried whole; of a larger one only the paints of the recipe are

Whole = NDArray[np.int64]


def few_parts(one: Recipe, target: ArrayLike, box: PaintBox) -> Recipe:
    """For a heap of less than ``LITTLE_ML``: the nearest recipe of few parts, where it isn't much farther off."""
    if _is_few(one):
        return one
    aim = np.asarray(target, dtype=np.float64)
    out = {part.paint for part in one.parts}
    tubes = box.paints if len(box.paints) <= MOST_TUBES else tuple(paint for paint in box.paints if paint.name in out)
    best = _nearest(PaintBox(box.name, tubes, box.white), aim) if tubes else one
    bar = OFF if one.error <= OFF else np.inf  # what the tubes reach isn't to be told as out of their reach
    return best if best.error <= min(one.error + LITTLE_COST, bar) else one


def _is_few(one: Recipe) -> bool:
    """Whether its parts are large enough in a small heap, where a quarter of a dab is nothing that can be seen."""
    if one.let_down is not None:
        parts = [amount for _, amount in one.let_down.strong]
        return min(parts) >= 1 and sum(parts) <= LITTLE_STRONG
    unit = told_unit(one.amounts)
    return unit <= LITTLE_FINEST and sum(one.amounts) <= LITTLE_MOST * unit


def _nearest(box: PaintBox, aim: NDArray[np.float64]) -> Recipe:
    """Of all that can be measured so the nearest and plainest."""
    paints = box.with_white
    plain = _spread(_few(min(len(box.paints), PAINTS_IN_A_MIXTURE) + 1), len(box.paints), white=True)
    strong = _spread(_strong(min(len(box.paints), PAINTS_IN_A_MIXTURE)), len(box.paints), white=False)
    ways = [Way(parts, steps) for parts in strong for steps in _steps()]
    stepped = np.stack([way.strong for way in ways])
    stepped[:, -1] = [way.white * int(way.strong.sum()) for way in ways]
    amounts = np.concatenate([plain, stepped])
    everything = np.tile(np.arange(len(paints)), (len(amounts), 1))
    mixer = Mixer.of(paints)
    error = delta_e_2000(mixer.lab(everything, amounts.astype(np.float32)), aim)
    lost = waste(amounts, mixer.strength, np.stack([tint_colour(paint, box.white) for paint in paints]))
    unit = np.maximum(told_units(plain), 1)
    effort = np.concatenate(
        [
            PART_EFFORT * plain.sum(axis=1) / unit + TOUCH_EFFORT * ((plain > 0) & (plain < unit[:, None])).sum(axis=1),
            [PART_EFFORT * (way.strong.sum() + sum(way.steps)) + STEP_EFFORT * len(way.steps) for way in ways],
        ]
    )
    effort = (
        effort
        + PART_EFFORT * waste_effort(lost)
        + ONE_PAINT_MORE * (amounts > 0).sum(axis=1)
        + np.hypot(error, doubt(amounts, paints))
    )
    best = int(effort.argmin())
    made = recipe_of(amounts[best], paints, aim)
    if best < len(plain):
        return made
    way = ways[best - len(plain)]
    held = [number for number in range(len(paints)) if way.strong[number] > 0]
    return told_in_steps(made, Way(way.strong[held], way.steps), 1, [paints[number].name for number in held], box)


@lru_cache(maxsize=8)  # sizes of a mixture
def _few(members: int) -> Whole:
    """Few parts (n, members), a half of one the least, each mixture once."""
    most = LITTLE_FINEST * LITTLE_MOST
    every = np.stack(np.meshgrid(*[np.arange(most + 1)] * members, indexing="ij"), axis=-1).reshape(-1, members)
    every = every[(every.sum(axis=1) > 0) & (every.sum(axis=1) <= most)]
    every = every[np.gcd.reduce(every, axis=1) == 1]
    unit = told_units(every)
    return np.asarray(
        every[(unit >= 1) & (unit <= LITTLE_FINEST) & (every.sum(axis=1) <= LITTLE_MOST * unit)], np.int64
    )


@lru_cache(maxsize=8)  # sizes of a mixture
def _strong(members: int) -> Whole:
    """Few whole parts (n, members) of a strong mixture, each mixture once."""
    every = _few(members)
    return np.asarray(every[every.sum(axis=1) <= LITTLE_STRONG], np.int64)


@cache
def _steps() -> tuple[tuple[int, ...], ...]:
    """Parts of white to one, in one step or two, the larger first."""
    single = tuple((first,) for first in range(1, MOST_WHITE + 1))
    double = ((first, second) for first in range(LEAST_STEP, MOST_WHITE + 1) for second in range(LEAST_STEP, first + 1))
    return (*single, *double)


def _spread(parts: Whole, tubes: int, *, white: bool) -> Whole:
    """Parts of the members of a set as parts of all paints (n, tubes + 1), for every set of tubes; each row once."""
    size = parts.shape[1] - white
    rows = []
    for chosen in small_sets(tubes, size):
        full = np.zeros((len(parts), tubes + 1), np.int64)
        full[:, chosen if white else chosen[:-1]] = parts
        rows.append(full)
    return np.unique(np.concatenate(rows), axis=0)
