"""Mixing charts: their steps against the mixing itself and against facts of the trade; their reach against hulls."""

import json
from itertools import combinations

import numpy as np
import pytest
from scipy.spatial import ConvexHull

from critique.errors import PaintError
from critique.paints.box import PaintBox, box_of, find_paint
from critique.paints.chart import STEPS, TINTS, mixing_chart
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.neutral import COUNTED_RATIOS
from critique.paints.slices import REACH, gamut_slices
from critique.perception.cielab import lab_to_lch, lab_to_srgb8
from critique.perception.srgb import hex_of

NAMES = ("hansa yellow opaque", "PR254", "ultramarine", "PG7")
CHART = mixing_chart(NAMES)


def pair_of(chart, first, second):
    return next(pair for pair in chart.pairs if (pair.first, pair.second) == (first, second))


def test_every_pair_is_stepped_once_with_and_without_white():
    names = [card.paint for card in CHART.cards]
    assert [(pair.first, pair.second) for pair in CHART.pairs] == list(combinations(names, 2))
    for pair in CHART.pairs:
        assert len(pair.steps) == len(pair.tints) == STEPS
        assert all(step.white == 0 and step.first >= 1 and step.second >= 1 for step in pair.steps)
        assert all(tint.white >= tint.first + tint.second for tint in pair.tints)
        assert [(a.first, a.second) for a in pair.steps] == [(b.first, b.second) for b in pair.tints]


def test_every_dab_has_the_colour_of_its_parts():
    white = find_paint("PW6")
    for pair in CHART.pairs:
        paints = [find_paint(pair.first), find_paint(pair.second), white]
        for dab in (*pair.steps, *pair.tints):
            lab = mixture_lab([dab.first, dab.second, dab.white], paints)
            assert dab.lab == pytest.approx(lab) and dab.srgb == hex_of(lab_to_srgb8(lab))


def test_steps_go_from_the_first_paint_to_the_second_evenly_for_the_eye():
    """Judged in half white, as dark paints look alike alone: no step is more than three times another."""
    for pair in CHART.pairs:
        shares = [step.second / (step.first + step.second) for step in pair.steps]
        assert shares == sorted(shares) and len(set(shares)) == STEPS
        paints = [find_paint(pair.first), find_paint(pair.second), find_paint("PW6")]
        ends = [(1, 0), *((step.first, step.second) for step in pair.steps), (0, 1)]
        lab = mixture_lab([(a, b, 2 * (a + b)) for a, b in ends], paints)
        steps = np.linalg.norm(np.diff(lab, axis=0), axis=1)
        assert steps.max() < 3 * steps.min() + 4


def test_every_step_and_every_tint_can_be_counted_out():
    """Strong tinters beside weak ones; white is counted to one part of the mixture, in doublings."""
    chart = mixing_chart(("yellow ochre", "green earth", "PG7", "PV23"))
    for pair in chart.pairs:
        for step, tint in zip(pair.steps, pair.tints, strict=True):
            assert min(step.first, step.second) <= 3 and max(step.first, step.second) in (1, 2, 3, *COUNTED_RATIOS)
            assert tint.white / (tint.first + tint.second) in TINTS


def test_tints_are_light_enough_for_their_hue_to_be_seen():
    assert min(dab.lab[0] for pair in CHART.pairs for dab in pair.tints) > 55


def test_yellow_and_phthalo_green_glow_and_red_and_phthalo_green_go_grey():
    """Common practice, no source."""
    glowing = pair_of(CHART, "hansa yellow opaque", "phthalo green (blue shade)")
    assert max(lab_to_lch(np.array(step.lab))[1] for step in glowing.steps) > 60
    grey = pair_of(CHART, "pyrrole red", "phthalo green (blue shade)")
    assert grey.greyest.neutralises and min(lab_to_lch(np.array(dab.lab))[1] for dab in grey.tints) < 12


def test_another_light_changes_the_dabs_and_not_their_parts():
    lamp = mixing_chart(NAMES, "A")
    for day, night in zip(CHART.pairs, lamp.pairs, strict=True):
        assert [(dab.first, dab.second) for dab in day.steps] == [(dab.first, dab.second) for dab in night.steps]
        paints = [find_paint(night.first), find_paint(night.second)]
        step = night.steps[2]
        assert step.lab == pytest.approx(mixture_lab([step.first, step.second], paints, "A"))
    assert CHART.pairs[0].steps[0].srgb != lamp.pairs[0].steps[0].srgb


@pytest.mark.slow
def test_the_reach_holds_every_mixture_at_its_value_and_lies_within_their_hull():
    """scipy's ConvexHull over mixtures drawn apart from the program's own."""
    box = box_of(NAMES)
    parts = np.random.default_rng(11).dirichlet(np.full(5, 0.3), 200_000)
    parts[np.arange(len(parts)), np.random.default_rng(12).integers(0, 4, len(parts))] = 0  # three paints and white
    lab = mixture_lab(parts[parts.sum(axis=1) > 0], box.with_white)
    for one in gamut_slices(box):
        near = lab[np.abs(lab[:, 0] - 10 * one.value) < 2]
        cells = ((near[:, 1:] * [1, -1] + REACH) / (2 * REACH) * len(one.mask)).astype(int)
        assert one.mask[cells[:, 1], cells[:, 0]].mean() > 0.99
        assert 0.5 * ConvexHull(near[:, 1:]).volume < one.area < 1.15 * ConvexHull(near[:, 1:]).volume + 60
        assert one.strongest >= np.hypot(near[:, 1], near[:, 2]).max() - 3


def test_more_paints_reach_farther():
    small, large = gamut_slices(box_of(NAMES[1:])), gamut_slices(box_of(NAMES))
    assert all(b.area > a.area for a, b in zip(small, large, strict=True))


def test_own_paints_can_be_charted_from_a_box():
    own = box_of(["yellow ochre", "PB29", "burnt sienna"], "mine")
    assert [card.paint for card in mixing_chart(["ochre", "sienna"], own=own).cards] == ["yellow ochre", "burnt sienna"]
    assert len(mixing_chart([], own=own).pairs) == 3
    assert isinstance(own, PaintBox)


def test_the_record_is_plain_and_the_same_on_every_run():
    assert mixing_chart(NAMES).as_line() == CHART.as_line()
    record = json.loads(CHART.as_line())
    assert len(record["pairs"]) == 6 and record["light"] == "D65" and "mask" not in record["slices"][0]
    assert any("titanium dioxide" in caution for caution in record["cautions"])


@pytest.mark.parametrize(
    ("names", "words"),
    [
        (["PG7"], "2 to 8 paints beside white, and 1 was named"),
        (["PG7", "white"], "1 was named"),
        (["titanium white"], "titanium white is in every mixing chart"),
        (["PG7", "phthalo green"], "1 was named"),
        (["PG7", "unobtainium"], "no paint is called"),
        (["PY74", "PY83", "PO73", "PR254", "PV19", "PV23", "PB29", "PG7", "PG36"], "2 to 8"),
    ],
)
def test_paints_that_make_no_chart_are_refused(names, words):
    with pytest.raises(PaintError, match=words):
        mixing_chart(names)


def test_a_chart_says_which_names_were_guessed():
    chart = mixing_chart(("ultramarin bleu", "PY74"))
    assert [(one.asked, one.paint) for one in chart.taken] == [("ultramarin bleu", "ultramarine blue")]
