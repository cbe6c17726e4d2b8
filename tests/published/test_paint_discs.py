"""Paints alone against the discs of another maker: what is known of a masstone, and what is done where it is not."""

import numpy as np
import pytest

from critique.paints.box import box_of, default_box, find_paint
from critique.paints.catalogue import paint_of
from critique.paints.expected import OTHER_MAKE, doubt, expected_error, other_make, trust_in_words
from critique.paints.kubelka_munk import paint_lab
from critique.paints.recipes import recipes
from critique.perception.difference import delta_e_2000
from critique.perception.reference import read_table

WARM_DARKS = [(12, 4, 4), (14, 6, 6), (10, 3, 4), (16, 8, 8)]


def test_two_makes_of_one_pigment_differ_by_five_steps_alone_as_likely_as_not():
    """Opaque discs of heavy-bodied acrylics as a maker measured them, second-hand. [paint_discs.csv]"""
    away = []
    for row in read_table("paint_discs.csv"):
        paint = paint_of(row["paint"])
        disc = np.array([float(row[axis]) for axis in "Lab"])
        if other_make(paint) is not None:
            assert other_make(paint) == pytest.approx(float(delta_e_2000(paint_lab(paint), disc)))
            away.append(other_make(paint))
    assert len(away) >= 20
    assert np.median(away) == pytest.approx(OTHER_MAKE, abs=0.3)
    assert other_make(find_paint("ultramarine")) > 10 and other_make(find_paint("bone black")) < 2


def test_no_warm_dark_is_dioxazine_purple_alone():
    """Its masstone is a black that leans to violet: disc b* -0.1, film b* -5. The brown of the measured one is bronze.

    [paint_discs.csv; paint_films.csv, Levinson, Berdahl and Akbari, 2005]
    """
    for box in (default_box(), box_of(("PY83", "PR254", "PV23", "PB15:3"), "four")):
        for one in recipes(np.array(WARM_DARKS, float), box):
            share = {part.paint: part.share for part in one.parts}
            assert share.get("dioxazine purple", 0.0) <= 0.75, one.text
            assert one.error <= 4.5, one.text


def test_a_doubtful_paint_is_doubted_alone_and_not_in_mixtures_nor_tints():
    purple, white, brown = find_paint("PV23"), find_paint("PW6"), find_paint("burnt sienna")
    assert doubt([1], [purple]) > 3
    assert doubt([1, 1], [purple, brown]) == 0 and doubt([1, 5], [purple, white]) == 0
    assert doubt([[1, 0], [9, 1], [2, 1]], [purple, brown]).tolist() == sorted(
        doubt([[1, 0], [9, 1], [2, 1]], [purple, brown]).tolist(), reverse=True
    )
    assert doubt([1], [find_paint("yellow oxide")]) == 0


def test_a_paint_alone_is_promised_no_exactness():
    ultramarine = find_paint("ultramarine")
    assert expected_error([1], [ultramarine], [False], 0.0).as_calculated > 10
    assert expected_error([1], [find_paint("bone black")], [False], 0.0).as_calculated >= 1
    told = trust_in_words(ultramarine)
    assert "L* 14, a* 11, b* −21" in told and "swatch yours" in told
    assert "another maker's tube" in trust_in_words(find_paint("pyrrole red"))
