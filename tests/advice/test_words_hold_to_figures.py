"""What is said of a picture agrees with its figures and its plates, and nothing is said that isn't so.

The scenes are invented; what each must be called follows from how it was made.
"""

from dataclasses import replace

import numpy as np
import pytest
from measured import measured, said, with_others
from one_picture import one_picture

from critique.advice.standing_still import figure_stands_still
from critique.measures.division import measure_division
from critique.measures.eye_judging import keeps_it_in, settles_to_say
from critique.measures.eyepath import LeadingLine
from critique.measures.figures import figure_named
from critique.measures.focal_places import FocalPlace
from critique.measures.frame_strip import framed_sides
from critique.measures.land_greens import far_beyond_leaf, land_green_share
from critique.measures.pulls import Pull, border_pulls, frame_values, plain_contrast
from critique.perception.cielab import lab_to_linear, lch_to_lab
from critique.perception.srgb import linear_to_srgb8
from critique.picture.picture import Picture
from critique.report.plates.eyepath import eyepath_plate, named_pulls
from critique.report.plates.greens import gathered, greens_plate

HEIGHT, WIDTH = 240, 360


def picture_of(lab: np.ndarray) -> Picture:
    return one_picture(linear_to_srgb8(lab_to_linear(lab.astype(np.float32))))


def bands(*parts: tuple[float, tuple[float, float, float]]) -> np.ndarray:
    """Level bands (height, width, 3) down to these heights, with a little of a brush in them."""
    lab = np.zeros((HEIGHT, WIDTH, 3))
    start = 0
    for end, colour in parts:
        lab[start : round(end * HEIGHT)] = colour
        start = round(end * HEIGHT)
    lab[..., 0] += np.random.default_rng(1).normal(0, 0.8, lab.shape[:2])
    return lab


def text_of(picture: Picture, subject: str) -> str:
    return said(picture, subject)[subject].text


@pytest.mark.parametrize("line", [0.5, 0.545])
def test_the_line_has_one_height_and_only_equal_halves_are_called_equal(line):
    picture = picture_of(bands((line, (82, 0, -6)), (1.0, (38, -8, 24))))
    measures = measured(picture)
    halving = said(picture, "halving")["halving"]
    assert measures.division.height == pytest.approx(line, abs=0.015)
    assert halving.figure == measures.division.height
    assert ("two equal halves" in halving.text) == (line == 0.5)
    assert abs(measures.division.slope) < 0.02 and measures.division.straightness > 0.9


def test_a_crooked_line_neither_falls_nor_is_straight():
    lab = bands((1.0, (80, 0, -4)))
    foot = 0.35 + 0.3 * np.abs(np.linspace(-1, 1, WIDTH))  # a valley: no straight line follows it
    lab[(np.arange(HEIGHT)[:, None] + 0.5) / HEIGHT > foot] = (36, -6, 20)
    picture = picture_of(lab)
    assert measure_division(picture).straightness < 0.65
    assert not any(word in text_of(picture, "halving") for word in ("straight", "falling", "rising"))


@pytest.mark.parametrize(("line", "fall", "unsure"), [(0.5, 0.1, True), (0.3, 0.3, False)])
def test_a_line_near_the_middle_that_is_not_told_to_cut_is_not_said_to_be_none(line: float, fall: float, unsure: bool):
    lab = bands((1.0, (80, 0, -4)))
    foot = line + fall * np.linspace(-0.5, 0.5, WIDTH) * WIDTH / HEIGHT  # the edge of a field that falls to the right
    lab[(np.arange(HEIGHT)[:, None] + 0.5) / HEIGHT > foot] = (36, -6, 20)
    picture = picture_of(lab)
    assert measured(picture).division.nearly_halved is unsure
    text = text_of(picture, "halving")
    assert ("No line is sure to cut it in half" in text) is unsure
    assert ("Nothing cuts it" in text or "isn't halved" in text) is not unsure


def test_dusk_without_a_green_pixel_does_not_read_as_green():
    dusk = picture_of(bands((0.5, (52, 24, 40)), (0.7, (14, 6, 7)), (1.0, (9, 3, 3))))
    assert measured(dusk).reads_as_green.share < 0.01


def test_a_cream_sky_is_left_out_of_what_is_said_of_the_green():
    picture = picture_of(bands((0.5, (88, -4, 9)), (1.0, (45, -20, 32))))
    measures = measured(picture)
    assert measures.parts.sky_sureness > 0.5 and measures.parts.sky_share == pytest.approx(0.5, abs=0.05)
    assert measures.greens.area_share > 0.7
    assert land_green_share(picture, measures.parts) == pytest.approx(0.5, abs=0.05)


def test_the_hatch_covers_what_the_finding_counts():
    lab = bands((0.4, (80, 0, -6)), (1.0, (45, -20, 30)))
    lab[150:210, 60:160] = (50, -52, 50)
    mask = far_beyond_leaf(lab.astype(np.float32))
    hatch = gathered(mask, (3 * WIDTH, 3 * HEIGHT))
    assert mask.mean() == pytest.approx(60 * 100 / (HEIGHT * WIDTH), rel=0.01)
    assert hatch.mean() == pytest.approx(mask.mean(), rel=0.05)
    assert hatch[3 * 155 : 3 * 205, 3 * 65 : 3 * 155].all()


