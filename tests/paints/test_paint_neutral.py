"""Neutralising partners."""

import re
from itertools import pairwise

import numpy as np
import pytest

from critique.paints.box import box_of, default_box, find_paint, measured_box
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.neutral import greyest_between, neutralising_partners
from critique.perception.cielab import lab_to_lch
from critique.perception.hue import turn


def test_every_coloured_paint_of_both_boxes_has_a_partner_but_the_magentas_and_black():
    # What faces a magenta on the wheel is a yellow-green, and neither box has one: with a blue-green it stays a violet.
    alone = {"bone black", "quinacridone magenta", "quinacridone red"}
    for box in (default_box(), measured_box()):
        for name, greys in neutralising_partners(box).items():
            assert len(greys) == (0 if name in alone else 1), name


def test_partners_lie_across_the_hue_circle_from_their_paint():
    box = measured_box()
    for greys in neutralising_partners(box).values():
        for grey in greys:
            hues = [
                lab_to_lch(mixture_lab([1, 1], [find_paint(name), box.white]))[2] for name in (grey.paint, grey.partner)
            ]
            assert abs(float(turn(hues[0], hues[1]))) > 100, grey.text


def test_the_grey_is_the_least_of_a_finer_search():
    white = find_paint("PW6")
    one, other = find_paint("PG7"), find_paint("PR254")
    share = np.linspace(0, 1, 20_001)
    fine = lab_to_lch(mixture_lab(np.stack([1 - share, share, np.ones_like(share)], axis=1), [one, other, white]))[:, 1]
    assert greyest_between(one, other, white).chroma == pytest.approx(fine.min(), abs=0.1)


def test_the_words_give_partner_paint_proportion_and_lean():
    grey = greyest_between(find_paint("PB29"), find_paint("PY74"), find_paint("PW6"))
    # They meet in a dull green of chroma 13: to a class that is no grey.
    assert grey.text == (
        "hansa yellow opaque does not neutralise ultramarine blue: on the way its chroma stays above 13, toward "
        "blue-green."
    )
    earth = greyest_between(find_paint("burnt sienna"), find_paint("PB29"), find_paint("PW6"))
    assert re.fullmatch(
        r"ultramarine blue greys burnt sienna \(\d+ parts? ultramarine blue to \d+ of burnt sienna, in as much white\) "
        r"down to chroma \d, leaning [a-z-]+\.",
        earth.text,
    )
    assert neutralising_partners(measured_box())["ultramarine blue"][0].partner == "cadmium orange"


def test_the_grey_of_a_chart_is_that_of_its_light():
    """Two paints that meet in one grey by daylight meet in another by lamplight: they are no metamers."""
    one, other, white = find_paint("PB29"), find_paint("PO20"), find_paint("PW6")
    lamp = greyest_between(one, other, white, "A")
    share = np.linspace(0, 1, 20_001)
    parts = np.stack([1 - share, share, np.ones_like(share)], axis=1)
    assert lamp.chroma == pytest.approx(lab_to_lch(mixture_lab(parts, [one, other, white], "A"))[:, 1].min(), abs=0.1)
    assert abs(lamp.chroma - greyest_between(one, other, white).chroma) > 0.3


def test_a_grey_without_a_colour_leans_nowhere():
    """Quinacridone burnt orange and phthalo green meet in C* 0: which way that leans no eye sees."""
    grey = greyest_between(find_paint("PG7"), find_paint("PR206"), find_paint("PW6"))
    assert grey.neutralises and grey.chroma < 1.5
    assert grey.text.endswith("down to a plain grey.") and "leaning" not in grey.text


def test_a_black_greys_nothing_by_being_its_opposite():
    """Six parts of black to one of burnt sienna are a black: it takes the place of a colour. Common practice."""
    black, white = find_paint("PBk9"), find_paint("PW6")
    for name in ("burnt sienna", "PY74", "PG7"):
        for pair in ((find_paint(name), black), (black, find_paint(name))):
            grey = greyest_between(*pair, white)
            assert not grey.neutralises and grey.text.startswith("bone black is nearly grey itself: it dulls ")
            assert find_paint(name).name in grey.text


def test_what_is_said_to_grey_another_reaches_a_near_neutral():
    for box in (measured_box(), default_box(), box_of(["PY3", "PR108", "burnt sienna", "PB29"])):
        for greys in neutralising_partners(box, 3).values():
            assert all(grey.chroma <= 8.5 for grey in greys)


def test_two_neighbours_on_the_circle_are_not_called_partners():
    grey = greyest_between(find_paint("PY74"), find_paint("PO20"), find_paint("PW6"))
    assert not grey.neutralises and "does not neutralise" in grey.text


def test_partners_come_about_greyest_first_and_both_ways_round():
    table = neutralising_partners(measured_box(), 3)
    for greys in table.values():
        chromas = [grey.chroma for grey in greys]
        assert all(later > earlier - 3 for earlier, later in pairwise(chromas)), "ordinary paints may come first"
    there, back = table["dioxazine purple"][0], table["bismuth vanadate yellow"][0]
    assert there.partner == back.paint and there.chroma == pytest.approx(back.chroma)
    assert there.partner_share == pytest.approx(1 - back.partner_share)


def test_burnt_sienna_is_greyed_by_ultramarine_and_the_other_way_round():
    """Common practice, no source."""
    table = neutralising_partners(default_box())
    assert table["burnt sienna"][0].partner == "ultramarine blue"
    assert table["ultramarine blue"][0].partner == "burnt sienna"


def test_the_parts_that_are_told_are_those_that_grey():
    told = [grey for greys in neutralising_partners(measured_box()).values() for grey in greys if grey.neutralises]
    assert len(told) > 5
    for grey in told:
        one, other = (int(number) for number in re.search(r"\((\d+) parts? .*? to (\d+) of ", grey.text).groups())
        assert one / other == pytest.approx(grey.partner_share / (1 - grey.partner_share), rel=0.5), grey.text
        assert (one > other) == (grey.partner_share > 0.5) or abs(grey.partner_share - 0.5) < 0.1, grey.text


def test_the_proportion_is_told_with_the_white_that_the_chroma_is_measured_in():
    """Without white the same parts may keep their colour: phthalo green and pyrrole orange alone are a brown."""
    green, orange, white = find_paint("PG7"), find_paint("PO73"), find_paint("PW6")
    grey = greyest_between(orange, green, white)
    share = grey.partner_share
    told = float(lab_to_lch(mixture_lab([1 - share, share, 1], [orange, green, white]))[1])
    assert told == pytest.approx(grey.chroma, abs=0.1) and told < 2
    assert float(lab_to_lch(mixture_lab([1 - share, share], [orange, green]))[1]) > 10
    assert "in as much white" in grey.text
