"""What painters know of their paints, each as a figure. All: common practice, no source.

Paints that were not measured (red oxide, burnt sienna, phthalo turquoise, cadmium yellow medium, nickel azo yellow)
take part with typical values from memory, so these tests hold the model to the trade, not the trade to a measurement.
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


@pytest.mark.parametrize("yellow", ["PY83", "PY35", "PY150"])
def test_purple_neutralises_yellow_to_brown(yellow):
    names = {colour_name(mixed(PV23=1, **{yellow: n}, PW6=n + 1)) for n in (2, 4, 8)}
    assert any("brown" in name for name in names)


@pytest.mark.parametrize("yellow", ["PY74", "PY83", "PY184"])
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


@pytest.mark.parametrize("blue_green", ["phthalo_turquoise", "PG7"])
@pytest.mark.parametrize("earth", ["red_oxide", "burnt_sienna"])
def test_blue_green_and_a_red_earth_make_forest_green_and_with_white_sage(blue_green, earth):
    deep = mixed(**{blue_green: 1, earth: 1})
    assert deep[0] < 25 and 100 < hue(deep) < 190 and "green" in colour_name(deep)
    sage = mixed(**{blue_green: 3, earth: 2}, PW6=20)
    assert deep[0] + 25 < sage[0] and 5 < chroma(sage) < 20 and 100 < hue(sage) < 200


def test_purple_and_a_blue_green_make_a_rich_blue():
    blue = mixed(PV23=1, phthalo_turquoise=1, PW6=20)
    assert 245 < hue(blue) < 295 and chroma(blue) > 25 and "blue" in colour_name(blue)


@pytest.mark.parametrize("earth", ["red_oxide", "burnt_sienna"])
def test_a_red_earth_and_purple_with_white_make_mauve(earth):
    mauve = mixed(**{earth: 1}, PV23=2, PW6=30)
    assert "purple" in colour_name(mauve) and 10 < chroma(mauve) < 25 and mauve[0] > 50


def test_an_azo_yellow_holds_back_purple_differently_from_a_cadmium_yellow():
    azo, cadmium = mixed(PV23=1, PY150=5), mixed(PV23=1, PY35=5)
    assert delta_e_2000(azo, cadmium) > 5
    assert chroma(azo) > chroma(cadmium) + 10, "the azo stays a warm brown where the cadmium goes to mud"


def test_a_transparent_yellow_stays_green_over_green_and_glows_over_white():
    yellow, green, white = find_paint("PY74"), find_paint("PG7"), find_paint(WHITE)
    over_green, over_white = coat_lab(yellow, green, 0.1), coat_lab(yellow, white, 0.1)
    assert GREEN_FAMILY.contains(over_green) and hue(over_green) > 110
    assert chroma(over_white) > 100 and over_white[0] > 85 and hue(over_white) < 101
    thick = coat_lab(yellow, white, 8.0)
    assert chroma(over_white) > chroma(thick), "the white beneath makes it stronger than it is by itself"
