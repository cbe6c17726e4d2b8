"""What stands beside a line of a line-up: of whom it is told, and why not of the others."""

from dataclasses import replace

import numpy as np

from critique.pair.hold import state_of
from critique.photograph.corners import ALL
from critique.picture.picture import picture_from_srgb
from critique.picture.view import View
from critique.report.lineup_page import TOO_LITTLE, _plainly, _span_told


def test_one_picture_s_figure_is_not_told_as_that_of_all():
    green = TOO_LITTLE["green"]
    assert (
        _span_told(["A", "B", "C"], ["A"], "19.5", "19.5", green) == "19.5 for A; B and C have too little green to tell"
    )
    assert _span_told(["A", "B"], ["A", "B"], "19.5", "19.5", green) == "19.5 for all"
    assert _span_told(["A", "B"], ["A", "B"], "19.5", "21", green) == "19.5 to 21"


def test_a_picture_without_a_plain_line_does_not_have_too_little_of_one():
    told = _span_told(["A", "B", "C"], ["A", "C"], "74 %", "79 %", TOO_LITTLE["line"])
    assert told == "74 % to 79 %; B has no line plain enough to tell"


def test_of_a_photograph_that_was_not_cropped_the_wall_is_told_with_its_figures() -> None:
    picture = picture_from_srgb(np.full((64, 64, 3), 128, np.uint8), "meadow.jpg")
    whole = replace(picture, view=View("unsure", ALL))
    told = [_plainly(state_of(one)) for one in (picture, whole)]
    assert "wall" not in told[0] and "wall" in told[1]
