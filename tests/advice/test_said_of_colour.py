"""What is said of greens, of a glow and of a place: in the words of what is seen there, and no more than that."""

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from measured import measured, said, with_others

from critique.advice.cast_findings import GREENNESS_WATCH, colour_cast, green_cast
from critique.advice.colour_findings import dead_colour, land_distance, loudest_colour
from critique.advice.colour_run import _alike, run_of_colours
from critique.advice.green_area import _is_green, area
from critique.advice.green_strength import strength
from critique.advice.hints import HINTS
from critique.advice.judging import Case
from critique.advice.kinds import kind_named
from critique.advice.norms import read_norms
from critique.advice.value_findings import masses, value_range
from critique.advice.verdict import verdict
from critique.measures.hue_peaks import HuePeak, HuePeaks
from critique.measures.land_distance import Land, LandDistance
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import picture_from_srgb
from critique.picture.places import roughly

SIZE = (240, 360)  # px


def case_of(lab: np.ndarray) -> Case:
    rng = np.random.default_rng(5)
    picture = picture_from_srgb(lab_to_srgb8(lab + rng.normal(0, 1.2, lab.shape)))
    return Case.of(picture, measured(picture), read_norms())


def field(L: float, a: float, b: float) -> np.ndarray:
    return np.zeros((*SIZE, 3)) + np.array([L, a, b])


def evening(*, sun: tuple[int, int]) -> np.ndarray:
    """A grey-blue evening over dark land, and one gold patch as light as anything in it."""
    lab = field(62.0, 0.0, -8.0)
    lab[150:] = (22.0, 2.0, 4.0)
    down, across = np.ogrid[: SIZE[0], : SIZE[1]]
    lab[np.hypot(down - sun[0], across - sun[1]) < 26] = (74.0, 16.0, 72.0)
    return lab


def test_brown_woods_and_rock_are_not_told_as_grass_and_a_strip_of_meadow_is_not_denied() -> None:
    assert not _is_green("dark brown") and _is_green("dark olive") and _is_green("grey-green")
    lab = field(70.0, 0.0, 6.0)
    lab[160:, :50] = (55.0, -22.0, 40.0)  # a thirtieth of it
    told = area(case_of(lab), kind_named("green_area")).text
    assert "almost no" not in told and "green" in told
    assert "almost no clear green" in area(case_of(field(70.0, 0.0, 6.0)), kind_named("green_area")).text


def test_no_colour_answers_itself() -> None:
    assert _alike("pale blue", "blue") and _alike("blue", "dark grey-blue") and not _alike("cream", "blue")
    assert _alike("grey-blue", "blue") and _alike("creamy yellow", "cream") and not _alike("grey-brown", "grey-blue")


def test_a_step_is_pressed_where_shapes_are_drawn_round_and_not_where_that_may_be_a_manner() -> None:
    case = case_of(field(50.0, 0.0, 4.0) + np.linspace(-40, 40, SIZE[1])[None, :, None] * np.array([1.0, 0, 0]))
    of = kind_named("outlines")
    for level, pressed in (("watch", False), ("rework", True)):
        made = (of.finding(level=level, text="Said.", figure=2.0, figure_text="", norm=""),)
        assert (verdict(case, made, ())[-1] == f"First step: {of.step}.") == pressed


def test_the_sun_is_not_greyed_and_the_same_gold_on_the_land_is_asked_about() -> None:
    kind = kind_named("loudest_colour")
    assert loudest_colour(case_of(evening(sun=(70, 250))), kind) is None
    told = loudest_colour(case_of(evening(sun=(205, 250))), kind)
    assert told is not None and told.level != "holds"


def test_leaves_are_not_spoken_of_where_none_grow() -> None:
    sea = field(72.0, -2.0, -6.0)
    sea[130:] = (48.0, -9.0, -9.0)
    assert strength(case_of(sea), kind_named("green_strength")) is None


