"""A picture stands upright however the camera was held. [EXIF 2.32, tag 0x0112]"""

import numpy as np
import pytest
import tifffile
from PIL import Image, ImageOps

from critique.picture.read import read_picture


def corner_marks() -> np.ndarray:
    """Grey, with red at the upper left, green at the upper right, blue at the lower left."""
    pixels = np.full((96, 128, 3), 128, np.uint8)
    pixels[:32, :32], pixels[:32, -32:], pixels[-32:, :32] = (255, 0, 0), (0, 255, 0), (0, 0, 255)
    return pixels


def as_stored(upright: np.ndarray, orientation: int) -> np.ndarray:
    """How the standard says that an upright picture lies in a file: where its first row and column are."""
    return {
        1: upright,
        2: upright[:, ::-1],
        3: upright[::-1, ::-1],
        4: upright[::-1],
        5: upright.transpose(1, 0, 2),  # row 0 is the left side, column 0 the top
        6: upright.transpose(1, 0, 2)[::-1],  # row 0 is the right side, column 0 the top
        7: upright.transpose(1, 0, 2)[::-1, ::-1],  # row 0 is the right side, column 0 the bottom
        8: upright.transpose(1, 0, 2)[:, ::-1],  # row 0 is the left side, column 0 the bottom
    }[orientation]


@pytest.mark.parametrize("suffix", ["png", "tif", "webp", "jpg"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_orientation_comes_out_upright(orientation, suffix, tmp_path):
    path = tmp_path / f"turned.{suffix}"
    exif = Image.Exif()
    exif[0x0112] = orientation
    options = {"lossless": True} if suffix == "webp" else {"quality": 100, "subsampling": 0} if suffix == "jpg" else {}
    Image.fromarray(np.ascontiguousarray(as_stored(corner_marks(), orientation))).save(path, exif=exif, **options)
    picture = read_picture(path)
    assert (picture.original_width, picture.original_height) == (128, 96)
    assert picture.notes[0].startswith("small picture: 128 × 96 px")
    assert np.abs(picture.srgb.astype(int) - corner_marks()).mean() < (2 if suffix == "jpg" else 1e-9)
    assert (picture.original_width, picture.original_height) == (128, 96)
    assert np.array_equal(picture.srgb, np.asarray(ImageOps.exif_transpose(Image.open(path))))


@pytest.mark.parametrize("kind", ["uint16", "float32", "planes", "grey"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_orientation_of_a_deep_tiff_comes_out_upright(orientation, kind, tmp_path):
    stored = np.ascontiguousarray(as_stored(corner_marks(), orientation))
    samples = (stored / np.float32(255)) if kind == "float32" else stored.astype(np.uint16) * 257
    options = {"photometric": "rgb", "extratags": [(274, "H", 1, orientation, True)]}
    if kind == "planes":
        samples, options = np.moveaxis(samples, -1, 0), options | {"planarconfig": "separate"}
    if kind == "grey":
        samples, options = samples[..., 1], options | {"photometric": "minisblack"}
    tifffile.imwrite(tmp_path / "t.tif", samples, **options)
    picture = read_picture(tmp_path / "t.tif")
    assert (picture.original_width, picture.original_height) == (128, 96)
    corners = picture.srgb[[5, 5, -5], [5, -5, 5]]
    expected = np.array([[255, 0, 0], [0, 255, 0], [0, 0, 255]], np.uint8)
    assert np.array_equal(corners, np.repeat(expected[:, 1:2], 3, 1) if kind == "grey" else expected)


def test_sixteen_bit_png_is_turned_too(make, save):
    stored = np.ascontiguousarray(as_stored(corner_marks(), 6)).astype(np.uint16) * 257
    exif = Image.Exif()
    exif[0x0112] = 6
    chunk = (b"eXIf", exif.tobytes().removeprefix(b"Exif\0\0"))
    picture = read_picture(save(make.png_bytes(stored, 2, chunk), "deep.png"))
    assert np.array_equal(picture.srgb, corner_marks())
    assert picture.bits == 16


def test_heic_is_turned_once(tmp_path):
    import pillow_heif

    pillow_heif.register_heif_opener()
    exif = Image.Exif()
    exif[0x0112] = 6
    Image.fromarray(np.ascontiguousarray(as_stored(corner_marks(), 6))).save(
        tmp_path / "t.heic", exif=exif.tobytes(), quality=95
    )
    picture = read_picture(tmp_path / "t.heic")
    assert (picture.original_width, picture.original_height) == (128, 96)
    assert np.abs(picture.srgb.astype(int) - corner_marks()).mean() < 6
