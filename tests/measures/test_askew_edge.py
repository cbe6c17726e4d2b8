"""Which slanting edge should lie level is checked on edges whose course, colours and neighbours are known."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from critique.advice.fault_limits import judge_water
from critique.measures.askew_edge import askew_cues, likeliest_askew, with_strokes
from critique.measures.grain import Grain, grain_of
from critique.measures.level_lines import LevelLine, level_lines
from critique.measures.parts import NEAR, WATER, Parts, measure_parts
from critique.measures.parts import SKY as AIR
from critique.measures.salience import Float
from critique.measures.steep_lines import steep_lines
from critique.measures.water_level import measure_water_level
from critique.picture.picture import Picture, lab_at, picture_from_srgb

HEIGHT, WIDTH, FALL = 400, 600, 5.0
BLUE, OCHRE = (70, 96, 122), (188, 152, 84)


def scene(below: tuple[int, int, int] = BLUE, wavering: float = 0.0, fall: float = FALL) -> Picture:
    """Broken clouds over broken waves, parted by an edge that falls, and wavers by a part of the height."""
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    rng = np.random.default_rng(3)
    course = np.interp(np.arange(WIDTH), np.arange(0, WIDTH + 40, 40), rng.normal(0, wavering, WIDTH // 40 + 1))
    edge = 0.55 * HEIGHT + np.tan(np.radians(fall)) * (across - WIDTH / 2) + HEIGHT * course[None]
    touches = rng.normal(0, 9, (HEIGHT // 10, WIDTH // 20)).repeat(10, axis=0).repeat(20, axis=1)
    codes = np.where((down > edge)[..., None], below, (196, 206, 214)) + touches[..., None]
    return picture_from_srgb(np.rint(np.clip(codes, 0, 255)).astype(np.uint8))


def all_land(picture: Picture) -> Parts:
    """The parts of a picture, everything below its sky taken for land."""
    parts = measure_parts(picture)
    labels = np.full_like(parts.labels, NEAR)
    labels[: round(0.52 * len(labels))] = 0
    chance = np.tile(np.array([0.1, 0.05, 0.05, 0.8], dtype=np.float32), (len(parts.chance), 1))
    return replace(parts, labels=labels, chance=chance, horizon=0.55)


def grain_asked(lab: Float) -> Callable[[], Grain]:
    return lambda: grain_of(lab)


def told(picture: Picture) -> LevelLine | None:
    lab = lab_at(picture, 400)
    return likeliest_askew(lab, all_land(picture), level_lines(lab), grain_asked(lab))


@pytest.mark.parametrize("fall", [-FALL, FALL])
def test_a_sea_that_is_taken_for_land_runs_downhill_all_the_same(fall: float) -> None:
    picture = scene(fall=fall)
    level = measure_water_level(picture, all_land(picture))
    assert level.tilt == pytest.approx(fall, abs=0.5)
    assert judge_water(level) != "holds"


def test_a_slope_wavers() -> None:
    assert told(scene()) is not None
    assert told(scene(wavering=0.012)) is None


def test_a_level_one_is_none() -> None:
    assert told(scene(fall=0.0)) is None
    assert told(scene(fall=1.5)) is None


def test_what_speaks_for_an_edge_is_measured_on_it() -> None:
    picture = scene()
    lab = lab_at(picture, 400)
    lines = level_lines(lab)
    line = max(lines, key=lambda each: each.agreement)
    level_one = LevelLine(y=0.9, tilt=0.0, agreement=0.83, length=0.8, x1=0.1, x2=0.9)
    parts = all_land(picture)
    cues = askew_cues(lab, parts, (*lines, level_one), [line])[line]
    assert cues["level_one_plainer"] == pytest.approx((0.83 - line.agreement) / 0.2)
    assert cues["length"] == line.length
    assert cues["falls_far"] == 0.0
    assert cues["water"] == pytest.approx(0.05, abs=0.001)
    assert cues["yellower"] < 0  # CIELAB b*: blue under a nearly grey sky
    wavering = scene(wavering=0.012)
    other = lab_at(wavering, 400)
    assert askew_cues(other, parts, (line,), [line])[line]["wavering"] > cues["wavering"] + 0.5
    ochre = lab_at(scene(OCHRE), 400)
    assert askew_cues(ochre, parts, (line,), [line])[line]["yellower"] > 1
    pale = lab_at(scene((186, 196, 206)), 400)
    assert askew_cues(pale, parts, (line,), [line])[line]["parted"] < cues["parted"] - 1


def test_strokes_say_the_less_the_more_they_lean_another_way() -> None:
    line = LevelLine(y=0.5, tilt=6.0, agreement=0.8, length=0.8, x1=0.0, x2=1.0)
    assert with_strokes(line, Grain(tilt=6.0, plainness=1.8)) == pytest.approx(1.8)
    assert with_strokes(line, Grain(tilt=4.0, plainness=1.8)) == pytest.approx(0.9)
    assert with_strokes(line, Grain(tilt=0.0, plainness=2.5)) == 0
    assert with_strokes(line, Grain(tilt=6.0, plainness=9.0)) == with_strokes(line, Grain(tilt=6.0, plainness=4.0))


def test_strokes_are_asked_only_where_they_may_tip_the_scales() -> None:
    def unasked() -> Grain:
        raise AssertionError

    level = scene(fall=1.0)
    wood = scene(OCHRE, wavering=0.05)
    for picture in (level, wood):
        lab = lab_at(picture, 400)
        assert likeliest_askew(lab, all_land(picture), level_lines(lab), unasked) is None


def test_a_meadow_with_no_sky_on_its_edge_and_no_water_in_it_may_slant() -> None:
    picture = scene()
    lab, parts = lab_at(picture, 400), all_land(picture)
    assert likeliest_askew(lab, parts, level_lines(lab), grain_asked(lab)) is not None
    wood = np.where(parts.labels == 0, NEAR, parts.labels)
    assert likeliest_askew(lab, replace(parts, labels=wood), level_lines(lab), grain_asked(lab)) is None


@pytest.mark.parametrize("plainness", [1.2, 2.0])
def test_strokes_that_follow_a_slope_make_no_far_edge_of_it(plainness: float) -> None:
    """Told of three hillsides whose strokes or trees all lean with them, though the slope was meant."""
    picture = scene(OCHRE, wavering=0.012)
    lab, parts = lab_at(picture, 400), all_land(picture)
    wood = replace(parts, labels=np.where(parts.labels == 0, NEAR, parts.labels))
    line = LevelLine(y=0.55, tilt=13.0, agreement=0.7, length=0.8, x1=0.0, x2=1.0)
    assert likeliest_askew(lab, wood, (line,), lambda: Grain(tilt=14.0, plainness=plainness)) is None


@pytest.mark.parametrize("fall", [-13.0, 13.0])
def test_a_shore_of_blue_water_that_falls_steeply_is_found_among_the_steep_edges(fall: float) -> None:
    picture = scene(fall=fall)
    lab = lab_at(picture, 400)
    found = likeliest_askew(lab, all_land(picture), (*level_lines(lab), *steep_lines(lab)), grain_asked(lab))
    assert found is not None and found.tilt == pytest.approx(fall, abs=1.0)


@pytest.mark.parametrize(("agreement", "meant"), [(0.7, True), (0.76, False)])
def test_one_with_a_level_edge_as_plain_beside_it_is_none(agreement: float, meant: bool) -> None:
    """As a bank, or boats drawn up in a row, before the far shore of a lake."""
    picture = scene()
    lab = lab_at(picture, 400)
    slanting = replace(next(line for line in level_lines(lab) if abs(line.tilt) > 4), agreement=0.74)
    level = LevelLine(y=0.8, tilt=0.0, agreement=agreement, length=0.8, x1=0.0, x2=1.0)
    found = likeliest_askew(lab, all_land(picture), (level, slanting), grain_asked(lab))
    assert (found is slanting) == meant


@pytest.mark.parametrize(("over", "told"), [(AIR, True), (WATER, False)])
def test_a_wave_with_water_on_both_its_sides_may_slant(over: int, told: bool) -> None:
    picture = scene()
    lab, parts = lab_at(picture, 400), all_land(picture)
    labels = np.full_like(parts.labels, WATER)
    labels[: round(0.52 * len(labels))] = over
    waves = replace(parts, labels=labels)
    assert (likeliest_askew(lab, waves, level_lines(lab), grain_asked(lab)) is not None) is told


def test_a_level_streak_of_cloud_is_no_level_edge() -> None:
    picture = scene()
    lab, parts = lab_at(picture, 400), all_land(picture)
    streak = LevelLine(y=0.25, tilt=0.0, agreement=0.99, length=0.9, x1=0.0, x2=1.0)
    bank = replace(streak, y=0.8)
    for other, told in ((streak, True), (bank, False)):
        found = likeliest_askew(lab, parts, (*level_lines(lab), other), grain_asked(lab))
        assert (found is not None) is told
