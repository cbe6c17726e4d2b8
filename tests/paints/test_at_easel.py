"""Parts that can be measured at the easel: no trace of a dab, no count beyond twenty, pale ones in steps."""

import re

import numpy as np
import pytest

from critique.paints.at_easel import FINEST, easel_recipes, measurable
from critique.paints.box import box_of, default_box, find_paint
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.little_heap import LITTLE_COST, LITTLE_MOST, LITTLE_STRONG, few_parts
from critique.paints.recipes import OFF, recipes
from critique.paints.whole_parts import EASY_TOTAL, told_unit
from critique.perception.difference import delta_e_2000
from critique.report.plan_words import short_mixture

PALE = [(93, 0, 3), (88, -2, -6), (84, 3, -4), (90, 2, 8), (80, -5, -12), (72, 1, 1)]
STRONG = [(45, -18, 28), (30, 4, 8), (60, 10, 40)]
FOUR = box_of(("PY74", "red oxide", "ultramarine", "phthalo green"), "four")


@pytest.fixture(scope="module")
def found():
    return easel_recipes(np.array(PALE + STRONG, float), FOUR)


def test_every_recipe_can_be_dabbed_and_counted(found):
    for one in found:
        if one.let_down is None:
            assert measurable(one), one.text
            continue
        assert all(parts >= 1 / FINEST for _, parts in one.let_down.strong)
        assert sum(parts for _, parts in one.let_down.strong) <= EASY_TOTAL
        assert all(1 <= step <= 12 for step in one.let_down.steps) and len(one.let_down.steps) <= 2
        assert len(one.let_down.steps) == 1 or min(one.let_down.steps) >= 2
    assert any(one.let_down is not None for one in found)
    assert all(one.let_down is None for one in found[len(PALE) :])


def test_what_is_told_mixes_to_what_is_promised(found):
    """The steps worked out by hand, with the paints' own measured K and S."""
    paints = {paint.name: paint for paint in FOUR.with_white}
    for one in found:
        if one.let_down is None:
            continue
        total = sum(parts for _, parts in one.let_down.strong)
        amounts = {name: parts / total for name, parts in one.let_down.strong}
        for step in one.let_down.steps:
            amounts = {name: part / (1 + step) for name, part in amounts.items()}
            amounts[FOUR.white.name] = amounts.get(FOUR.white.name, 0.0) + step / (1 + step)
        lab = mixture_lab(list(amounts.values()), [paints[name] for name in amounts])
        assert delta_e_2000(lab, one.lab) < 0.05
        assert one.error == pytest.approx(float(delta_e_2000(np.array(one.target_lab), lab)), abs=0.05)


def test_no_more_of_a_strong_mixture_is_made_than_its_smallest_measure_asks(found):
    """One part of it is let down and the rest is left over: 8 parts and 1 are told as 2 and a touch of a quarter."""
    letting = [one.let_down.strong for one in found if one.let_down is not None and len(one.let_down.strong) > 1]
    assert letting
    for strong in letting:
        half = [parts / 2 for _, parts in strong]
        assert max(half) < 1 or any(parts not in (0.25, 0.5) and parts != int(parts) for parts in half), strong


def test_pale_colours_come_as_near_as_with_traces_of_a_dab(found):
    fine = recipes(np.array(PALE, float), FOUR)
    assert max(told_unit(one.amounts) for one in fine) > FINEST, "else there is nothing to let down"
    assert np.mean([one.error for one in found[: len(PALE)]]) <= np.mean([one.error for one in fine]) + 0.3


def test_the_words_name_every_step(found):
    one = next(one for one in found if one.let_down is not None and len(one.let_down.strong) > 1)
    told, steps = short_mixture(one), one.let_down.steps
    assert [int(number) for number in re.findall(r"1 of that in (\d+) white", told)] == list(steps)
    assert [int(number) for number in re.findall(r"1 part of that in (\d+)", one.text)] == list(steps)
    for name, _ in one.let_down.strong:
        assert name in one.text
    assert "1/16" not in told and "⅛" not in told


def test_a_colour_of_easy_parts_is_mixed_as_it_always_was():
    aims = np.array(STRONG, float)
    fine, own = recipes(aims, default_box()), easel_recipes(aims, default_box())
    for one, other in zip(fine, own, strict=True):
        if measurable(one):
            assert one == other


@pytest.mark.slow
def test_for_a_little_paint_few_parts_are_told_and_they_cost_little():
    # A passage of 40 × 30 cm under 1 ml was told as 7 : 3 : 1 : 9: a twentieth of that no one can measure.
    box = box_of(["PY3", "PR108", "burnt sienna", "ultramarine", "PB15:3"])
    white = box.white.name
    rng = np.random.default_rng(4)
    changed = 0
    for _ in range(12):
        parts = rng.integers(1, 10, 4)
        paints = [*rng.choice([paint.name for paint in box.paints], 3, replace=False), white]
        aim = mixture_lab(parts, [find_paint(name) for name in paints])
        one = easel_recipes(aim[None], box)[0]
        few = few_parts(one, aim, box)
        assert few.error <= one.error + LITTLE_COST and (few.error <= OFF or one.error > OFF)
        if few is not one:
            changed += 1
            if few.let_down is not None:
                strong = [parts for _, parts in few.let_down.strong]
                assert all(parts == int(parts) >= 1 for parts in strong) and sum(strong) <= LITTLE_STRONG
                continue
            unit = told_unit(few.amounts)
            assert unit <= 2 and sum(few.amounts) <= LITTLE_MOST * unit < sum(one.amounts) * unit
    assert changed >= 3


def test_of_a_pale_little_heap_no_quarter_of_a_dab_is_asked_and_no_strong_heap_thrown_away():
    """A cloud of under a millilitre: 7 parts and a touch mixed, of which one is used, waste more than is painted."""
    aims = np.array([(89, -1, -5), (92, 0, 4), (85, 3, 6)], float)
    tubes = box_of(("PY74", "burnt sienna", "PR254", "PB29"), "four")
    told = [few_parts(one, aim, tubes) for one, aim in zip(easel_recipes(aims, tubes), aims, strict=True)]
    assert any(one.let_down is not None for one in told)
    for one in told:
        if one.let_down is not None:
            strong = [parts for _, parts in one.let_down.strong]
            assert min(strong) >= 1 and sum(strong) <= LITTLE_STRONG, one.text


def test_of_all_few_parts_hardly_any_come_nearer_than_those_told():
    """Every mixture of up to eight whole parts of two tubes and white, counted through by itself."""
    from itertools import combinations, product

    aims = np.array([(46, 13, 21), (36, 6, -1), (54, -10, 11), (44, 7, 5), (56, -1, 35)], float)
    for one, aim in zip(easel_recipes(aims, FOUR), aims, strict=True):
        few = few_parts(one, aim, FOUR)
        nearest = np.inf
        for pair in combinations(FOUR.paints, 2):
            parts = np.array([each for each in product(range(9), repeat=3) if 0 < sum(each) <= LITTLE_MOST], float)
            nearest = min(nearest, float(delta_e_2000(mixture_lab(parts, [*pair, FOUR.white]), aim).min()))
        assert few.error <= max(nearest, one.error) + 1.5, few.text