@pytest.mark.parametrize("tone", [12.0, 96.0])
def test_the_largest_dark_or_light_is_told_though_three_middles_are_larger(tone: float) -> None:
    lab = field(50.0 if tone < 50 else 45.0, 0.0, 4.0)
    other = 96.0 if tone < 50 else 12.0
    for column in (85, 180, 275):
        lab[:, column : column + 8] = (other, 0.0, 4.0)
    lab[60:190, 290:] = (tone, 0.0, 4.0)
    text = masses(case_of(lab), kind_named("value_masses")).text
    assert ("a dark one" if tone < 50 else "a light one") in text


def test_darks_are_opened_where_there_are_any_and_named_where_they_lie() -> None:
    darks = next(hint for hint in HINTS if hint.id == "darks")
    lab = field(80.0, 0.0, 8.0)
    light = case_of(lab)
    lab[:, :200] = (9.0, 1.0, 2.0)
    dark = case_of(lab)
    assert darks.chance(light) < 0.1 < 0.6 < darks.chance(dark)
    assert "left" in darks.text(dark) and darks.text(dark).startswith("let a little light")


def test_nothing_in_a_plain_wood_is_told_as_a_line() -> None:
    wood = field(30.0, -6.0, 14.0)
    rng = np.random.default_rng(2)
    wood[..., 0] += np.kron(rng.normal(0, 12, (30, 45)), np.ones((8, 8)))
    halving = said(case_of(wood).picture, "halving")["halving"]
    assert halving.level == "holds" and "line" not in halving.text


def test_a_place_that_is_known_to_a_tenth_is_not_told_finer() -> None:
    assert roughly(0.57, 0.76) == "low, near the middle"
    assert roughly(0.61, 0.5) == "right of the middle" and roughly(0.4, 0.1) == "high, left of the middle"
    assert roughly(0.5, 0.5) == "near the middle"
    assert roughly(0.2, 0.5) == "on the left" and roughly(0.8, 0.2) == "high on the right"


def test_a_blue_day_is_not_told_as_leaning_to_green() -> None:
    sea = field(60.0, -9.0, -22.0)
    case = case_of(sea)
    assert -case.measures.cast.mean.a > GREENNESS_WATCH  # little red is in it
    assert green_cast(case, kind_named("green_cast")) is None
    assert green_cast(case_of(field(60.0, -9.0, 4.0)), kind_named("green_cast")) is not None


def test_of_small_things_that_is_told_first_for_which_a_step_is_offered() -> None:
    case = case_of(field(50.0, 0.0, 4.0) + np.linspace(-40, 40, SIZE[1])[None, :, None] * np.array([1.0, 0, 0]))
    watched = [
        kind_named(name).finding(level="watch", text="Said.", figure=figure, figure_text="", norm="")
        for name, figure in (("green_strength", 0.04), ("value_range", 4.0))
    ]
    step: Any = SimpleNamespace(kind="widen_values", subject="widen the values")
    assert "its values reach" in verdict(case, tuple(watched), (step,))[0]
    muted: Any = SimpleNamespace(kind="mute_greens", subject="mute the greens")
    assert "its greens are" in verdict(case, tuple(watched), (muted,))[0]


def test_values_that_touch_one_end_are_not_told_as_short_of_both() -> None:
    def ramp(dark: float, light: float, bend: float) -> Case:
        steps = np.linspace(0.0, 1.0, SIZE[1])[None, :, None] ** bend * np.array([1.0, 0.0, 0.0])
        return case_of(field(dark, 0.0, 3.0) + (light - dark) * steps)

    kind = kind_named("value_range")
    assert "full darks" in value_range(ramp(4.0, 70.0, 0.8), kind).text
    assert "full lights" in value_range(ramp(34.0, 97.0, 1.6), kind).text
    assert "short of both ends" in value_range(ramp(20.0, 80.0, 1.0), kind).text
    # However wide the range, darks that end at value 3.3 are no full ones: both readers of a veiled picture denied it.
    assert "room for full darks" in value_range(ramp(18.0, 99.0, 1.0), kind).text
    assert "full lights, and darks that are held back" in value_range(ramp(29.0, 100.0, 1.0), kind).text


