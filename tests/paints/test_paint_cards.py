"""Swatches of one paint, lights by name, and dabs given in words."""

import numpy as np
import pytest

from critique.errors import PaintError
from critique.paints.box import box_of, default_box, find_paint, measured_box
from critique.paints.cards import card_in_box, paint_card
from critique.paints.coats import THIN, coat_lab
from critique.paints.kubelka_munk import mixture_lab, paint_lab
from critique.paints.lights import light_named
from critique.paints.swatches import colour_of, numbers_of, own_paint
from critique.perception.cielab import lab_to_lch, lab_to_srgb8, srgb8_to_lab
from critique.perception.hue import YELLOW_GREEN
from critique.perception.srgb import hex_of


def lab_of(srgb):
    return srgb8_to_lab(np.frombuffer(bytes.fromhex(srgb[1:]), np.uint8))


def test_a_card_shows_the_paint_alone_and_one_part_in_ten_of_white():
    green = find_paint("PG7")
    card = paint_card(green, find_paint("PW6"))
    assert card.masstone_lab == pytest.approx(paint_lab(green))
    assert card.tint_lab == pytest.approx(paint_lab(green, find_paint("PW6"), 10))
    assert card.label == "phthalo green (blue shade) (PG7)" and card.opacity == "transparent"


@pytest.mark.parametrize("name", ["PY74", "PY83"])
def test_a_transparent_yellow_over_green_stays_green_and_over_white_glows(name):
    """Common practice, no source: hansa and diarylide yellow, thin. The second, orange, makes olive of green."""
    card = paint_card(find_paint(name), find_paint("PW6"))
    coats = (card.coats.over_white, card.coats.over_green, card.coats.over_black)
    white, green, black = (lab_to_lch(lab_of(srgb)) for srgb in coats)
    assert white[1] > 75 and white[0] > 70 and white[2] < 95
    assert green[2] > white[2] + 15 and black[0] < green[0] < white[0] - 10
    assert name == "PY83" or YELLOW_GREEN.start < green[2] < YELLOW_GREEN.end
    assert "over white it glows" in card.hiding.text


def test_coats_are_those_of_the_hyperbolic_form():
    red = find_paint("PR254")
    card = paint_card(red, find_paint("PW6"))
    assert card.coats.over_white == hex_of(lab_to_srgb8(coat_lab(red, 0.80, THIN)))
    assert card.coats.over_black == hex_of(lab_to_srgb8(coat_lab(red, 0.02, THIN)))


def test_a_paint_whose_covering_was_not_measured_shows_no_coats():
    card = card_in_box("yellow ochre", default_box(), only=False)
    assert card.coats is None and "not measured" in card.label and "not measured" in card.hiding.text


def test_what_greys_a_paint_is_named_from_its_box():
    card = card_in_box("PG7", default_box())
    assert card.partners and card.partners[0].partner in card.partner_text
    lonely = card_in_box("cadmium orange", default_box(), only=False)
    assert lonely.partners[0].partner in {paint.name for paint in default_box().paints}
    assert "cadmium" in lonely.caution
    with pytest.raises(PaintError, match="no paint is called"):
        card_in_box("cadmium orange", default_box())


def test_a_card_tells_where_its_paint_fades_and_greys_no_white():
    """PR83 is III by ASTM D4303, PV23 III in pale tints as painters and labels say. [paint_facts.csv]"""
    assert card_in_box("PR83", default_box(), only=False).fading.endswith("keep it out of what must last.")
    assert "skies" in card_in_box("PV23", default_box()).fading and not card_in_box("PB29", default_box()).fading
    for grey in ("PW6", "PBk9", "payne's grey"):
        assert "nearly neutral itself" in card_in_box(grey, default_box(), only=False).partner_text


def test_a_card_under_a_lamp_is_that_of_the_lamp():
    card = card_in_box("PB29", measured_box(), "A")
    assert card.light == "A" and card.masstone_lab == pytest.approx(paint_lab(find_paint("PB29"), light="A"))


def test_what_greys_a_paint_is_told_by_the_lamp_of_its_card():
    """The lamp's own grey of the same pair: by lamplight it is another than by daylight, and so is its chroma."""
    box = box_of(["PB29", "burnt sienna"])
    told = {}
    for light in ("D65", "A"):
        (grey,) = card_in_box("PB29", box, light).partners
        told[light] = grey.chroma
        share = np.array([1 - grey.partner_share, grey.partner_share, 1.0])
        lab = mixture_lab(share, [find_paint("PB29"), find_paint("burnt sienna"), box.white], light)
        assert float(lab_to_lch(lab)[1]) == pytest.approx(grey.chroma, abs=0.05)
    assert abs(told["A"] - told["D65"]) > 0.5


@pytest.mark.parametrize(
    ("said", "name"), [("d65", "D65"), (" A ", "A"), ("LED", "LED-B3"), ("led-b1", "LED-B1"), ("daylight", "D65")]
)
def test_a_light_is_found_whatever_the_case(said, name):
    assert light_named(said) == name


def test_an_unknown_light_gets_the_names_there_are():
    with pytest.raises(PaintError, match="D65, D50, A"):
        light_named("moon")


def test_a_colour_is_read_from_figures_or_from_a_screen_code():
    assert colour_of("24, -14,10") == (24, -14, 10)
    assert colour_of("24,−14,10") == (24, -14, 10), "a printed minus"
    assert colour_of("#ffffff") == pytest.approx((100, 0, 0), abs=0.01)
    assert numbers_of("0.25,0.5", 2) == (0.25, 0.5)


@pytest.mark.parametrize("text", ["", "24,-14", "24,-14,10,3", "#12345", "#gggggg", "green", "24;14;10"])
def test_what_is_no_colour_is_refused(text):
    with pytest.raises(ValueError, match="L,a,b"):
        colour_of(text)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"tint": (66, 1, 1)}, "masstone is missing"),
        ({"masstone": (24, 1, 1)}, "tint is missing"),
        ({"masstone": (24, 1, 1), "tint": (66, 1, 1), "tint_at": (0.1, 0.1)}, "no photograph"),
        ({"masstone": (24, 1, 1), "tint": (66, 1, 1), "photo": "dabs.png"}, "not both"),
        ({"photo": "dabs.png", "tint_at": (0.1, 0.1)}, "three spots"),
        ({"masstone": (24, 1, 1), "tint": (66, 1, 1), "third": (50, 1, 1)}, "third dab"),
    ],
)
def test_dabs_given_by_halves_are_refused(given, words):
    with pytest.raises(PaintError, match=words):
        own_paint("old green", **given)
