"""The canvas found where one is hung, and left alone where all is painting."""

import json

import numpy as np
import pytest
from click.testing import CliRunner
from demo_pictures import demo_path
from PIL import Image
from scipy.ndimage import gaussian_filter

from critique.cli.main import main
from critique.perception.srgb import encode_srgb, linear_to_srgb8
from critique.photograph.canvas import find_canvas
from critique.photograph.canvas_onward import GOES_ON, onward_beyond
from critique.photograph.painting import painting_of
from critique.photograph.read import read_photograph
from critique.photograph.straighten import homography

pytestmark = pytest.mark.slow

DEMOS = (
    "tolvesk_01_ostermell_meadow.jpg",
    "tolvesk_03_tussalund_snow.jpg",
    "tolvesk_04_lirren_evening.jpg",
    "tolvesk_05_orvalden_beeches.jpg",
    "tolvesk_06_skarrvind_ness.jpg",
    "tolvesk_07_vellisund_haze.jpg",
)
SEEN = np.array([[170.0, 120.0], [610.0, 150.0], [600.0, 450.0], [180.0, 470.0]])  # px in a photograph of 800 × 600
WALLS = {"white": (0.75, 0.74, 0.72), "dark": (0.03, 0.03, 0.04), "blue": (0.1, 0.16, 0.3)}


def hung(painting, wall, frame=None, corners=SEEN, size=(800, 600)):
    """A painting on a wall, in perspective, drawn twice as large and averaged; ``frame`` is (width, colour)."""
    wide, high = (2 * side for side in size)
    tall, long, _ = painting.shape
    matrix = homography(2 * corners, [[0, 0], [long, 0], [long, tall], [0, tall]])
    x, y = np.meshgrid(np.arange(wide) + 0.5, np.arange(high) + 0.5)
    there = np.stack([x, y, np.ones_like(x)], axis=-1) @ matrix.T
    u, v = there[..., 0] / there[..., 2], there[..., 1] / there[..., 2]
    scene = np.broadcast_to(np.array(wall, np.float32), (high, wide, 3)).copy()
    outside = np.maximum(np.maximum(-u, u - long), np.maximum(-v, v - tall)) / tall
    if frame is not None:
        scene[outside < frame[0]] = frame[1]
    inside = outside < 0
    scene[inside] = painting[v[inside].astype(int), u[inside].astype(int)]
    scene = scene.reshape(high // 2, 2, wide // 2, 2, 3).mean(axis=(1, 3))
    scene += np.random.default_rng(1).normal(0, 0.004, scene.shape)
    return linear_to_srgb8(np.clip(scene, 0, 1).astype(np.float32))


@pytest.fixture(scope="module", params=DEMOS[:3])
def painting(request):
    return read_photograph(demo_path(request.param)).light


def off(canvas, corners=SEEN, size=(800, 600)):
    """The farthest corner's distance from the truth in parts of the canvas's long edge."""
    longest = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T).max()
    return np.hypot(*(np.array(canvas.corners) * size - corners).T).max() / longest


@pytest.mark.parametrize("wall", WALLS)
def test_a_canvas_on_a_wall_is_found(painting, wall):
    canvas = find_canvas(hung(painting, WALLS[wall]))
    assert not canvas.whole and off(canvas) < 0.01


# Just inside of the canvas's sides, so that the photograph's border hides one, two that face each other, two that meet.
CUT = {
    "left": np.s_[:, 184:],
    "left and right": np.s_[:, 184:596],
    "upper and lower": np.s_[154:446],
    "upper and left": np.s_[154:, 184:],
}


@pytest.mark.parametrize("sides", CUT)
@pytest.mark.parametrize("wall", WALLS)
def test_a_canvas_cut_off_by_the_border_is_not_taken_for_all_painting(painting, wall, sides):
    canvas = find_canvas(np.ascontiguousarray(hung(painting, WALLS[wall])[CUT[sides]]))
    assert not canvas.whole and not canvas.sure


