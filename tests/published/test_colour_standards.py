"""The ruler against published tables and general-purpose libraries."""

import re

import colour
import numpy as np
import pytest
import skimage.color
from matplotlib.colors import XKCD_COLORS

from critique.perception.cielab import lab_to_lch, linear_to_lab, srgb8_to_lab, xyz_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.hue import LIGHT_WHEEL, YELLOW_GREEN, HueBand, beyond_leaf, leaf_limit
from critique.perception.munsell import to_munsell
from critique.perception.names import colour_name, colour_names, hue_number, names_of_munsell
from critique.perception.reference import read_table
from critique.perception.spectra import WAVELENGTHS, observer, photopic_efficiency
from critique.perception.srgb import decode_srgb, encode_srgb

D65 = np.array([0.3127, 0.3290])  # IEC 61966-2-1
ILLUMINANT_C = np.array([0.31006, 0.31616])  # CIE 1931

# Sharma, Wu and Dalal, "The CIEDE2000 Color-Difference Formula: Implementation Notes, Supplementary Test Data, and
# Mathematical Observations", Color Research and Application 30(1), 2005, table 1: L1 a1 b1 L2 a2 b2 ΔE00.
SHARMA_PAIRS = np.array(
    """
50.0000 2.6772 -79.7751 50.0000 0.0000 -82.7485 2.0425
50.0000 3.1571 -77.2803 50.0000 0.0000 -82.7485 2.8615
50.0000 2.8361 -74.0200 50.0000 0.0000 -82.7485 3.4412
50.0000 -1.3802 -84.2814 50.0000 0.0000 -82.7485 1.0000
50.0000 -1.1848 -84.8006 50.0000 0.0000 -82.7485 1.0000
50.0000 -0.9009 -85.5211 50.0000 0.0000 -82.7485 1.0000
50.0000 0.0000 0.0000 50.0000 -1.0000 2.0000 2.3669
50.0000 -1.0000 2.0000 50.0000 0.0000 0.0000 2.3669
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0009 7.1792
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0010 7.1792
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0011 7.2195
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0012 7.2195
50.0000 -0.0010 2.4900 50.0000 0.0009 -2.4900 4.8045
50.0000 -0.0010 2.4900 50.0000 0.0010 -2.4900 4.8045
50.0000 -0.0010 2.4900 50.0000 0.0011 -2.4900 4.7461
50.0000 2.5000 0.0000 50.0000 0.0000 -2.5000 4.3065
50.0000 2.5000 0.0000 73.0000 25.0000 -18.0000 27.1492
50.0000 2.5000 0.0000 61.0000 -5.0000 29.0000 22.8977
50.0000 2.5000 0.0000 56.0000 -27.0000 -3.0000 31.9030
50.0000 2.5000 0.0000 58.0000 24.0000 15.0000 19.4535
50.0000 2.5000 0.0000 50.0000 3.1736 0.5854 1.0000
50.0000 2.5000 0.0000 50.0000 3.2972 0.0000 1.0000
50.0000 2.5000 0.0000 50.0000 1.8634 0.5757 1.0000
50.0000 2.5000 0.0000 50.0000 3.2592 0.3350 1.0000
60.2574 -34.0099 36.2677 60.4626 -34.1751 39.4387 1.2644
63.0109 -31.0961 -5.8663 62.8187 -29.7946 -4.0864 1.2630
61.2901 3.7196 -5.3901 61.4292 2.2480 -4.9620 1.8731
35.0831 -44.1164 3.7933 35.0232 -40.0716 1.5901 1.8645
22.7233 20.0904 -46.6940 23.0331 14.9730 -42.5619 2.0373
36.4612 47.8580 18.3852 36.2715 50.5065 21.2231 1.4146
90.8027 -2.0831 1.4410 91.1528 -1.6435 0.0447 1.4441
90.9257 -0.5406 -0.9208 88.6381 -0.8985 -0.7239 1.5381
6.7747 -0.2908 -2.4247 5.8714 -0.0985 -2.2286 0.6377
2.0776 0.0795 -1.1350 0.9033 -0.0636 -0.5514 0.9082
""".split(),
    dtype=float,
).reshape(34, 7)

