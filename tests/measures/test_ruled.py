"""How much of the edges of masses runs straight and equally sharp, on shapes of known sides, and what is said of it."""

from dataclasses import replace
from math import cos, radians, sin

import numpy as np
import pytest
from PIL import Image, ImageDraw
from scipy.ndimage import gaussian_filter, map_coordinates

from critique.advice.fault_limits import RULED
from critique.advice.gravity import beyond
from critique.advice.kinds import kind_named
from critique.advice.photograph_moves import photographs_away
from critique.measures.ruled import HALF, measure_ruled
from tests.measured import measured, said
from tests.measures.scenes import grey, mirrored, rough

HEIGHT, WIDTH = 420, 640
# Middle, row and column, and half the diagonal of squares, px; none of their sides is level or plumb.
SHAPES = ((125, 120, 95), (135, 330, 90), (120, 530, 95), (300, 225, 90), (300, 430, 95))
SMALL = tuple((row, column, 36) for row in (70, 170, 270, 370) for column in (80, 200, 320, 440, 560))  # sides of 28 px


def shapes(
    turn: float = 0.0,
    spread: float = 0.3,
    waver: float = 0.0,
    places: tuple[tuple[int, int, int], ...] = SHAPES,
    sides: int = 4,
) -> np.ndarray:
    """L* of dark squares on a light ground, both blended; their edges have a spread and waver, both in px."""
    drawn = Image.new("L", (4 * WIDTH, 4 * HEIGHT), 0)
    for at, (row, column, radius) in enumerate(places):
        angles = [radians(10 * at - 25 + turn + 360 * side / sides) for side in range(sides)]
        corner = [(4 * (column + radius * cos(angle)), 4 * (row + radius * sin(angle))) for angle in angles]
        ImageDraw.Draw(drawn).polygon(corner, fill=255)
    dark = np.asarray(drawn.resize((WIDTH, HEIGHT), Image.Resampling.BOX), dtype=np.float32) / 255
    if waver:
        random = np.random.default_rng(6)
        moved = [gaussian_filter(random.standard_normal(dark.shape), 4) for _ in range(2)]
        y, x = np.mgrid[:HEIGHT, :WIDTH]
        dark = map_coordinates(
            dark, [at + waver * off / off.std() for at, off in zip((y, x), moved, strict=True)], order=1
        )
    dark = gaussian_filter(dark, spread)
    melting = gaussian_filter(np.random.default_rng(3).standard_normal(dark.shape), 7)
    return np.asarray(74 - 44 * dark + 5 * melting / melting.std())


def test_of_squares_all_sides_are_ruled_but_near_their_corners() -> None:
    found = measured(grey(shapes())).ruled
    sides = [radius * 2**0.5 for *_, radius in SHAPES]
    least = sum(side - 2 * HALF for side in sides) / sum(sides)
    assert least - 0.12 < found.share < least + 0.12


def test_masses_cut_out_with_short_sides_and_many_corners_are_ruled_too() -> None:
    cut, brushed = (shapes(places=SMALL, sides=8, spread=spread, waver=waver) for spread, waver in ((0.3, 0), (0.8, 2)))
    assert RULED.level(measured(grey(rough(cut, 0.6))).ruled.share) == "rework"
    assert RULED.level(measured(grey(rough(brushed, 0.6))).ruled.share) == "holds"


@pytest.mark.parametrize(("spread", "waver"), [(2.5, 0.0), (0.5, 3.0)])
def test_soft_edges_and_those_of_a_brush_that_wavers_are_not_ruled(spread: float, waver: float) -> None:
    drawn = grey(rough(shapes(spread=spread, waver=waver), 0.6))
    assert RULED.level(measured(drawn).ruled.share) == "holds"


def test_sides_level_and_plumb_are_those_of_walls_and_shores_and_are_not_counted() -> None:
    light = np.full((HEIGHT, WIDTH), 75.0, dtype=np.float32)
    light[250:] = 45
    light[150:300, 200:330] = 25
    light[180:270, 420:520] = 90
    assert measured(grey(light)).ruled.share == 0


