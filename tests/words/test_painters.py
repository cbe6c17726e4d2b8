"""A colour is called what people who look at a landscape call it."""

import importlib.util
import sys

import numpy as np
import pytest

from critique.perception.names import colour_names
from critique.perception.reference import read_table, reference_path
from critique.perception.seen_families import family_cues, likeliest_is, seen_families
from critique.words.painters import heard_in, is_a_black, is_a_grey, is_warm_light, light_word, painters_word


def made():
    """The script that fits the weights, as a module."""
    spec = importlib.util.spec_from_file_location("fit", reference_path("make_colour_word_weights.py"))
    module = importlib.util.module_from_spec(spec)
    sys.modules["fit"] = module
    spec.loader.exec_module(module)
    return module


def test_the_weights_are_those_that_the_readings_lead_to():
    script = made()
    _, lab, said = script.readings()
    families, offsets, weights = script.fitted(family_cues(lab), said)
    for family, offset, row in zip(families, offsets, weights, strict=True):
        kept = next(line for line in read_table("colour_word_weights.csv") if line["family"] == family)
        np.testing.assert_allclose(
            [float(kept["offset"]), *map(float, list(kept.values())[2:])], [offset, *row], rtol=0.02, atol=0.02
        )


@pytest.mark.slow
def test_a_picture_left_out_of_the_fit_is_named_as_one_of_the_readings_names_it():
    # 635 places of 127 landscapes, named twice and independently by machine readings that saw no figures.
    told = made().left_out(8)
    either = float(told.split("either's ")[1][:5])
    assert either > 0.68, told


def test_chances_add_up_and_fall():
    chances = list(seen_families(40, 20, 100).values())
    assert sum(chances) == pytest.approx(1) and chances == sorted(chances, reverse=True)


@pytest.mark.parametrize(
    ("lch", "word"),
    [
        ((25, 12, 95), "dark olive"),  # dark foliage under varnish
        ((10, 3, 80), "near-black"),
        ((80, 18, 265), "pale blue"),
        ((45, 45, 70), "ochre"),
        ((60, 40, 135), "green"),
    ],
)
def test_words(lch, word):
    assert painters_word(*lch) == word


@pytest.mark.parametrize(
    ("lab", "families"),
    [
        ((37.6, 41.2, -77.9), {"blue", "violet"}),  # a deep sky painted on a screen
        ((32.3, 79.2, -107.9), {"blue", "violet"}),  # sRGB's own blue, and below its green and its cyan [IEC 61966-2-1]
        ((87.7, -86.2, 83.2), {"green", "yellow-green"}),
        ((91.1, -48.1, -14.1), {"blue-green", "blue", "green"}),
        ((85.2, -19.5, 21.3), {"yellow-green", "green"}),  # Munsell 9GY: a light yellow green [ISCC–NBS]
        ((91.0, -11.0, 13.0), {"yellow-green", "green-grey"}),
        ((96.0, -16.0, 57.0), {"yellow"}),
    ],
)
def test_a_colour_beyond_what_was_read_keeps_the_name_of_its_hue(lab, families):
    """A blue sky was told as an accent of red, and a green haze as one of yellow."""
    L, a, b = lab
    assert next(iter(seen_families(L, np.hypot(a, b), np.degrees(np.arctan2(b, a)) % 360))) in families
    assert any(likeliest_is(family, lab) for family in families)


def test_a_word_is_one_for_a_black_or_a_grey_where_such_a_family_is_heard_in_it():
    words = {}
    for lightness in range(4, 100, 6):
        for chroma in (0, 2, 4, 6, 9, 12, 18, 30):
            for hue in range(0, 360, 15):
                words[painters_word(lightness, chroma, hue)] = set(heard_in(lightness, chroma, hue))
    assert {word for word in words if is_a_black(word)} == {word for word in words if "black" in words[word]}
    greys = {word for word in words if words[word] & {"grey", "blue-grey", "green-grey"} and not is_a_black(word)}
    assert {word for word in words if is_a_grey(word)} == greys
    assert {"charcoal", "near-black", "olive-black"} < words.keys() and {"bluish grey", "dark grey-brown"} < greys


def test_a_light_is_called_by_no_earths_name():
    rng = np.random.default_rng(1)
    for lightness, chroma, hue in rng.uniform((20, 0, 0), (98, 60, 360), (300, 3)):
        assert not {"brown", "ochre", "olive", "olive-brown", "dark brown"} & set(
            light_word(lightness, chroma, hue).split()
        )


@pytest.mark.parametrize(
    ("lch", "warm"), [((85, 30, 85), True), ((85, 14, 75), True), ((80, 20, 260), False), ((90, 1, 0), False)]
)
def test_which_lights_warm(lch, warm):
    assert is_warm_light(*lch) is warm


GRID = [(L, C, h) for L in range(2, 99, 4) for C in range(0, 80, 5) for h in range(0, 360, 12)]


