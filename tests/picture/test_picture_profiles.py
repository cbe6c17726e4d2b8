"""Embedded colour profiles come out as the sRGB that colour-science and LittleCMS give."""

import struct
from io import BytesIO

import colour
import numpy as np
import pytest
from PIL import Image, ImageCms

from critique.perception.srgb import encode_srgb
from critique.photograph.icc import grey_curve, is_srgb, matrix_profile, to_linear_srgb
from critique.picture.read import read_picture

COLOUR_SPACES = {"Adobe RGB (1998)": "Adobe RGB (1998)", "Display P3": "Display P3", "ProPhoto RGB": "ProPhoto RGB"}


def littlecms(pixels: np.ndarray, mode: str, icc: bytes) -> np.ndarray:
    """What LittleCMS itself gives for 8-bit pixels."""
    transform = ImageCms.buildTransform(
        ImageCms.ImageCmsProfile(BytesIO(icc)),
        ImageCms.createProfile("sRGB"),
        mode,
        "RGB",
        ImageCms.Intent.RELATIVE_COLORIMETRIC,
        ImageCms.Flags.BLACKPOINTCOMPENSATION,
    )
    image = Image.frombytes(mode, pixels.shape[1::-1], np.ascontiguousarray(pixels).tobytes())
    return np.asarray(ImageCms.applyTransform(image, transform))


def by_colour_science(encoded: np.ndarray, name: str) -> np.ndarray:
    """Codes 0–1 of an RGB space to sRGB codes, clipped to what sRGB can show. [colour-science]"""
    space, srgb = colour.RGB_COLOURSPACES[COLOUR_SPACES[name]], colour.RGB_COLOURSPACES["sRGB"]
    linear = colour.RGB_to_RGB(space.cctf_decoding(encoded), space, srgb, chromatic_adaptation_transform="Bradford")
    return encode_srgb(np.clip(linear, 0, 1))


@pytest.mark.parametrize("name", COLOUR_SPACES)
def test_sixteen_bit_wide_gamut_matches_colour_science(name, make, save):
    codes = np.random.default_rng(3).integers(0, 65536, (80, 90, 3)).astype(np.uint16)
    path = save(make.png_bytes(codes, 2, make.icc_chunk(make.rgb_profile(name))), "wide.png")
    picture = read_picture(path)
    expected = by_colour_science(codes / 65535, name)
    # Exponents and colorants are rounded in a profile (s15Fixed16, u8Fixed8), by less than half an 8-bit code.
    assert np.abs(picture.srgb / 255 - expected).max() < 1.1 / 255
    assert picture.profile == name
    assert picture.bits == 16


@pytest.mark.parametrize("name", COLOUR_SPACES)
def test_eight_bit_wide_gamut_matches_colour_science(name, make, save):
    codes = np.random.default_rng(4).integers(0, 256, (80, 90, 3)).astype(np.uint8)
    path = save(make.png_bytes(codes, 2, make.icc_chunk(make.rgb_profile(name))), "wide.png")
    expected = by_colour_science(codes / 255, name)
    assert np.abs(read_picture(path).srgb / 255 - expected).max() < 2.1 / 255  # LittleCMS works in 8 bits here


@pytest.mark.parametrize("name", COLOUR_SPACES)
def test_curves_and_matrix_agree_with_littlecms_at_eight_bits(name, make):
    codes = np.random.default_rng(5).integers(0, 256, (200, 200, 3)).astype(np.uint8)
    icc = make.rgb_profile(name)
    profile = matrix_profile(icc)
    light = np.stack([profile.curves[i][codes[..., i].astype(int) * 257] for i in range(3)], axis=-1)
    own = encode_srgb(np.clip(light @ to_linear_srgb(profile).T, 0, 1)) * 255
    difference = np.abs(own - littlecms(codes, "RGB", icc))
    assert difference.max() < 1.6  # LittleCMS rounds its output to a code, and its 8-bit path another half
    assert difference.mean() < 0.3


