"""Pictures written with 16 bits, read back by this program and by others."""

import io

import numpy as np
import pytest
import tifffile
from PIL import Image, ImageCms

from critique.perception.srgb import encode_srgb
from critique.photograph.read import read_photograph
from critique.photograph.saving import picture_bytes


@pytest.fixture
def light():
    ramp = np.linspace(0, 1, 300 * 70 * 3, dtype=np.float32).reshape(300, 70, 3)
    return ramp[:, ::-1].copy()


@pytest.mark.parametrize("file_format", ["png", "tiff"])
def test_sixteen_bits_come_back(light, file_format):
    back = read_photograph(picture_bytes(light, file_format), "written")
    assert back.bits == 16
    assert np.abs(encode_srgb(back.light) - encode_srgb(light)).max() < 1.5 / 65535


def test_a_tiff_holds_srgb_codes(light):
    codes = tifffile.imread(io.BytesIO(picture_bytes(light, "tiff")))
    assert codes.dtype == np.uint16
    assert np.abs(codes / 65535 - encode_srgb(light)).max() < 1 / 65535


@pytest.mark.parametrize("file_format", ["jpeg", "png", "tiff"])
def test_every_file_says_that_it_is_srgb(light, file_format):
    with Image.open(io.BytesIO(picture_bytes(light, file_format))) as image:
        profile = ImageCms.ImageCmsProfile(io.BytesIO(image.info["icc_profile"]))
    assert "sRGB" in ImageCms.getProfileDescription(profile)
