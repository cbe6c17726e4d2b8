"""Recipes against brute force, against known mixtures, and in words."""

import re
from itertools import combinations

import numpy as np
import pytest

from critique.errors import PaintError
from critique.paints.box import box_of, default_box, measured_box, whole_box
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.paint import USUAL_DENSITY
from critique.paints.recipes import difference_in_words, recipe, recipe_of, recipes
from critique.paints.whole_parts import (
    EASY_TOTAL,
    MOST_TOTAL,
    NEAR_ENOUGH,
    SIMPLER_WITHIN,
    measures,
    simplest,
    told_unit,
    told_units,
    whole_near,
)
from critique.perception.difference import delta_e_2000
from critique.perception.names import colour_name

TARGETS = np.array(
    [[50, -30, 30], [45, -20, 25], [70, 5, 30], [20, -2, 3], [60, 60, 20], [40, -80, 50], [65, -5, -22], [92, 2, 6]],
    dtype=float,
)
SMALL = box_of(["PY74", "PR254", "PB29", "PG7"])


def whole_sums(total, members):
    """All whole parts of ``members`` paints up to a total."""
    grid = np.stack(np.meshgrid(*[np.arange(total + 1)] * members, indexing="ij"), -1).reshape(-1, members)
    return grid[(grid.sum(axis=1) <= total) & (grid.sum(axis=1) > 0)]


def test_recipes_are_as_near_as_trying_every_mixture_of_whole_parts():
    best = np.full(len(TARGETS), np.inf)
    for three in combinations(SMALL.paints, 3):
        labs = mixture_lab(whole_sums(24, 4), [*three, SMALL.white])
        best = np.minimum(best, delta_e_2000(labs[:, None], TARGETS[None]).min(axis=0))
    found = np.array([found.error for found in recipes(TARGETS, SMALL)])
    assert (found <= best + SIMPLER_WITHIN + 0.1).all()


@pytest.mark.slow
def test_two_hundred_colours_of_three_known_paints_are_found_again():
    box = box_of(["PY74", "PR254", "PB29"])
    rng = np.random.default_rng(5)
    targets = mixture_lab(rng.dirichlet(np.ones(4), 200), box.with_white)
    found = recipes(targets, box)
    assert np.percentile([one.error for one in found], 95) <= NEAR_ENOUGH
    assert all(isinstance(part.parts, int) and part.parts >= 1 for one in found for part in one.parts)
    assert max(sum(one.amounts) / told_unit(one.amounts) for one in found) <= MOST_TOTAL


@pytest.mark.slow
def test_colours_of_any_three_of_eighteen_paints_are_found_again():
    box = measured_box()
    rng = np.random.default_rng(6)
    parts = np.zeros((16, 19))
    for row in parts:
        row[[*rng.choice(18, 3, replace=False), 18]] = rng.dirichlet(np.ones(4))
    found = recipes(mixture_lab(parts, box.with_white), box)
    assert max(one.error for one in found) <= NEAR_ENOUGH
    assert all(1 <= len([part for part in one.parts if part.paint != "titanium white"]) <= 3 for one in found)


def test_what_a_recipe_claims_is_what_its_parts_mix_to():
    for found in recipes(TARGETS, default_box()):
        lab = mixture_lab(found.amounts, found.paints)
        assert found.lab == pytest.approx(lab, abs=1e-9)
        assert found.error == pytest.approx(float(delta_e_2000(lab, found.target_lab)))
        assert found.name == colour_name(lab)
        assert sum(part.share for part in found.parts) == pytest.approx(1)


@pytest.mark.slow
def test_a_fourth_paint_never_makes_it_worse_and_is_used_when_it_helps():
    box = measured_box()
    three, four = recipes(TARGETS[::3], box), recipes(TARGETS[::3], box, paints=4)
    assert all(b.error <= a.error + SIMPLER_WITHIN for a, b in zip(three, four, strict=True))
    pale = np.array([[68.0, -4.0, -28.0]])
    assert recipes(pale, default_box(), 4)[0].error <= recipes(pale, default_box())[0].error + SIMPLER_WITHIN


def test_one_paint_and_white_is_all_that_is_used_when_asked():
    for found in recipes(TARGETS, default_box(), paints=1):
        assert len([part for part in found.parts if part.paint != "titanium white"]) <= 1


def test_a_colour_outside_the_box_is_told_so_with_what_is_missing():
    found = recipe([40, -80, 50], box_of(["yellow ochre", "red oxide", "PB29"]))
    assert not found.within_reach and found.error > 5
    assert found.verdict.startswith("Outside what this box can mix") and "duller by" in found.verdict
    inside = recipe([50, -10, 15], default_box())
    assert inside.within_reach and re.match(r"By calculation \d\.\d steps from", inside.verdict)


def test_a_strong_tinter_is_told_as_a_touch():
    found = recipe(mixture_lab([1, 90], [measured_box().find("PG7"), measured_box().white]), box_of(["PG7", "PY74"]))
    assert "a touch (1/16 part) of phthalo green (blue shade) PG7" in found.text and "titanium white" in found.text
    assert found.parts[-1].touch and found.parts[-1].share < 0.04


def test_recipes_say_they_are_predictions_and_carry_cautions():
    cadmium = recipe([63, 55, 80], measured_box())
    assert any("cadmium" in caution for caution in cadmium.cautions)
    assert "test swatch" in cadmium.notes[0] and "measured matte acrylics, heavy-bodied, by weight" in cadmium.notes[0]
    earth = recipe([30, 28, 18], box_of(["indian red", "PB29"]))
    assert any("not measured" in note for note in earth.notes) and "mix a swatch first" in earth.verdict
    assert "by weight" in cadmium.notes[1] and len(cadmium.notes) == 2