@pytest.mark.parametrize("kind", [0, 1, 2, 3, 4])
def test_every_parametric_curve_is_read_as_littlecms_reads_it(kind, make):
    values = [(2.2,), (2.2, 1.05, -0.05), (2.2, 1.06, -0.06, -0.0005), (2.4, 0.948, 0.052, 0.077, 0.04)]
    values += [(2.4, 0.95, 0.05, 0.075, 0.04, -0.0003, 0.0)]
    data = b"para\0\0\0\0" + struct.pack(">HH", kind, 0)
    data += b"".join(struct.pack(">i", round(value * 65536)) for value in values[kind])
    icc = make.icc_profile(b"mntr", b"GRAY", b"XYZ ", {b"kTRC": data}, "Curve")
    codes = np.arange(256, dtype=np.uint8)[None]
    own = encode_srgb(grey_curve(icc)[codes[0].astype(int) * 257]) * 255
    assert np.abs(own - littlecms(codes, "L", icc)[0, :, 1]).max() < 1.6


def test_curve_that_starts_above_black_is_left_to_littlecms(make, save):
    raised = b"para\0\0\0\0" + struct.pack(">HH5i", 3, 0, *(round(v * 65536) for v in (2.0, 0.9, 0.1, 1.0, 0.0)))
    icc = make.icc_profile(b"mntr", b"GRAY", b"XYZ ", {b"kTRC": raised}, "Raised")
    assert grey_curve(icc) is None
    grey = np.tile(np.arange(256, dtype=np.uint8), (64, 1))[..., None]
    picture = read_picture(save(make.png_bytes(grey, 0, make.icc_chunk(icc)), "raised.png"))
    assert np.array_equal(picture.srgb[:, :, 1], littlecms(grey[..., 0], "L", icc)[..., 1])


def test_grey_profile_is_applied_at_eight_and_sixteen_bits(make, save):
    icc = make.grey_profile(1.8)
    eight = np.tile(np.arange(256, dtype=np.uint8), (64, 1))[..., None]
    deep = eight.astype(np.uint16) * 257
    expected = encode_srgb((np.arange(256) / 255) ** (round(1.8 * 256) / 256)) * 255
    for samples, tolerance in ((eight, 1.6), (deep, 0.6)):
        picture = read_picture(save(make.png_bytes(samples, 0, make.icc_chunk(icc)), "grey.png"))
        assert np.abs(picture.srgb[10, :, 1] - expected).max() < tolerance
        assert np.abs(picture.lab[..., 1:]).max() < 0.01
        assert picture.profile == "Grey"


def test_grey_picture_with_an_rgb_profile_is_managed(make, save):
    grey = np.tile(np.arange(256, dtype=np.uint8), (64, 1))[..., None]
    picture = read_picture(save(make.png_bytes(grey, 0, make.icc_chunk(make.rgb_profile("ProPhoto RGB"))), "grey.png"))
    # Grey stays grey under relative colorimetry, and takes the curve of the space (exponent 1.8).
    expected = encode_srgb((np.arange(256) / 255) ** (round(1.8 * 256) / 256)) * 255
    assert np.abs(picture.srgb[0, :, 1] - expected).max() < 1.6