@pytest.mark.slow
def test_only_darks_are_called_dark_and_only_lights_pale():
    # A painter's third of the value scale at each end: below value 4 and above value 6. [common practice, no source]
    words = {lch: painters_word(*lch) for lch in GRID}
    dark, pale = ({lch for lch, word in words.items() if word.startswith(tone)} for tone in ("dark ", "pale "))
    assert len(dark) > 100 and len(pale) > 100
    assert max(lightness for lightness, _, _ in dark) < 40 and min(lightness for lightness, _, _ in pale) > 60


@pytest.mark.parametrize(
    ("lch", "word"), [((85, 12, 80), "cream"), ((85, 35, 80), "golden"), ((90, 2, 60), "greyish white")]
)
def test_a_light_is_gold_where_it_is_strong_and_cream_where_it_is_weak(lch, word):
    assert light_word(*lch) == word


def test_a_light_warms_what_it_falls_on_as_its_name_says():
    told = {lch: light_word(*lch) for lch in GRID if lch[0] > 60}
    warm = [lch for lch, word in told.items() if word in ("pale warm grey", "cream", "golden", "pinkish cream")]
    cold = [lch for lch, word in told.items() if word in ("white", "greyish white", "pale blue", "pale grey-blue")]
    assert len(warm) > 50 and all(is_warm_light(*lch) for lch in warm)
    assert len(cold) > 50 and not any(is_warm_light(*lch) for lch in cold)
    # Between the two: greys that a cream stands hardly behind, and those that it stands close behind.
    assert not is_warm_light(70, 5, 60) and is_warm_light(86, 5, 70)


@pytest.mark.parametrize("value", [2.0, 3.0, 4.0, 5.0])
def test_strong_blues_are_no_violets_though_cielab_turns_them_there(value):
    # Chips of 5PB to 7.5PB and chroma 6 to 12 are blues and purplish blues by ISCC–NBS (Kelly and Judd, NBS Special
    # Publication 440, 1976); their places are the Munsell renotation's, by colour-science in reference_data.
    chips = [
        row
        for row in read_table("munsell_renotation.csv")
        if 75 <= float(row["hue"]) <= 77.5 and float(row["value"]) == value and 6 <= float(row["chroma"]) <= 12
    ]
    assert len(chips) >= 6
    for chip in chips:
        L, a, b = (float(chip[name]) for name in ("L", "a", "b"))
        word = painters_word(L, float(np.hypot(a, b)), float(np.degrees(np.arctan2(b, a)) % 360))
        assert "violet" not in word.replace("violet-blue", ""), (chip, word)


def test_violets_near_to_red_are_mauves_and_strong_colours_are_never_pale():
    assert painters_word(50, 21, 329) == "mauve"
    assert light_word(51, 27, 22) == "rose"
    assert "pale" not in painters_word(81, 80, 98)


@pytest.mark.slow
def test_reds_near_to_violet_are_magentas_as_iscc_nbs_has_purples_and_purplish_pinks_there():
    assert painters_word(49, 53, 322) == "magenta" and painters_word(45, 55, 30) == "red"
    named = [lch for lch in GRID if painters_word(*lch) in ("magenta", "deep magenta", "bright pink") and lch[1] < 60]
    angle = np.radians([hue for _, _, hue in named])
    chroma = np.array([chroma for _, chroma, _ in named])
    lab = np.column_stack([[lightness for lightness, _, _ in named], chroma * np.cos(angle), chroma * np.sin(angle)])
    assert len(named) > 20 and np.mean(["purpl" in name for name in colour_names(lab)]) > 0.9


@pytest.mark.parametrize("lightness", range(4, 21, 2))
def test_what_is_seen_as_black_is_what_iscc_nbs_has_as_a_black(lightness):
    """All that its blocks call black is, and eight in ten of what is, black or one of its blacks that lean to a hue."""
    lab = np.array([(lightness, a, b) for a in range(-8, 9) for b in range(-8, 9) if a * a + b * b <= 64], dtype=float)
    black = likeliest_is("black", lab)
    names = np.array(colour_names(lab))
    assert black[names == "black"].all() and (names == "black").any() and not black.all()
    assert np.mean(["black" in name for name in names[black]]) > 0.8
    for colour, seen in zip(lab[::9], black[::9], strict=True):
        lch = (colour[0], np.hypot(*colour[1:]), np.degrees(np.arctan2(colour[2], colour[1])))
        assert (next(iter(seen_families(*lch))) == "black") == seen


def test_a_name_tells_the_families_that_it_stands_between_and_no_others():
    """Of colours on a grid: what is heard in a name of one family is that, and between two are both of them."""
    between = 0
    for lightness in (20, 40, 60, 80):
        for chroma in (2, 12, 30, 50):
            for hue in range(0, 360, 15):
                heard = heard_in(lightness, chroma, hue)
                between += len(heard) == 2
                if heard == ("blue",):
                    assert "blue" in painters_word(lightness, chroma, hue)
                if "blue" in painters_word(lightness, chroma, hue).replace("-", " ").split():
                    assert {"blue", "blue-grey", "blue-green"} & set(heard)
    assert between > 20