@pytest.mark.slow
def test_the_same_question_has_the_same_answer():
    first, second = recipe(TARGETS[2], whole_box()), recipe(TARGETS[2], whole_box())
    assert first.text == second.text and first.lab == second.lab


def test_recipes_can_be_counted_out_and_cost_little_accuracy():
    fine = recipes(TARGETS, default_box())
    for one in fine:
        unit = told_unit(one.amounts)
        assert sum(one.amounts) / unit <= MOST_TOTAL
        assert all(amount % unit == 0 or unit % amount == 0 for amount in one.amounts)
        assert [part.measure for part in one.parts] == list(measures(one.amounts))
        assert all(part.touch == part.measure.startswith("a touch") for part in one.parts)
        assert all(part.share < 1 / 12 for part in one.parts if part.touch)
    assert np.median([sum(one.amounts) / told_unit(one.amounts) for one in fine]) <= EASY_TOTAL


def test_parts_are_told_whole_where_few_and_by_touches_where_a_tinter_is_strong():
    assert measures((8, 2, 1)) == ("8 parts", "2 parts", "1 part")
    assert measures((88, 8, 1)) == ("11 parts", "1 part", "a touch (⅛ part)")
    assert measures((40, 4, 1)) == ("10 parts", "1 part", "a touch (¼ part)")
    assert measures((12, 2, 1)) == ("6 parts", "1 part", "a touch (½ part)"), "whole parts go to 8 where they can"
    rows = np.array([[12, 2, 1], [88, 8, 1], [40, 4, 1], [19, 17, 5], [200, 8, 1]])
    assert told_units(rows).tolist() == [2, 8, 4, 0, 8]


def test_whole_parts_have_no_common_factor_and_the_simplest_near_best_is_given():
    candidates, _ = whole_near(np.array([[1.0, 2.0, 12.0]]))
    assert (np.gcd.reduce(candidates, axis=1) == 1).all()
    assert [1, 2, 12] in candidates.tolist()
    parts = np.array([[1, 2, 12], [3, 7, 37], [1, 0, 6]])
    assert simplest(parts, np.array([0.2, 0.0, 3.0])) == 0
    assert simplest(parts, np.array([0.2, 0.0, 0.25])) == 2, "fewer paints come first"
    assert simplest(np.array([[1, 0, 6], [0, 1, 6]]), np.array([0.1, 0.2]), [5, 3, 3]) == 1
    assert simplest(np.array([[88, 8, 1], [11, 1, 1]]), np.array([0.1, 0.1])) == 1, "whole parts come before a touch"


@pytest.mark.parametrize("bad", [[1, 2], [float("nan"), 0, 0], [[1, 2, 3], [4, 5, 6]]])
def test_a_target_that_is_no_colour_is_refused(bad):
    with pytest.raises(PaintError, match="three numbers"):
        recipe(bad, SMALL)


@pytest.mark.parametrize("count", [0, 5])
def test_a_recipe_of_too_many_paints_is_refused(count):
    with pytest.raises(PaintError, match="1 to 4"):
        recipe([50, 0, 0], SMALL, paints=count)


def test_dabs_hold_the_volume_that_the_parts_by_weight_take():
    # A dab is a volume: weight over density, a part of usual density being one.
    box = measured_box()
    found = recipe((55.0, 20.0, 30.0), box)
    by_name = {paint.name: paint for paint in box.with_white}
    assert len(found.parts) >= 3
    weights = np.array([part.dabs * by_name[part.paint].density for part in found.parts])
    assert weights / weights.sum() == pytest.approx([part.share for part in found.parts])
    whole = [part for part in found.parts if part.measure == "1 part"]
    assert whole and all(part.dabs == pytest.approx(USUAL_DENSITY / by_name[part.paint].density) for part in whole)


@pytest.mark.parametrize(
    ("made", "words"),
    [
        ((50.0, 20.0, 0.0), "duller by 20 in chroma"),
        ((50.0, 60.0, 0.0), "stronger by 20 in chroma"),
        ((62.0, 40.0, 0.0), "lighter by 1.2 of a value"),
        ((38.0, 40.0, 0.0), "darker by 1.2 of a value"),
        ((50.0, 41.0, 0.0), "a touch stronger"),
        ((50.0, 39.0, 0.0), "a touch greyer"),
        ((51.0, 40.0, 0.0), "a touch lighter"),
        ((49.0, 40.0, 0.0), "a touch darker"),
        ((50.0, 40.0, 1.0), "a touch toward red"),
        ((50.0, 40.0, -1.0), "a touch toward red-purple"),
        ((30.0, 15.0, 0.0), "duller by 25 in chroma and darker by 2.0 of a value"),
    ],
)
def test_how_a_mixture_misses_is_told_by_its_largest_differences(made, words):
    assert difference_in_words((50.0, 40.0, 0.0), made) == words


def test_of_two_mixtures_as_near_the_one_that_a_little_more_of_one_paint_turns_less_is_given():
    """A touch of phthalo blue turns two earths at once: real paint misses by more than the calculation does."""
    aim, box = (32.0, -5.0, 15.0), default_box()
    given = recipes([aim], box)[0]
    parts = {"burnt sienna": 12, "yellow oxide": 12, "phthalo blue (green shade)": 1}
    turning = recipe_of([parts.get(paint.name, 0) for paint in box.with_white], box.with_white, aim)
    assert len(turning.parts) == 3
    assert abs(given.error - turning.error) < 0.8
    assert given.expected.as_calculated < turning.expected.as_calculated - 0.7
