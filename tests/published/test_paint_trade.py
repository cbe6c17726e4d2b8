"""What painters know of their paints, each as a figure. All: common practice, no source.

Nickel azo yellow, cadmium yellow medium and burnt umber were not measured in mixtures: where they take part, the model
is held to the trade and not the trade to a measurement. Two facts are not true of every measured paint, and the tests
that hold them say so.
"""

import numpy as np
import pytest

from critique.paints.box import find_paint
from critique.paints.coats import coat_lab
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.neutral import greyest_between
from critique.perception.cielab import lab_to_lch
from critique.perception.difference import delta_e_2000
from critique.perception.hue import GREEN_FAMILY, LEAF_TOP_CHROMA, YELLOW_GREEN
from critique.perception.names import colour_name

WHITE = "titanium white"


def mixed(**parts):
    """CIELAB of parts of paints, named with underscores."""
    paints = [find_paint(name.replace("_", " ")) for name in parts]
    return mixture_lab(list(parts.values()), paints)


def chroma(lab):
    return float(lab_to_lch(lab)[1])


def hue(lab):
    return float(lab_to_lch(lab)[2])


def greyest(one, other, white=1.0):
    """Parts of the second to one of the first at which they grey each other most, and that colour."""
    parts = np.geomspace(0.1, 10, 161)
    rows = np.stack([np.ones_like(parts), parts, white * (1 + parts)], axis=1)
    lab = mixture_lab(rows, [find_paint(one), find_paint(other), find_paint(WHITE)])
    best = int(lab_to_lch(lab)[:, 1].argmin())
    return float(parts[best]), lab[best]


def test_phthalo_green_is_the_strongest_green():
    """It takes more white than the other measured green to bring it to the same lightness."""

    def white_to_reach(name, lightness=85.0):
        parts = np.logspace(0, 3, 400)
        L = mixture_lab(np.stack([np.ones(400), parts], axis=1), [find_paint(name), find_paint(WHITE)])[:, 0]
        return float(np.interp(lightness, L, parts))

    assert white_to_reach("PG7") > 3 * white_to_reach("PG36")


def test_yellow_makes_phthalo_green_glow():
    alone, with_white = mixed(PG7=1), mixed(PG7=1, PW6=10)
    with_yellow = mixed(PG7=1, PY74=20)
    assert YELLOW_GREEN.contains(with_yellow)
    assert chroma(with_yellow) > 1.7 * LEAF_TOP_CHROMA
    assert chroma(with_yellow) > 2 * max(chroma(alone), chroma(with_white))


@pytest.mark.parametrize("earth", ["burnt sienna", "burnt umber"])
@pytest.mark.parametrize("white", [1.0, 3.0])
def test_an_earth_and_ultramarine_grey_each_other_between_two_to_one_and_one_to_two(earth, white):
    parts, lab = greyest("PB29", earth, white)
    assert 0.5 <= parts <= 2 and chroma(lab) < 5


@pytest.mark.parametrize("yellow", ["PY83", "cadmium yellow medium", "PY150"])
def test_purple_neutralises_yellow_to_brown(yellow):
    names = {
        colour_name(mixture_lab([1, n, n + 1], [find_paint(name) for name in ("PV23", yellow, WHITE)]))
        for n in (2, 4, 8)
    }
    assert any("brown" in name for name in names)


@pytest.mark.parametrize("yellow", ["PY74", "PY83", "PY184", "yellow oxide"])
def test_blue_and_yellow_grey_toward_green(yellow):
    grey = greyest_between(find_paint("PB29"), find_paint(yellow), find_paint(WHITE))
    assert 100 <= grey.hue <= 210 and grey.chroma > 6


@pytest.mark.parametrize(
    ("one", "other"),
    [("PB29", "PO20"), ("PB36", "PO20"), ("phthalo blue red shade", "PO20"), ("PG7", "PO73"), ("PG36", "PR254")],
)
def test_orange_with_blue_and_red_with_cyan_go_nearly_neutral(one, other):
    grey = greyest_between(find_paint(one), find_paint(other), find_paint(WHITE))
    assert grey.chroma < 6 and grey.neutralises


