"""Light put right by a spot, a card and a chart, held to colour-science and to lamps of known colour."""

import colour
import numpy as np
import pytest

from critique.errors import CritiqueError
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.lamps import black_body
from critique.photograph import balance as rooms
from critique.photograph.balance import (
    balance_by_card,
    balance_by_chart,
    balance_by_patches,
    balance_by_spot,
    chart_lab,
    level_of,
)
from critique.photograph.chart_fit import least_squares, root_terms
from critique.photograph.lamp_colours import from_grey
from critique.photograph.righting import HARDLY_GREY


def lamp(kelvin):
    """Linear sRGB of a black body's light, green at 1. [Planck's law by colour-science, Kang et al. 2002]"""
    white = colour.XYZ_to_sRGB(
        colour.xy_to_XYZ(colour.CCT_to_xy(kelvin, method="Kang 2002")), apply_cctf_encoding=False
    )
    return np.maximum(white / white[1], 0.05)


def chart_scene(light=(1.0, 1.0, 1.0), exposure=0.9, noise=0.0):
    """A chart drawn flat, 6 × 4 patches of 40 px with black between them."""
    scene = np.full((160, 240, 3), 0.02, np.float32)
    for number, patch in enumerate(lab_to_linear(chart_lab())):
        row, column = divmod(number, 6)
        scene[row * 40 + 3 : row * 40 + 37, column * 40 + 3 : column * 40 + 37] = patch
    scene = scene * np.array(light, np.float32) * exposure
    return np.clip(scene + np.random.default_rng(1).normal(0, noise, scene.shape), 0, 1).astype(np.float32)


FULL = ((0, 0), (1, 0), (1, 1), (0, 1))


def test_chart_values_are_those_of_colour_science():
    chart = colour.CCS_COLOURCHECKERS["cca2014"]
    white = colour.xy_to_XYZ(np.array([0.3127, 0.3290]))
    xyz = colour.xyY_to_XYZ(np.array(list(chart.data.values())))
    there = colour.xy_to_XYZ(chart.illuminant)
    adapted = colour.chromatic_adaptation(xyz, there, white, method="Von Kries", transform="Bradford")
    assert np.abs(chart_lab() - colour.XYZ_to_Lab(adapted, np.array([0.3127, 0.3290]))).max() < 1e-3


def test_root_polynomial_and_linear_fits_are_those_of_colour_science():
    random = np.random.default_rng(2)
    seen, wanted = random.uniform(0.02, 0.9, (2, 24, 3))
    ours = least_squares(root_terms(seen), wanted)
    theirs = colour.characterisation.matrix_colour_correction_Finlayson2015(seen, wanted, 2, True)
    # The order of the terms is another one there, so that what they do is compared.
    there = colour.characterisation.polynomial_expansion_Finlayson2015(seen, 2, True) @ theirs.T
    assert np.allclose(root_terms(seen) @ ours.T, there, atol=1e-9)
    linear = colour.characterisation.matrix_colour_correction_Cheung2004(seen, wanted, 3)
    assert np.allclose(least_squares(seen, wanted), linear, atol=1e-9)


@pytest.mark.parametrize("kelvin", [2700, 3500, 5000, 6500])
def test_a_grey_spot_takes_a_lamp_away(kelvin):
    light = lamp(kelvin)
    scene = chart_scene(light, exposure=0.55 / light.max(), noise=0.002)
    done = balance_by_spot(scene, (2.5 / 6, 3.5 / 4), lightness=66.9)  # the middle grey of the last row
    put_right = rooms.chart_patches(done.applied(scene), FULL)
    assert np.quantile(delta_e_2000(linear_to_lab(put_right.astype(np.float32)), chart_lab()), 0.9) < 2


@pytest.mark.parametrize("kelvin", [2700, 4000, 6500])
def test_a_chart_takes_lamp_and_camera_away(kelvin):
    camera = np.array([[0.8, 0.15, 0.05], [0.1, 0.85, 0.05], [0.02, 0.18, 0.8]])  # a sensor whose channels overlap
    light = lamp(kelvin)
    scene = chart_scene(light, exposure=0.6 / light.max()) @ camera.T.astype(np.float32)
    done = balance_by_chart(scene, FULL)
    put_right = rooms.chart_patches(done.applied(scene), FULL)
    assert np.quantile(delta_e_2000(linear_to_lab(put_right.astype(np.float32)), chart_lab()), 0.9) < 1.5
    assert done.left_over < 1.5 and done.level == "A"


@pytest.mark.parametrize("power", [0.8, 1.0, 1.25])
def test_a_chart_takes_the_camera_s_contrast_away(power):
    camera = np.array([[0.8, 0.15, 0.05], [0.1, 0.85, 0.05], [0.02, 0.18, 0.8]])  # a sensor whose channels overlap
    scene = (chart_scene(lamp(4000), exposure=0.5) @ camera.T.astype(np.float32)) ** np.float32(power)
    done = balance_by_chart(scene, FULL)
    assert done.fit.exponent == pytest.approx(1 / power, abs=0.04)
    put_right = rooms.chart_patches(done.applied(scene), FULL)
    assert np.quantile(delta_e_2000(linear_to_lab(put_right.astype(np.float32)), chart_lab()), 0.9) < 1.5


@pytest.mark.parametrize("veil", [0.01, 0.03, 0.08])
def test_a_chart_takes_stray_light_away(veil):
    light = lamp(4000)
    scene = chart_scene(light, exposure=0.5 / light.max()) + np.float32(veil)
    done = balance_by_chart(scene, FULL)
    assert done.fit.veil == pytest.approx(veil, rel=0.15)
    put_right = rooms.chart_patches(done.applied(scene), FULL)
    assert np.quantile(delta_e_2000(linear_to_lab(put_right.astype(np.float32)), chart_lab()), 0.9) < 1.5
    assert done.level == "A"


