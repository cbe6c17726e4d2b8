"""Divisions are checked on pictures whose dividing line is known, because they were made with it."""

import json
from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest
from one_picture import MOST, one_picture

from critique.measures.division import Division, measure_division
from critique.measures.division_edges import cutting_edge, is_main
from critique.measures.division_judging import halving_fault, runs_straight
from critique.measures.level_lines import LevelLine
from critique.measures.parts import measure_parts
from critique.picture.picture import Picture
from critique.plain import plain

SKY, LAND = (178, 196, 214), (86, 98, 62)
HEIGHT, WIDTH = 400, 600


def parted(
    edge: float | np.ndarray,
    above: tuple[int, int, int] = SKY,
    below: tuple[int, int, int] = LAND,
    shape: tuple[int, int] = (HEIGHT, WIDTH),
) -> np.ndarray:
    """Two flat colours, parted at ``edge`` (0–1 from the top; one number or one a column): floats 0–255."""
    height, width = shape
    line = np.broadcast_to(np.asarray(edge) * height, (width,))
    cover = np.clip(line - np.arange(height)[:, None], 0, 1)[..., None]
    return cover * np.array(above, dtype=float) + (1 - cover) * np.array(below, dtype=float)


def tilted(middle: float, slope: float, shape: tuple[int, int] = (HEIGHT, WIDTH)) -> np.ndarray:
    height, width = shape
    return middle + slope * (np.arange(width) + 0.5 - width / 2) / height


def with_trees(scene: np.ndarray, foot: float) -> np.ndarray:
    """Dark trunks and crowns that stand on the line and cut across it."""
    scene = scene.copy()
    height, width, _ = scene.shape
    y, x = np.mgrid[0:height, 0:width]
    for at, top, crown in ((0.12, 0.45, 0.035), (0.3, 0.25, 0.05), (0.55, 0.5, 0.03), (0.86, 0.15, 0.06)):
        reach = (y > (foot - 0.8 * top) * height) & (y < (foot + 0.12) * height)
        trunk = (np.abs(x - at * width) < 0.006 * width) & reach
        leaves = np.hypot(x - at * width, y - (foot - 0.7 * top) * height) < crown * width
        scene[trunk | leaves] = (38, 44, 30)
    return scene


def with_strokes(scene: np.ndarray, amount: float = 14, length: int = 9, seed: int = 5) -> np.ndarray:
    """Level strokes of lighter and darker paint all over."""
    noise = np.random.default_rng(seed).normal(size=(*scene.shape[:2], 1))
    kernel = np.ones(length) / np.sqrt(length)
    strokes = np.apply_along_axis(np.convolve, 1, noise[..., 0], kernel, mode="same")[..., None]
    return scene + amount * strokes


def picture(scene: np.ndarray) -> Picture:
    return one_picture(np.rint(np.clip(scene, 0, 255)))


@lru_cache(maxsize=MOST)
def divided(one: Picture) -> Division:
    """Its division, measured once for all tests of one scene."""
    return measure_division(one)


@pytest.mark.parametrize("height", [0.15, 0.3, 0.413, 0.5, 0.618, 0.777, 0.85])
def test_a_level_line_is_measured_at_its_height(height: float) -> None:
    division = divided(picture(parted(height)))
    assert division.present
    assert division.height == pytest.approx(height, abs=0.01)
    assert division.share_above == pytest.approx(height, abs=0.01)
    assert division.slope == pytest.approx(0, abs=0.005)
    assert division.straightness > 0.95


@pytest.mark.parametrize("slope", [-0.15, -0.05, 0.05, 0.15])
def test_a_tilted_line_is_measured_with_its_slope(slope: float) -> None:
    division = divided(picture(parted(tilted(0.6, slope))))
    assert division.height == pytest.approx(0.6, abs=0.01)
    assert division.slope == pytest.approx(slope, abs=0.01)
    assert division.straightness > 0.9


@pytest.mark.parametrize("height", [0.35, 0.5, 0.72])
def test_trees_that_cross_the_line_do_not_move_it(height: float) -> None:
    division = divided(picture(with_trees(parted(height), height)))
    assert division.height == pytest.approx(height, abs=0.01)