def test_srgb_is_recognised_by_its_numbers_not_its_name(make):
    assert is_srgb(make.rgb_profile("sRGB"))
    assert is_srgb(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    for name in COLOUR_SPACES:
        assert not is_srgb(make.rgb_profile(name))


def nodes_of(inputs: int, steps: int = 6) -> np.ndarray:
    grid = np.linspace(0, 1, steps)
    return np.stack(np.meshgrid(*[grid] * inputs, indexing="ij"), axis=-1)


def lab_d50_of_srgb(encoded: np.ndarray) -> np.ndarray:
    """[colour-science]"""
    d50 = colour.CCS_ILLUMINANTS["cie_2_1931"]["D50"]
    return colour.XYZ_to_Lab(colour.RGB_to_XYZ(encoded, "sRGB", d50, "Bradford", apply_cctf_decoding=True), d50)


def test_cmyk_goes_through_its_profile(make, tmp_path):
    # An invented press: inks darker and muddier than ideal ones, known exactly at steps of a quarter.
    ink = nodes_of(4, 5)
    mud = np.array([[0.95, 0.25, 0.08], [0.10, 0.90, 0.35], [0.02, 0.12, 0.95]])
    encoded = np.prod(1 - ink[..., :3, None] * mud, axis=-2) * (1 - ink[..., 3:])
    icc = make.table_profile(b"prtr", b"CMYK", lab_d50_of_srgb(encoded))
    chosen = np.random.default_rng(2).integers(0, 5, (64, 64, 4))
    image = Image.frombytes("CMYK", (64, 64), np.rint(chosen * 63.75).astype(np.uint8).tobytes())
    image.save(tmp_path / "press.tif", icc_profile=icc)
    picture = read_picture(tmp_path / "press.tif")
    expected = encoded[tuple(np.moveaxis(chosen, -1, 0))] * 255
    # 63.75 codes come to 64, and LittleCMS works through a table of its own.
    assert np.abs(picture.srgb - expected).max() < 1.6
    assert np.abs(picture.srgb - expected).mean() < 0.5
    assert (picture.mode, picture.profile) == ("CMYK", "By table")


def test_cmyk_jpeg_of_adobe_kind_is_not_a_negative(make, tmp_path):
    # Adobe writes inks inverted, and says so with its marker; Pillow's writer does the same.
    ink = np.zeros((96, 96, 4), np.uint8)
    ink[:48, :, 2] = 255
    ink[48:, :, 3] = 255
    Image.frombytes("CMYK", (96, 96), ink.tobytes()).save(tmp_path / "inks.jpg", quality=95)
    picture = read_picture(tmp_path / "inks.jpg")
    assert np.abs(picture.srgb[20, 20].astype(int) - [255, 255, 0]).max() < 8
    assert picture.srgb[80, 80].max() < 8
    assert "CMYK without a profile: its colours are approximate" in picture.notes


def test_sixteen_bit_with_a_profile_by_table_is_managed_at_eight_bits_and_says_so(make, save):
    codes = nodes_of(3)
    encoded = codes[..., ::-1] * 0.8 + 0.1  # exchanges red and blue, so nothing but the table can give it
    icc = make.table_profile(b"scnr", b"RGB ", lab_d50_of_srgb(encoded))
    chosen = np.random.default_rng(1).integers(0, 6, (64, 64, 3))
    samples = (chosen * 13107).astype(np.uint16)
    picture = read_picture(save(make.png_bytes(samples, 2, make.icc_chunk(icc)), "scan.png"))
    expected = littlecms((chosen * 51).astype(np.uint8), "RGB", icc)
    assert np.array_equal(picture.srgb, expected)
    # Black-point compensation takes the 0.1 of the black away; the light end holds.
    assert np.abs(picture.srgb[(chosen == 5).all(axis=2)].astype(int) - 229).max() <= 30
    assert any("8 bits" in note for note in picture.notes)


def test_damaged_profile_falls_back_to_srgb_with_a_note(make, save, scene):
    whole = make.rgb_profile("Adobe RGB (1998)")
    plain = read_picture(save(make.png_bytes(scene, 2), "plain.png"))
    for icc in (whole[:200], b"nonsense" * 40, whole[:128] + b"\xff" * 200, b"x"):
        picture = read_picture(save(make.png_bytes(scene, 2, make.icc_chunk(icc)), "damaged.png"))
        assert np.array_equal(picture.lab, plain.lab)
        assert any("profile" in note and "sRGB" in note for note in picture.notes)
        assert picture.profile == "none, taken as sRGB"


def test_profile_of_another_kind_of_picture_falls_back_with_a_note(make, save, scene):
    picture = read_picture(save(make.png_bytes(scene, 2, make.icc_chunk(make.grey_profile(2.2))), "odd.png"))
    assert np.array_equal(picture.srgb, scene)
    assert any("does not fit" in note for note in picture.notes)


def test_cielab_tiff_is_read_under_d50(tmp_path):
    import tifffile

    lab = np.zeros((80, 80, 3), np.uint8)
    lab[...] = (128, 20, 256 - 30)  # L* 50.2, a* 20, b* −30 in the 8-bit coding of TIFF [TIFF 6.0, section 23]
    tifffile.imwrite(tmp_path / "lab.tif", lab, photometric="cielab")
    picture = read_picture(tmp_path / "lab.tif")
    d50 = colour.CCS_ILLUMINANTS["cie_2_1931"]["D50"]
    xyz = colour.Lab_to_XYZ([128 / 2.55, 20, -30], d50)
    expected = colour.XYZ_to_RGB(xyz, "sRGB", d50, "Bradford", apply_cctf_encoding=True)
    assert np.abs(picture.srgb[5, 5] / 255 - expected).max() < 2 / 255
