"""Every kind of file gives the picture that was put into it."""

from pathlib import Path

import numpy as np
import pytest
import tifffile
from PIL import Image

from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.perception.srgb import decode_srgb, encode_srgb, srgb8_to_linear
from critique.photograph.read import read_photograph
from critique.photograph.scale import area_average
from critique.picture.read import read_picture


def over_white(codes: np.ndarray, alpha: np.ndarray) -> np.ndarray:
    """Plain compositing of codes 0–1 over white."""
    return codes * alpha[..., None] + (1 - alpha[..., None])


def encoded(picture) -> np.ndarray:
    """The picture's colours as sRGB codes 0–1, from its CIELAB at full precision."""
    return encode_srgb(lab_to_linear(picture.lab))


@pytest.mark.parametrize("name", ["a.png", "a.bmp", "a.tif", "a.webp"])
def test_exact_formats_give_the_same_pixels(name, scene, tmp_path):
    options = {"lossless": True} if name.endswith("webp") else {}
    Image.fromarray(scene).save(tmp_path / name, **options)
    picture = read_picture(tmp_path / name)
    assert np.array_equal(picture.srgb, scene)
    assert picture.file == name
    assert (picture.original_width, picture.original_height) == (160, 120)
    assert (picture.mode, picture.bits, picture.profile) == ("RGB", 8, "none, taken as sRGB")


@pytest.mark.parametrize("compression", ["tiff_lzw", "tiff_deflate", "packbits", "jpeg"])
def test_compressed_tiffs_are_read(compression, scene, tmp_path):
    Image.fromarray(scene).save(tmp_path / "a.tif", compression=compression)
    difference = np.abs(read_picture(tmp_path / "a.tif").srgb.astype(int) - scene)
    assert difference.mean() < (6 if compression == "jpeg" else 1e-9)


def test_jpeg_is_what_pillow_decodes(scene, tmp_path):
    Image.fromarray(scene).save(tmp_path / "a.jpg", quality=90)
    picture = read_picture(tmp_path / "a.jpg")
    assert np.array_equal(picture.srgb, np.asarray(Image.open(tmp_path / "a.jpg")))
    assert picture.format == "JPEG"


def test_heic_is_read(scene, tmp_path):
    import pillow_heif

    pillow_heif.from_pillow(Image.fromarray(scene)).save(tmp_path / "a.heic", quality=95)
    picture = read_picture(tmp_path / "a.heic")
    assert np.abs(picture.srgb.astype(int) - scene).mean() < 6
    assert picture.format == "HEIF"


def test_ten_bit_heic_keeps_its_depth(tmp_path):
    import pillow_heif

    ramp = np.tile(np.linspace(0, 65535, 1024).astype(np.uint16)[None, :, None], (128, 1, 3))
    heif = pillow_heif.from_bytes("RGB;16", (1024, 128), ramp.tobytes())
    heif.save(tmp_path / "deep.heic", quality=-1, chroma=444, matrix_coefficients=0)
    photograph = read_photograph(tmp_path / "deep.heic")
    codes = encode_srgb(photograph.light[64, :, 1])
    assert photograph.bits == 10
    assert np.abs(codes - np.linspace(0, 1, 1024)).max() < 0.004
    assert len(np.unique(np.round(codes * 1023))) > 600  # 8 bits would give 256


def test_first_frame_of_a_gif_is_read(scene, tmp_path):
    frames = [Image.fromarray(part).quantize(255) for part in (scene, 255 - scene)]
    frames[0].save(tmp_path / "a.gif", save_all=True, append_images=frames[1:])
    picture = read_picture(tmp_path / "a.gif")
    assert np.array_equal(picture.srgb, np.asarray(frames[0].convert("RGB")))
    assert "the first of several pictures in the file is read" in picture.notes


@pytest.mark.parametrize("interlaced", [False, True])
@pytest.mark.parametrize(("colour_type", "channels"), [(0, 1), (2, 3), (4, 2), (6, 4)])
def test_sixteen_bit_png_keeps_its_depth(colour_type, channels, interlaced, make, save):
    samples = np.random.default_rng(channels).integers(0, 65536, (70, 83, channels)).astype(np.uint16)
    picture = read_picture(save(make.png_bytes(samples, colour_type, interlaced=interlaced), "deep.png"))
    expected = samples[..., : 3 if channels > 2 else 1] / 65535
    if channels in (2, 4):
        expected = over_white(expected, samples[..., -1] / 65535)
    assert np.abs(encoded(picture) - expected).max() < 2e-4  # 1/20 of an 8-bit step
    assert picture.bits == 16


