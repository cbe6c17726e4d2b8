"""What is said of the greens beside the yellow-greens: how much they are, and whose."""

from dataclasses import replace

import numpy as np
import pytest
from measured import with_others

from critique.advice.green_area import area
from critique.advice.green_share import told_green
from critique.advice.kinds import kind_named
from critique.measures.land_greens import land_green_share
from critique.words.aloud import about
from critique.words.figures import percent
from tests.advice.test_said_of_green import SIZE, case_of, land, of_hue


def test_where_more_is_green_by_its_colour_than_reads_as_green_the_middle_is_told() -> None:
    case = case_of(land(of_hue(124.0, 20.0), of_hue(150.0, 18.0, 34.0), (60.0, 3.0, 9.0)), reads=0.26)
    share = land_green_share(case.picture, case.measures.parts)
    told = told_green(case, share)
    assert 0.36 < told < 0.42  # a half is green, yellow or cool
    # "About two fifths" stood over a figure of 26 %.
    finding = area(case, kind_named("green_area"))
    assert (
        about(told) in finding.text.lower() and f"told is the middle of the two, {percent(told)}" in finding.figure_text
    )
    assert "21 % a cooler green" in finding.figure_text  # which is all that its second band counts
    olives = area(case_of(land(of_hue(118.0, 20.0)), reads=0.4), kind_named("green_area")).figure_text
    assert "told is the middle" in olives and "cool" not in olives  # an olive wood has no cool greens to count
    few = with_others(case.measures, reads_as_green=replace(case.measures.reads_as_green, share=0.05))
    assert told_green(replace(case, measures=few), share) == 0.05  # a green sea isn't what grows


@pytest.mark.parametrize(("lake", "told"), [((55.0, -16.0, -2.0), True), ((55.0, -1.0, -8.0), False)])
def test_as_much_cool_green_beside_foliage_is_told_with_it_and_a_grey_lake_is_not(lake, told) -> None:
    case = case_of(land(of_hue(105.0, 26.0), (40.0, 4.0, 12.0), lake), reads=0.25)
    meadow = np.zeros(SIZE, dtype=np.float32)
    meadow[60:120] = 1
    seen = replace(case.measures.reads_as_green, chance=meadow)
    case = replace(case, measures=with_others(case.measures, reads_as_green=seen))
    text = area(case, kind_named("green_area")).text
    assert ("as much a cooler green" in text) == told and ("of water, sky or distance" in text) == told
    parts = replace(case.measures.parts, sky_sureness=0.3, land_sureness=0.3, water_sureness=0.3)
    unsure = area(replace(case, measures=with_others(case.measures, parts=parts)), kind_named("green_area")).text
    assert ("as much a cooler green." in unsure) == told  # the crown of a tree may be as cool