JUST_OUTSIDE = np.array([[30.0, 8.0], [818.0, 24.0], [779.0, 545.0], [78.0, 591.0]])  # the upper right one


@pytest.mark.parametrize("name", ["tolvesk_01_ostermell_meadow.jpg", "tolvesk_08_ostermell_second_pass.jpg"])
@pytest.mark.parametrize("wall", WALLS)
def test_land_below_its_horizon_is_not_taken_for_the_canvas(name, wall):
    whole = read_photograph(demo_path(name)).light
    canvas = find_canvas(hung(whole, WALLS[wall], corners=JUST_OUTSIDE))
    assert not canvas.whole and off(canvas, JUST_OUTSIDE) < 0.01


def test_a_painting_goes_on_beyond_a_line_across_it_and_not_beyond_its_sides(painting):
    photograph = hung(painting, WALLS["blue"])
    left, right = (SEEN[[0, 1]] + SEEN[[3, 2]]) / 2
    below, above = np.stack([left, right, SEEN[2], SEEN[3]]), np.stack([SEEN[0], SEEN[1], right, left])
    of_whole, of_lower, of_upper = onward_beyond(photograph, np.stack([SEEN, below, above])) > GOES_ON
    assert not of_whole.any()
    assert of_lower.tolist() == [True, False, False, False] and of_upper.tolist() == [False, False, True, False]


def test_an_easels_ledge_is_no_painting_that_goes_on(painting):
    photograph = hung(painting, WALLS["white"])
    (right, low), (left, lowest) = SEEN[2:]
    x, y = np.meshgrid(np.arange(800) + 0.5, np.arange(600) + 0.5)
    below = y - lowest - (x - left) * (low - lowest) / (right - left)
    photograph[(below > 0) & (below < 14) & (x > left - 80) & (x < right + 80)] = 60
    cut = 122  # px: the upper left corner lies just outside, and what is beyond it isn't seen
    assert onward_beyond(np.ascontiguousarray(photograph[cut:]), (SEEN - [0, cut])[None])[0].max() < GOES_ON


@pytest.mark.parametrize("wall", WALLS)
def test_seams_of_a_wall_that_run_on_from_both_sides_are_no_painting(painting, wall):
    photograph = hung(painting, WALLS[wall])
    x, y = np.meshgrid(np.arange(800) + 0.5, np.arange(600) + 0.5)
    for upper, lower in ((SEEN[0], SEEN[3]), (SEEN[1], SEEN[2])):
        beside = x - upper[0] - (y - upper[1]) * (lower[0] - upper[0]) / (lower[1] - upper[1])
        photograph[(y > lower[1]) & (beside > 0) & (beside < 3)] //= 2
    assert onward_beyond(photograph, SEEN[None])[0, 2] > GOES_ON
    canvas = find_canvas(photograph)
    assert off(canvas) < 0.01 and "its sides go on" not in canvas.reasons


@pytest.mark.parametrize(("width", "colour"), [(0.05, 0.02), (0.14, (0.4, 0.28, 0.1))])
def test_the_inner_edge_of_a_frame_is_found(painting, width, colour):
    canvas = find_canvas(hung(painting, WALLS["white"], (width, colour)))
    assert not canvas.whole and off(canvas) < 0.01


@pytest.mark.parametrize("name", DEMOS)
def test_a_file_that_is_all_painting_stays_the_very_same(name):
    photograph = read_photograph(demo_path(name))
    found = painting_of(photograph)
    assert found.how == "whole" and found.photograph is photograph


@pytest.mark.parametrize("name", DEMOS[:4])
def test_parts_of_a_painting_are_all_painting_too(name):
    codes = linear_to_srgb8(read_photograph(demo_path(name)).light)
    height, width, _ = codes.shape
    for top, left in ((0, 0), (0.3, 0.1), (0.1, 0.35)):
        part = codes[int(top * height) : int((top + 0.6) * height), int(left * width) : int((left + 0.6) * width)]
        canvas = find_canvas(np.ascontiguousarray(part))
        assert canvas.whole or not canvas.sure


