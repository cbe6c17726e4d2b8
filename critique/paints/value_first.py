"""Recipes that keep a colour's value where its hue is out of a box's reach: the values carry a picture."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from critique.paints.box import PaintBox
from critique.paints.recipes import OFF, Recipe, recipe_of

VALUE_COSTS = 3.0  # ΔE00 farther off that a mixture may be for it to keep the value; our choice
VALUE_LOST = 5.0  # L* by which a value is lost: half a step, plain to see in the masses; our choice
QUIETER = (0.5, 0.0)  # of the chroma wanted: colours of the same value that are looked for in its place

Make = Callable[[NDArray[np.float64], PaintBox], list[Recipe]]


def value_kept(targets: NDArray[np.float64], box: PaintBox, make: Make) -> list[Recipe]:
    """The recipes that ``make`` gives for colours (n, 3); of one out of reach that loses its value, one that keeps it.

    That is the nearest mixture of a quieter colour of its value, where it isn't much farther off: a sky for which a
    box holds no blue is left in its value, and doesn't go to white.
    """
    found = make(targets, box)
    lost = [row for row, one in enumerate(found) if one.error > OFF and _value_lost(one) > VALUE_LOST]
    if not lost:
        return found
    most = {row: found[row].error + VALUE_COSTS for row in lost}
    for chroma in QUIETER:
        for row, other in zip(lost, make(targets[lost] * (1, chroma, chroma), box), strict=True):
            told = _judged_against(other, targets[row])
            if told.error <= most[row] and loses_value(found[row], told):
                found[row] = told
    return found


def loses_value(one: Recipe, kept: Recipe) -> bool:
    """Whether a mixture loses the value of a colour, and twice as much of it as another."""
    return _value_lost(one) > max(VALUE_LOST, 2 * _value_lost(kept))


def _value_lost(one: Recipe) -> float:
    """L* between what is mixed and what is wanted."""
    return abs(one.lab[0] - one.target_lab[0])


def _judged_against(one: Recipe, target: NDArray[np.float64]) -> Recipe:
    """A recipe made for one colour as it is told for another."""
    told = recipe_of(one.amounts, one.paints, target)
    if one.let_down is None:
        return told
    return replace(told, text=one.text, order=one.order, let_down=one.let_down)
