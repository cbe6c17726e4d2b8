"""Mixtures of the measured acrylics against figures worked out apart from this program from the same table."""

import numpy as np
import pytest

from critique.paints.box import find_facts, find_paint, measured_box
from critique.paints.kubelka_munk import mixture_lab, paint_lab
from critique.paints.neutral import greyest_between
from critique.perception.cielab import lab_to_lch
from critique.perception.hue import beyond_leaf

GREEN, YELLOW, WHITE = "PG7", "PY74", "PW6"


def lch(parts, names):
    return lab_to_lch(mixture_lab(parts, [find_paint(name) for name in names]))


def test_two_to_twenty_percent_of_phthalo_green_in_hansa_yellow_is_far_beyond_any_leaf():
    share = np.linspace(2, 20, 10)
    lab = mixture_lab(np.stack([share, 100 - share], axis=1), [find_paint(GREEN), find_paint(YELLOW)])
    _, chroma, hue = lab_to_lch(lab).T
    assert np.allclose([chroma[0], chroma[-1]], [85, 73], atol=0.7)
    assert np.allclose([hue[0], hue[-1]], [121, 146], atol=0.7)
    assert beyond_leaf(lab).all()


@pytest.mark.parametrize(
    ("more", "name", "expected"),
    [(0, "PV23", (69, 70, 128)), (2, "PV23", (None, 44, None)), (10, "PR254", (None, 39, None))],
)
def test_a_tube_green_in_yellow_and_white_is_quieted_by_purple_or_red(more, name, expected):
    # The figures are those of the measured table; the catalogue brings the purple's strength to the published one.
    strength = find_facts(name).strength
    found = lch([6, 54, 40, more / strength], [GREEN, YELLOW, WHITE, name])
    for value, figure, tolerance in zip(found, expected, (0.7, 0.7, 1.0), strict=True):
        assert figure is None or value == pytest.approx(figure, abs=tolerance)


@pytest.mark.parametrize(
    ("one", "other", "chroma"), [(GREEN, "PR254", 5), ("PB29", "PO20", 4), ("PB29", YELLOW, 13), ("PV23", YELLOW, 6)]
)
def test_least_chroma_on_the_way_between_two_paints_in_half_white(one, other, chroma):
    grey = greyest_between(find_paint(one), find_paint(other), find_paint(WHITE))
    assert grey.chroma == pytest.approx(chroma, abs=0.6)


def test_ultramarine_and_hansa_yellow_go_greenish():
    # The minimum is flat, so its hue is known to some degrees only.
    assert greyest_between(find_paint("PB29"), find_paint(YELLOW), find_paint(WHITE)).hue == pytest.approx(198, abs=5)


def test_the_surface_glare_bounds_the_darks():
    paints = measured_box().with_white
    with_glare = min(float(mixture_lab([1], [paint], surface=True)[0]) for paint in paints)
    without = min(float(paint_lab(paint)[0]) for paint in paints)
    assert with_glare == pytest.approx(24, abs=1) and without == pytest.approx(7, abs=1)


def test_a_mixture_depends_on_proportions_only():
    paints = [find_paint(name) for name in (GREEN, YELLOW, WHITE)]
    assert np.allclose(mixture_lab([1, 9, 5], paints), mixture_lab([20, 180, 100], paints))


def test_a_pair_that_matches_in_daylight_may_part_under_a_warm_lamp():
    """Metamerism: two greys of different paints, alike under D65, differ under illuminant A."""
    from critique.paints.box import box_of
    from critique.paints.recipes import recipe
    from critique.perception.difference import delta_e_2000

    target = [55.0, 0.0, 0.0]
    one = recipe(target, box_of(["PB29", "PO20"]))
    other = recipe(target, box_of(["PG7", "PO73", "PR254"]))
    daylight, lamp = (
        [mixture_lab(found.amounts, found.paints, light) for found in (one, other)] for light in ("D65", "A")
    )
    assert delta_e_2000(*lamp) > delta_e_2000(*daylight) + 1