@pytest.mark.parametrize("inside", [60.0, 88.0])
def test_a_light_corner_outshines_only_what_is_darker(inside):
    lab = bands((1.0, (40, 0, 5)))
    lab[:50, -70:, 0] = 72
    lab[100:140, 150:230, 0] = inside
    lab = lab.astype(np.float32)
    found = border_pulls(lab, plain_contrast(lab), frame_values(lab[..., 0]).interior)
    corner = next(pull for pull in found if pull.place == "top right corner")
    assert (corner.kind == "light") == (inside < 72)


def test_only_the_pull_that_is_named_has_an_arrowhead():
    picture = picture_of(bands((0.45, (78, 0, -5)), (1.0, (42, -6, 18))))
    eye = measured(picture).eyepath
    for strength, drawn in ((0.9, 0), (1.3, 1)):
        pull = Pull("bottom edge", 0.5, 0.97, strength, "value", ("bottom",))
        held = replace(eye, pulls=(pull,), strongest_pull=pull, border_salience=1.0)
        assert len(named_pulls(held)) == drawn
        assert ("arrowhead" in eyepath_plate(picture, held).caption) == bool(drawn)


def test_the_ring_is_called_a_guess_where_no_place_is_told_to_hold_the_eye():
    picture = picture_of(bands((0.45, (78, 0, -5)), (1.0, (42, -6, 18))))
    eye = measured(picture).eyepath
    place = FocalPlace(0.6, 0.4, 0.95)
    sure = replace(eye, focus=place, places=(place,), rivalry=0.0, dominance=1.5, competing=False)
    unsure = replace(sure, focus=replace(place, strength=0.3), places=(), dominance=0.5)
    for held, told in ((sure, True), (unsure, False)):
        assert (settles_to_say(held) is not None) is told
        assert ("a guess" in eyepath_plate(picture, held).caption) is not told


def test_the_hatch_of_greens_covers_what_the_finding_counts_and_no_olive():
    """Of an olive, however rich, no painter says that it is louder than a leaf: its finding didn't, its plate did."""
    olive, leaf = lch_to_lab((60.0, 62.0, 104.0)), lch_to_lab((60.0, 62.0, 130.0))
    for colour, hatched in ((olive, False), (leaf, True)):
        picture = picture_of(bands((0.55, (82, 0, -6)), (1.0, tuple(colour))))
        assert far_beyond_leaf(picture.lab).mean() > 0.3
        assert ("Hatched" in greens_plate(picture, measured(picture)).caption) is hatched


def test_no_line_is_drawn_to_lead_out_where_nothing_is_said_to_draw_the_eye_out():
    picture = picture_of(bands((0.45, (78, 0, -5)), (1.0, (42, -6, 18))))
    eye = measured(picture).eyepath
    out = LeadingLine(0.02, 0.9, 0.3, 0.8, 0.3, leads="out", miss=0.3)
    weak = Pull("left edge", 0.02, 0.5, 0.1, "value", ("left",))
    for weight, drawn in ((-9.0, False), (9.0, True)):
        held = replace(eye, lines=(out,), strongest_pull=weak, border_salience=0.5, places=(), side_weight=weight)
        assert keeps_it_in(held) is not drawn
        assert ("lead out" in eyepath_plate(picture, held).caption) is drawn


def test_a_finding_whose_figures_stand_still_is_not_mended_in_the_aim():
    measures = measured(picture_of(bands((0.5, (82, 0, -6)), (1.0, (38, -8, 24)))))
    height = figure_named("division.height")
    for moved, still in ((0.01, True), (0.1, False)):
        after = with_others(measures, division=replace(measures.division, height=measures.division.height + moved))
        assert figure_stands_still(height, measures, after) is still
    nothing = with_others(measures, greens=replace(measures.greens, median_chroma=float("nan")))
    chroma = figure_named("greens.median_chroma")
    assert figure_stands_still(chroma, nothing, nothing) and not figure_stands_still(chroma, measures, nothing)


def test_an_even_strip_along_a_side_may_be_a_frame_and_ground_may_not():
    lab = bands((0.5, (80, 0, -6)), (1.0, (40, -8, 22)))
    assert framed_sides(lab) == ()
    lab[:6] = (20, 6, 14)
    assert framed_sides(lab) == ("top",)


def test_masses_are_named_as_the_plan_in_three_values_shows_them():
    picture = picture_of(bands((0.3, (85, 0, -5)), (0.55, (55, -4, 10)), (1.0, (18, -3, 8))))
    said = text_of(picture, "value masses")
    plan = measured(picture).values.plan(3)
    dark, middle, light = (round(100 * share) for share in plan.shares)
    for name, share in (("dark", dark), ("middle", middle), ("light", light)):
        assert f"a {name} one" in said and f"({share} %)" in said
