"""The loudest colour, dead colour, hues that face each other, warm and cool, on scenes whose figure is known."""

import numpy as np
import pytest
from scenes import EARTH, MEADOW, SKY, bands, doubled, mirrored, painted

from critique.advice.fault_limits import EVEN_A_THING, at_the_rim, is_raw_spot, judge_dead_colour, judge_loudest
from critique.measures.hue_peaks import measure_hue_peaks, wheel_angle
from critique.measures.loudest import HEARD, measure_loudest
from critique.perception.cielab import lab_to_srgb8, lch_to_lab
from critique.perception.hue import LIGHT_WHEEL
from critique.picture.picture import picture_from_srgb


def with_patch(colour, x=(0.6, 0.75), y=(0.6, 0.8)):
    """A quiet landscape with a patch of another colour, its corners as fractions."""
    lab = np.empty((426, 640, 3), dtype=np.float32)
    lab[:213], lab[213:] = SKY, EARTH
    lab[round(y[0] * 426) : round(y[1] * 426), round(x[0] * 640) : round(x[1] * 640)] = colour
    return picture_from_srgb(lab_to_srgb8(lab))


@pytest.mark.parametrize(("hue", "chroma"), ((350, 60), (312, 60), (285, 58), (205, 36), (40, 68), (95, 78)))
def test_a_garish_patch_of_any_hue_is_found_with_its_hue_chroma_share_and_place(hue, chroma):
    lightness = {95: 85, 205: 70}.get(hue, 55)
    loud = measure_loudest(with_patch(lch_to_lab(np.array([lightness, chroma, hue]))))
    assert abs((loud.hue - hue + 180) % 360 - 180) < 3
    assert loud.chroma == pytest.approx(chroma, rel=0.06)
    assert loud.share == pytest.approx(0.03, abs=0.006)
    assert (loud.x, loud.y) == (pytest.approx(0.675, abs=0.02), pytest.approx(0.7, abs=0.02))
    assert loud.mask.mean() == pytest.approx(loud.share)
    assert judge_loudest(loud) != "holds"


def test_an_earth_a_sky_and_a_meadow_are_not_loud_and_not_dead():
    calm = measure_loudest(bands((0.4, SKY), (0.3, MEADOW), (0.3, EARTH)))
    assert judge_loudest(calm) == "holds" and judge_dead_colour(calm) == "holds"


def test_a_small_loud_accent_is_where_it_should_be_when_the_eye_settles_on_it():
    loud = measure_loudest(with_patch(lch_to_lab(np.array([50, 70, 350])), x=(0.6, 0.7), y=(0.6, 0.75)))
    assert loud.share < 0.02
    assert judge_loudest(loud, focus=(0.66, 0.68)) == "holds"
    assert judge_loudest(loud, focus=(0.2, 0.4)) != "holds"


def test_a_loud_spot_in_a_corner_leads_the_eye_out_and_the_same_one_farther_in_is_only_to_watch():
    red = lch_to_lab(np.array([48, 72, 40]))
    corner, inside = (measure_loudest(with_patch(red, x=(x, x + 0.07), y=(0.85, 1.0))) for x in (0.93, 0.5))
    assert corner.in_border > 0.95 and inside.in_border < 0.95
    higher = measure_loudest(with_patch(red, x=(0.5, 0.6), y=(0.6, 0.72)))
    assert higher.in_border == 0.0 and 1.0 < higher.excess < 1.35
    assert judge_loudest(corner) == "rework" and judge_loudest(higher) == "watch"


def test_a_raw_sky_over_two_fifths_is_to_rework_and_over_a_strip_to_watch_though_the_meadow_is_strong_too():
    """Two readers each of two such pictures would mend the sky first, and only then the greens."""
    raw, green = lch_to_lab(np.array([47, 52, 275])), lch_to_lab(np.array([52, 58, 128]))
    wide, strip = (measure_loudest(bands((part, raw), (0.95 - part, green), (0.05, EARTH))) for part in (0.42, 0.12))
    assert wide.hue == pytest.approx(275, abs=3) and 1.2 <= wide.excess < 1.35
    assert judge_loudest(wide) == "rework" and judge_loudest(strip) != "rework"


def test_the_colour_that_a_picture_is_painted_in_is_not_its_loudest() -> None:
    """Of ripe grass under a blue sky a reader said that it is the subject, and nobody would grey it."""
    ripe, stalks = lch_to_lab(np.array([62, 62, 76])), lch_to_lab(np.array([58, 38, 80]))
    field, alone = (measure_loudest(bands((0.7, rest), (0.3, ripe))) for rest in (stalks, (58.0, 2.0, 8.0)))
    for loud in (field, alone):
        assert 1.0 < loud.excess < 1.35 and loud.share > 0.2
    assert judge_loudest(field) == "holds" and judge_loudest(alone) == "watch"


