"""Two lights are looked for in pictures whose lights are known."""

import numpy as np
import pytest

from critique.measures.two_lights import TwoLights, lights_compete, measure_two_lights
from critique.picture.picture import Picture, picture_from_srgb

HEIGHT, WIDTH = 300, 440
Y, X = (np.arange(HEIGHT)[:, None] + 0.5) / HEIGHT, (np.arange(WIDTH)[None] + 0.5) / WIDTH
WARM_WHITE = (255, 250, 232)


def painted(scene: np.ndarray) -> Picture:
    scene = scene + np.random.default_rng(4).normal(0, 1.5, (HEIGHT, WIDTH, 1))
    return picture_from_srgb(np.rint(np.clip(scene, 0, 255)).astype(np.uint8))


def country(horizon: float = 0.65, sky: tuple = (146, 138, 150), land: tuple = (60, 58, 48)) -> np.ndarray:
    return np.where((Y < horizon)[..., None], np.array(sky, dtype=float), np.array(land, dtype=float)) + np.zeros(
        (1, WIDTH, 1)
    )


def glow(
    scene: np.ndarray, across: float, down: float, strength: float = 1.0, colour: tuple = WARM_WHITE
) -> np.ndarray:
    """A disc of light with a glow round it, places 0–1."""
    off = np.hypot((X - across) * WIDTH, (Y - down) * HEIGHT)
    weight = strength * np.clip(1.6 - off / 18, 0, 1)[..., None]
    return scene * (1 - weight) + np.array(colour) * weight


def house(scene: np.ndarray, across: float, foot: float, wide: float, colour: tuple = (236, 232, 224)) -> np.ndarray:
    """A white wall with a dark door and a red roof, on its foot; sizes 0–1 of the width."""
    scene, high = scene.copy(), 0.7 * wide * WIDTH / HEIGHT
    beside, above = np.abs(X - across), foot - Y
    scene[(beside < wide / 2) & (above > 0) & (above < high)] = colour
    scene[(beside < wide / 12) & (above > 0) & (above < high / 2)] = (50, 40, 34)
    scene[(above >= high) & (beside < wide / 2 - (above - high) * HEIGHT / WIDTH)] = (130, 62, 48)
    return scene


def slope(scene: np.ndarray, across: float, down: float, light: float, length: float = 0.2) -> np.ndarray:
    """A ragged lit slope, longer than high, as light as that (0–1) between the land and sunlit grass."""
    ragged = 0.02 * np.sin(40 * X) + 0.015 * np.sin(95 * X)
    lit = (np.abs(X - across) < length / 2) & (np.abs(Y - down - 0.3 * (X - across) - ragged) < 0.06)
    return np.where(lit[..., None], scene * (1 - light) + light * np.array((232, 214, 140)), scene)


def glows(*places: tuple, **of_all: tuple) -> TwoLights:
    scene = country()
    for place in places:
        scene = glow(scene, *place, **of_all)
    return measure_two_lights(painted(scene))


def lie_at(lights: TwoLights, *places: tuple[float, float]) -> bool:
    found = sorted([(lights.x1, lights.y1), (lights.x2, lights.y2)])
    return found == [pytest.approx(place, abs=0.03) for place in sorted(places)]


def test_two_suns_compete_and_are_found_where_they_are() -> None:
    lights = glows((0.25, 0.3), (0.72, 0.34))
    assert lights_compete(lights)
    assert lie_at(lights, (0.25, 0.3), (0.72, 0.34))


def test_one_sun_before_a_dark_wood_and_one_in_a_pale_sky_are_alike_though_the_second_spreads() -> None:
    scene = country(sky=(176, 172, 160))
    scene[:, round(0.55 * WIDTH) :] = (40, 44, 34)
    for across in (0.25, 0.75):
        off = np.hypot((X - across) * WIDTH, (Y - 0.3) * HEIGHT)[..., None]
        scene = np.where(off < 16, WARM_WHITE, scene + 60 * np.exp(-off / 25) * np.array([1.0, 0.9, 0.6]))
    assert lights_compete(measure_two_lights(painted(scene)))


@pytest.mark.parametrize("wide", [0.08, 0.14])
def test_two_white_houses_compete_in_dark_land_though_not_in_the_mist(wide: float) -> None:
    for land, told in (((62, 70, 46), True), ((206, 206, 200), False)):
        scene = country(0.4, sky=(150, 160, 172), land=land)
        for across, foot in ((0.15, 0.75), (0.85, 0.82)):
            scene = house(scene, across, foot, wide)
        lights = measure_two_lights(painted(scene))
        assert lights_compete(lights) == told
    assert not lights_compete(measure_two_lights(painted(house(country(0.4, land=(62, 70, 46)), 0.15, 0.75, wide))))


