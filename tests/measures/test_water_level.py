"""How level water lies is checked on seas that were tilted by a known angle."""

from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from scenes import MEADOW, SKY, bands, painted

from critique.advice.fault_limits import judge_water
from critique.measures import water_level
from critique.measures.askew_edge import likeliest_askew
from critique.measures.grain import Grain, grain_of
from critique.measures.horizon_lines import calm_sea, is_horizon
from critique.measures.level_lines import LevelLine
from critique.measures.part_chances import WATER as WATERS_CHANCE
from critique.measures.parts import NEAR, WATER, Parts, measure_parts
from critique.measures.parts import SKY as AIR
from critique.measures.salience import Float
from critique.measures.water_level import WaterLevel, measure_water_level
from critique.picture.picture import Picture, lab_at, picture_from_srgb

HEIGHT, WIDTH = 400, 600


def sea(tilt: float, height: float = 0.55, seed: int = 3) -> Picture:
    """A calm sky over a sea of level waves, the whole turned by ``tilt`` degrees (above 0: falling to the right)."""
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    below = down - height * HEIGHT - np.tan(np.radians(tilt)) * (across - WIDTH / 2)
    waves = np.random.default_rng(seed).normal(0, 12, HEIGHT * 3)
    wave = waves[np.clip(below + HEIGHT, 0, 3 * HEIGHT - 1).astype(int) // 3]
    scene = np.where((below < 0)[..., None], (196, 206, 214), np.array((70, 96, 112)) + wave[..., None])
    scene = scene + np.random.default_rng(seed).normal(0, 1.5, (HEIGHT, WIDTH, 1))
    return picture_from_srgb(np.rint(np.clip(scene, 0, 255)).astype(np.uint8))


def level_of(picture: Picture) -> WaterLevel:
    return measure_water_level(picture, measure_parts(picture))


def land_for_water(parts: Parts) -> Parts:
    """The parts of a picture, its water taken for land."""
    chance = np.where(np.arange(parts.chance.shape[1]) == WATERS_CHANCE, np.float32(0.05), parts.chance)
    return replace(parts, labels=np.where(parts.labels == WATER, NEAR, parts.labels).astype(np.uint8), chance=chance)


@pytest.mark.slow
@pytest.mark.parametrize("tilt", [-5.0, -3.5, -1.0, 0.0, 1.0, 3.5, 5.0])
def test_the_tilt_of_a_sea_is_found(tilt: float) -> None:
    level = level_of(sea(tilt))
    assert level.found
    assert level.tilt == pytest.approx(tilt, abs=0.4)


@pytest.mark.parametrize(
    ("tilt", "fault"),
    [(0.0, "holds"), (1.5, "holds"), (-2.0, "holds"), (2.6, "watch"), (-3.5, "watch"), (5.0, "rework")],
)
def test_a_sea_runs_downhill_only_beyond_what_a_camera_held_askew_makes(tilt: float, fault: str) -> None:
    assert judge_water(level_of(sea(tilt))) == fault


def test_mirrored_the_water_falls_the_other_way() -> None:
    picture = sea(4.0)
    other = level_of(picture_from_srgb(np.ascontiguousarray(picture.srgb[:, ::-1])))
    assert other.tilt == pytest.approx(-level_of(picture).tilt, abs=0.2)


def test_blotches_have_no_water_line() -> None:
    assert judge_water(level_of(painted())) == "holds"
    assert level_of(bands((0.5, SKY), (0.5, MEADOW))).tilt == pytest.approx(0, abs=0.2)


def test_a_steep_slope_is_no_sea() -> None:
    assert not level_of(sea(20.0)).found


def lake(tilt: float) -> Picture:
    """No calm lies above the shore: trees stand there, and their image upside down below."""
    rng = np.random.default_rng(4)
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    crowns = 40 + 30 * np.interp(np.arange(WIDTH), np.arange(0, WIDTH, 20), rng.random(WIDTH // 20))
    ripples = rng.normal(0, 6, HEIGHT)
    tones = np.interp(np.arange(WIDTH), np.arange(0, WIDTH, 15), rng.uniform(40, 110, WIDTH // 15))
    off = down - 0.6 * HEIGHT - np.tan(np.radians(tilt)) * (across - WIDTH / 2)
    wood = np.abs(off) < crowns[None]
    shade = np.where(wood, tones[None] * np.where(off > 0, 0.75, 1.0), np.where(off > 0, 150, 200))
    shade = shade + (off > 0) * ripples[np.clip(off, 0, HEIGHT - 1).astype(int) // 2]
    return picture_from_srgb(np.rint(np.clip(shade[..., None] * (0.9, 1.0, 0.95), 0, 255)).astype(np.uint8))


def test_a_lake_under_a_wood_is_known_by_what_it_mirrors() -> None:
    assert judge_water(level_of(lake(0.0))) == "holds"
    assert judge_water(level_of(lake(3.5))) == "watch"


@pytest.mark.parametrize(("agreement", "told"), [(0.8, False), (0.95, True)])
def test_a_bank_in_the_water_slants_as_it_likes_though_it_is_mirrored(
    agreement: float, told: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(water_level, "grain_of", lambda lab: Grain(0.0, 0.0))  # the ripples lean with it
    picture = lake(3.5)
    parts = measure_parts(picture)
    edge = LevelLine(y=0.6, tilt=3.5, agreement=agreement, length=0.8, x1=0.1, x2=0.9)
    assert measure_water_level(picture, parts, lines=(edge,)).found
    in_water = replace(parts, labels=np.full_like(parts.labels, WATER))
    assert measure_water_level(picture, in_water, lines=(edge,)).found is told


@pytest.mark.parametrize("tilt", [-9.0, 7.0])
def test_a_lake_taken_for_land_is_known_by_its_edge_right_across_and_what_it_mirrors(tilt: float) -> None:
    lab, parts = looked_at(lake(tilt))
    dry = land_for_water(parts)
    edge = LevelLine(y=0.6, tilt=tilt, agreement=0.82, length=0.87, x1=0.05, x2=0.95)
    grain = partial(grain_of, lab)
    assert likeliest_askew(lab, dry, (edge,), grain) is edge
    mirrors_nothing = np.ascontiguousarray(np.where(np.arange(len(lab))[:, None, None] > 0.62 * len(lab), lab[:1], lab))
    assert likeliest_askew(mirrors_nothing, dry, (edge,), grain) is None


def test_a_bank_that_slants_under_a_level_horizon_is_no_fault() -> None:
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    bank = down > 0.78 * HEIGHT + np.tan(np.radians(3.5)) * (across - WIDTH / 2)
    scene = np.where(bank[..., None], (96, 104, 66), sea(0.0).srgb)
    assert judge_water(level_of(picture_from_srgb(np.rint(scene).astype(np.uint8)))) == "holds"


def test_an_edge_with_no_sky_over_it_is_the_far_one_only_where_it_is_ruled() -> None:
    """Half way down a sea: a floe or a bar of sand may slant there, a horizon would be as plain as a ruler's line."""
    picture = sea(0.0, 0.3)
    parts = measure_parts(picture)

    def told(agreement: float) -> WaterLevel:
        edge = LevelLine(y=0.7, tilt=3.2, agreement=agreement, length=0.8, x1=0.1, x2=0.9)
        return measure_water_level(picture, parts, lines=(edge,))

    assert not told(0.75).found
    assert told(0.95).tilt == pytest.approx(3.2)


def test_of_two_edges_the_plainer_one_is_told() -> None:
    picture = np.array(sea(0.0, height=0.4).srgb)
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    shore = down - 0.72 * HEIGHT - np.tan(np.radians(4.0)) * (across - WIDTH / 2) > 0
    rough = np.random.default_rng(5).normal(0, 25, (HEIGHT, WIDTH, 1))
    picture[shore] = np.clip(np.array((150, 128, 92)) + rough, 0, 255)[shore]
    level = level_of(picture_from_srgb(picture))
    assert judge_water(level) == "holds"


def edge(y: float, tilt: float, agreement: float = 0.75, length: float = 0.75) -> LevelLine:
    return LevelLine(y=y, tilt=tilt, agreement=agreement, length=length, x1=0.1, x2=0.9)


@pytest.mark.parametrize(
    ("lower", "told"), [((2.6, 3.4), True), ((3.0, 0.2), False), ((3.0, -2.5), False), ((3.0,), False)]
)
def test_edges_one_over_another_that_all_slant_one_way_are_a_sea_though_nothing_looks_like_water(
    lower: tuple[float, ...], told: bool
) -> None:
    picture = sea(0.0)  # its own strokes lean with none of them
    parts = measure_parts(picture)
    dry = land_for_water(parts)
    lines = (edge(0.55, 3.0), *(edge(0.68 + 0.1 * place, tilt) for place, tilt in enumerate(lower)))
    level = measure_water_level(picture, dry, lines=lines)
    assert (judge_water(level) == "watch") is told


@pytest.mark.parametrize("tilt", [3.2, 7.0])
@pytest.mark.parametrize(("agreement", "length", "told"), [(0.94, 0.92, True), (0.94, 0.6, False), (0.8, 0.92, False)])
def test_an_edge_ruled_right_across_needs_less_that_looks_like_water(
    agreement: float, length: float, told: bool, tilt: float
) -> None:
    picture = sea(0.0, 0.3)
    parts = measure_parts(picture)
    dry = land_for_water(parts)
    labels = np.array(dry.labels)
    labels[labels.shape[0] // 2 :, : labels.shape[1] // 5] = WATER
    some = replace(dry, labels=labels)
    assert measure_water_level(picture, some, lines=(edge(0.7, tilt, agreement, length),)).found is told


def test_edges_one_over_another_with_no_sky_on_them_are_no_sea() -> None:
    picture = sea(0.0, 0.3)
    parts = measure_parts(picture)
    lines = (edge(0.6, 2.7), edge(0.7, 2.6), edge(0.8, 3.0))
    assert not measure_water_level(picture, parts, lines=lines).found


def test_a_horizon_ruled_across_is_one_though_ships_stand_on_it_and_nothing_below_looks_like_water() -> None:
    """Sails of all lights break the calm above it, and the parts take a dark sea for land."""
    scene = np.array(sea(3.2).srgb)
    rng = np.random.default_rng(7)
    for left in range(20, WIDTH - 30, 75):
        line = round(0.55 * HEIGHT + np.tan(np.radians(3.2)) * (left + 6 - WIDTH / 2))
        scene[line - 60 : line, left : left + 12] = rng.integers(20, 255, 3)
    picture = picture_from_srgb(scene)
    parts = measure_parts(picture)
    dry = land_for_water(parts)
    assert measure_water_level(picture, dry).tilt == pytest.approx(3.2, abs=0.4)


def test_a_horizon_ruled_across_is_one_however_steep_though_the_waves_below_it_lie_level() -> None:
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    below = down - 0.55 * HEIGHT - np.tan(np.radians(-6.5)) * (across - WIDTH / 2) > 0
    rng = np.random.default_rng(3)
    waves = rng.normal(0, 20, (HEIGHT // 2, WIDTH // 20)).repeat(2, axis=0).repeat(20, axis=1)
    clouds = rng.normal(0, 25, (HEIGHT // 20, WIDTH // 20)).repeat(20, axis=0).repeat(20, axis=1)
    scene = np.where(below[..., None], (70, 96, 112) + waves[..., None], (196, 206, 214) + clouds[..., None])
    picture = picture_from_srgb(np.rint(np.clip(scene, 0, 255)).astype(np.uint8))
    parts = measure_parts(picture)
    labels = np.full_like(parts.labels, NEAR)
    labels[: round(0.55 * len(labels))] = AIR
    dry = replace(parts, labels=labels, horizon=0.55)
    level = measure_water_level(picture, dry, lines=(edge(0.55, -6.5, 0.95, 0.9),))
    assert level.tilt == pytest.approx(-6.5)


@pytest.mark.parametrize(("yellow", "told"), [(0, True), (90, False)])
def test_a_field_under_the_sky_may_slope(yellow: int, told: bool) -> None:
    picture = sea(3.2)
    scene = np.array(picture.srgb).astype(int)
    below = scene.mean(-1) < 150
    scene[below] = np.clip(scene[below] + (yellow, yellow, -yellow), 0, 255)
    picture = picture_from_srgb(scene.astype(np.uint8))
    parts = measure_parts(picture)
    dry = land_for_water(parts)
    assert is_horizon(lab_at(picture, 400), dry, edge(0.55, 3.2, agreement=0.93, length=0.9)) is told


def test_edges_below_a_horizon_that_slants_have_no_say() -> None:
    """A beach may lie level, or fall as it likes, under a sea that runs downhill."""
    picture = sea(3.2)
    parts = measure_parts(picture)
    labels = np.array(parts.labels)
    labels[round(0.68 * labels.shape[0]) :] = NEAR
    parts = replace(parts, labels=labels)
    beach = (edge(0.7, 0.3, agreement=0.9), edge(0.8, -0.4, agreement=0.9))
    far = edge(0.55, 3.2, agreement=0.95, length=0.92)
    assert measure_water_level(picture, parts, lines=(far, *beach)).tilt == pytest.approx(3.2)


def looked_at(picture: Picture) -> tuple[Float, Parts]:
    return lab_at(picture, 400), measure_parts(picture)


def calm_bay(
    tilt: float, spread: float = 2.0, hidden: float = 0.5, water: tuple[int, int, int] = (88, 98, 92)
) -> Picture:
    """A calm sea on the left, rough high land before the rest of it."""
    rng = np.random.default_rng(9)
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    below = down - 0.6 * HEIGHT - np.tan(np.radians(tilt)) * (across - WIDTH / 2)
    stroke = rng.normal(0, spread, HEIGHT * 3)[np.clip(below + HEIGHT, 0, 3 * HEIGHT - 1).astype(int) // 10]
    scene = np.where((below < 0)[..., None], (150, 168, 172), np.array(water) + stroke[..., None])
    top = np.interp(np.arange(WIDTH), np.arange(0, WIDTH, 15), 0.4 + 0.12 * rng.random(WIDTH // 15)) * HEIGHT
    land = (down > top[None]) & (across > hidden * WIDTH)
    rough = np.kron(rng.integers(10, 120, (HEIGHT // 8, WIDTH // 8)), np.ones((8, 8)))
    scene = np.where(land[..., None], rough[..., None] * (1.0, 0.9, 0.6), scene)
    scene = scene + rng.normal(0, 0.5, (HEIGHT, WIDTH, 1))
    return picture_from_srgb(np.rint(np.clip(scene, 0, 255)).astype(np.uint8))


@pytest.mark.parametrize("tilt", [-4.0, 0.0, 3.2])
def test_a_calm_sea_beside_a_headland_shows_how_level_it_lies(tilt: float) -> None:
    level = level_of(calm_bay(tilt))
    assert level.found
    assert level.tilt == pytest.approx(tilt, abs=0.4)
    assert level.x2 < 0.5


@pytest.mark.parametrize("tilt", [-12.0, 11.0])
def test_a_bare_sea_beside_a_headland_is_one_however_far_it_falls_unless_it_is_yellower(tilt: float) -> None:
    found = calm_sea(*looked_at(calm_bay(tilt, spread=0.8, water=(82, 98, 104))))
    assert found is not None
    assert found.tilt == pytest.approx(tilt, abs=0.5)
    assert calm_sea(*looked_at(calm_bay(tilt, spread=0.8, water=(98, 98, 76)))) is None


@pytest.mark.parametrize(("columns", "known"), [(20, True), (64, False)])
def test_a_bare_sea_is_one_though_the_sky_just_over_some_of_it_was_taken_for_land(columns: int, known: bool) -> None:
    lab, parts = looked_at(calm_bay(-12.0, spread=0.8, water=(82, 98, 104)))
    labels = parts.labels.copy()
    for column in range(columns):
        end = int((labels[:, column] == AIR).sum())
        labels[end - round(0.08 * len(labels)) : end, column] = NEAR
    assert (calm_sea(lab, replace(parts, labels=labels)) is not None) is known


def test_hills_beside_a_headland_are_no_calm_sea() -> None:
    assert calm_sea(*looked_at(calm_bay(3.2)))
    assert not calm_sea(*looked_at(calm_bay(3.2, spread=30.0)))


def test_a_ridge_over_water_that_lies_more_level_is_no_far_edge() -> None:
    picture = sea(0.0, 0.4)
    parts = measure_parts(picture)
    labels = np.where(parts.labels == WATER, NEAR, parts.labels)
    labels[round(0.45 * labels.shape[0]) :] = WATER
    wet = replace(parts, labels=labels.astype(np.uint8))
    ridge = edge(0.4, 4.2, agreement=0.95, length=0.9)
    assert measure_water_level(picture, wet, lines=(ridge,)).tilt == pytest.approx(4.2)
    assert not measure_water_level(picture, wet, lines=(ridge, edge(0.5, 2.4, agreement=0.88, length=0.8))).found
    askew = edge(0.5, 3.8, agreement=0.88, length=0.8)
    assert measure_water_level(picture, wet, lines=(ridge, askew)).found


@pytest.mark.parametrize(("agreement", "told"), [(0.97, True), (0.8, False)])
def test_a_shore_ruled_right_across_with_water_below_tells_how_it_lies_whatever_ridges_do(
    agreement: float, told: bool
) -> None:
    """Hung askew, a hill's slope may come to lie level, and a crest to fall steeper than the shore below it."""
    picture = sea(0.0, 0.6)  # its own strokes lean with none of them
    parts = measure_parts(picture)
    labels = np.full_like(parts.labels, NEAR)
    labels[: round(0.4 * len(labels))] = AIR
    labels[round(0.6 * len(labels)) :] = WATER
    lake = replace(parts, labels=labels, horizon=0.4)
    lines = (edge(0.6, -3.0, agreement, length=0.95), edge(0.45, 0.1, 0.85, length=0.85), edge(0.42, -6.0, 0.72))
    level = measure_water_level(picture, lake, lines=lines)
    assert (level.found and level.wet and level.tilt == pytest.approx(-3.0)) is told


@pytest.mark.parametrize(("over", "told"), [(NEAR, True), (AIR, False)])
def test_what_looks_like_sky_below_land_is_water(over: int, told: bool) -> None:
    """A pale lake under a dark shore; under sky it would be a streak of cloud."""
    picture = sea(3.2, 0.45)
    parts = measure_parts(picture)
    labels = np.full_like(parts.labels, over)
    labels[round(0.6 * len(labels)) :] = AIR
    lake = replace(parts, labels=labels, horizon=0.6)
    level = measure_water_level(picture, lake, lines=(edge(0.6, 3.2),))
    assert (level.found and level.wet) is told
