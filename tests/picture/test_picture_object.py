"""A Picture holds CIELAB that agrees with outside libraries, at the scale that is asked for."""

import subprocess
import sys
import warnings

import numpy as np
import pytest
import skimage.color
from PIL import Image

from critique.perception.srgb import srgb8_to_linear
from critique.picture.picture import lab_at, picture_from_lab, picture_from_srgb
from critique.plain import plain


def test_lab_agrees_with_scikit_image(scene):
    picture = picture_from_srgb(scene)
    assert np.abs(picture.lab - skimage.color.rgb2lab(scene)).max() < 0.03  # its white has five digits [scikit-image]
    assert picture.lab.dtype == np.float32
    assert (picture.height, picture.width) == (120, 160)
    assert np.array_equal(picture.srgb, scene)


@pytest.mark.slow
def test_averaging_is_of_light_and_not_of_codes():
    # Black and white in equal parts reflect half the light: L* 76.07 [CIE 15:2004], where the mean of codes gives 53.6.
    board = np.indices((2560, 2560)).sum(axis=0) % 2
    picture = picture_from_srgb(np.repeat((board * 255).astype(np.uint8)[..., None], 3, axis=2))
    assert picture.lab.shape == (640, 640, 3)
    assert np.abs(picture.lab[8:-8, 8:-8, 0] - 76.07).max() < 0.05  # at its edges a filter sees half of the board
    small = picture_from_srgb(np.repeat((board[:100, :100] * 255).astype(np.uint8)[..., None], 3, axis=2))
    assert np.abs(lab_at(small, 50)[..., 0] - 76.07).max() < 0.02


def test_smaller_copies_keep_the_light(scene):
    picture = picture_from_srgb(scene)
    small = lab_at(picture, 40)
    assert small.shape == (30, 40, 3)
    expected = srgb8_to_linear(scene).reshape(30, 4, 40, 4, 3).mean(axis=(1, 3))
    from skimage.color import rgb2lab

    from critique.perception.srgb import encode_srgb

    assert np.abs(small - rgb2lab(encode_srgb(expected.astype(float)))).max() < 0.03


def test_smaller_copy_of_a_small_picture_is_itself(scene):
    picture = picture_from_srgb(scene)
    assert lab_at(picture, 160) is picture.lab
    assert lab_at(picture, 2000) is picture.lab


def test_copies_of_one_picture_are_not_given_for_another(scene):
    one, other = picture_from_srgb(scene), picture_from_srgb(255 - scene)
    assert not np.allclose(lab_at(one, 40), lab_at(other, 40))
    assert np.array_equal(lab_at(one, 40), lab_at(picture_from_srgb(scene), 40))


def test_preview_is_clipped_to_what_a_screen_can_show(scene):
    picture = picture_from_srgb(scene, file="hill.png")
    same = picture_from_lab(picture.lab, like=picture)
    assert np.abs(same.lab - picture.lab).max() < 0.01
    assert np.array_equal(same.srgb, picture.srgb)
    assert same.file == "hill.png"
    strong = picture.lab * np.array([1, 3, 3], np.float32)
    preview = picture_from_lab(strong, like=picture)
    # What is left is a colour of sRGB: skimage turns it into codes and back unharmed.
    again = skimage.color.rgb2lab(skimage.color.lab2rgb(preview.lab))
    assert np.abs(again - preview.lab).max() < 0.1
    assert np.abs(preview.lab - strong).max() > 10


def test_record_of_a_picture_leaves_its_pixels_out(scene):
    record = plain(picture_from_srgb(scene, file="hill.png"))
    assert record == {
        "file": "hill.png",
        "original_width": 160,
        "original_height": 120,
        "format": "array",
        "mode": "RGB",
        "profile": "none, taken as sRGB",
        "bits": 8,
        "notes": [],
        "transparent": 0.0,
        "view": None,
    }


# The peak in KiB. On Linux that of this process alone: getrusage would count the parent that started it.
_PEAK = """
import resource, sys
from pathlib import Path
from critique.picture.read import read_picture
read_picture(sys.argv[1])
status = Path("/proc/self/status")
if status.exists():
    print(status.read_text().split("VmHWM:")[1].split()[0])
else:
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024)
"""


@pytest.mark.slow
def test_reading_needs_little_more_memory_than_the_decoded_picture(tmp_path):
    width, height = 7000, 5000
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # Pillow warns of large pictures
        Image.linear_gradient("L").resize((width, height)).convert("RGB").save(tmp_path / "l.png", compress_level=1)
    peak = int(subprocess.check_output([sys.executable, "-c", _PEAK, tmp_path / "l.png"])) * 1024
    decoded = width * height * 4  # Pillow keeps four bytes a pixel of RGB
    assert peak < decoded + 300 * 2**20
    assert peak - decoded < width * height * 3 * 4  # so it was never held as floats