@pytest.mark.parametrize(("reach", "level"), [(21.0, "holds"), (11.0, "watch")])
def test_colour_does_what_close_values_leave_undone_but_not_where_there_are_hardly_any(
    reach: float, level: str
) -> None:
    lab = field(76.0, 0.0, 30.0) + np.linspace(-reach, reach, SIZE[1])[None, :, None] * np.array([1.0, 0.0, 0.0])
    lab[:120, :, 1:] = (18.0, 34.0)
    case = case_of(lab)
    assert case.measures.values.key == "high" and case.measures.loudest.strong > 30
    assert value_range(case, kind_named("value_range")).level == level


@pytest.mark.parametrize(("firs", "level"), [((38.0, 46.0), "holds"), ((58.0, 62.0), "watch")])
def test_close_values_are_held_by_accents_of_dark_as_firs_hold_a_snowfield(
    firs: tuple[float, float], level: str
) -> None:
    lab = field(78.0, 0.0, -2.0) + np.linspace(0, 14, SIZE[1])[None, :, None] * np.array([1.0, 0.0, 0.0])
    lab[100:140, 40:62] = (firs[0], 0.0, 2.0)  # a twenty-fifth of the width, and less of the picture
    lab[100:160, 200:230] = (firs[1], 0.0, 2.0)
    values = case_of(lab).measures.values
    assert values.range < 4.6
    assert value_range(case_of(lab), kind_named("value_range")).level == level


def day(sky: tuple[float, float, float], land: tuple[float, float, float]) -> np.ndarray:
    """A sky, lighter toward the horizon, over two thirds; and land."""
    lab = field(*sky)
    lab[:160, :, 0] += np.linspace(-8, 8, 160)[:, None]
    lab[160:] = land
    return lab


def test_a_red_sky_is_no_cast_and_no_shout_and_the_same_red_on_the_land_is() -> None:
    red, dark = (60.0, 58.0, 44.0), (14.0, 2.0, 3.0)
    sunset, field_of_red = case_of(day(red, dark)), case_of(day(dark, red)[::-1].copy())
    titles = tuple(kind_named(kind).title for kind in ("loudest_colour", "colour_cast"))
    levels = {}
    for name, case in (("sky", sunset), ("land", case_of(day((80.0, -2.0, -8.0), red)))):
        findings = said(case.picture, *titles)
        levels[name] = tuple(findings[title].level if title in findings else "holds" for title in titles)
    assert field_of_red.measures.loudest.excess > 1.3
    assert levels["sky"][0] != "rework" and levels["sky"][1] == "holds"
    assert levels["land"][0] == "rework"


def test_a_blue_day_over_brown_land_is_no_cast_and_the_same_blue_on_all_of_it_is() -> None:
    blue_day = case_of(day((66.0, -2.0, -38.0), (40.0, 3.0, 10.0)))
    blue_light = case_of(day((66.0, -2.0, -38.0), (40.0, -1.0, -24.0)))
    asked = [colour_cast(case, kind_named("colour_cast")) for case in (blue_day, blue_light)]
    assert asked[0] is None and asked[1] is not None


def test_a_green_sea_is_told_as_water_and_no_share_of_it_as_leaves() -> None:
    case = case_of(day((82.0, 2.0, 10.0), (50.0, -18.0, 4.0)))
    told = []
    for share in (0.08, 0.4):  # that reads as grass or foliage
        seen = with_others(case.measures, reads_as_green=replace(case.measures.reads_as_green, share=share))
        told.append(area(replace(case, measures=seen), kind_named("green_area")).text)
    assert "water, sky or distance" in told[0] and "water" not in told[1]


