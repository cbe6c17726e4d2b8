"""What a lamp puts into a photograph is not said to hold in any light: the same paint is told otherwise by another."""

from dataclasses import replace

import numpy as np
import pytest
from demo_pictures import demo_path

from critique.advice.findings import all_findings
from critique.advice.judging import Case
from critique.advice.light_decides import light_decides
from critique.advice.norms import read_norms
from critique.measures.measure import measure_picture
from critique.photograph.corners import ALL
from critique.photograph.read import read_photograph
from critique.photograph.righting import Lighting
from critique.picture.picture import picture_of
from critique.picture.view import View

BY_DAY, BY_A_LAMP = (1.0, 1.0, 1.0), (1.3, 1.0, 0.6)


@pytest.fixture(scope="module")
def beeches():
    return read_photograph(demo_path("tolvesk_05_orvalden_beeches.jpg"))


GREY = (50.0, 0.0, 0.0)
BY_SPOT = Lighting("spot", ((0.9, 0.3),), 5.0, GREY)
BY_CARD = Lighting("card", ((0.9, 0.3),), 5.0, GREY, brightness=True)


def judged(photograph, light, told_by=None):
    """The findings on a canvas found in a photograph by that light, and the ids of those that another could change."""
    lit = np.clip(photograph.light * np.array(light, np.float32), 0, 1)
    picture = picture_of(replace(photograph, light=lit), View("found", ALL, told_by))
    case = Case.of(picture, measure_picture(picture), read_norms())
    findings = all_findings(case)
    return {finding.kind: finding.level for finding in findings}, light_decides(case, findings)


@pytest.mark.slow
def test_a_colour_that_only_the_lamp_makes_loud_is_the_lights_to_decide(beeches):
    by_day, _ = judged(beeches, BY_DAY)
    by_lamp, decided = judged(beeches, BY_A_LAMP)
    assert "loudest_colour" in by_lamp and "loudest_colour" not in by_day
    assert "loudest_colour" in decided


@pytest.fixture(scope="module")
def dim_haze():
    photograph = read_photograph(demo_path("tolvesk_07_vellisund_haze.jpg"))
    return replace(photograph, light=photograph.light * np.float32(0.45))


@pytest.mark.slow
def test_what_a_tenth_more_light_tells_otherwise_is_named_though_the_colour_is_put_right(dim_haze):
    as_it_is, decided = judged(dim_haze, BY_DAY, BY_SPOT)
    brighter, _ = judged(dim_haze, (1.1, 1.1, 1.1), BY_SPOT)
    assert as_it_is["value_range"] != brighter["value_range"] and "value_range" in decided
    by_day, of_colour_too = judged(dim_haze, BY_DAY)
    assert by_day == as_it_is and set(decided) <= set(of_colour_too)


@pytest.mark.slow
def test_a_card_tells_how_bright_the_canvas_is_only_where_one_even_wall_shows_that_both_get_the_same_light(dim_haze):
    _, beside_grass = judged(dim_haze, BY_DAY, replace(BY_CARD, falloff=1.3))
    _, on_a_wall_left_uneven = judged(dim_haze, BY_DAY, replace(BY_CARD, falloff=1.3, one_wall=True))
    assert "value_range" in beside_grass and "value_range" in on_a_wall_left_uneven
    for how in ({"falloff": 1.02}, {"falloff": 1.3, "evened": "evened"}):
        assert judged(dim_haze, BY_DAY, replace(BY_CARD, one_wall=True, **how))[1] == ()
    assert "value_range" in judged(dim_haze, BY_DAY, replace(BY_SPOT, falloff=1.02, one_wall=True))[1]