def test_one_ridge_alone_is_too_little_to_tell_by() -> None:
    y, x = np.mgrid[:HEIGHT, :WIDTH]
    assert measured(grey(np.where(y > 120 + 0.35 * x, 40.0, 75.0))).ruled.share == 0


def test_tracks_of_a_brush_in_one_mass_are_no_edges_of_masses() -> None:
    random = np.random.default_rng(8)
    drawn = Image.new("F", (WIDTH, HEIGHT), 60.0)
    for _ in range(260):
        x, y, along = random.uniform(0, WIDTH), random.uniform(0, HEIGHT), random.uniform(40, 80)
        angle, value = radians(random.uniform(20, 40)), 60 + random.choice([-6.0, 6.0])
        ImageDraw.Draw(drawn).line([x, y, x + along * cos(angle), y + along * sin(angle)], fill=value, width=3)
    assert measured(grey(np.asarray(drawn))).ruled.share == 0


def test_ruled_edges_are_named_with_their_place_and_what_mends_them_and_shown_there() -> None:
    shown = grey(rough(shapes(), 0.6))
    found = said(shown, "hard edges")["hard edges"]
    assert found.level == "rework" and found.stands_on == "ruled.share"
    assert "straight and equally sharp" in found.text and "let the brush waver" in found.text
    ruled = measured(shown).ruled
    away = [
        abs(np.hypot(ruled.y * HEIGHT - row, ruled.x * WIDTH - column) - size / 2**0.5)
        for row, column, size, *_ in SHAPES
    ]
    assert min(away) < 8, "the place is the middle of a side"
    mask = kind_named("hard_edges").place_of(found, measured(shown))
    assert isinstance(mask, np.ndarray)
    slope = np.hypot(*np.gradient(gaussian_filter(shapes(), 2)))
    assert slope[mask].mean() > 4 * slope.mean(), "the mask lies along edges"


def test_ruled_edges_weigh_by_how_far_another_photograph_moves_their_share() -> None:
    """They were held to the side of the limit that softness has, so that they always counted as one photograph."""
    found = said(grey(rough(shapes(), 0.6)), "hard edges")["hard edges"]
    assert RULED.rework is not None
    less = replace(found, figure=RULED.rework + 0.01)
    apart = photographs_away("ruled.share", RULED.rework, less.figure)
    assert apart is not None and beyond(less) == pytest.approx(apart)
    assert beyond(found) > 2 * beyond(less)


def test_the_places_shown_are_those_of_the_edges_that_are_told_whatever_limits_told_them() -> None:
    measures = measured(grey(rough(shapes(), 0.6)))
    kind = kind_named("hard_edges")
    cut = kind.finding(level="watch", text="", figure=0.5, figure_text="", norm="")
    assert kind.place_of(cut, measures) is measures.crispness.cut
    assert kind.place_of(replace(cut, stands_on="ruled.share"), measures) is measures.ruled.mask


def test_wavering_edges_are_not_named() -> None:
    assert said(grey(rough(shapes(waver=3.0), 0.6)), "hard edges") == {}


@pytest.mark.parametrize("turn", [0.0, 13.0])
def test_a_mirror_changes_nothing_and_where_the_corners_point_little(turn: float) -> None:
    drawn = grey(shapes(turn))
    there, back = measured(drawn).ruled, measured(mirrored(drawn)).ruled
    assert there.share == pytest.approx(back.share, abs=0.04)
    assert there.share == pytest.approx(measured(grey(shapes())).ruled.share, abs=0.1)


@pytest.mark.parametrize("shape", [(1, 1), (2, 9), (30, 40), (5, 640)])
def test_of_small_pictures_nothing_is_told_and_blank_ones_have_none(shape: tuple[int, int]) -> None:
    assert np.isnan(measure_ruled(grey(np.full(shape, 60.0))).share)
    assert measure_ruled(grey(np.full((HEIGHT, WIDTH), 60.0))).share == 0