@pytest.mark.parametrize("blue_green", ["turquoise", "PG7"])
def test_a_strong_blue_green_and_burnt_sienna_make_forest_green_and_with_white_sage(blue_green):
    """At 1 : 2. Measured burnt sienna is so much weaker that at 1 : 1 the mixture is a blue-black."""
    deep = mixed(**{blue_green: 1, "burnt_sienna": 2})
    assert deep[0] < 25 and 120 < hue(deep) < 190
    sage = mixed(**{blue_green: 1, "burnt_sienna": 2}, PW6=15)
    assert deep[0] + 40 < sage[0] and 10 < chroma(sage) < 20 and 150 < hue(sage) < 200
    assert "green" in colour_name(sage)


@pytest.mark.parametrize("blue_green", ["turquoise", "phthalo_turquoise"])
def test_purple_and_a_blue_green_make_a_deep_blue(blue_green):
    deep = mixed(PV23=1, **{blue_green: 1})
    assert deep[0] < 20 and 235 < hue(deep) < 300
    blue = mixed(PV23=1, **{blue_green: 1}, PW6=20)
    assert 245 < hue(blue) < 295 and chroma(blue) > 20 and "blue" in colour_name(blue)


@pytest.mark.parametrize("earth", ["red_oxide", "burnt_sienna"])
def test_a_red_earth_and_purple_with_white_make_mauve(earth):
    mauve = mixed(**{earth: 1}, PV23=2, PW6=30)
    assert any(word in colour_name(mauve) for word in ("purple", "violet"))
    assert 10 < chroma(mauve) < 25 and mauve[0] > 50


def test_nickel_azo_yellow_knocks_purple_back_in_fewer_parts_than_cadmium_yellow():
    def parts_to_halve(yellow):
        parts = np.geomspace(0.05, 20, 400)
        rows = np.stack([np.ones_like(parts), parts, np.full_like(parts, 10)], axis=1)
        found = lab_to_lch(mixture_lab(rows, [find_paint(name) for name in ("PV23", yellow, WHITE)]))[:, 1]
        return float(parts[int(np.argmax(found < found[0] / 2))])

    assert parts_to_halve("PY150") < parts_to_halve("cadmium yellow medium")
    assert delta_e_2000(mixed(PV23=1, PY150=5), mixed(PV23=1, cadmium_yellow_medium=5)) > 5


@pytest.mark.parametrize(("cyan", "red"), [("PB15:3", "PR108"), ("PG7", "PR254")])
def test_cyan_takes_red_to_a_cool_grey(cyan, red):
    parts, lab = greyest(red, cyan)
    assert parts >= 2 or parts <= 0.5 or chroma(lab) < 6
    grey = greyest_between(find_paint(red), find_paint(cyan), find_paint(WHITE))
    assert grey.chroma < 6 and 200 < grey.hue < 330, "its hue is that of blues and violets"


def test_phthalo_blue_takes_the_bluish_pyrrole_red_to_violet_and_not_to_grey():
    """The fact is wrong for this pair as it was measured: the red's own lean to blue is left over."""
    grey = greyest_between(find_paint("PB15:3"), find_paint("PR254"), find_paint(WHITE))
    assert grey.chroma > 10 and 290 < grey.hue < 330


@pytest.mark.parametrize("name", ["PY74", "PY150"])
def test_a_transparent_yellow_stays_green_over_green_and_glows_over_white(name):
    yellow, green, white = find_paint(name), find_paint("PG7"), find_paint(WHITE)
    over_green, over_white = coat_lab(yellow, green, 0.1), coat_lab(yellow, white, 0.1)
    assert GREEN_FAMILY.contains(over_green) and hue(over_green) > 105
    assert chroma(over_white) > 100 and over_white[0] > 80 and hue(over_white) < 101
    assert chroma(over_white) > chroma(coat_lab(yellow, white, 8.0)), "the white beneath makes it stronger than alone"