def test_warm_and_cool_are_weighed_by_area_where_strength_says_the_contrary() -> None:
    lab = field(60.0, 4.0, 9.0)  # tan over three fifths, and a strong blue over two
    lab[:96] = (60.0, -6.0, -42.0)
    told = run_of_colours(case_of(lab), kind_named("colour_run"))
    assert told is not None and "warm over more of it, and cool the stronger" in told.text
    lab[:, :] = (60.0, -6.0, -42.0)
    lab[200:] = (60.0, 4.0, 9.0)
    told = run_of_colours(case_of(lab), kind_named("colour_run"))
    assert told is not None and "cool" in told.text and "the stronger" not in told.text


def test_a_thin_strip_of_blue_is_no_complement_and_a_broad_one_is() -> None:
    for rows, answers in ((9, False), (80, True)):
        lab = day((76.0, 0.0, 2.0), (45.0, 14.0, 26.0))
        lab[110 : 110 + rows] = (52.0, -4.0, -40.0)
        told = run_of_colours(case_of(lab), kind_named("colour_run"))
        assert told is not None and ("complements" in told.text) == answers


def test_a_sky_no_bluer_than_the_rest_is_no_cooler_light() -> None:
    for land, cooler in ((16.0, True), (2.0, False)):
        lab = day((82.0, 1.0, 2.0), (42.0, 14.0 if cooler else 20.0, land))
        told = run_of_colours(case_of(lab), kind_named("colour_run"))
        assert told is not None and ("cooler light of the sky" in told.text) == cooler


def test_sunlit_leaves_are_not_told_as_cool_and_a_blue_sea_is() -> None:
    """Readers of three green pictures denied that most of it is cool: a painter sees a warm green."""
    for colour, cool in (((50.0, -22.0, 24.0), False), ((50.0, -8.0, -30.0), True)):
        told = run_of_colours(case_of(field(*colour)), kind_named("colour_run"))
        assert told is not None and ("cool" in told.text) == cool


def test_what_answers_is_the_strongest_of_the_warm_and_not_the_browns_that_lie_about() -> None:
    lab = field(45.0, -30.0, 28.0)
    lab[150:166] = (40.0, 10.0, 16.0)  # a brown bank
    lab[60:64] = (48.0, 40.0, 22.0)  # red flowers, a quarter as much
    told = run_of_colours(case_of(lab), kind_named("colour_run"))
    assert told is not None and "the red answers it" in told.text


def test_colour_in_a_small_part_is_told_as_what_there_is_of_it() -> None:
    lab = field(45.0, 0.0, 0.0)
    lab[:40] = (60.0, 12.0, 40.0)
    told = run_of_colours(case_of(lab), kind_named("colour_run"))
    assert told is not None and told.text.startswith("What colour it has gathers about")
    lab[:160] = (60.0, 12.0, 40.0)
    told = run_of_colours(case_of(lab), kind_named("colour_run"))
    assert told is not None and told.text.startswith("Its colour gathers about")


def test_a_dark_strip_of_sky_is_no_light_that_answers() -> None:
    for light, answers in ((80.0, True), (35.0, False)):
        lab = day((light, 1.0, 2.0), (42.0, 30.0, 26.0))
        told = run_of_colours(case_of(lab), kind_named("colour_run"))
        assert told is not None and ("light of the sky" in told.text) == answers


def test_warm_and_cool_of_about_as_much_area_are_in_balance() -> None:
    lab = field(60.0, 10.0, 30.0)
    lab[: round(0.52 * len(lab))] = (60.0, -4.0, -20.0)
    told = run_of_colours(case_of(lab), kind_named("colour_run"))
    assert told is not None and "warm and cool in balance" in told.text
    lab[200:220] = (48.0, 48.0, 24.0)  # a strong red, which would answer a cool picture
    case = case_of(lab)
    peaks = case.measures.hue_peaks
    cool = replace(peaks, peaks=peaks.peaks[:2], temperature="more cool", facing=None)
    told = run_of_colours(replace(case, measures=with_others(case.measures, hue_peaks=cool)), kind_named("colour_run"))
    assert told is not None and "warm and cool in balance" in told.text
    assert "answers it" not in told.text  # what is in balance has no greater part to be answered


