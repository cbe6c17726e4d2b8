"""What fades where white lets it down is kept out of tints that other tubes mix nearly as well."""

import numpy as np
import pytest

from critique.paints.at_easel import easel_recipes
from critique.paints.box import PaintBox, box_of, default_box, find_paint
from critique.paints.fading import LET_DOWN, LITTLE, fades_there, fading
from critique.paints.lasting import LASTING_COSTS, holds_fading, lasting_recipes, pale_costs, tint_fades, tubes_for
from critique.paints.palette import choose_palette
from critique.paints.palette_words import CLOSEST, gives_up
from critique.paints.recipes import recipe_of

FOUR = ["diarylide yellow", "burnt sienna", "dioxazine purple", "PB29"]
PURPLE, WHITE = find_paint("dioxazine purple"), default_box().white


def test_a_touch_of_white_in_a_dark_brown_lets_nothing_down():
    """PV23 is III in tints with white. [paint_facts.csv, pale]"""
    brown = recipe_of([28, 12, 4, 1], [find_paint("PG7"), find_paint("red oxide"), PURPLE, WHITE], (20, 3, 6))
    assert not tint_fades(brown) and not any("fades" in note for note in brown.notes)
    sky = recipe_of([1, 4, 40], [PURPLE, find_paint("PB29"), WHITE], (75, 2, -15))
    assert tint_fades(sky) and any("fades in tints such as this one" in note for note in sky.notes)
    assert not fades_there(PURPLE, LITTLE / 2, LET_DOWN - 0.01) and fading(PURPLE, LITTLE / 2, LET_DOWN - 0.01) == ""
    assert fades_there(PURPLE, LITTLE / 2, LET_DOWN) and not fades_there(PURPLE, LITTLE, LET_DOWN)


def test_a_pale_grey_is_mixed_without_it_where_that_costs_no_more_than_is_just_seen():
    pale, dark = (80.0, 1.0, -6.0), (20.0, 6.0, 2.0)
    box = box_of(FOUR, "four")
    plain, told = easel_recipes([pale, dark], box), lasting_recipes([pale, dark], box, easel_recipes)
    assert tint_fades(plain[0]) and not tint_fades(told[0]) and not holds_fading(told[0])
    assert told[0].error <= plain[0].error + LASTING_COSTS
    assert told[1] == plain[1], "a dark may hold it"
    assert PURPLE not in tubes_for(told[0], box).paints and tubes_for(told[1], box) == box


def test_a_deep_sky_does_without_it_where_land_of_its_colour_may_hold_it():
    box, dusk = box_of(FOUR, "four"), [(45.0, 4.0, -6.0)]
    assert holds_fading(lasting_recipes(dusk, box, easel_recipes)[0])
    assert not holds_fading(lasting_recipes(dusk, box, easel_recipes, sparing={0})[0])


def test_a_box_whose_only_violet_and_blue_it_is_keeps_it_and_says_so():
    box = box_of(["PY42", "red oxide", "PV23", "PG7"], "no blue")
    told = lasting_recipes([(70.0, 1.0, -20.0)], box, easel_recipes)[0]
    assert tint_fades(told) and "fades in tints such as this one" in told.near


def test_a_set_that_holds_it_costs_a_pale_colour_and_no_dark_one():
    box = PaintBox("two", (PURPLE, find_paint("PB29")), WHITE)
    costs = pale_costs(np.array([(80.0, 0.0, 0.0), (30.0, 0.0, 0.0)]), [(0, 1, 2), (1, 1, 2)], box)
    assert costs.tolist() == [[LASTING_COSTS, 0.0], [0.0, 0.0]]


# Families of two coasts under a pale sky, CIELAB and share.
COAST = [((86, 0, -8), 0.28), ((59, 4, -23), 0.17), ((17, 7, 9), 0.16), ((25, 6, -28), 0.12), ((39, 5, 36), 0.11)]
LAKE = [((88, 2, -9), 0.28), ((20, -6, 9), 0.24), ((62, -4, 6), 0.22), ((40, -11, 21), 0.13), ((40, -2, -5), 0.12)]


@pytest.mark.parametrize("families", [COAST, LAKE])
def test_a_palette_for_a_pale_sky_mixes_it_from_paints_that_last(families):
    choice = choose_palette([lab for lab, _ in families], [share for _, share in families], default_box())
    closest = choice.proposals[0]
    sky = lasting_recipes([families[0][0]], closest.box, easel_recipes)[0]
    assert not tint_fades(sky) and sky.error < 3


def test_a_palette_that_mixes_a_pale_colour_only_with_what_fades_is_not_told_to_keep_it_out_of_skies():
    """A page that says so and then mixes its sky with it was read as contradicting itself."""
    kept_out = gives_up(CLOSEST, {"error": 1.0}, {"error": 1.0}, [], [PURPLE])
    held = gives_up(CLOSEST, {"error": 1.0}, {"error": 1.0}, [], [PURPLE], ["pale blue", "pale blue"])
    assert "keep it out of skies and clouds" in kept_out and "skies" not in held
    assert "these paints mix the pale blue with it: take others where that must last" in held