def test_two_lit_slopes_compete_at_the_sides_of_a_dark_valley_and_are_shown_as_far_as_they_go() -> None:
    dark = country(0.3, sky=(120, 124, 130), land=(58, 54, 40))
    lights = measure_two_lights(painted(slope(slope(dark, 0.1, 0.5, 1.0), 0.9, 0.6, 1.0)))
    assert lights_compete(lights)
    assert lie_at(lights, (0.1, 0.5), (0.9, 0.6))
    assert 0.03 < lights.mask.mean() < 0.06  # 2 × 0.2 × 0.12 of the picture, less what melts along their edges
    rows = np.flatnonzero(lights.mask.any(axis=1)) / lights.mask.shape[0]
    assert rows.min() > 0.35
    assert rows.max() < 0.75
    dim = measure_two_lights(painted(slope(slope(dark, 0.1, 0.5, 0.15), 0.9, 0.6, 0.15)))
    assert not lights_compete(dim)


def test_a_cloud_above_and_a_field_below_at_the_other_side_compete_whatever_their_colours() -> None:
    scene = country(0.55, sky=(140, 146, 152), land=(58, 66, 40))
    scene[np.hypot((X - 0.82) / 0.12, (Y - 0.2) / 0.09) < 1] = (244, 244, 246)
    lights = measure_two_lights(painted(slope(scene, 0.17, 0.8, 1.0, length=0.28)))
    assert lights_compete(lights)
    assert lie_at(lights, (0.82, 0.2), (0.17, 0.8))


@pytest.mark.parametrize(
    "lights",
    [
        (),
        ((0.3, 0.3),),
        ((0.3, 0.3), (0.72, 0.34, 0.5)),  # the second is a dim one
        ((0.5, 0.3), (0.5, 0.85)),  # a sun and its glitter
        ((0.2, 0.3), (0.5, 0.3), (0.8, 0.3)),  # lamps in a row
        ((0.45, 0.3), (0.58, 0.3)),  # side by side, one place to the eye
    ],
)
def test_one_light_a_dim_second_a_glitter_and_a_row_of_lamps_do_not_compete(lights: tuple) -> None:
    assert not lights_compete(glows(*lights))


@pytest.mark.parametrize(("sky", "told"), [((146, 138, 150), True), ((96, 92, 100), False)])
def test_what_two_suns_light_below_is_no_third_though_what_dull_breaks_light_is(sky: tuple, told: bool) -> None:
    colour = WARM_WHITE if told else (196, 190, 178)
    scene = glow(glow(country(sky=sky), 0.2, 0.3, colour=colour), 0.8, 0.3, colour=colour)
    lights = measure_two_lights(painted(slope(scene, 0.5, 0.85, 1.0)))
    assert lights_compete(lights) == told
    assert lights_compete(measure_two_lights(painted(scene)))  # without the slope either pair competes
    if told:
        assert lie_at(lights, (0.2, 0.3), (0.8, 0.3))


def test_a_house_and_its_reflection_are_one() -> None:
    water = country(0.5, sky=(92, 98, 84), land=(60, 72, 84))
    upright = house(water, 0.3, 0.5, 0.14)
    mirrored = np.where((Y > 0.5)[..., None], 0.15 * water + 0.85 * upright[::-1], upright)
    assert not lights_compete(measure_two_lights(painted(mirrored)))
    assert lights_compete(measure_two_lights(painted(house(mirrored, 0.8, 0.5, 0.14))))  # a second house does


def test_a_light_sky_and_the_water_that_mirrors_it_are_no_two_lights() -> None:
    scene = country(0.45, sky=(236, 234, 226), land=(70, 76, 58))
    scene[(Y > 0.6) & (Y < 0.85) & (np.abs(X - 0.5) < 0.3)] = (214, 214, 208)
    assert not lights_compete(measure_two_lights(painted(scene)))


def test_a_tower_before_a_light_sky_leaves_no_two_lights_to_its_sides() -> None:
    scene = country(0.6, sky=(236, 234, 226))
    scene[:, np.abs(X[0] - 0.5) < 0.06] = (60, 58, 48)
    assert not lights_compete(measure_two_lights(painted(scene)))