@pytest.mark.parametrize("height", [0.35, 0.5, 0.72])
def test_strokes_do_not_move_the_line(height: float) -> None:
    division = divided(picture(with_strokes(with_trees(parted(height), height))))
    assert division.present
    assert division.height == pytest.approx(height, abs=0.01)


@pytest.mark.parametrize("shape", [(64, 96), (640, 400), (1066, 1600), (64, 1600), (64, 3200), (1600, 64)])
def test_the_size_and_shape_of_the_picture_do_not_matter(shape: tuple[int, int]) -> None:
    division = divided(picture(parted(0.625, shape=shape)))
    assert division.height == pytest.approx(0.625, abs=0.01)


def test_dark_above_light_divides_too() -> None:
    division = divided(picture(parted(0.4, LAND, SKY)))
    assert division.height == pytest.approx(0.4, abs=0.01)
    assert division.value_step < -3


def test_hue_divides_where_values_are_equal() -> None:
    blue_green, rose = (96, 144, 150), (168, 120, 128)  # L* 56 both, in CIELAB
    division = divided(picture(parted(0.64, blue_green, rose)))
    assert division.present
    assert division.height == pytest.approx(0.64, abs=0.01)
    assert abs(division.value_step) < 0.2
    assert division.colour_step > 25


def test_a_frame_does_not_divide() -> None:
    scene = parted(0.64)
    scene[:6], scene[-6:], scene[:, :6], scene[:, -6:] = 20, 20, 20, 20
    assert divided(picture(scene)).height == pytest.approx(0.64, abs=0.01)


def test_a_flat_picture_has_no_division() -> None:
    division = divided(picture(np.full((300, 400, 3), 128.0)))
    assert not division.present and not division.halved and not division.nearly_halved
    assert division.strength == pytest.approx(0, abs=0.01)


@pytest.mark.parametrize("length", [1, 9, 31])
def test_strokes_alone_have_no_division(length: int) -> None:
    for seed in range(3):
        strokes = with_strokes(np.full((400, 600, 3), 128.0), amount=30, length=length, seed=seed)
        division = divided(picture(strokes))
        assert not division.present and not division.halved


def test_a_plain_ramp_from_light_to_dark_has_no_division() -> None:
    ramp = np.broadcast_to(np.linspace(240, 15, 400)[:, None, None], (400, 600, 3))
    assert not divided(picture(ramp)).present


@pytest.mark.parametrize(
    ("height", "halved", "nearly"),
    [
        (0.5, True, True),
        (0.46, True, True),
        (0.54, True, True),
        (0.565, False, True),
        (0.435, False, True),
        (0.62, False, False),
        (0.35, False, False),
    ],
)
def test_a_line_near_the_middle_halves_the_picture(height: float, halved: bool, nearly: bool) -> None:
    for scene in (parted(height), with_strokes(with_trees(parted(height), height))):
        division = divided(picture(scene))
        assert (division.halved, division.nearly_halved) == (halved, nearly)


def test_a_steep_slope_across_the_middle_does_not_halve() -> None:
    division = divided(picture(parted(tilted(0.5, 0.6))))
    assert division.present
    assert division.height == pytest.approx(0.5, abs=0.02)
    assert not division.halved and not division.nearly_halved


def test_a_valley_that_crosses_the_middle_does_not_halve() -> None:
    valley = 0.7 - 0.8 * np.abs(np.linspace(-0.5, 0.5, WIDTH))
    division = divided(picture(parted(valley)))
    assert division.present
    assert not division.halved


@pytest.mark.parametrize(("height", "nearest"), [(0.3, 1 / 3), (0.42, 0.382), (0.6, 0.618), (0.7, 2 / 3)])
def test_the_nearest_alternative_is_a_third_or_a_golden_section(height: float, nearest: float) -> None:
    division = divided(picture(parted(height)))
    assert division.nearest_alternative == nearest
    assert division.alternatives == (1 / 3, 0.382, 0.618, 2 / 3)