def test_a_ground_that_a_small_light_outshines_is_not_the_loudest():
    night = np.empty((426, 640, 3), dtype=np.float32)
    night[:170] = lch_to_lab(np.array([40, 45, 285]))
    night[170:] = (20, 1, -4)
    by_itself = measure_loudest(picture_from_srgb(lab_to_srgb8(night)))
    night[40:80, 500:540] = lch_to_lab(np.array([75, 66, 75]))
    under_a_moon = measure_loudest(picture_from_srgb(lab_to_srgb8(night)))
    assert judge_loudest(by_itself) == "watch" and judge_loudest(under_a_moon) == "holds"


def test_a_colour_beside_a_stronger_one_is_not_the_loudest_and_beside_its_equal_it_is_answered():
    """Readers of a violet night over a terrace: yellow is louder; of a dune: it lives on blue against orange."""

    def night_over_terrace(chroma):
        lab = np.empty((426, 640, 3), dtype=np.float32)
        lab[:] = lch_to_lab(np.array([30, 10, 290]))
        lab[:60] = lch_to_lab(np.array([45, 60, 306]))
        lab[300:, :200] = lch_to_lab(np.array([78, chroma, 88]))
        return measure_loudest(picture_from_srgb(lab_to_srgb8(lab)))

    levels = {chroma: judge_loudest(night_over_terrace(chroma)) for chroma in (20, 60, 76)}
    assert levels == {20: "rework", 60: "watch", 76: "holds"}


def test_roofs_that_a_picture_is_about_may_be_its_loudest_and_elsewhere_they_shout():
    loud = measure_loudest(with_patch(lch_to_lab(np.array([55, 85, 45])), x=(0.6, 0.75), y=(0.5, 0.75)))
    assert judge_loudest(loud, focus=(0.3, 0.4)) == "rework"
    assert judge_loudest(loud, focus=(0.72, 0.6)) == "watch"


def test_greens_are_left_to_the_findings_on_green():
    loud = measure_loudest(with_patch(lch_to_lab(np.array([60, 75, 136]))))
    assert loud.excess > 1 and judge_loudest(loud) == "holds"


def test_one_brown_over_lights_and_darks_is_dead_and_a_blue_far_off_relieves_it():
    brown = np.array([4.0, 13.5]) / (80 + 16)  # a paint keeps its chromaticity: a* and b* go with L* + 16
    washed = [(part, (light, *(brown * (light + 16)))) for part, light in ((0.4, 80), (0.35, 55), (0.25, 20))]
    one = measure_loudest(bands(*washed))
    assert one.off_one_tone < 1.5 and one.strong > 10 and judge_dead_colour(one) == "watch"
    relieved = bands(washed[0], (0.3, washed[1][1]), (0.05, (55, -2, -12)), washed[2])
    assert judge_dead_colour(measure_loudest(relieved)) == "holds"


def test_mud_all_over_is_dead_and_one_red_boat_relieves_it():
    mud = ((0.5, (70, 2, 6)), (0.5, (35, 4, 7)))
    assert judge_dead_colour(measure_loudest(bands(*mud))) == "watch"
    assert judge_dead_colour(measure_loudest(bands((0.5, (70, 0.5, 1)), (0.5, (35, 1, 1))))) == "rework"
    relieved = bands((0.5, (70, 2, 6)), (0.47, (35, 4, 7)), (0.03, (45, 45, 30)))
    assert judge_dead_colour(measure_loudest(relieved)) == "holds"


def test_a_rust_that_stands_off_all_the_greys_speaks_and_a_lean_in_half_of_them_does_not():
    greys = ((0.5, (70, -1, -4)), (0.5, (45, -1, -4)))
    assert judge_dead_colour(measure_loudest(bands(*greys))) != "holds"
    rust = bands((0.5, (70, -1, -4)), (0.46, (45, -1, -4)), (0.04, (45, 5, 9)))
    assert judge_dead_colour(measure_loudest(rust)) == "holds"
    halves = bands((0.5, (70, -1, -9)), (0.5, (45, 2, 7)))
    assert measure_loudest(halves).farthest_off > 8 and judge_dead_colour(measure_loudest(halves)) != "holds"


def test_the_stations_of_the_wheel_lie_sixty_degrees_apart_and_opposites_half_a_turn():
    places = {station.name: wheel_angle(station.hue) for station in LIGHT_WHEEL}
    assert sorted(round(place) for place in places.values()) == [0, 60, 120, 180, 240, 300]
    for station in LIGHT_WHEEL:
        assert abs(places[station.name] - places[station.opposite]) == pytest.approx(180)


@pytest.mark.parametrize("pair", (("red", "cyan"), ("yellow", "blue"), ("green", "magenta")))
def test_two_stations_that_are_opposite_face_each_other(pair):
    hues = {station.name: station.hue for station in LIGHT_WHEEL}
    colours = [lch_to_lab(np.array([55, 30, hues[name]])) for name in pair]
    peaks = measure_hue_peaks(bands((0.5, colours[0]), (0.5, colours[1])))
    assert peaks.facing is not None and peaks.off_by < 4
    assert len(peaks.peaks) == 2 and peaks.peaks[0].share == pytest.approx(0.5, abs=0.03)