@pytest.mark.parametrize("byteorder", ["<", ">"])
@pytest.mark.parametrize("planar", ["contig", "separate"])
@pytest.mark.parametrize("compression", [None, "zlib"])
@pytest.mark.parametrize("channels", [1, 3, 4])
def test_sixteen_bit_tiff_keeps_its_depth(channels, compression, planar, byteorder, tmp_path):
    samples = np.random.default_rng(channels).integers(0, 65536, (70, 83, channels)).astype(np.uint16)
    stored = samples[..., 0] if channels == 1 else samples
    if channels > 1 and planar == "separate":
        stored = np.moveaxis(samples, -1, 0)
    tifffile.imwrite(
        tmp_path / "deep.tif",
        stored,
        photometric="minisblack" if channels == 1 else "rgb",
        planarconfig=None if channels == 1 else planar,
        compression=compression,
        byteorder=byteorder,
        extrasamples=["unassalpha"] if channels == 4 else None,
    )
    picture = read_picture(tmp_path / "deep.tif")
    expected = samples[..., :3] / 65535
    if channels == 4:
        expected = over_white(expected, samples[..., 3] / 65535)
    assert np.abs(encoded(picture) - expected).max() < 2e-4
    assert picture.bits == 16


def test_sixteen_bit_grey_tiff_with_white_at_zero_is_not_a_negative(tmp_path):
    samples = np.random.default_rng(1).integers(0, 65536, (70, 83)).astype(np.uint16)
    tifffile.imwrite(tmp_path / "w.tif", samples, photometric="miniswhite")
    picture = read_picture(tmp_path / "w.tif")
    assert np.abs(encoded(picture)[..., 1] - (1 - samples / 65535)).max() < 2e-4


def test_premultiplied_alpha_of_a_tiff_is_undone(tmp_path):
    alpha = np.linspace(0.2, 1, 80)[None, :].repeat(70, 0)
    colour = np.full((70, 80, 3), 0.5)
    stored = np.concatenate([colour * alpha[..., None], alpha[..., None]], axis=2)
    tifffile.imwrite(
        tmp_path / "p.tif", np.rint(stored * 65535).astype(np.uint16), photometric="rgb", extrasamples=["assocalpha"]
    )
    assert np.abs(encoded(read_picture(tmp_path / "p.tif")) - over_white(colour, alpha)).max() < 5e-4


@pytest.mark.parametrize("dtype", [np.float16, np.float32, np.float64])
@pytest.mark.parametrize("channels", [1, 3])
def test_floating_point_tiff_is_linear_light(dtype, channels, tmp_path):
    light = np.random.default_rng(2).random((70, 80, channels)).astype(dtype)
    tifffile.imwrite(
        tmp_path / "f.tif", light.squeeze(), photometric="rgb" if channels == 3 else "minisblack", compression="zlib"
    )
    picture = read_picture(tmp_path / "f.tif")
    from critique.perception.cielab import lab_to_linear

    assert np.abs(lab_to_linear(picture.lab) - light.astype(float)).max() < 2e-5
    assert picture.profile == "none, taken as linear light"


def test_missing_values_of_a_floating_point_tiff_are_white(tmp_path):
    light = np.full((70, 80, 3), 0.2, np.float32)
    light[:, :20, 1] = np.nan
    light[:, 20:30] = np.inf
    tifffile.imwrite(tmp_path / "f.tif", light, photometric="rgb")
    picture = read_picture(tmp_path / "f.tif")
    assert (picture.srgb[:, :30] == 255).all()
    assert np.isfinite(picture.lab).all()
    assert np.abs(srgb8_to_linear(picture.srgb[:, 40:]) - 0.2).max() < 0.003
    assert "parts without a value (NaN) are shown white" in picture.notes


def test_thirty_two_bit_tiff_is_scaled_to_its_range(tmp_path):
    samples = np.random.default_rng(3).integers(0, 2**32, (70, 80, 3)).astype(np.uint32)
    tifffile.imwrite(tmp_path / "u.tif", samples, photometric="rgb")
    picture = read_picture(tmp_path / "u.tif")
    assert np.abs(encoded(picture) - samples / (2**32 - 1)).max() < 2e-4
    assert picture.bits == 32


def test_grey_is_neutral(scene, tmp_path):
    Image.fromarray(scene).convert("L").save(tmp_path / "grey.jpg")
    picture = read_picture(tmp_path / "grey.jpg")
    assert np.abs(picture.lab[..., 1:]).max() < 0.01
    assert np.array_equal(picture.srgb[..., 1], np.asarray(Image.open(tmp_path / "grey.jpg")))
    assert picture.mode == "L"


def test_one_bit_drawings_are_black_and_white(tmp_path):
    bits = np.random.default_rng(0).random((70, 80)) > 0.5
    Image.fromarray(bits).save(tmp_path / "ink.png")
    assert np.array_equal(read_picture(tmp_path / "ink.png").srgb[..., 0], bits * np.uint8(255))


