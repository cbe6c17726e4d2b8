"""A touch of red that a review asks for is told of where a plan's tubes can't mix it. [pigments by Colour Index]"""

import pytest

from critique.advice.finding import Finding
from critique.paints.box import box_of
from critique.tasks.relief_of_tubes import relief_of_tubes

ASKED = [Finding("green_relief", "relief for the green", "watch", "", 0.0, "", "")]
COLD = ["PY74", "PV23", "PB29", "PB15:3"]


@pytest.mark.parametrize(
    ("tubes", "owned", "words"),
    [
        (["PY74", "PG7", "PB29"], ["PY74", "PG7", "PB29", "PR101"], ("lay out red oxide",)),
        (["PY74", "PG7", "PB29"], ["PY74", "PG7", "PB29"], ("nor would",)),
        (COLD, COLD, ("nor would", "Violet for the shadows")),
        (["PY74", "PB29", "PR101"], ["PY74", "PB29", "PR101", "PR254"], ()),
    ],
)
def test_a_red_earth_is_asked_for_only_where_the_tubes_mix_none(tubes, owned, words):
    told = relief_of_tubes(ASKED, box_of(tubes), box_of(owned))
    assert bool(told) == bool(words) and all(word in told for word in words)


def test_nothing_is_said_where_no_relief_is_asked_for():
    assert relief_of_tubes([], box_of(COLD), box_of(COLD)) == ""
