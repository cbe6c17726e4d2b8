"""Cast, variety and harmony of pictures that are known."""

import numpy as np
import pytest
from scenes import EARTH, MEADOW, SKY, bands, painted

from critique.measures.cast import lean_of, measure_cast
from critique.measures.cast_judging import cast_fault
from critique.measures.families import measure_families
from critique.measures.harmony import fit_template, hue_weights, measure_harmony
from critique.measures.harmony_pairs import pair_harmony, two_colour_harmony
from critique.measures.histogram import ColourHistogram, colour_histogram
from critique.measures.variety import effective_hues, hull_area, measure_variety
from critique.perception.cielab import lab_to_srgb8, lch_to_lab
from critique.perception.names import colour_names
from critique.picture.picture import picture_from_srgb


def wheel(hues, chroma=30.0, lightness=60.0):
    """A picture of equal upright stripes, one a hue."""
    lab = lch_to_lab(np.array([[lightness, chroma, hue] for hue in hues], dtype=np.float32))
    return picture_from_srgb(lab_to_srgb8(np.repeat(np.repeat(lab[None], 200, axis=0), 300 // len(hues), axis=1)))


def test_the_mean_lean_is_the_mean_of_the_parts():
    cast = measure_cast(bands((0.6, SKY), (0.4, EARTH)))
    assert cast.mean.a == pytest.approx(0.6 * -4 + 0.4 * 14, abs=0.3)
    assert cast.mean.b == pytest.approx(0.6 * -18 + 0.4 * 22, abs=0.3)
    assert np.allclose((cast.lightest.a, cast.lightest.b), SKY[1:], atol=0.5)


def test_a_lean_is_one_sided_as_far_as_its_colours_do_not_outweigh_each_other():
    # The mean of a*b* against the mean of C*: all of one hue, two at right angles, two that face each other.
    for parts, share in (
        ([(60, 20, 0)], 1.0),
        ([(60, 20, 0), (60, 0, 20)], 0.5**0.5),
        ([(60, 20, 0), (60, -20, 0)], 0.0),
        ([(60, 20, 0), (60, 0, 0)], 1.0),
    ):
        made = bands(*((1 / len(parts), part) for part in parts))
        assert measure_cast(made).one_sided == pytest.approx(share, abs=0.03)


def test_whose_a_lean_is_stays_unknown_without_a_reference_and_is_told_with_one():
    """Under a card that leans with them the greens are the photograph's, beside a true grey the painting's."""
    made = bands((0.3, (90, 0, 0)), (0.6, (50, -30, 40)), (0.1, (30, 0, 0)))
    assert measure_cast(made).owner == "unknown"
    assert measure_cast(made, reference=lean_of(np.array([80, -7, 9]))).owner == "photograph"
    assert measure_cast(made, reference=lean_of(np.array([80, 0.5, 0.5]))).owner == "painting"


def test_a_tint_laid_over_greys_is_the_lean_of_the_greys():
    tinted = measure_cast(bands(*[(0.2, (value, -9, 10)) for value in (92, 75, 60, 45, 30)]))
    assert tinted.most_neutral.a == pytest.approx(-9, abs=0.5)
    assert tinted.mean.word == "yellow-green"


def test_six_equal_hues_count_as_six():
    assert effective_hues(colour_histogram(wheel(range(15, 375, 60)).lab)) == pytest.approx(6, abs=0.01)
    assert effective_hues(colour_histogram(wheel([125]).lab)) == pytest.approx(1, abs=0.01)
    assert effective_hues(colour_histogram(bands((1.0, (50, 0, 0))).lab)) == 0


def test_the_hull_of_a_square_of_colours_is_its_area():
    corners = [(60, -10, -10), (60, 10, -10), (60, 10, 10), (60, -10, 10)]
    assert hull_area(colour_histogram(bands(*[(0.25, lab) for lab in corners]).lab)) == pytest.approx(400, rel=0.05)
    assert hull_area(colour_histogram(bands((1.0, MEADOW)).lab)) == 0


@pytest.mark.parametrize("area, counted", [(0.03, 0.875), (0.02, 0.75), (0.01, 0.5), (0.0, 0)])
def test_a_name_counts_by_its_area(area, counted):
    colours = [SKY, MEADOW, EARTH, (60, 60, 50)]
    histogram = ColourHistogram(np.array(colours, dtype=float), np.array([0.5, 0.3, 0.2 - area, area]))
    assert measure_variety(bands((1.0, SKY)), histogram).names == pytest.approx(3 + counted, abs=1e-4)


def test_no_colour_is_renamed_by_a_hair():
    names = []
    for lightness in (45.85, 45.9):  # moderate brown, and light greyish brown
        lab = np.array([[lightness, 8.0, 14.0], [38.0, 8.0, 14.0]])
        names.append(measure_variety(bands((1.0, SKY)), ColourHistogram(lab, np.array([0.02, 0.98]))).names)
        assert colour_names(lab)[1] == "moderate brown"
    assert colour_names([[45.85, 8, 14]]) != colour_names([[45.9, 8, 14]])
    assert names[0] == pytest.approx(names[1], abs=0.05) and names[0] > 2


def test_two_colours_are_as_harmonious_as_the_published_model_has_them():
    histogram = colour_histogram(bands((0.6, MEADOW), (0.4, EARTH)).lab)
    assert two_colour_harmony(histogram) == pytest.approx(float(pair_harmony(MEADOW, EARTH)), abs=0.02)
    assert two_colour_harmony(colour_histogram(bands((1.0, MEADOW)).lab)) == 0


def test_shades_of_one_colour_are_hardly_a_pair():
    shade = np.add(MEADOW, (0, 1.2, 1.2))  # ΔE*ab 1.7
    colours = np.array([MEADOW, EARTH, shade], dtype=float)
    alone = two_colour_harmony(ColourHistogram(colours[:2], np.array([0.6, 0.4])))
    shaded = two_colour_harmony(ColourHistogram(colours[:3], np.array([0.4, 0.4, 0.2])))
    assert shaded == pytest.approx(alone, abs=0.03)


def test_a_template_turns_to_the_hues_it_holds():
    weights = hue_weights(wheel([120, 130, 300]).lab)
    assert weights.sum() == pytest.approx(1)
    fit = fit_template("Y", weights)
    assert fit.distance == pytest.approx(0, abs=0.2)
    assert abs((fit.rotation - 125 + 180) % 360 - 180) <= 47
    narrow = fit_template("i", hue_weights(wheel([200]).lab))
    assert abs(narrow.rotation - 200) <= 9.5
    assert narrow.distance == 0


def test_distance_to_a_template_is_that_to_its_nearest_border():
    # One hue alone fits; the other lies 60° off the middle, 51° beyond the border of the narrow sector.
    weights = np.zeros(360)
    weights[[100, 160]] = 0.75, 0.25
    assert fit_template("i", weights).distance == pytest.approx(0.25 * 42, abs=0.3)


def test_complements_face_each_other():
    picture = wheel([30, 210, 120])
    families = measure_families(picture)
    harmony = measure_harmony(picture, families)
    pairs = {frozenset(round(families[i].lch[2] / 10) * 10 for i in (p.first, p.second)) for p in harmony.complements}
    assert pairs == {frozenset({30, 210})}
    assert harmony.warm_share + harmony.cool_share == pytest.approx(1)
    assert harmony.warm_share == pytest.approx(1 / 3, abs=0.02)


@pytest.mark.parametrize(("hue", "warm"), [(335, 1), (0, 1), (60, 1), (105, 1), (115, 0), (180, 0), (265, 0), (325, 0)])
def test_warm_is_from_violet_red_over_red_to_yellow(hue, warm):
    picture = wheel([hue])
    assert measure_harmony(picture, measure_families(picture)).warm_share == pytest.approx(warm, abs=0.01)


def test_a_grey_picture_has_no_hues_to_weigh():
    picture = bands((0.5, (80, 0, 0)), (0.5, (20, 0, 0)))
    harmony = measure_harmony(picture, measure_families(picture))
    assert harmony.warm_share == harmony.cool_share == 0
    assert harmony.complements == ()


def test_a_rich_picture_is_richer_by_every_measure():
    rich, plain = measure_variety(painted()), measure_variety(bands((0.6, SKY), (0.4, MEADOW)))
    assert rich.effective_hues > plain.effective_hues
    assert rich.hull_area > plain.hull_area
    assert rich.names > plain.names


def test_whose_a_lean_is_is_told_by_a_reference_alone() -> None:
    warm = bands((0.5, (70, 8, 26)), (0.5, (40, 10, 22)))
    card_in_warm_light, card_in_white_light = lean_of(np.array([85, 4, 12])), lean_of(np.array([85, 0, 1]))
    assert measure_cast(warm).owner == "unknown"
    assert measure_cast(warm, reference=card_in_warm_light).owner == "photograph"
    assert measure_cast(warm, reference=card_in_white_light).owner == "painting"
    grey = bands((0.5, (80, 1, 0)), (0.5, (40, 0, 1)))
    assert measure_cast(grey).owner == "none"


def test_a_sunset_is_asked_about_and_a_green_lean_is_a_fault_but_not_when_a_card_leans_too() -> None:
    sunset = measure_cast(bands((0.6, (75, 14, 40)), (0.4, (30, 8, 16))))
    green = bands((0.5, (70, -20, 12)), (0.5, (40, -24, 8)))
    assert sunset.owner == "unknown" and cast_fault(sunset) == "watch"
    assert cast_fault(measure_cast(green)) == "rework"
    assert cast_fault(measure_cast(green, reference=lean_of(np.array([80, -14, 6])))) == "watch"
