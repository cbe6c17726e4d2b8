"""Two lights are looked for in skies whose lights are known."""

from dataclasses import replace

import numpy as np
import pytest

from critique.measures.two_lights import _leave_no_other, lights_compete, measure_two_lights
from critique.picture.picture import Picture, picture_from_srgb

HEIGHT, WIDTH = 300, 440


def sky(*lights: tuple[float, float, float], colour: tuple[int, int, int] = (255, 250, 232)) -> Picture:
    """An evening sky over dark ground with glows at (x, y, strength), places 0–1."""
    rng = np.random.default_rng(4)
    y, x = ((np.arange(size) + 0.5) / size for size in (HEIGHT, WIDTH))
    scene = np.where(y[:, None, None] < 0.65, (146.0, 138, 150), (60.0, 58, 48)) * np.ones((HEIGHT, WIDTH, 1))
    for across, down, strength in lights:
        off = np.hypot((x - across) * WIDTH, ((y - down) * HEIGHT)[:, None])
        weight = strength * np.clip(1.6 - off / 18, 0, 1)[..., None]
        scene = scene * (1 - weight) + np.array(colour) * weight
    scene += rng.normal(0, 1.5, scene.shape)
    return picture_from_srgb(np.rint(np.clip(scene, 0, 255)).astype(np.uint8))


def test_two_suns_compete_and_are_found_where_they_are() -> None:
    lights = measure_two_lights(sky((0.25, 0.3, 1.0), (0.72, 0.34, 1.0)))
    assert lights_compete(lights)
    assert sorted((lights.x1, lights.x2)) == pytest.approx([0.25, 0.72], abs=0.02)
    assert (lights.y1 + lights.y2) / 2 == pytest.approx(0.32, abs=0.02)


def test_one_sun_before_a_dark_wood_and_one_in_a_pale_sky_are_alike_though_the_second_spreads() -> None:
    y, x = ((np.arange(size) + 0.5) / size for size in (HEIGHT, WIDTH))
    scene = np.where(y[:, None, None] < 0.65, (176.0, 172, 160), (60.0, 58, 48)) * np.ones((HEIGHT, WIDTH, 1))
    scene[:, round(0.55 * WIDTH) :] = (40.0, 44, 34)
    for across in (0.25, 0.75):
        off = np.hypot((x - across) * WIDTH, ((y - 0.3) * HEIGHT)[:, None])[..., None]
        scene += 60 * np.exp(-off / 25) * np.array([1.0, 0.9, 0.6])
        scene = np.where(off < 16, (255.0, 250, 232), scene)
    lights = measure_two_lights(picture_from_srgb(np.rint(np.clip(scene, 0, 255)).astype(np.uint8)))
    assert lights_compete(lights)


@pytest.mark.parametrize(
    "lights",
    [
        (),
        ((0.3, 0.3, 1.0),),
        ((0.3, 0.3, 1.0), (0.72, 0.34, 0.5)),  # the second is a dim one
        ((0.5, 0.3, 1.0), (0.5, 0.85, 1.0)),  # a sun and its glitter
        ((0.2, 0.3, 1.0), (0.5, 0.3, 1.0), (0.8, 0.3, 1.0)),  # lamps in a row
        ((0.45, 0.3, 1.0), (0.58, 0.3, 1.0)),  # side by side, one place to the eye
    ],
)
def test_one_light_a_dim_second_a_glitter_and_a_row_of_lamps_do_not_compete(lights: tuple) -> None:
    assert not lights_compete(measure_two_lights(sky(*lights)))


def patches(*places: tuple[float, float], wide: float, high: float, bay: float = 0.0, other: float = 0.0) -> Picture:
    """Ovals of light (their half axes in parts of the width) over dark ground, with a bay bitten out of their middle.

    ``other`` is the lightness, 0 to 1, of one more small light between them.
    """
    y, x = ((np.arange(size) + 0.5) / size for size in (HEIGHT, WIDTH))
    scene = np.full((HEIGHT, WIDTH, 3), (70.0, 74, 60)) + np.random.default_rng(7).normal(0, 1.5, (HEIGHT, WIDTH, 1))
    for across, down in places:
        right, below = (x - across) / wide, ((y - down) * HEIGHT / WIDTH / high)[:, None]
        lit = (np.hypot(right, below) < 1) & ~((np.abs(right) < bay) & (below > 0))
        scene[lit] = (255, 246, 220)
    scene[np.hypot((x - 0.5) * WIDTH, ((y - 0.5) * HEIGHT)[:, None]) < 17] *= 1 + 2.4 * other
    return picture_from_srgb(np.rint(np.clip(scene, 0, 255)).astype(np.uint8))