def test_mirrored_only_the_slope_turns_round() -> None:
    scene = with_strokes(with_trees(parted(tilted(0.55, 0.08)), 0.55))
    division = divided(picture(scene))
    mirrored = divided(picture(scene[:, ::-1]))
    assert mirrored.height == pytest.approx(division.height, abs=0.002)
    assert mirrored.strength == pytest.approx(division.strength, abs=0.002)
    assert mirrored.slope == pytest.approx(-division.slope, abs=0.002)
    assert mirrored.straightness == pytest.approx(division.straightness, abs=0.01)
    assert (mirrored.halved, mirrored.nearly_halved) == (division.halved, division.nearly_halved)
    np.testing.assert_allclose(mirrored.path, division.path[::-1], atol=0.01)
    assert mirrored.vertical.position == pytest.approx(1 - division.vertical.position, abs=0.01)


@pytest.mark.parametrize("shape", [(426, 640), (150, 200)])
def test_scaled_by_two_nothing_changes(shape: tuple[int, int]) -> None:
    scene = with_strokes(with_trees(parted(tilted(0.55, 0.08, shape), shape=shape), 0.55))
    division = divided(picture(scene))
    doubled = divided(picture(np.kron(scene, np.ones((2, 2, 1)))))
    for name in ("height", "share_above", "strength", "slope", "near_middle"):
        assert getattr(doubled, name) == pytest.approx(getattr(division, name), abs=0.01), name
        # Strokes of one pixel soften when their picture is brought to the viewing size, and an upright edge among them.
        assert doubled.vertical.strength == pytest.approx(division.vertical.strength, abs=0.06)


def test_a_split_from_top_to_bottom_near_the_middle_is_told() -> None:
    scene = np.ascontiguousarray(parted(0.52, shape=(WIDTH, HEIGHT)).transpose(1, 0, 2))
    division = divided(picture(scene))
    assert division.vertical.halved
    assert division.vertical.position == pytest.approx(0.52, abs=0.01)
    assert not division.halved
    assert not divided(picture(parted(0.52))).vertical.halved


def test_the_record_is_plain_and_leaves_the_drawing_out() -> None:
    division = divided(picture(parted(0.5)))
    record = json.loads(json.dumps(plain(division)))
    assert record["halved"] is True and "path" not in record
    assert len(record["points"]) == 33
    assert record["points"][0][0] == 0 and record["points"][-1][0] == 1
    assert record["points"][16][1] == pytest.approx(0.5, abs=0.01)


def tented(scene: np.ndarray) -> np.ndarray:
    """The scene with a pale tent that stands across its line in the lower left corner."""
    scene = scene.copy()
    height, width, _ = scene.shape
    down, across = np.mgrid[0:height, 0:width] + 0.5
    inside = (down > 0.45 * height + 1.6 * np.abs(across - 0.12 * width)) & (down < 0.95 * height)
    scene[inside] = (226, 222, 206)
    return scene


@pytest.mark.parametrize("height", [0.4, 0.65])
def test_a_tent_in_a_corner_neither_moves_the_line_nor_halves_the_picture(height: float) -> None:
    plain_one, tent = divided(picture(parted(height))), divided(picture(tented(parted(height))))
    assert tent.height == pytest.approx(plain_one.height, abs=0.02)
    assert halving_fault(tent) is None


@pytest.mark.parametrize(("height", "told"), [(0.535, "watch"), (0.545, "watch"), (0.62, None)])
def test_a_horizon_through_the_middle_is_watched_over_a_sea_of_equal_waves(height: float, told: str | None) -> None:
    scene = parted(height, (190, 205, 225), (120, 142, 150))
    y = ((np.arange(HEIGHT) + 0.5) / HEIGHT)[:, None, None]
    waves = np.where(np.sin(2 * np.pi * 16 * (y - height)) > 0, 1.0, 0.73)
    sea = divided(picture(np.where(y < height, scene, scene * waves)))
    assert sea.height == pytest.approx(height, abs=0.01)
    assert halving_fault(sea) == told