@pytest.mark.parametrize(("inner", "outer"), [(0.038, 0.03), (0.04, -1)])
@pytest.mark.parametrize("tone", [30, 235])
def test_a_border_painted_around_a_picture_is_not_cropped(inner, outer, tone):
    codes = linear_to_srgb8(read_photograph(demo_path(DEMOS[0])).light)
    height, width, _ = codes.shape
    y, x = np.mgrid[:height, :width] + 0.5
    away = np.minimum.reduce([x, width - x, y, height - y]) / max(height, width)
    codes[(away < inner) & (away > outer)] = tone
    canvas = find_canvas(codes)
    assert not canvas.sure and canvas.reasons == ("a border of one width",)


def test_an_empty_wall_and_noise_have_no_canvas():
    flat = np.full((300, 400, 3), 128, np.uint8)
    noise = np.random.default_rng(0).integers(0, 256, (300, 400, 3), dtype=np.uint8)
    assert find_canvas(flat).whole
    assert not (find_canvas(noise).sure and not find_canvas(noise).whole)


def test_the_painting_comes_back_from_its_photograph(painting):
    codes = hung(painting, WALLS["white"])
    found = painting_of(read_photograph(codes))
    if found.how != "found":  # unsure is allowed, wrong is not: then by its corners
        found = painting_of(read_photograph(codes), corners=tuple(map(tuple, SEEN / [800, 600])))
    light = found.photograph.light
    rows, columns = ((np.arange(length) + 0.5) / length for length in light.shape[:2])
    there = painting[(rows * painting.shape[0]).astype(int)][:, (columns * painting.shape[1]).astype(int)]
    middle = slice(20, -20), slice(20, -20)
    assert np.abs(encode_srgb(light)[middle].mean((0, 1)) - encode_srgb(there)[middle].mean((0, 1))).max() < 0.01


def test_a_photograph_that_nothing_is_cropped_from_is_as_sharp_as_its_canvas_and_its_wall_is_no_border(painting):
    # What a telephone's camera spreads a step by, here 0.8 px, is told of neither. [photograph_fitness.py: CLEAN_BLUR]
    photograph = read_photograph(gaussian_filter(hung(painting, WALLS["white"], corners=JUST_OUTSIDE), (0.8, 0.8, 0)))
    left, given = painting_of(photograph), painting_of(photograph, corners=tuple(map(tuple, JUST_OUTSIDE / [800, 600])))
    assert left.how == "unsure" and given.how == "given"
    of_left, of_given = ({one.subject: one for one in found.fitness} for found in (left, given))
    assert of_left["sharpness"].level == of_given["sharpness"].level == "holds"
    assert "border" in of_given and "border" not in of_left


def test_a_photograph_finds_the_same_canvas_twice(painting):
    codes = hung(painting, WALLS["blue"])
    assert find_canvas(codes) == find_canvas(codes.copy())


def test_the_command_tells_a_file_that_is_all_painting(tmp_path):
    done = CliRunner().invoke(main, ["straighten", str(demo_path(DEMOS[0])), "--out", str(tmp_path), "--json"])
    told = json.loads(done.output)
    assert done.exit_code == 0 and told["whole"] is True
    assert told["corners"] == [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]
    assert told["picture"] == str(demo_path(DEMOS[0])) and not list(tmp_path.iterdir())


def test_a_photograph_that_lies_on_its_side_is_seen_upright(tmp_path, painting):
    upright = Image.fromarray(hung(painting, WALLS["blue"]))
    exif = Image.Exif()
    exif[0x0112] = 6  # turned by a quarter to be seen upright [EXIF 2.32]
    upright.transpose(Image.Transpose.ROTATE_90).save(tmp_path / "turned.png", exif=exif)
    upright.save(tmp_path / "upright.png")
    lines = [
        json.loads(
            CliRunner().invoke(main, ["straighten", str(tmp_path / name), "--out", str(tmp_path), "--json"]).output
        )
        for name in ("turned.png", "upright.png")
    ]
    assert lines[0]["corners"] == lines[1]["corners"]