# McCamy, Marcus and Davidson, "A Color-Rendition Chart", J. Appl. Photographic Eng. 2(3), 1976, table of ISCC–NBS
# designations (from memory of that table); chart values: colour-science, "ColorChecker 2005".
CHART_NAMES = (
    "moderate brown, light reddish brown, moderate blue, moderate olive green, light violet, light bluish green, "
    "strong orange, strong purplish blue, moderate red, deep purple, strong yellow green, strong orange yellow, "
    "vivid purplish blue, strong yellowish green, strong red, vivid yellow, strong reddish purple, "
    "strong greenish blue, white, light gray, light gray, medium gray, dark gray, black"
).split(", ")
# The blocks are coarse and four patches lie on a border; the block next door is as good a name for these.
CHART_NEIGHBOURS = {
    "moderate brown": "moderate reddish brown",
    "light reddish brown": "moderate yellowish pink",
    "deep purple": "dark purple",
    "vivid purplish blue": "vivid blue",
    "strong red": "vivid red",
}


def adapted_lab(xyY, white):
    """CIELAB under D65 by colour-science, adapted by Bradford's transform."""
    xyz = colour.chromatic_adaptation(
        colour.xyY_to_XYZ(xyY), colour.xy_to_XYZ(white), colour.xy_to_XYZ(D65), transform="Bradford"
    )
    return colour.XYZ_to_Lab(xyz, D65)


@pytest.fixture(scope="module")
def chart():
    checker = colour.CCS_COLOURCHECKERS["ColorChecker 2005"]
    return {name: adapted_lab(xyY, checker.illuminant) for name, xyY in checker.data.items()}


def renotation_chips(hues):
    """Lab of every measured renotation chip of these hues, value 2–9, chroma 4 or more, by colour-science."""
    chosen = [
        (x, y, colour.colorimetry.luminance_ASTMD1535(value) / 100)
        for (hue, value, chroma), (x, y, _) in colour.MUNSELL_COLOURS["Munsell Colours Real"]
        if hue in hues and chroma >= 4 and 2 <= value <= 9
    ]
    assert len(chosen) > 20
    return adapted_lab(np.array(chosen), ILLUMINANT_C)


def test_ciede2000_gives_the_published_pairs():
    difference = delta_e_2000(SHARMA_PAIRS[:, :3], SHARMA_PAIRS[:, 3:6])
    assert np.abs(difference - SHARMA_PAIRS[:, 6]).max() < 1e-4


def test_ciede2000_agrees_with_colour_science_on_random_colours():
    rng = np.random.default_rng(1)
    first, second = (rng.uniform([0, -90, -90], [100, 90, 90], (5000, 3)) for _ in range(2))
    assert np.abs(delta_e_2000(first, second) - colour.delta_E(first, second, method="CIE 2000")).max() < 1e-6


def test_fast_lab_agrees_with_two_libraries_on_random_and_near_black_colours():
    rng = np.random.default_rng(2)
    codes = np.concatenate([rng.integers(0, 256, (20000, 3)), rng.integers(0, 12, (5000, 3))]).astype(np.uint8)
    ours = srgb8_to_lab(codes)
    by_colour = colour.XYZ_to_Lab(colour.sRGB_to_XYZ(codes / 255), D65)
    by_skimage = skimage.color.rgb2lab(codes[None] / 255)[0]
    assert np.abs(ours - by_colour).max() < 0.02
    assert np.abs(ours - by_skimage).max() < 0.02


def test_grey_is_exactly_neutral():
    grey = np.repeat(np.linspace(0, 1, 1001)[:, None], 3, axis=1)
    assert np.abs(linear_to_lab(grey)[:, 1:]).max() < 1e-3


def test_srgb_transfer_gives_the_standard_values():
    # IEC 61966-2-1: the two parts of the curve and where they meet.
    assert decode_srgb(0.04045) == pytest.approx(0.0031308, abs=1e-7)
    assert decode_srgb(0.5) == pytest.approx(((0.5 + 0.055) / 1.055) ** 2.4, abs=1e-9)
    assert decode_srgb(0.5) == pytest.approx(0.21404, abs=1e-5)
    assert encode_srgb(0.18) == pytest.approx(0.46136, abs=1e-5)
    codes = np.linspace(0, 1, 256)
    assert np.abs(decode_srgb(codes) - colour.models.eotf_sRGB(codes)).max() < 1e-6


def test_every_munsell_gy_chip_is_in_the_band():
    assert YELLOW_GREEN.contains(renotation_chips({"5GY", "7.5GY"})).all()
    # The lightest and strongest of 2.5GY are what ISCC–NBS calls greenish yellow.
    chips = renotation_chips({"2.5GY"})
    assert YELLOW_GREEN.contains(chips)[chips[:, 0] < 80].all()


