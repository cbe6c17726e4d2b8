"""Which steep edge should lie level is checked on edges whose fall, sides and neighbours are known."""

import numpy as np
import pytest

from critique.advice.fault_limits import judge_water
from critique.advice.where import of_leaning_edge
from critique.measures.askew_edge import likeliest_askew
from critique.measures.grain import grain_of
from critique.measures.level_lines import level_lines
from critique.measures.measure import measure_picture
from critique.measures.parts import measure_parts
from critique.measures.steep_lines import steep_lines
from critique.measures.water_level import measure_water_level
from critique.picture.picture import Picture, lab_at, picture_from_srgb

HEIGHT, WIDTH = 400, 600
SKY, SEA, FIELD = (196, 206, 214), (70, 96, 122), (120, 112, 70)
LONG, BLOTS, UPRIGHT = (4, 40), (10, 14), (40, 4)


def scene(
    fall: float,
    *,
    below: tuple[int, int, int] = SEA,
    wavering: float = 0.003,
    touch: tuple[int, int] = LONG,
    level: bool = False,
) -> Picture:
    """A sky over water or a field that falls by so many degrees; touches so many px high and wide follow the edge.

    With ``level`` the field in front is parted off by an edge that lies level.
    """
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH] + 0.5
    rng = np.random.default_rng(4)
    course = np.interp(np.arange(WIDTH), np.arange(0, WIDTH + 40, 40), rng.normal(0, wavering, WIDTH // 40 + 1))
    off = np.tan(np.radians(fall)) * (across - WIDTH / 2)
    edge = 0.5 * HEIGHT + off + HEIGHT * course[None]
    small = rng.normal(0, 9, (2 * HEIGHT // touch[0], WIDTH // touch[1] + 1))
    touches = small.repeat(touch[0], axis=0).repeat(touch[1], axis=1)[:, :WIDTH]
    rows = np.clip(np.rint(down - 0.5 - off + HEIGHT / 2).astype(int), 0, len(touches) - 1)
    codes = (
        np.where((down > edge)[..., None], below, SKY)
        + np.where(down > edge, touches[rows, np.arange(WIDTH)], 0)[..., None]
    )
    if level:
        codes = np.where((down > 0.8 * HEIGHT)[..., None], (60, 70, 40), codes)
    return picture_from_srgb(np.rint(np.clip(codes, 0, 255)).astype(np.uint8))


def found(picture: Picture) -> float | None:
    """The fall of the steep edge in degrees, if one is found."""
    lab = lab_at(picture, 400)
    lines = (*level_lines(lab), *steep_lines(lab))
    line = likeliest_askew(lab, measure_parts(picture), lines, lambda: grain_of(lab))
    return None if line is None else line.tilt


@pytest.mark.parametrize("fall", [-14.0, -11.0, 11.0, 14.0])
@pytest.mark.parametrize("below", [SEA, FIELD])
def test_an_edge_that_falls_far_is_found_along_which_water_or_ground_runs(
    fall: float, below: tuple[int, int, int]
) -> None:
    assert found(scene(fall, below=below)) == pytest.approx(fall, abs=0.7)


def test_what_is_found_makes_water_run_downhill() -> None:
    picture = scene(13.0)
    level = measure_water_level(picture, measure_parts(picture))
    assert level.tilt == pytest.approx(13, abs=0.7)
    assert judge_water(level) != "holds"
    assert level.y2 - level.y1 == pytest.approx(
        np.tan(np.radians(13)) * (level.x2 - level.x1) * WIDTH / HEIGHT, abs=0.01
    )


@pytest.mark.parametrize(
    "picture",
    [
        scene(0.0),
        scene(13.0, below=FIELD, wavering=0.04),  # a ridge
        scene(22.0),  # a slope, and meant
        scene(13.0, below=FIELD, touch=UPRIGHT),  # a slope with trees on it
        scene(13.0, level=True),  # something else lies level
    ],
)
def test_a_level_edge_and_a_slope_are_none(picture: Picture) -> None:
    assert found(picture) is None


@pytest.mark.parametrize("fall", [-9.0, 12.0])
def test_a_horizon_ruled_across_under_the_sky_is_found_though_nothing_below_runs_along_it(fall: float) -> None:
    assert found(scene(fall, below=FIELD, touch=BLOTS, wavering=0.0)) == pytest.approx(fall, abs=0.7)


def test_a_level_streak_of_cloud_says_nothing_of_the_water_below_it() -> None:
    codes = scene(13.0).srgb.copy()
    codes[round(0.15 * HEIGHT) : round(0.2 * HEIGHT)] = (150, 160, 176)
    assert found(picture_from_srgb(codes)) == pytest.approx(13, abs=0.7)


def test_without_an_edge_no_place_is_made_up_for_it() -> None:
    blank = picture_from_srgb(np.full((HEIGHT, WIDTH, 3), 153))
    assert of_leaning_edge(measure_picture(blank)) is None


def test_what_is_shown_is_a_strip_along_the_edge() -> None:
    where = of_leaning_edge(measure_picture(scene(13.0)))
    assert isinstance(where, np.ndarray)
    rows, columns = np.nonzero(where)
    height, width = where.shape
    slope = np.polyfit(columns / width * WIDTH, rows / height * HEIGHT, 1)[0]
    assert slope == pytest.approx(np.tan(np.radians(13)), abs=0.02)
    assert 0.02 < where.mean() < 0.08