def test_what_is_in_balance_gathers_about_no_one_hue() -> None:
    """Two readers of a grey-violet water between browns asked why olive alone was named."""
    case = case_of(field(45.0, -2.0, 14.0))
    found = HuePeaks((HuePeak(100.0, 0.3),), None, 180.0, 0.5, "in balance")
    told = run_of_colours(replace(case, measures=with_others(case.measures, hue_peaks=found)), kind_named("colour_run"))
    assert told is not None and told.text == "No one hue leads it: warm and cool are in balance."


@pytest.mark.parametrize(("hue", "word"), [(120.0, "green"), (312.0, "violet")])
def test_a_green_or_a_violet_lies_half_to_either_side_and_leads_all_the_same(hue: float, word: str) -> None:
    """Readers of three such pictures denied that no one hue leads."""
    a, b = 20 * np.cos(np.radians(hue)), 20 * np.sin(np.radians(hue))
    found = HuePeaks((HuePeak(hue, 0.3),), None, hue, 0.5, "in balance")
    case = case_of(field(45.0, a, b))
    told = run_of_colours(replace(case, measures=with_others(case.measures, hue_peaks=found)), kind_named("colour_run"))
    assert told is not None and told.text.startswith("Its colour gathers about ") and word in told.text
    assert "balance" not in told.text


@pytest.mark.parametrize(("sky_sureness", "told"), [(0.8, True), (0.33, False)])
def test_far_land_lies_back_only_under_a_sky_that_is_sure(sky_sureness: float, told: bool) -> None:
    """In a tree full of blossom, taken for a sky by a third, readers saw no far land."""
    lab = field(35.0, -8.0, 18.0)
    lab[:80], lab[80:130] = (80, -3, -10), (55, -4, 4)
    case = case_of(lab)
    far, near = Land(0.2, 5.5, 6.0, 4.0, 0.3), Land(0.45, 3.5, 20.0, 18.0, 0.9)
    seen = with_others(
        case.measures,
        land_distance=LandDistance(far, near, lighter=2.0, quieter=14.0, cooler=14.0, calmer=0.6),
        parts=replace(case.measures.parts, land_sureness=0.7, sky_share=0.35, sky_sureness=sky_sureness),
    )
    found = land_distance(replace(case, measures=seen), kind_named("land_distance"))
    assert (found is not None) == told


def test_a_loud_spot_in_a_corner_is_told_as_leading_the_eye_out() -> None:
    """Both readers of a lake with red leaves in its corner would take them out first; nothing grave was found."""
    lab = field(62.0, 2.0, 12.0)
    lab[:100] = (78.0, -4.0, -14.0)
    lab[212:, 318:] = (48.0, 56.0, 47.0)
    told = loudest_colour(case_of(lab), kind_named("loudest_colour"))
    assert told is not None and told.level == "rework"
    assert "in the lower right, lies at the edge of the picture and leads the eye out" in told.text


@pytest.mark.parametrize(("lightness", "level"), [(55.0, "rework"), (90.0, "watch")])
def test_greys_all_over_are_dead_but_the_quiet_of_snow_may_be_meant(lightness: float, level: str) -> None:
    steps = np.linspace(-9.0, 9.0, SIZE[1])[None, :, None] * np.array([1.0, 0.0, 0.0])
    lab = field(lightness, 0.5, 1.0) + steps
    lab[:20, :20, 1:] = (6.0, 4.0)
    found = dead_colour(case_of(lab), kind_named("dead_colour"))
    assert found is not None and found.level == level
    assert ("Fog and snow may be so" in found.text) == (level == "watch")