def test_no_chip_of_another_hue_is_in_the_band():
    rest = {
        f"{step}{letters}" for letters in ("R", "YR", "BG", "B", "PB", "P", "RP") for step in ("2.5", "5", "7.5", "10")
    }
    rest |= {"2.5Y", "5G", "7.5G", "10G"}
    assert not YELLOW_GREEN.contains(renotation_chips(rest)).any()


def test_a_yellow_is_green_only_where_it_is_dark():
    # ISCC–NBS calls dark 5Y and 7.5Y olive, and light ones yellow. [Kelly and Judd, NBS SP 440, 1976]
    for hue, lightest in (("5Y", 45), ("7.5Y", 66)):
        chips = renotation_chips({hue})
        green = YELLOW_GREEN.contains(chips)
        assert green.any()
        assert chips[green, 0].max() < lightest


# What the words of a name say: a hue that people call green or olive, or one that they call yellow or brown.
GREEN_WORDS = re.compile(
    r"green|olive|moss|sage|pea\b|lime|grass|leaf|forest|fern|avocado|chartreuse|kiwi|asparagus|jungle|pine"
)
YELLOW_WORDS = re.compile(
    r"yellow|cream|straw|khaki|mustard|brown|ochre|ocher|gold|sand|beige|tan\b|buff|wheat|lemon|corn|butter|amber|"
    r"camel|umber|sienna|mud|dirt|ecru|parchment|banana|custard|dandelion|maize|hazel"
)


def wrong_side(lab, is_green, band):
    """How many colours between hues 60° and 148° the band's yellow-side border puts on the wrong side."""
    chroma, hue = lab_to_lch(lab).T[1:]
    asked = (chroma >= 8) & (hue > 60) & (hue < 148)
    return int((band.contains(lab) != is_green)[asked].sum()), int(asked.sum())


def survey():
    """Lab of the colours of the naming survey (Munroe, 2010, in matplotlib) whose names say green or yellow."""
    codes, green = [], []
    for name, code in XKCD_COLORS.items():
        words = name.removeprefix("xkcd:")
        says = bool(GREEN_WORDS.search(words)), bool(YELLOW_WORDS.search(words))
        if says[0] != says[1]:
            codes.append([int(code[at : at + 2], 16) for at in (1, 3, 5)])
            green.append(says[0])
    return srgb8_to_lab(np.array(codes, dtype=np.uint8)), np.array(green)


def named_chips():
    """Lab of measured renotation chips that ISCC–NBS calls green or olive, yellow or brown, by their notation."""
    chips, notations = [], []
    for (hue, value, chroma), (x, y, _) in colour.MUNSELL_COLOURS["Munsell Colours Real"]:
        if value >= 1:
            chips.append((x, y, colour.colorimetry.luminance_ASTMD1535(value) / 100))
            notations.append((hue_number(hue), value, chroma))
    names = names_of_munsell(notations)
    green = np.array([("green" in name and "greenish" not in name) or name.endswith("olive") for name in names])
    yellow = np.array([name.endswith(("yellow", "brown")) for name in names])
    lab = adapted_lab(np.array(chips), ILLUMINANT_C)
    return lab[green | yellow], green[green | yellow]


LEVEL = HueBand("one border for every lightness", 101.0, 148.0, 8.0)


def test_the_greens_begin_where_the_naming_survey_has_them():
    lab, green = survey()
    wrong, asked = wrong_side(lab, green, YELLOW_GREEN)
    assert asked > 250
    assert wrong <= 8
    assert wrong_side(lab, green, LEVEL)[0] > 25


def test_the_greens_begin_where_iscc_nbs_has_them():
    lab, green = named_chips()
    wrong, asked = wrong_side(lab, green, YELLOW_GREEN)
    assert asked > 400
    assert wrong <= 0.08 * asked
    assert wrong_side(lab, green, LEVEL)[0] > 1.5 * wrong


def test_the_eye_peaks_inside_the_bands_dominant_wavelengths():
    # V(λ), CIE 1924: peak 555 nm; at 10 nm the two neighbours 550 and 560 are level.
    fine = colour.SDS_LEFS["CIE 1924 Photopic Standard Observer"]
    assert fine.wavelengths[fine.values.argmax()] == 555
    assert WAVELENGTHS[photopic_efficiency().argmax()] in (550, 560)
    # Spectral colours from 540 to 573 nm, desaturated to the middle of the way to white, have the band's hues.
    for wavelength, inside in ((540, True), (555, True), (572, True), (500, False), (590, False)):
        xyz = np.array([np.interp(wavelength, WAVELENGTHS, observer()[:, axis]) for axis in range(3)])
        half = 0.5 * xyz / xyz.sum() + 0.5 * colour.xy_to_XYZ(D65) / colour.xy_to_XYZ(D65).sum()
        hue = lab_to_lch(xyz_to_lab(half / half[1] * 0.4))[2]
        assert (99 <= hue <= 150) == inside, (wavelength, hue)


