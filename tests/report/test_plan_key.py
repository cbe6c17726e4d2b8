"""The numbers and letters of a plan's key: each where it is wanted, or beside it, and none over another."""

import numpy as np
import pytest

from critique.report.plates.plan_key import APART, free_place

SIZE = (1400, 930)


def test_a_number_stands_where_it_is_wanted_and_a_letter_at_the_same_place_beside_it() -> None:
    first = free_place((700.0, 400.0), [], SIZE)
    assert first == (700.0, 400.0)
    second = free_place((710.0, 395.0), [first], SIZE)
    assert APART <= np.hypot(second[0] - 700, second[1] - 400) <= 2 * APART


@pytest.mark.parametrize("at", [(3.0, 3.0), (1398.0, 928.0)])
def test_what_is_moved_stays_on_the_key(at: tuple[float, float]) -> None:
    x, y = free_place(at, [at], SIZE)
    assert 0 <= x <= SIZE[0] and 0 <= y <= SIZE[1] and (x, y) != at