def test_neighbours_on_the_wheel_do_not_face_each_other():
    peaks = measure_hue_peaks(
        bands((0.5, lch_to_lab(np.array([55, 30, 40]))), (0.5, lch_to_lab(np.array([55, 30, 103]))))
    )
    assert peaks.facing is None and peaks.off_by == 180
    assert (peaks.warm_share, peaks.temperature) == (pytest.approx(1), "warm")


@pytest.mark.parametrize(
    ("warm_part", "word"),
    ((0.97, "warm"), (0.75, "more warm"), (0.5, "in balance"), (0.25, "more cool"), (0.03, "cool")),
)
def test_warm_and_cool_have_one_word_by_their_chroma(warm_part, word):
    picture = bands(
        (warm_part, lch_to_lab(np.array([55, 25, 60]))), (1 - warm_part, lch_to_lab(np.array([55, 25, 250])))
    )
    peaks = measure_hue_peaks(picture)
    assert peaks.warm_share == pytest.approx(warm_part, abs=0.02)
    assert peaks.temperature == word


def test_greys_have_no_temperature_and_no_peaks():
    peaks = measure_hue_peaks(bands((0.5, (70, 0, 0)), (0.5, (30, 1, 1))))
    assert (peaks.temperature, peaks.peaks, peaks.facing) == ("grey", (), None)


@pytest.mark.slow
def test_mirrored_and_doubled_pictures_have_the_same_colours():
    picture = painted(width=640, height=426)
    loud, peaks = measure_loudest(picture), measure_hue_peaks(picture)
    for other in (mirrored(picture), doubled(picture)):
        again = measure_loudest(other)
        assert again.excess == pytest.approx(loud.excess, rel=0.04)
        assert abs((again.hue - loud.hue + 180) % 360 - 180) < 4
        assert measure_hue_peaks(other).warm_share == pytest.approx(peaks.warm_share, abs=0.01)
        assert measure_hue_peaks(other).temperature == peaks.temperature
    assert measure_loudest(mirrored(picture)).x == pytest.approx(1 - loud.x, abs=0.02)


@pytest.mark.parametrize("shape", ((1, 1), (2, 9), (5, 640)))
def test_a_blank_has_no_loudest_colour(shape):
    blank = picture_from_srgb(np.full((*shape, 3), 255, dtype=np.uint8))
    loud = measure_loudest(blank)
    assert (loud.chroma, loud.excess, loud.share) == (0.0, 0.0, 0.0)
    assert judge_loudest(loud) == "holds"
    assert measure_hue_peaks(blank).temperature == "grey"


def test_one_small_raw_thing_shouts_even_where_the_eye_is_a_red_coat_does_not_and_one_at_the_edge_leads_out():
    """A flat raw red roof over a third of a hundredth: two readers would mend it first."""
    place = {"x": (0.5, 0.56), "y": (0.3, 0.37)}
    raw = measure_loudest(with_patch(lch_to_lab(np.array([55, 92, 38])), **place))
    coat = measure_loudest(with_patch(lch_to_lab(np.array([48, 58, 38])), **place))
    rim = measure_loudest(with_patch(lch_to_lab(np.array([55, 92, 38])), x=(0.95, 1.0), y=(0.3, 0.38)))
    assert (
        is_raw_spot(raw)
        and raw.share < HEARD
        and (raw.x, raw.y) == (pytest.approx(0.53, abs=0.02), pytest.approx(0.335, abs=0.02))
    )
    assert judge_loudest(raw, focus=(0.53, 0.335)) == "rework"
    assert not is_raw_spot(coat) and judge_loudest(coat, focus=(0.53, 0.335)) == "holds"
    assert at_the_rim(rim) and judge_loudest(rim, focus=(0.53, 0.335)) == "rework"


def test_what_the_eye_is_to_go_to_shouts_as_well_from_twice_what_landscapes_reach():
    """A hill of raw violet is nobody's subject; a red boat of a good half more than landscapes reach may be."""
    hill, boat = (
        measure_loudest(with_patch(lch_to_lab(np.array([lightness, chroma, hue])), x=(0.42, 0.6), y=(0.5, 0.7)))
        for lightness, chroma, hue in ((33, 87, 313), (50, 80, 38))
    )
    assert hill.excess >= EVEN_A_THING > boat.excess > 1.35 and not is_raw_spot(hill)
    assert judge_loudest(hill, focus=(0.51, 0.6)) == "rework" and judge_loudest(boat, focus=(0.51, 0.6)) == "watch"
    assert judge_loudest(boat, focus=(0.1, 0.2)) == "rework"
