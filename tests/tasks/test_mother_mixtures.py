"""From which mixture another is got: one begins from a heap only where what is added to it is the lesser part."""

import numpy as np

from critique.paints.box import box_of
from critique.paints.recipes import recipe_of
from critique.tasks.mother_mixtures import mothers

BOX = box_of(["diarylide yellow", "red oxide", "PB29", "PG7"], "four")


def start_for(amounts: list[float]) -> float | None:
    """Colour added to two parts of a brown heap, told where this mixture (5 paints, parts) may begin from it."""
    paints = BOX.with_white
    heap = recipe_of([3, 1, 9, 0, 7], paints, (45, 4, 9))
    made = recipe_of(amounts, paints, (0, 0, 0))
    other = recipe_of(amounts, paints, made.lab)
    touching = np.array([[False, True], [True, False]])
    targets = np.array([heap.lab, made.lab])
    found = mothers([heap, other], targets, touching, [0, 1], BOX, millilitres=np.array([9.0, 1.0]))[1]
    return None if found is None else sum(one.parts for one in found.added if "white" not in one.paint) / found.parts


def test_what_takes_more_of_other_colours_than_of_the_heap_is_mixed_afresh():
    """To two parts of a brown add three of phthalo green and two of red oxide: that starts from nothing."""
    assert start_for([3, 21, 9, 30, 7]) is None


def test_what_is_the_heap_with_a_little_more_of_one_or_let_down_with_white_begins_from_it():
    little = start_for([3, 4, 9, 0, 7])
    assert little is not None and little <= 1
    assert start_for([3, 1, 9, 0, 30]) == 0