@pytest.mark.parametrize(
    ("wide", "high", "down"),
    [
        (0.05, 0.05, 0.3),
        (0.12, 0.12, 0.4),  # large ones: held against what lies near, they stood in themselves
        (0.16, 0.06, 0.8),  # two pools of sun on the ground
        (0.08, 0.08, 0.125),  # they touch the upper edge
    ],
)
def test_two_large_lights_two_pools_of_light_and_two_at_the_upper_edge_compete(
    wide: float, high: float, down: float
) -> None:
    lights = measure_two_lights(patches((0.24, down), (0.76, down), wide=wide, high=high))
    assert lights_compete(lights)
    assert sorted((lights.x1, lights.x2)) == pytest.approx([0.24, 0.76], abs=0.02)
    columns = np.flatnonzero(lights.mask.any(axis=0)) / lights.mask.shape[1]  # both are shown, as wide as they are
    assert np.ptp(columns[columns < 0.5]) == pytest.approx(2 * wide, abs=0.04)
    assert np.ptp(columns[columns > 0.5]) == pytest.approx(2 * wide, abs=0.04)


@pytest.mark.parametrize(
    ("down", "bay", "other"),
    [
        (0.4, 0.35, 0.0),  # white patches of an animal, clouds: they have bays
        (0.0, 0.0, 0.0),  # halves of discs, cut off by the upper edge
        (0.4, 0.0, 1.0),  # a third light between them, though small
    ],
)
def test_patches_with_bays_halves_and_two_of_three_lights_do_not_compete(down: float, bay: float, other: float) -> None:
    picture = patches((0.24, down), (0.76, down), wide=0.1, high=0.1, bay=bay, other=other)
    assert not lights_compete(measure_two_lights(picture))


@pytest.mark.parametrize(("wide", "high"), [(0.14, 0.06), (0.16, 0.07), (0.14, 0.1), (0.12, 0.18)])
def test_two_lit_walls_and_streaks_of_cloud_are_no_lamps(wide: float, high: float) -> None:
    y, x = ((np.arange(size) + 0.5) / size for size in (HEIGHT, WIDTH))
    scene = np.where(y[:, None, None] < 0.65, (146.0, 138, 150), (60.0, 58, 48)) * np.ones((HEIGHT, WIDTH, 1))
    for across in (0.25, 0.72):
        rows = (y > 0.65 - high) & (y < 0.65)
        scene[rows[:, None] & (np.abs(x - across) < wide / 2)] = (255, 250, 240)
    assert not lights_compete(measure_two_lights(picture_from_srgb(np.rint(scene).astype(np.uint8))))


def test_two_dull_patches_are_no_lights() -> None:
    assert not lights_compete(measure_two_lights(sky((0.25, 0.3, 1.0), (0.72, 0.34, 1.0), colour=(180, 174, 176))))


def test_a_picture_without_any_light_has_none() -> None:
    assert measure_two_lights(picture_from_srgb(np.full((40, 60, 3), 128, dtype=np.uint8))).stands_out == 0


def test_two_among_many_smaller_lights_do_not_compete() -> None:
    """A sky full of stars: the two largest are no pair, though they are as light and as large as two lamps."""
    two = ((0.25, 0.3, 1.0), (0.72, 0.34, 1.0))
    stars = tuple((across, down, 0.8) for across in (0.1, 0.4, 0.55, 0.9) for down in (0.12, 0.5))
    assert lights_compete(measure_two_lights(sky(*two)))
    assert not lights_compete(measure_two_lights(sky(*two, *stars)))


def test_a_moon_of_its_own_colour_wins_over_a_pale_star() -> None:
    found = measure_two_lights(sky((0.25, 0.3, 1.0), (0.72, 0.34, 1.0)))
    lab = np.full((200, 300, 3), (30.0, 0, -20), dtype=np.float32)
    y, x = np.mgrid[:200, :300]
    for across, colour in ((found.x1, (85, 5, 55)), (found.x2, (88, -2, 8))):
        lab[np.hypot(x - across * 300, y - 64) < 12] = colour
    lights = replace(found, y1=0.32, y2=0.32)
    assert not _leave_no_other(lab, lights)
    assert _leave_no_other(lab * (1, 0, 0), lights)  # the same two without their colours