def test_halved_is_said_of_a_straight_line_and_a_broken_one_is_only_watched() -> None:
    assert halving_fault(divided(picture(parted(0.5)))) == "rework"
    for fall in (0.07, 0.12):  # the edge of a field that falls, a hillside
        assert halving_fault(divided(picture(parted(tilted(0.5, fall))))) is None
    assert halving_fault(divided(picture(parted(0.36)))) is None


def test_a_line_that_steps_beside_a_peak_is_only_watched() -> None:
    level = divided(picture(parted(0.5)))
    stepped = tuple((x, 0.46 if x < 0.5 else 0.58) for x, _ in level.points)
    assert halving_fault(replace(level, straightness=0.8, points=stepped)) == "watch"
    assert halving_fault(replace(level, straightness=0.8, points=stepped, strength=0.55)) is None  # and a faint one not
    assert halving_fault(replace(level, straightness=0.95, points=stepped)) == "rework"
    assert halving_fault(replace(level, straightness=0.8)) == "rework"


def test_a_level_edge_along_most_of_the_middle_halves_though_the_line_wanders_from_it() -> None:
    """As a sea's horizon does behind sails: the line goes round them, the edge goes on."""
    level = divided(picture(parted(0.5)))
    broken = replace(level, halved=False, cut=None, strength=0.52, straightness=0.4, height=0.52, edge_near_middle=0.74)
    assert broken.nearly_halved and halving_fault(broken) == "watch"
    assert halving_fault(replace(broken, slope=0.085)) == "watch"  # by what it goes round
    assert halving_fault(replace(broken, slope=0.085, straightness=0.8)) is None  # a slope of its own
    assert halving_fault(replace(broken, edge_near_middle=0.6)) is None
    assert halving_fault(replace(broken, height=0.57)) is None


@pytest.mark.parametrize(("height", "fault"), [(0.46, "rework"), (0.44, None), (0.56, None)])
def test_of_parts_as_unlike_as_44_and_56_one_leads_already(height, fault) -> None:
    assert halving_fault(divided(picture(parted(height)))) == fault


def test_between_what_cuts_and_what_leads_already_a_line_is_watched() -> None:
    level = divided(picture(parted(0.5)))
    assert [halving_fault(replace(level, height=height)) for height in (0.452, 0.447, 0.443)] == [
        "rework",
        "watch",
        None,
    ]


def test_a_faint_line_ruled_straight_through_the_middle_is_watched_and_a_wandering_one_is_not() -> None:
    """As a pale sea lies under a pale sky."""
    level = divided(picture(parted(0.5)))
    faint = replace(level, halved=False, cut=None, strength=0.46, straightness=0.95, slope=0.0, edge_near_middle=0.74)
    assert faint.nearly_halved and halving_fault(faint) == "watch"
    assert halving_fault(replace(faint, straightness=0.7)) is None
    assert halving_fault(replace(faint, height=0.54)) is None
    assert halving_fault(replace(faint, strength=0.38)) is None


def test_a_field_s_edge_well_below_the_sky_is_watched_unless_it_is_the_plainest() -> None:
    parts = measure_parts(picture(parted(0.3)))
    edge = LevelLine(y=0.5, tilt=0.0, agreement=0.78, length=0.8, x1=0.0, x2=1.0)
    assert parts.horizon == pytest.approx(0.3, abs=0.03)
    assert not is_main(edge, parts) and is_main(replace(edge, agreement=0.92), parts)
    assert is_main(edge, measure_parts(picture(parted(0.5))))
    cut = replace(divided(picture(parted(0.5))), halved=False)
    assert halving_fault(cut) == "watch"


@pytest.mark.parametrize("height", [0.5, 0.36])
def test_a_crop_and_a_turn_of_two_degrees_leave_a_halved_picture_halved_and_another_not(height: float) -> None:
    scene = parted(height)
    rows, columns = round(0.015 * scene.shape[0]), round(0.015 * scene.shape[1])
    expected = halving_fault(divided(picture(scene)))
    assert halving_fault(divided(picture(scene[rows:-rows, columns:-columns]))) == expected
    assert halving_fault(divided(picture(parted(tilted(height, np.tan(np.radians(2))))))) == expected