def test_two_houses_compete_below_a_darker_sky_and_not_below_one_as_light_as_they() -> None:
    for sky, told in ((150, True), (240, False)):
        scene = country(0.4, sky=(sky, sky, sky), land=(62, 70, 46))
        for across in (0.2, 0.8):
            scene = house(scene, across, 0.8, 0.12)
        assert lights_compete(measure_two_lights(painted(scene))) == told


def test_two_lights_of_very_different_size_have_one_that_leads() -> None:
    scene = country(0.4, land=(62, 70, 46))
    assert lights_compete(measure_two_lights(painted(house(house(scene, 0.2, 0.8, 0.1), 0.8, 0.8, 0.16))))
    assert not lights_compete(measure_two_lights(painted(house(house(scene, 0.2, 0.8, 0.07), 0.8, 0.8, 0.24))))


def test_the_darker_a_third_is_the_less_it_takes_from_two() -> None:
    strengths = []
    for third in (0.0, 0.4, 0.7, 1.0):
        scene = country(0.4, sky=(120, 124, 130), land=(58, 54, 40))
        strengths.append(
            measure_two_lights(painted(slope(slope(slope(scene, 0.1, 0.6, 1), 0.9, 0.6, 1), 0.5, 0.8, third)))
        )
    outs = [lights.stands_out for lights in strengths]
    assert outs[0] > outs[2] > outs[3]
    assert [lights_compete(lights) for lights in (strengths[0], strengths[1], strengths[3])] == [True, True, False]


@pytest.mark.parametrize(("light", "told"), [(0.77, True), (0.66, False)])
def test_a_slope_in_the_sun_competes_with_one_a_value_and_a_half_darker_and_not_with_a_dull_one(
    light: float, told: bool
) -> None:
    dark = country(0.3, sky=(100, 104, 110), land=(46, 44, 36))
    both = measure_two_lights(painted(slope(slope(dark, 0.1, 0.5, 1.0), 0.9, 0.6, light)))
    alone = measure_two_lights(painted(slope(slope(dark, 0.1, 0.5, light), 0.9, 0.6, light)))
    assert lights_compete(both) == told
    assert lights_compete(alone)  # two as dull as each other do


def test_two_dull_patches_are_no_lights() -> None:
    assert not lights_compete(glows((0.25, 0.3), (0.72, 0.34), colour=(180, 174, 176)))


def test_two_among_many_smaller_lights_do_not_compete() -> None:
    """A sky full of lamps: the two largest are no pair, though they are as light and as large as two suns."""
    lamps = tuple((across, down, 0.9) for across in (0.1, 0.4, 0.55, 0.9) for down in (0.12, 0.5))
    assert not lights_compete(glows((0.25, 0.3), (0.72, 0.34), *lamps))


def test_a_picture_without_any_light_has_none() -> None:
    found = measure_two_lights(picture_from_srgb(np.full((40, 60, 3), 128, dtype=np.uint8)))
    assert found.stands_out == 0
    assert not found.mask.any()


def test_two_lights_are_the_same_mirrored_and_drawn_twice_as_large() -> None:
    scene = glow(glow(country(), 0.25, 0.3), 0.72, 0.34)
    one, mirrored, doubled = (
        measure_two_lights(picture_from_srgb(np.rint(each).astype(np.uint8)))
        for each in (scene, scene[:, ::-1], scene.repeat(2, axis=0).repeat(2, axis=1))
    )
    assert mirrored.stands_out == pytest.approx(one.stands_out, abs=0.5)
    assert doubled.stands_out == pytest.approx(one.stands_out, abs=1)
    assert lie_at(mirrored, (1 - one.x1, one.y1), (1 - one.x2, one.y2))


@pytest.mark.parametrize(("wide", "told"), [(0.09, True), (0.2, False)])
def test_two_breaks_in_a_cloud_at_the_top_are_two_lights_and_a_bare_sky_behind_a_crown_is_one(
    wide: float, told: bool
) -> None:
    """Ellipses of light cut by the top edge, the crown in the gap between the wide ones."""
    scene = country(0.35, sky=(120, 122, 128))
    for across in (0.27, 0.73):
        light = np.clip(3 * (1 - np.hypot((X - across) / wide, Y / 0.12)), 0, 1)[..., None]
        scene = scene + light * (np.array(WARM_WHITE) - scene)
    assert lights_compete(measure_two_lights(painted(scene))) == told