@pytest.mark.parametrize("kelvin", [2700, 4000])
def test_a_lamp_alone_is_taken_away_by_white_balance_alone(kelvin):
    """What has less to fit gets less wrong by noise."""
    light = lamp(kelvin)
    done = balance_by_chart(chart_scene(light, exposure=0.6 / light.max(), noise=0.001), FULL)
    assert done.how == "chart, white balance" and done.level == "A"
    gains = np.diag(done.fit.matrix) * light
    assert np.ptp(gains) < 0.02 * gains.mean()


def test_a_card_is_a_spot_with_an_even_light():
    scene = chart_scene(lamp(3000), exposure=0.4)
    card = ((2.1 / 6, 3.1 / 4), (2.9 / 6, 3.1 / 4), (2.9 / 6, 3.9 / 4), (2.1 / 6, 3.9 / 4))
    grey = balance_by_card(scene, card)
    assert np.allclose(grey.gains * lamp(3000), (grey.gains * lamp(3000)).mean(), rtol=0.03)
    with pytest.raises(CritiqueError, match="evenly lit"):
        balance_by_card(scene, FULL)


def test_a_clipped_spot_is_refused():
    scene = np.ones((100, 100, 3), np.float32)
    with pytest.raises(CritiqueError, match="clipped"):
        balance_by_spot(scene, (0.5, 0.5))


def test_dark_coloured_and_outside_spots_are_refused():
    with pytest.raises(CritiqueError, match="too dark"):
        balance_by_spot(np.full((100, 100, 3), 0.004, np.float32), (0.5, 0.5))
    with pytest.raises(CritiqueError, match="too coloured"):
        balance_by_spot(np.full((100, 100, 3), [0.9, 0.3, 0.02], np.float32), (0.5, 0.5))
    with pytest.raises(CritiqueError, match="outside"):
        balance_by_spot(np.full((100, 100, 3), 0.5, np.float32), (1.2, 0.5))


@pytest.mark.parametrize("kelvin", [2000, 2856, 4000, 6504, 12000])
def test_a_black_body_is_that_of_colour_science(kelvin):
    xy = colour.XYZ_to_xy(black_body(kelvin))
    assert np.abs(xy - colour.CCT_to_xy(kelvin, method="Kang 2002")).max() < 0.002
    # A grey by that lamp, all of it left in or half: plausible, whatever the exposure.
    for left in (1.0, 0.5):
        assert from_grey(0.3 * lamp(kelvin) ** left / (lamp(6504) ** left))[1] < 4


@pytest.mark.parametrize("name", ["FL1", "FL2", "FL4", "FL8", "FL11", "FL12", "LED-B1", "LED-RGB1", "LED-V1", "HP1"])
def test_no_lamp_of_cie_makes_a_grey_too_coloured_to_be_one(name):
    white = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"][name]
    light = np.maximum(colour.XYZ_to_sRGB(colour.xy_to_XYZ(white), apply_cctf_encoding=False), 0.01)
    assert max(from_grey(light)[1], from_grey(light**0.5)[1]) < rooms.NO_LAMP / 3


@pytest.mark.parametrize(
    ("name", "hardly", "refused"),
    [
        ("neutral 5 (.70 D)", False, False),
        ("dark skin", True, False),  # brown: a grey by a warm lamp looks like it
        ("foliage", True, True),
        ("purple", True, True),
        ("red", True, True),
        ("yellow green", True, True),
    ],
)
def test_a_spot_that_no_lamp_could_make_of_a_grey_is_refused(name, hardly, refused):
    # The chart's patches by daylight, none but the neutral one a grey. [names of the 24-patch chart]
    patch = lab_to_linear(chart_lab())[list(colour.CCS_COLOURCHECKERS["cca2014"].data).index(name)]
    scene = np.tile(np.asarray(patch, np.float32), (60, 60, 1))
    if refused:
        with pytest.raises(CritiqueError, match="too coloured"):
            balance_by_spot(scene, (0.5, 0.5))
    else:
        assert (balance_by_spot(scene, (0.5, 0.5)).off_grey > HARDLY_GREY) == hardly


@pytest.mark.parametrize(
    ("way", "said"),
    [
        (lambda p: p[::-1, ::-1], "upside down"),
        (lambda p: p[:, ::-1], "mirrored"),
        (lambda p: np.random.default_rng(4).permutation(p.reshape(24, 3)).reshape(4, 6, 3), "no 24-patch chart"),
    ],
)
def test_a_chart_that_lies_wrong_is_refused(way, said):
    patches = lab_to_linear(chart_lab()).astype(float).reshape(4, 6, 3) * 0.7
    with pytest.raises(CritiqueError, match=said):
        balance_by_patches(way(patches).reshape(24, 3))


def test_a_chart_with_clipped_patches_is_refused():
    with pytest.raises(CritiqueError, match="clipped or too dark"):
        balance_by_patches(np.clip(lab_to_linear(chart_lab()).astype(float) * 4, 0, 1))


def test_levels_are_those_of_the_standard():
    # ISO 19264-1:2021: white balance 3 / 4 / 5, mean colour 4 / 5 / 5.
    assert [level_of(*pair) for pair in ((3, 4), (3.1, 4), (3, 4.1), (4.5, 5), (5.1, 1), (1, 5.1))] == [
        "A", "B", "B", "C", None, None,
    ]  # fmt: skip