def test_the_charts_foliage_is_a_leaf_and_its_green_is_not(chart):
    assert YELLOW_GREEN.contains(chart["foliage"])
    assert not beyond_leaf(chart["foliage"])
    assert beyond_leaf(chart["yellow green"])
    assert not YELLOW_GREEN.contains(chart["bluish green"])


def test_no_reflecting_leaf_is_beyond_the_leaf_limit_and_the_purest_touch_it():
    # PROSPECT-D, Féret et al., Remote Sensing of Environment 193, 2017 (leaf_colours.csv).
    leaves = [row for row in read_table("leaf_colours.csv") if row["light"] == "reflected"]
    excess = [float(row["C"]) - float(leaf_limit(float(row["L"]))) for row in leaves]
    assert max(excess) < 0.1
    assert max(excess) > -0.1
    # In shade a*, b* and L* + 16 shrink together: the limit does too.
    assert leaf_limit(17.0) / leaf_limit(49.0) == pytest.approx((17 + 16) / (49 + 16))


def test_the_charts_patches_get_their_obvious_names(chart):
    found = [colour_name(lab) for lab in chart.values()]
    for name, expected in zip(found, CHART_NAMES, strict=True):
        assert name in (expected, CHART_NEIGHBOURS.get(expected)), (name, expected)
    assert sum(name == expected for name, expected in zip(found, CHART_NAMES, strict=True)) >= 20


@pytest.mark.slow
def test_colours_get_the_name_of_their_block():
    # Notations drawn at random, their colours by colour-science, their names by the blocks of NBS SP 440.
    rng = np.random.default_rng(3)
    letters = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
    notations, chips = [], []
    for hue, value, chroma in rng.uniform([0, 1.5, 0.3], [100, 9, 10], (400, 3)):
        step = max(hue % 10, 0.01)
        try:
            chip = colour.munsell_colour_to_xyY(f"{step:.3f}{letters[int(hue // 10)]} {value:.3f}/{chroma:.3f}")
        except (ValueError, AssertionError):
            continue  # beyond the renotation
        chips.append(chip)
        notations.append((10 * (hue // 10) + step, value, chroma))
    lab = adapted_lab(np.array(chips), ILLUMINANT_C)
    right = np.array(colour_names(lab)) == np.array(names_of_munsell(notations))
    inside = (colour.XYZ_to_sRGB(colour.Lab_to_XYZ(lab, D65)) >= 0).all(axis=-1)
    assert inside.sum() > 200
    assert right[inside].mean() >= 0.95


def test_munsell_notation_agrees_with_colour_science_on_chips_between_the_tabled_ones():
    for hue, value, chroma in (
        (33.0, 4.5, 5.0),
        (37.2, 6.3, 7.0),
        (12.0, 5.5, 3.0),
        (71.0, 3.4, 6.0),
        (92.0, 7.6, 5.0),
    ):
        notation = (
            f"{hue % 10:g}{('R', 'YR', 'Y', 'GY', 'G', 'BG', 'B', 'PB', 'P', 'RP')[int(hue // 10)]} {value}/{chroma}"
        )
        chip = to_munsell(adapted_lab(colour.munsell_colour_to_xyY(notation), ILLUMINANT_C))
        assert chip.hue == pytest.approx(hue, abs=0.5)
        assert chip.value == pytest.approx(value, abs=0.05)
        assert chip.chroma == pytest.approx(chroma, abs=0.2)


def test_light_wheel_stations_are_the_full_colours_of_srgb():
    full = {
        "yellow": (1, 1, 0),
        "red": (1, 0, 0),
        "magenta": (1, 0, 1),
        "blue": (0, 0, 1),
        "cyan": (0, 1, 1),
        "green": (0, 1, 0),
    }
    for station in LIGHT_WHEEL:
        lab = colour.XYZ_to_Lab(colour.sRGB_to_XYZ(np.array(full[station.name], dtype=float)), D65)
        hue = np.degrees(np.arctan2(lab[2], lab[1])) % 360
        assert station.hue == pytest.approx(hue, abs=0.2)