def test_alpha_lies_over_white_before_light_is_averaged(scene, tmp_path):
    alpha = np.tile(np.linspace(0, 255, 160).astype(np.uint8), (120, 1))
    Image.fromarray(np.dstack([scene, alpha])).save(tmp_path / "a.png")
    picture = read_picture(tmp_path / "a.png")
    expected = over_white(scene / 255, alpha / 255)
    assert np.abs(encoded(picture) - expected).max() < 2e-4


def test_grey_with_alpha_lies_over_white(tmp_path):
    grey = np.full((70, 80), 100, np.uint8)
    alpha = np.tile(np.linspace(0, 255, 80).astype(np.uint8), (70, 1))
    Image.fromarray(np.dstack([grey, alpha]), "LA").save(tmp_path / "la.png")
    picture = read_picture(tmp_path / "la.png")
    assert np.abs(encoded(picture) - over_white(np.full((70, 80, 3), 100 / 255), alpha / 255)).max() < 2e-4


def test_transparent_colour_of_a_palette_is_white(tmp_path):
    index = np.zeros((70, 80), np.uint8)
    index[:, 40:] = 1
    image = Image.fromarray(index, "P")
    image.putpalette([10, 60, 20, 200, 30, 40])
    image.save(tmp_path / "p.png", transparency=1)
    picture = read_picture(tmp_path / "p.png")
    assert (picture.srgb[:, 40:] == 255).all()
    assert (picture.srgb[:, :40] == (10, 60, 20)).all()
    image.save(tmp_path / "p.gif", transparency=1)
    assert (read_picture(tmp_path / "p.gif").srgb == picture.srgb).all()


@pytest.mark.parametrize("deep", [False, True])
@pytest.mark.parametrize("colour_type", [0, 2])
def test_colour_key_of_a_png_is_transparent(deep, colour_type, make, save):
    channels = 3 if colour_type == 2 else 1
    samples = np.random.default_rng(1).integers(0, 200, (70, 80, channels)).astype(np.uint16 if deep else np.uint8)
    samples[10:20] = 210
    key = (b"tRNS", np.full(channels, 210, ">u2").tobytes())
    picture = read_picture(save(make.png_bytes(samples, colour_type, key), "key.png"))
    white = (picture.srgb == 255).all(axis=2)
    assert white[10:20].all()
    assert not white[:10].any() and not white[20:].any()


def test_misnamed_files_are_read_by_what_they_hold(scene, tmp_path):
    Image.fromarray(scene).save(tmp_path / "really.png")
    (tmp_path / "really.png").rename(tmp_path / "named.jpg")
    picture = read_picture(tmp_path / "named.jpg")
    assert np.array_equal(picture.srgb, scene)
    assert picture.format == "PNG"


def test_first_page_of_a_tiff_is_read(scene, tmp_path):
    Image.fromarray(scene).save(tmp_path / "m.tif", save_all=True, append_images=[Image.fromarray(255 - scene)] * 2)
    picture = read_picture(tmp_path / "m.tif")
    assert np.array_equal(picture.srgb, scene)
    assert "the first of several pictures in the file is read" in picture.notes


def _detailed(height: int, width: int) -> np.ndarray:
    generator = np.random.default_rng(11)
    coarse = generator.integers(0, 256, (height // 20, width // 20, 3)).astype(np.uint8)
    return np.asarray(Image.fromarray(coarse).resize((width, height), Image.Resampling.BICUBIC))


@pytest.mark.slow
def test_large_jpeg_decoded_smaller_agrees_with_the_full_decode(tmp_path: Path):
    pixels = _detailed(2400, 3300)
    Image.fromarray(pixels).save(tmp_path / "large.jpg", quality=95)
    photograph = read_photograph(tmp_path / "large.jpg")
    full = np.asarray(Image.open(tmp_path / "large.jpg"))
    expected = linear_to_lab(area_average(decode_srgb(full / np.float32(255)), 1600))
    assert photograph.light.shape == (1164, 1600, 3) == expected.shape
    assert (photograph.original_width, photograph.original_height) == (3300, 2400)
    assert (
        np.linalg.norm(linear_to_lab(photograph.light) - expected, axis=2).mean() < 1.0
    )  # about one just noticeable difference


def test_same_file_gives_the_same_picture(tmp_path):
    Image.fromarray(_detailed(1300, 1900)).save(tmp_path / "twice.jpg")
    first, second = (read_picture(tmp_path / "twice.jpg") for _ in range(2))
    assert np.array_equal(first.lab, second.lab) and np.array_equal(first.srgb, second.srgb)
    assert (first.notes, first.profile) == (second.notes, second.profile)
