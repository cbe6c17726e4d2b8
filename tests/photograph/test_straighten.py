"""Perspective taken out, held to scikit-image and to cameras that are drawn here."""

import io
import json
import math
import shlex
from dataclasses import replace

import numpy as np
import pytest
from click.testing import CliRunner
from PIL import Image

from critique.cli.main import main
from critique.errors import CritiqueError
from critique.photograph.corners import (
    checked_corners,
    parse_corners,
    remember_corners,
    remembered_corners,
    written_corners,
)
from critique.photograph.proportions import parse_size, proportion, proportion_seen
from critique.photograph.read import read_photograph
from critique.photograph.straighten import homography, straightened, straightened_size
from critique.tasks.straightening import Straightening

CORNERS = ((0.2, 0.1), (0.8, 0.2), (0.9, 0.8), (0.1, 0.9))


def pattern(x, y):
    return np.stack([0.5 + 0.4 * np.sin(9 * x), 0.5 + 0.4 * np.cos(7 * y), x * y / 3], axis=-1)


def test_homography_is_that_of_scikit_image():
    from skimage.transform import ProjectiveTransform

    random = np.random.default_rng(3)
    for _ in range(20):
        source, target = random.uniform(0, 100, (2, 4, 2))
        theirs = ProjectiveTransform.from_estimate(source, target).params
        assert np.allclose(homography(source, target), theirs / theirs[2, 2], rtol=1e-6, atol=1e-9)


def test_light_lands_where_the_homography_says():
    rows, columns = np.mgrid[:300, :400] / 300
    result = straightened(pattern(columns, rows).astype(np.float32), CORNERS, (250, 200))
    back = homography([[0, 0], [250, 0], [250, 200], [0, 200]], np.array(CORNERS) * [400, 300])
    x, y = np.meshgrid(np.arange(250) + 0.5, np.arange(200) + 0.5)
    there = np.stack([x, y, np.ones_like(x)], axis=-1) @ back.T
    place = (there[..., :2] / there[..., 2:] - 0.5) / 300
    assert np.abs(result - pattern(place[..., 0], place[..., 1])).max() < 0.003


def test_resampling_keeps_the_light_of_a_fine_pattern():
    # Averaged as codes, black and white stripes would come out at 0.21 of the light instead of 0.5.
    stripes = np.zeros((400, 400, 3), np.float32)
    stripes[:, ::2] = 1
    result = straightened(stripes, ((0.01, 0.01), (0.98, 0.03), (0.99, 0.99), (0.02, 0.97)), (390, 390))
    assert result.mean() == pytest.approx(0.5, abs=0.01)


def test_a_corner_outside_is_filled_from_the_edge():
    light = np.full((100, 100, 3), 0.3, np.float32)
    result = straightened(light, ((-0.03, 0.1), (0.9, -0.02), (0.9, 0.9), (0.1, 0.9)), (80, 80))
    assert np.allclose(result, 0.3, atol=1e-5)


def seen(aspect, yaw, pitch, focal, width=1600, height=1200):
    """Corners of a canvas through a pinhole camera, as fractions."""
    from scipy.spatial.transform import Rotation

    flat = np.array([[-aspect, -1, 0], [aspect, -1, 0], [aspect, 1, 0], [-aspect, 1, 0]]) / 2
    turned = Rotation.from_euler("yx", [yaw, pitch], degrees=True).apply(flat) + np.array([0.05, -0.03, 2.2 * focal])
    return focal * 1600 * turned[:, :2] / turned[:, 2:] / [width, height] + 0.5


@pytest.mark.parametrize("aspect", [0.5, 0.75, 1.0, 1.333, 2.2])
@pytest.mark.parametrize(("yaw", "pitch"), [(12, 9), (-15, 10), (8, -14)])
def test_true_proportion_comes_back_from_perspective_alone(aspect, yaw, pitch):
    assert proportion_seen(seen(aspect, yaw, pitch, 0.9), 1600, 1200) == pytest.approx(aspect, rel=0.01)


@pytest.mark.parametrize(("yaw", "pitch"), [(0, 0), (6, 0), (0, -10), (15, 0)])
def test_proportion_where_the_focal_length_cannot_be_told(yaw, pitch):
    assert proportion_seen(seen(1.333, yaw, pitch, 1.1), 1600, 1200) == pytest.approx(1.333, rel=0.02)


@pytest.mark.parametrize("focal", [0.7, 2.4])
@pytest.mark.parametrize(("yaw", "pitch"), [(15, 0), (0, -14), (14, 1)])
def test_the_focal_length_that_the_camera_noted_gives_the_proportion(focal, yaw, pitch):
    corners = seen(1.333, yaw, pitch, focal)
    assert proportion_seen(corners, 1600, 1200, focal=focal) == pytest.approx(1.333, rel=0.001)
    assert proportion_seen(corners, 1600, 1200) != pytest.approx(1.333, rel=0.001)


def test_a_noted_focal_length_that_plain_perspective_contradicts_is_left_aside():
    corners = seen(1.333, 12, 9, 0.9)  # as of a photograph that was cropped since
    assert proportion_seen(corners, 1600, 1200, focal=2.5) == pytest.approx(1.333, rel=0.001)


def noted(millimetres, size=(1600, 1200), noted_size=None):
    """A JPEG whose camera noted its focal length, to 36 × 24 mm, and perhaps its size."""
    exif = Image.Exif()
    notes = exif.get_ifd(0x8769)
    notes[0xA405] = millimetres
    if noted_size:
        notes[0xA002], notes[0xA003] = noted_size
    stream = io.BytesIO()
    Image.new("RGB", size, "grey").save(stream, "JPEG", exif=exif)
    return stream.getvalue()


