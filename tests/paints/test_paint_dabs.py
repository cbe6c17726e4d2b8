"""Paints rebuilt from dabs against their measured selves."""

from functools import cache

import numpy as np
import pytest

from critique.errors import PaintError
from critique.paints.box import find_paint
from critique.paints.catalogue import measured_colours, titanium_white
from critique.paints.dabs import (
    Dab,
    Trial,
    dabs_from_photograph,
    paint_from_dabs,
    relative_to_white,
    spot_lab,
    trial_errors,
)
from critique.paints.kubelka_munk import mixture_lab, paint_lab
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.perception.difference import delta_e_2000

MIXTURES = 100  # of each paint with one or two others and white


def dab(paint, white_parts=0.0):
    lab = paint_lab(paint, titanium_white(), white_parts)
    return Dab(tuple(float(value) for value in lab), white_parts)


def rebuilt(paint, *white_parts):
    """From its own dabs, by a program that has never seen it: it is taken out of the library."""
    others = [other for other in measured_colours() if other is not paint]
    return paint_from_dabs(paint.name, [dab(paint), *(dab(paint, n) for n in white_parts)], titanium_white(), others)


@cache
def errors(*white_parts):
    """ΔE00 between mixtures of the rebuilt paint and of the measured one: random parts, random company."""
    rng = np.random.default_rng(11)
    found = []
    for paint in measured_colours():
        own = rebuilt(paint, *white_parts)
        others = [other for other in measured_colours() if other is not paint]
        parts = rng.dirichlet(np.ones(4), MIXTURES)
        parts[: MIXTURES // 2, 3] = 0  # half with one other paint, half with two
        for row in parts:
            company = [titanium_white(), *(others[i] for i in rng.choice(len(others), 2, replace=False))]
            found.append(float(delta_e_2000(mixture_lab(row, [own, *company]), mixture_lab(row, [paint, *company]))))
    return np.array(found)


def test_two_dabs_mix_like_the_measured_paint():
    assert np.median(errors(10)) <= 1.0
    assert np.percentile(errors(10), 95) <= 5.0


def test_a_third_dab_helps():
    assert np.median(errors(10, 3)) < 0.75 * np.median(errors(10))
    assert np.percentile(errors(10, 3), 95) < np.percentile(errors(10), 95)


@pytest.mark.parametrize("name", ["PG7", "PY74", "PBk9", "red oxide", "viridian"])
def test_a_rebuilt_paint_gives_back_its_dabs(name):
    paint = find_paint(name)
    own = paint_from_dabs("own", [dab(paint), dab(paint, 10)], titanium_white(), measured_colours())
    for parts in (0.0, 10.0):
        assert delta_e_2000(dab(own, parts).lab, dab(paint, parts).lab) < 0.1


def test_every_typical_paint_stands_by_the_dabs_of_its_row():
    from critique.perception.reference import read_table

    for row in read_table("paints_typical.csv"):
        paint = find_paint(row["paint"])
        for which, parts in (("masstone", 0.0), ("tint", 10.0)):
            remembered = [float(row[f"{which}_{axis}"]) for axis in "Lab"]
            assert delta_e_2000(dab(paint, parts).lab, remembered) < 1.0, paint.name
        assert paint.origin == "typical, not measured"


def test_recovered_spectra_are_smooth_and_positive():
    for paint in (find_paint("yellow ochre"), find_paint("phthalo turquoise"), rebuilt(find_paint("PB29"), 10)):
        assert (paint.K > 0).all() and (paint.S > 0).all()
        assert np.abs(np.diff(np.log(paint.S))).max() < 1.0


def test_a_spot_in_a_yellow_photograph_is_set_right_by_the_white_in_it():
    true_lab = np.array([45.0, -20.0, 25.0])
    white = titanium_white()
    cast = np.array([0.8, 0.75, 0.5])  # a warm, dim photograph: linear light, channel by channel
    photographed = linear_to_lab(np.stack([lab_to_linear(true_lab), lab_to_linear(paint_lab(white))]) * cast)
    assert np.allclose(relative_to_white(photographed[0], photographed[1], white), true_lab, atol=0.1)


def test_a_spot_is_the_median_of_its_disc():
    lab = np.zeros((60, 100, 3))
    lab[20:40, 40:60] = (50, 10, -10)
    lab[30, 50] = (100, 0, 0)  # a speck of glare
    assert np.allclose(spot_lab(lab, 0.5, 0.5, radius=0.04), (50, 10, -10))


GOOD = Dab((30.0, 20.0, 10.0))


@pytest.mark.parametrize(
    ("dabs", "words"),
    [
        ([GOOD], "at least one tint"),
        ([Dab((60, 5, 5), 10)], "one masstone"),
        ([GOOD, Dab((99.5, 0, 0), 10)], "lighter than titanium white"),
        ([GOOD, Dab((20, 10, 5), 10)], "darker than its masstone"),
        ([GOOD, Dab(GOOD.lab, 10)], "masstone and tint are the same colour"),
        ([GOOD, Dab((30.4, 20, 10), 10)], "masstone and tint are the same colour"),
        ([GOOD, Dab((60, 10, 5), -3)], "parts of white"),
        ([GOOD, Dab((60, 10, 5), 1e6)], "parts of white"),
        ([Dab((-5, 0, 0)), Dab((60, 10, 5), 10)], "L\\* runs from 0 to 100"),
        ([Dab((30, 400, 0)), Dab((60, 10, 5), 10)], "no dab has"),
        ([Dab((float("nan"), 0, 0)), Dab((60, 10, 5), 10)], "not a number"),
        ([GOOD, Dab((60, 10, 5), 10), Dab((70, 10, 5), 10)], "same parts of white"),
        ([Dab((30, 60, 40)), Dab((60, -60, -40), 10)], "no paint has both"),
    ],
)
def test_dabs_that_cannot_be_are_refused_in_one_line(dabs, words):
    with pytest.raises(PaintError, match=words) as caught:
        paint_from_dabs("mystery", dabs, titanium_white(), measured_colours())
    assert "\n" not in str(caught.value) and "mystery" in str(caught.value)


def test_a_spot_outside_the_picture_or_a_black_white_is_refused():
    with pytest.raises(PaintError, match="outside the picture"):
        spot_lab(np.zeros((5, 5, 3)), 1.2, 0.5)
    with pytest.raises(PaintError, match="well lit"):
        relative_to_white([30, 0, 0], [20, 0, 0], titanium_white())


def test_a_photograph_of_three_spots_gives_the_paint():
    paint, white = find_paint("PR254"), titanium_white()
    linear = lab_to_linear(np.stack([dab(paint).lab, dab(paint, 10).lab, paint_lab(white)]))
    photograph = np.repeat(np.repeat(linear_to_lab(linear * [0.9, 0.85, 0.7])[None], 40, axis=0), 40, axis=1)
    spots = dabs_from_photograph(photograph, (1 / 6, 0.5), (0.5, 0.5), (5 / 6, 0.5), white)
    own = paint_from_dabs("own red", spots, white, measured_colours())
    assert delta_e_2000(mixture_lab([1, 4], [own, white]), mixture_lab([1, 4], [paint, white])) < 1.5


@pytest.mark.parametrize("name", ["PY83", "PR254", "PO20", "PG7"])
def test_a_mixture_that_the_painter_made_corrects_the_paint(name):
    """The dabs are as measured wrongly as by eye; one mixture with white and one with blue bring the paint nearer."""
    paint, white, blue = find_paint(name), titanium_white(), find_paint("PB29")
    L, a, b = dab(paint, 10).lab
    wrong = [dab(paint), Dab((L - 3.0, a, b), 10)]
    others = [other for other in measured_colours() if other is not paint]
    trials = [
        Trial(tuple(float(value) for value in mixture_lab([1, n], [paint, other])), 1, other, n)
        for other, n in ((white, 3), (white, 20), (blue, 1))
    ]
    plain = paint_from_dabs("own", wrong, white, others)
    corrected = paint_from_dabs("own", wrong, white, others, trials=trials)
    assert np.mean(trial_errors(corrected, trials)) < 0.6 * np.mean(trial_errors(plain, trials))
    unseen = [([1, 6], [white]), ([1, 2], [find_paint("PR122")]), ([1, 1, 4], [blue, white])]
    before, after = (
        np.mean([float(delta_e_2000(mixture_lab(p, [own, *c]), mixture_lab(p, [paint, *c]))) for p, c in unseen])
        for own in (plain, corrected)
    )
    assert after < before