def test_straight_is_a_level_horizon_and_no_slope() -> None:
    assert runs_straight(divided(picture(parted(0.6))))
    assert not runs_straight(divided(picture(parted(tilted(0.6, 0.3)))))


def test_a_level_edge_through_the_middle_cuts_though_trees_stand_on_it() -> None:
    """The path climbs over the crowns; the edge between them runs on, and a teacher sees it."""
    scene = parted(0.5)
    down, across = np.mgrid[0 : len(scene), 0:WIDTH] + 0.5
    crown = np.hypot((down - 0.42 * len(scene)) / (0.16 * len(scene)), (across - 0.8 * WIDTH) / (0.15 * WIDTH)) < 1
    scene = np.where(crown[..., None], (40, 52, 34), scene)
    division = divided(picture(scene))
    assert division.cut == pytest.approx(0.5, abs=0.01)
    assert halving_fault(division) == "rework"


def test_what_is_soft_slopes_or_lies_off_the_middle_cuts_nothing() -> None:
    ramp = np.broadcast_to(np.interp(np.arange(400), [120, 280], [220, 90])[:, None, None], (400, WIDTH, 3))
    for scene in (ramp, parted(tilted(0.5, 0.15)), parted(0.6)):
        division = divided(picture(scene))
        assert division.cut is None and halving_fault(division) != "rework"


def test_the_level_foot_of_a_bank_of_cloud_halves_nothing() -> None:
    """Five of eleven photographs that were called halved had sky on both sides of the edge."""
    scene = parted(0.5, above=(150, 176, 208), below=(226, 226, 222))
    scene = np.where((np.arange(HEIGHT) > 0.8 * HEIGHT)[:, None, None], np.array(LAND, dtype=float), scene)
    division = divided(picture(scene))
    assert division.cut is None and not division.halved
    dark = np.where((np.arange(HEIGHT) > 0.5 * HEIGHT)[:, None, None], np.array(LAND, dtype=float), scene)
    assert divided(picture(dark)).cut == pytest.approx(0.5, abs=0.01)


def test_a_field_s_edge_below_a_horizon_as_plain_halves_nothing() -> None:
    """People draw the line where sky and land part; the far edge of a field nearer to the middle is another."""
    parts = measure_parts(picture(parted(0.38)))
    field = LevelLine(y=0.455, tilt=0.3, agreement=0.98, length=0.93, x1=0.0, x2=1.0)
    horizon = replace(field, y=0.38, agreement=0.985, length=0.97)
    assert cutting_edge((horizon, field), parts, 0.38) is None
    assert cutting_edge((field,), parts, 0.38) is field
    assert cutting_edge((replace(horizon, length=0.7), field), parts, 0.38) is field
    assert cutting_edge((horizon, field), parts, 0.45) is field
    near = replace(horizon, y=0.42)  # a horizon so near the middle halves it with the field
    assert cutting_edge((near, replace(field, y=0.48)), measure_parts(picture(parted(0.42))), 0.42) is not None


def test_two_edges_as_plain_as_each_other_cut_nothing() -> None:
    """Crowns against the sky and the shore below them: nobody sees one of them alone."""
    parts = measure_parts(picture(parted(0.5)))
    crowns = LevelLine(y=0.5, tilt=1.0, agreement=0.79, length=0.82, x1=0.0, x2=1.0)
    shore = replace(crowns, y=0.6, agreement=0.77)
    assert cutting_edge((crowns,), parts, 0.5) is crowns
    assert cutting_edge((crowns, shore), parts, 0.5) is None
    for other in (replace(shore, agreement=0.7), replace(shore, y=0.55), replace(shore, length=0.5)):
        assert cutting_edge((crowns, other), parts, 0.5) is crowns
    assert cutting_edge((crowns, replace(shore, tilt=3.0)), parts, 0.5) is crowns  # a slope is no second horizon