def test_the_focal_length_is_read_in_long_edges():
    # A lens of 36 mm sees as wide as it is long on a frame of 36 × 24 mm; by the diagonal on any other.
    assert read_photograph(noted(36, (1800, 1200), (1800, 1200))).focal == pytest.approx(1.0, rel=0.001)
    assert read_photograph(noted(26)).focal == pytest.approx(26 / 43.27 * 1.25, rel=0.001)
    assert read_photograph(noted(26, (1200, 1600), (1600, 1200))).focal == pytest.approx(26 / 43.27 * 1.25, rel=0.001)


@pytest.mark.parametrize(("millimetres", "noted_size"), [(0, None), (65535, None), (26, (4000, 1000))])
def test_a_focal_length_that_does_not_hold_is_none(millimetres, noted_size):
    assert read_photograph(noted(millimetres, noted_size=noted_size)).focal is None


def test_a_size_gives_the_exact_proportion_either_way_round():
    corners = seen(1.35, 5, 5, 1.1)
    for text in ("16x12in", "12x16 in", "40×30cm", "40,0 x 30,0 cm"):
        assert proportion(corners, 1600, 1200, parse_size(text)) == pytest.approx(4 / 3)


@pytest.mark.parametrize("text", ["16", "16x12", "0x12in", "4000x3000in", "40x3cm", "axbcm", "-3x4cm", "1.2.3x4cm"])
def test_impossible_sizes_are_one_line(text):
    with pytest.raises(CritiqueError) as error:
        parse_size(text)
    assert "\n" not in str(error.value) and text in str(error.value)


def test_a_size_unlike_the_corners_is_refused():
    with pytest.raises(CritiqueError, match="one of them is wrong"):
        proportion(seen(1.3, 5, 5, 1.1), 1600, 1200, parse_size("30x90cm"))


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("0,0 1,0 0,1 1,1", "cross"),
        ("0,0 0,1 1,1 1,0", "anticlockwise"),
        ("0,0 2,0 1,1 0,1", "outside"),
        ("0,0 1,0 1,1", "four"),
        ("0,0 0.01,0 0.01,0.01 0,0.01", "less than"),
        ("0,0 0.5,-0.001 1,0 0.5,0.9", "one line"),
        ("0.1,0.1 0.2,0.1 0.3,0.1 0.4,0.1", "one line"),
        ("0.1,0.1 0.9,0.9 0.9,0.1 0.1,0.9", "cross"),
        ("nan,0 1,0 1,1 0,1", "two numbers"),
    ],
)
def test_bad_corners_are_one_line(text, what):
    with pytest.raises(CritiqueError, match=what) as error:
        parse_corners(text)
    assert "\n" not in str(error.value)


def test_corners_are_remembered_beside_the_result(tmp_path):
    given = checked_corners(CORNERS)
    remember_corners(tmp_path, "easel.jpg", given)
    assert remembered_corners(tmp_path, "easel.jpg") == given
    assert remembered_corners(tmp_path, "other.jpg") is None


def test_no_side_loses_px():
    wide, high = straightened_size(CORNERS, 1600, 1200, 1.5)
    points = np.array(CORNERS) * [1600, 1200]
    assert wide >= math.dist(points[0], points[1]) - 1 and wide >= math.dist(points[3], points[2]) - 1
    assert high >= math.dist(points[1], points[2]) - 1
    assert wide / high == pytest.approx(1.5, abs=0.01)


def test_the_command_writes_the_picture_and_its_line(tmp_path):
    photograph = tmp_path / "easel.jpg"
    rows, columns = np.mgrid[:300, :400] / 300
    Image.fromarray((pattern(columns, rows) * 255).astype(np.uint8)).save(photograph)
    given = "0.2,0.1 0.8,0.2 0.9,0.8 0.1,0.9"
    command = ["straighten", str(photograph), "--out", str(tmp_path / "out"), "--json"]
    done = CliRunner().invoke(main, [*command, "--corners", given])
    assert done.exit_code == 0, done.output
    told = json.loads(done.output)
    assert told["corners"] == [[0.2, 0.1], [0.8, 0.2], [0.9, 0.8], [0.1, 0.9]]
    assert told["sure"] is True and told["whole"] is False
    with Image.open(told["picture"]) as picture:
        assert picture.size == (told["width"], told["height"])
        assert picture.info["icc_profile"]
    again = json.loads(CliRunner().invoke(main, command).output)
    assert again["corners"] == told["corners"]  # remembered
    whole = json.loads(CliRunner().invoke(main, [*command, "--whole"]).output)
    assert whole["whole"] is True and whole["picture"] == str(photograph)


def test_where_nothing_was_cropped_the_command_that_is_told_is_of_the_photograph_itself(tmp_path):
    """Its light may have been put right in a new file, whose corners nobody asked for."""
    photograph, balanced = tmp_path / "my easel.jpg", tmp_path / "my easel_balanced.jpg"
    done = Straightening(
        "my easel.jpg", CORNERS, False, False, balanced, "unsure", 800, 600, data=b"x", source=photograph
    )
    told = done.told()
    assert shlex.split(told[told.index("critique straighten") :])[2] == str(photograph) and str(balanced) in told
    assert written_corners(CORNERS) in told
    guessed = replace(done, likely=False).told()
    assert written_corners(CORNERS) not in guessed and written_corners(None) in guessed
