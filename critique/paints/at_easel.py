"""How a mixture is measured at the easel that holds too little of a paint to be dabbed: one is let down with white.

A quarter of a dab is the least that is halved out twice alike, and twenty dabs are all that is counted. A paler mixture
than these give is got in steps, as painters lay a string of tints: a strong mixture first, one part of it in so many
of white, and where need be one part of that in white again.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.paints.box import PaintBox
from critique.paints.let_down import LetDown
from critique.paints.mixtures import Mixer
from critique.paints.recipes import PAINTS_IN_A_MIXTURE, Recipe, named, recipe_of, recipes
from critique.paints.whole_parts import EASY_TOTAL, TOUCH_SHARE, told_unit, told_units, whole_near
from critique.perception.difference import delta_e_2000
from critique.words.lists import listed

FINEST = 4  # touches to a part; common practice, no source
PALE = 0.6  # share of white from which a mixture can be let down to
MOST_STRONG = 9  # parts of the strong mixture: what isn't let down is left over
MOST_WHITE = 12  # parts of white to one of a mixture: more is no longer seen to be mixed through; common practice
LEAST_STEP = 2  # parts of white in a second step: to halve a mixture once more is no step; common practice, no source
PART_EFFORT, TOUCH_EFFORT, STEP_EFFORT = 0.08, 0.2, 0.4  # ΔE00 that a part, a touch and a step less are worth


@dataclass(frozen=True, slots=True)
class Way:
    """Strong parts (paints,) in quarters of a part, and the steps in white."""

    strong: NDArray[np.int64]
    steps: tuple[int, ...]

    @property
    def white(self) -> int:
        """Parts of white to one of the strong mixture."""
        whole = 1
        for step in self.steps:
            whole *= 1 + step
        return whole - 1


def easel_recipes(targets: ArrayLike, box: PaintBox) -> list[Recipe]:
    """Recipes for several colours (n, 3), each of parts that can be measured: told in steps where it must be."""
    aims = np.asarray(targets, dtype=np.float64)
    found = recipes(aims, box)
    hard = [row for row, one in enumerate(found) if not measurable(one)]
    if hard:
        plain = recipes(aims[hard], box, PAINTS_IN_A_MIXTURE, finest=FINEST, most=EASY_TOTAL)
        mixer = Mixer.of(box.with_white)
        for row, other in zip(hard, plain, strict=True):
            stepped = _stepped(found[row], aims[row], box, mixer)
            better = stepped is not None and stepped.error + STEP_EFFORT < other.error
            found[row] = stepped if better and stepped is not None else other
    return found


def measurable(one: Recipe) -> bool:
    """Whether its parts can be dabbed and counted."""
    unit = told_unit(one.amounts)
    return unit <= FINEST and sum(one.amounts) <= EASY_TOTAL * unit


def _stepped(one: Recipe, aim: NDArray[np.float64], box: PaintBox, mixer: Mixer) -> Recipe | None:
    """A recipe's paints mixed strong and let down; None where it holds too little white for that."""
    paints = box.with_white
    share = {part.paint: part.share for part in one.parts}
    white = share.pop(box.white.name, 0.0)
    if white < PALE or not share:
        return None
    held = [number for number, paint in enumerate(paints) if paint.name in share]
    ways = [
        Way(strong, steps)
        for strong in _strong([share[paints[number].name] for number in held])
        for steps in _steps(white / (1 - white))
    ]
    amounts = np.zeros((len(ways), len(paints)))
    for row, way in enumerate(ways):
        amounts[row, held] = way.strong
        amounts[row, -1] = way.white * way.strong.sum()
    everything = np.tile(np.arange(len(paints)), (len(ways), 1))
    error = delta_e_2000(mixer.lab(everything, amounts.astype(np.float32)), aim)
    units = [_least_heap(way.strong) for way in ways]
    parts = np.array([way.strong.sum() / unit + sum(way.steps) for way, unit in zip(ways, units, strict=True)])
    touches = np.array([(way.strong < unit).sum() for way, unit in zip(ways, units, strict=True)])
    effort = (
        error + PART_EFFORT * parts + TOUCH_EFFORT * touches + STEP_EFFORT * np.array([len(way.steps) for way in ways])
    )
    best = int(effort.argmin())
    made = recipe_of(amounts[best].astype(np.int64), paints, aim)
    return told_in_steps(made, ways[best], units[best], [paints[number].name for number in held], box)


def _least_heap(strong: NDArray[np.int64]) -> int:
    """How many units of a strong mixture are told as a part: as many as leave whole parts, halves and quarters.

    Of a strong mixture one part is let down and the rest is left over: 2 parts and a touch of a quarter are better
    than 8 and 1.
    """
    unit = max(told_unit(strong), 1)
    for larger in (FINEST * unit, 2 * unit):
        told = strong / larger
        small = np.isin(told, (0.25, 0.5))
        if bool((small | (told == np.round(told))).all()) and float(told.max()) >= 1:
            return larger
    return unit


def _strong(shares: Sequence[float]) -> list[NDArray[np.int64]]:
    """Few whole parts, and touches of a quarter at least, near these shares."""
    if len(shares) == 1:
        return [np.array([1])]
    near, _ = whole_near(np.array([shares]))
    near = near[(near > 0).all(axis=1)]
    unit = told_units(near)
    few = (unit <= FINEST) & (near.sum(axis=1) <= MOST_STRONG * unit)
    return list(near[few]) or [near[int(near.sum(axis=1).argmin())]]


def _steps(white: float) -> list[tuple[int, ...]]:
    """Ways to come to so many parts of white to one, in one step or two."""
    ways: list[tuple[int, ...]] = [(number,) for number in _about(white) if number <= MOST_WHITE]
    if white > MOST_WHITE / 2:
        for first in range(2, MOST_WHITE + 1):
            seconds = _about((1 + white) / (1 + first) - 1)
            ways += [(first, second) for second in seconds if LEAST_STEP <= second <= MOST_WHITE]
    return ways or [(MOST_WHITE, MOST_WHITE)]


def _about(number: float) -> tuple[int, ...]:
    low = int(np.floor(number))
    return tuple(one for one in (low, low + 1) if one >= 1)


def told_in_steps(made: Recipe, way: Way, unit: int, names: Sequence[str], box: PaintBox) -> Recipe:
    """The recipe in the words of its steps; ``unit`` is how much of the strong mixture is told as a part."""
    index = {part.paint: part.colour_index for part in made.parts}
    strong = tuple((name, float(amount / unit)) for name, amount in zip(names, way.strong, strict=True))
    strong = tuple(sorted(strong, key=lambda each: -each[1]))
    whole = sum(parts for _, parts in strong)
    told = listed([f"{_parts(parts, whole)} {named(name, index[name])}" for name, parts in strong])
    white = named(box.white.name, box.white.colour_index)
    if len(strong) == 1:
        told = f"1 part of {named(strong[0][0], index[strong[0][0]])} in {_parts(way.steps[0])} of {white}"
        rest = way.steps[1:]
    else:
        rest = way.steps
    steps = [f"then 1 part of that in {_parts(step)} of {white}" for step in rest]
    return replace(made, text="; ".join([told, *steps]), order="", let_down=LetDown(strong, way.steps))


def _parts(parts: float, whole: float = np.inf) -> str:
    if parts < 1:
        fraction = "½" if parts == 0.5 else "¼"
        return f"a touch ({fraction} part) of" if parts <= TOUCH_SHARE * whole else f"{fraction} part of"
    return "1 part" if parts == 1 else f"{parts:g} parts"
