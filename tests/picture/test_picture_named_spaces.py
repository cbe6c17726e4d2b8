"""A space that a file only names is followed as colour-science follows it."""

import colour
import numpy as np
import pytest
from PIL import Image

from critique.perception.srgb import encode_srgb
from critique.photograph.named_spaces import ADOBE_RGB, BT_2020, DISPLAY_P3
from critique.picture.read import read_picture


def patches() -> np.ndarray:
    """Even patches (96, 128, 3) of 24 colours, large enough to survive compression."""
    colours = np.random.default_rng(9).integers(20, 236, (6, 8, 3)).astype(np.uint8)
    return np.repeat(np.repeat(colours, 16, axis=0), 16, axis=1)


def expected(codes: np.ndarray, name: str, exponent: bool) -> np.ndarray:
    space, srgb = colour.RGB_COLOURSPACES[name], colour.RGB_COLOURSPACES["sRGB"]
    linear = space.cctf_decoding(codes / 255) if exponent else srgb.cctf_decoding(codes / 255)
    return encode_srgb(np.clip(colour.RGB_to_RGB(linear, space, srgb, None), 0, 1)) * 255


@pytest.mark.parametrize(
    ("space", "name"), [(ADOBE_RGB, "Adobe RGB (1998)"), (DISPLAY_P3, "Display P3"), (BT_2020, "ITU-R BT.2020")]
)
def test_matrices_agree_with_colour_science(space, name):
    matrix = colour.matrix_RGB_to_RGB(name, "sRGB", None)
    assert np.abs(space.to_linear_srgb() - matrix).max() < 1e-3  # published matrices have four digits


def test_adobe_rgb_named_in_exif_is_followed(tmp_path):
    exif = Image.Exif()
    exif[0x0112] = 1
    exif.get_ifd(0x8769)[0xA001] = 65535
    exif.get_ifd(0x8769)[0xA005] = {1: "R03"}
    Image.fromarray(patches()).save(tmp_path / "_MG_1.jpg", quality=98, subsampling=0, exif=exif)
    Image.fromarray(patches()).save(tmp_path / "plain.jpg", quality=98, subsampling=0)
    picture, plain = read_picture(tmp_path / "_MG_1.jpg"), read_picture(tmp_path / "plain.jpg")
    decoded = np.asarray(Image.open(tmp_path / "plain.jpg"))
    assert np.abs(picture.srgb - expected(decoded, "Adobe RGB (1998)", True)).max() < 1.1
    assert np.array_equal(plain.srgb, decoded)
    assert picture.profile.startswith("Adobe RGB (1998)")


def test_p3_named_in_heic_is_followed(tmp_path):
    import pillow_heif

    heif = pillow_heif.from_pillow(Image.fromarray(patches()))
    options = {"quality": -1, "chroma": 444, "color_primaries": 12, "transfer_characteristics": 13}
    heif.save(tmp_path / "p3.heic", save_nclx_profile=True, matrix_coefficients=0, **options)
    picture = read_picture(tmp_path / "p3.heic")
    assert picture.profile.startswith("Display P3")
    assert np.abs(picture.srgb - expected(patches(), "Display P3", False)).max() < 3


def test_high_dynamic_range_is_pointed_out(tmp_path):
    import pillow_heif

    heif = pillow_heif.from_pillow(Image.fromarray(patches()))
    heif.save(tmp_path / "hdr.heic", save_nclx_profile=True, color_primaries=9, transfer_characteristics=16)
    assert any("high dynamic range" in note for note in read_picture(tmp_path / "hdr.heic").notes)
