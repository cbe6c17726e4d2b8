"""Whether whole mountains come forward is checked on hills of known colour, height and width under a sky."""

from dataclasses import replace

import numpy as np
import pytest

from critique.advice.advise import judge
from critique.advice.where import of_far_land
from critique.measures.division import measure_division
from critique.measures.far_warmth import FarWarmth, comes_forward, measure_far_warmth
from critique.measures.measure import measure_picture
from critique.measures.parts import measure_parts
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

HEIGHT, WIDTH = 300, 450
SKY, MEADOW, WOOD, RUST, BLUE = (84, -2, -5), (46, -10, 18), (40, -8, 12), (32, 14, 24), (52, -2, -10)  # CIELAB
WHEAT = (74, 6, 30)


def valley(
    hills: tuple[float, float, float] = RUST,
    *,
    wide: float = 0.7,
    high: float = 0.25,
    steep: float = 0.45,
    foot: float = 0.55,
    sky: tuple[float, float, float] = SKY,
    wood: tuple[float, float, float] = WOOD,
    meadow: tuple[float, float, float] = MEADOW,
    mirrored: bool = False,
) -> Picture:
    """A mountain before the sky, behind the slopes of a wood, and a meadow in front, with the grain of brushwork.

    It is ``wide`` parts of the width, ``high`` of the height, its sides rising by ``steep``; it stands at ``foot``.
    """
    rng = np.random.default_rng(5)
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    side = (wide * WIDTH / 2 - np.abs(across - 0.45 * WIDTH)) * steep / HEIGHT
    crest = foot - np.minimum(side, high + 0.012 * np.sin(across / 9))
    slope = foot - 0.04 * np.sin(across / WIDTH * 5)
    down = down / HEIGHT
    lab = np.where((down < 0.72)[..., None], wood, meadow)
    lab = np.where(((down < slope) & (down < crest))[..., None], sky, lab)
    lab = np.where(((down >= crest) & (down < slope))[..., None], hills, lab)
    grain = rng.normal(0, 2.0, (HEIGHT, WIDTH, 1)) * (1, 0.2, 0.4)
    lab = lab + grain * np.where(np.minimum(crest, slope) > down, 0.3, 1.5)[..., None]
    return picture_from_srgb(lab_to_srgb8((lab[:, ::-1] if mirrored else lab).astype(np.float32)))


def warmth(picture: Picture) -> FarWarmth:
    return measure_far_warmth(picture, measure_parts(picture), measure_division(picture))


def told(picture: Picture) -> bool:
    found = warmth(picture)
    return found.mountain is not None and comes_forward(found) == "watch"


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_dark_warm_mountain_behind_a_green_valley_comes_forward(mirrored: bool) -> None:
    picture = valley(mirrored=mirrored)
    assert told(picture)
    found = warmth(picture)
    assert found.far == pytest.approx(14 * 0.5 + 24 * 0.866, abs=2)  # its own colour along a hue of 60°
    assert found.y < 0.55


@pytest.mark.parametrize("rust", [(50, 15, 27), (54, 16, 26), (32, 16, 28)])
def test_one_as_warm_as_a_field_in_the_sun_comes_forward_light_or_dark(rust: tuple[float, float, float]) -> None:
    """Air cools what is far; that it is as light as far land should be makes it no cooler."""
    assert told(valley(rust, meadow=WHEAT))


def test_one_less_warm_than_the_field_in_front_has_gone_back() -> None:
    assert not told(valley((36, 10, 18), meadow=WHEAT))


def test_a_quieter_brown_comes_forward_behind_cold_land_and_not_behind_dry_grass() -> None:
    brown = (44, 9, 16)
    assert told(valley(brown, wood=(38, -6, 2), meadow=(50, -4, 6)))
    assert not told(valley(brown, wood=(38, -2, 20), meadow=(50, -4, 6)))


def test_a_dull_brown_one_comes_forward_and_one_that_is_nearly_grey_does_not() -> None:
    assert told(valley((48, 7, 11)))
    assert told(valley((34, 13, 21), wood=(44, 7, 9)))  # the wood is warm too, and less
    assert not told(valley((48, 5, 9)))


def test_a_low_range_comes_forward_where_it_runs_from_side_to_side() -> None:
    assert told(valley(wide=3, high=0.07))
    assert not told(valley(wide=0.2, high=0.07))


def test_one_across_a_lake_is_compared_with_the_lake_and_not_with_its_own_foot() -> None:
    lake = (34, -4, -16)
    found = warmth(valley(wide=1.6, high=0.3, foot=0.72, wood=lake, meadow=lake))
    assert found.mountain is not None
    assert found.near < 0


@pytest.mark.parametrize(
    "other",
    [
        {"hills": BLUE},
        {"hills": MEADOW},
        {"hills": (64, 14, 24)},  # lit
        {"hills": (40, 4, 32)},  # a slope of dry grass, as warm, and yellower than earth
        {"sky": (52, -2, -5)},  # hardly lighter than the hill
        {"sky": (72, 14, 32)},  # an evening sky, as warm
        {"wide": 0.2},
        {"high": 0.04},
        {"foot": 0.95},  # at one's feet
    ],
)
def test_one_that_is_cool_or_green_or_lit_or_small_or_at_ones_feet_does_not(other: dict[str, object]) -> None:
    assert not told(valley(**other))  # type: ignore[arg-type]


def test_what_is_shown_is_the_mountain_itself() -> None:
    where = of_far_land(measure_picture(valley()))
    assert isinstance(where, np.ndarray)
    rows, columns = np.nonzero(where)
    height, width = where.shape
    assert rows.max() < 0.6 * height  # not the wood, nor the meadow
    assert np.ptp(columns) > 0.5 * width
    assert rows.min() == pytest.approx(0.314 * height, abs=0.03 * height)  # its peak


def test_a_valley_less_warm_that_goes_on_from_the_mountain_is_not_shown() -> None:
    where = of_far_land(measure_picture(valley((34, 13, 21), wide=1.4, wood=(40, 8, 13), meadow=(44, 4, 7))))
    assert isinstance(where, np.ndarray)
    rows, _ = np.nonzero(where)
    assert rows.max() < 0.63 * where.shape[0]  # the mountain's foot is at 0.59; the valley ends at 0.72


def test_what_is_said_of_it_compares_it_with_the_ground_in_front() -> None:
    picture = valley((54, 16, 26), meadow=WHEAT)
    findings = judge(picture, measure_picture(picture))
    found = next(one for one in findings if one.kind == "land_distance")
    assert found.level == "watch"
    assert "as warm as what lies in front, or warmer" in found.text


def test_one_that_is_nearly_as_warm_as_the_field_is_said_to_be_about_as_warm() -> None:
    picture = valley((36, 13, 25), meadow=WHEAT)
    measures = measure_picture(picture)
    assert measures.far_warmth.far < measures.far_warmth.near
    found = next(one for one in judge(picture, measures) if one.kind == "land_distance")
    assert "about as warm as what lies in front. If it lies far off it comes forward" in found.text


def test_a_dark_slope_that_is_hardly_warm_leaves_it_to_the_hills_to_be_told() -> None:
    """Such a slope was found first, and said nothing; so nobody looked whether hills stand under the sky."""
    slope = replace(warmth(valley(BLUE)), found=True, level=True, forward=5.0, lightness=44.0, near_lightness=40.0)
    assert comes_forward(slope) == "watch"
    assert comes_forward(replace(slope, lightness=30.0)) == "watch"
    assert comes_forward(replace(slope, foot=True, forward=3.0, lightness=30.0)) is None
    assert comes_forward(replace(slope, lightness=80.0)) is None
