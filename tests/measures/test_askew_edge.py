"""Which slanting edge should lie level is checked on edges whose course, colours and neighbours are known."""

from dataclasses import replace

import numpy as np
import pytest

from critique.advice.fault_limits import judge_water
from critique.measures.askew_edge import askew_cues, likeliest_askew
from critique.measures.grain import Grain, grain_of
from critique.measures.level_lines import LevelLine, level_lines
from critique.measures.parts import NEAR, Parts, measure_parts
from critique.measures.steep_edge import steep_lines
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


def told(picture: Picture) -> LevelLine | None:
    lab = lab_at(picture, 400)
    return likeliest_askew(lab, all_land(picture), level_lines(lab), grain_of(lab))


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
    grain, parts = grain_of(lab), all_land(picture)
    cues = askew_cues(lab, parts, (*lines, level_one), grain)[line]
    assert cues["level_ones"] == pytest.approx(0.83)
    assert cues["water"] == pytest.approx(0.05, abs=0.001)
    assert cues["yellower"] < 0  # CIELAB b*: blue under a nearly grey sky
    wavering = scene(wavering=0.012)
    other = lab_at(wavering, 400)
    assert askew_cues(other, parts, (line,), grain)[line]["wavering"] > cues["wavering"] + 0.5
    ochre = lab_at(scene(OCHRE), 400)
    assert askew_cues(ochre, parts, (line,), grain)[line]["yellower"] > 1


def test_a_meadow_with_no_sky_on_its_edge_and_no_water_in_it_may_slant() -> None:
    picture = scene()
    lab, parts = lab_at(picture, 400), all_land(picture)
    assert likeliest_askew(lab, parts, level_lines(lab), grain_of(lab)) is not None
    wood = np.where(parts.labels == 0, NEAR, parts.labels)
    assert likeliest_askew(lab, replace(parts, labels=wood), level_lines(lab), grain_of(lab)) is None


@pytest.mark.parametrize("plainness", [1.2, 2.0])
def test_strokes_that_follow_a_slope_make_no_far_edge_of_it(plainness: float) -> None:
    """Told of three hillsides whose strokes or trees all lean with them, though the slope was meant."""
    picture = scene(OCHRE, wavering=0.012)
    lab, parts = lab_at(picture, 400), all_land(picture)
    wood = replace(parts, labels=np.where(parts.labels == 0, NEAR, parts.labels))
    line = LevelLine(y=0.55, tilt=13.0, agreement=0.7, length=0.8, x1=0.0, x2=1.0)
    assert likeliest_askew(lab, wood, (line,), Grain(tilt=14.0, plainness=plainness)) is None


@pytest.mark.parametrize("fall", [-13.0, 13.0])
def test_a_shore_of_blue_water_that_falls_steeply_is_found_among_the_steep_edges(fall: float) -> None:
    picture = scene(fall=fall)
    lab = lab_at(picture, 400)
    found = likeliest_askew(lab, all_land(picture), (*level_lines(lab), *steep_lines(lab)), grain_of(lab))
    assert found is not None and found.tilt == pytest.approx(fall, abs=1.0)


@pytest.mark.parametrize(("agreement", "meant"), [(0.7, True), (0.76, False)])
def test_one_with_a_level_edge_as_plain_beside_it_is_none(agreement: float, meant: bool) -> None:
    """As a bank, or boats drawn up in a row, before the far shore of a lake."""
    picture = scene()
    lab = lab_at(picture, 400)
    slanting = replace(next(line for line in level_lines(lab) if abs(line.tilt) > 4), agreement=0.74)
    level = LevelLine(y=0.8, tilt=0.0, agreement=agreement, length=0.8, x1=0.0, x2=1.0)
    found = likeliest_askew(lab, all_land(picture), (level, slanting), grain_of(lab))
    assert (found is slanting) == meant
