"""Lamps, adaptation and metamerism, held to CIE's figures and to colour-science."""

import colour
import numpy as np
import pytest

from critique.paints.box import measured_box
from critique.paints.kubelka_munk import mixture_reflectance
from critique.perception.cielab import linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.lamps import LAMPS, lab_under, lamp_weights, lamp_white
from critique.perception.recovery import recovered
from critique.perception.spectra import WAVELENGTHS

# Chromaticities x, y and correlated colour temperatures as CIE 15:2004 (A, D75, FL4: tables T.3, T.8) and
# CIE 15:2018 (LED-B1, LED-B2: table 12.1) print them.
CIE = {
    "A": (0.4476, 0.4074, 2856),
    "D75": (0.2990, 0.3149, 7504),
    "FL4": (0.4402, 0.4031, 2940),
    "LED-B1": (0.4560, 0.4078, 2733),
    "LED-B2": (0.4357, 0.4012, 2998),
}


@pytest.mark.parametrize("lamp", LAMPS, ids=lambda lamp: lamp.name)
def test_each_lamp_has_the_colour_that_cie_prints(lamp):
    x, y, kelvin = CIE[lamp.name]
    white = lamp_white(lamp.name)
    assert white[:2] / white.sum() == pytest.approx((x, y), abs=2e-4)
    cct, _ = colour.temperature.uv_to_CCT_Ohno2013(colour.UCS_to_uv(colour.XYZ_to_UCS(white)))
    assert cct == pytest.approx(kelvin, rel=0.005)
    assert lamp.kelvin == pytest.approx(kelvin, rel=0.015)  # as a gallery rounds it


@pytest.mark.parametrize("lamp", LAMPS, ids=lambda lamp: lamp.name)
def test_a_mixture_under_a_lamp_is_as_colour_science_integrates_it(lamp):
    paints = measured_box().with_white
    parts = np.zeros(len(paints))
    parts[[0, 3, len(paints) - 1]] = 1, 2, 5
    spectrum = mixture_reflectance(parts, paints)
    distribution = colour.SpectralDistribution(dict(zip(WAVELENGTHS, spectrum, strict=True)))
    shape = colour.SpectralShape(380, 780, 5)
    linear, level = colour.LinearInterpolator, {"method": "Constant", "left": None, "right": None}
    distribution = distribution.interpolate(colour.SpectralShape(380, 750, 5), interpolator=linear)
    distribution = distribution.extrapolate(shape, extrapolator_kwargs=level)
    theirs = colour.colorimetry.sd_to_XYZ_integration(
        distribution,
        cmfs=colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape),
        illuminant=colour.SDS_ILLUMINANTS[lamp.name].copy().align(shape),
    )
    assert spectrum @ lamp_weights(lamp.name) == pytest.approx(theirs / 100, rel=1e-4)


def test_adaptation_is_cat16_of_colour_science():
    spectrum = np.linspace(0.1, 0.7, len(WAVELENGTHS))
    xyz = spectrum @ lamp_weights("LED-B1")
    adapted = colour.adaptation.chromatic_adaptation_VonKries(
        xyz, lamp_white("LED-B1"), lamp_white("D65"), transform="CAT16"
    )
    white = lamp_white("D65")
    theirs = colour.XYZ_to_Lab(adapted, white[:2] / white.sum())
    assert lab_under(spectrum, "LED-B1") == pytest.approx(theirs, abs=0.02)


def test_a_metameric_pair_parts_under_another_lamp_as_colour_science_says():
    """Two spectra alike by daylight, apart by a metameric black, whose sum with D65's observer is nothing (Cohen)."""
    weights = lamp_weights("D65")
    wave = np.sin(np.linspace(0, 5 * np.pi, len(WAVELENGTHS)))
    black = wave - weights @ np.linalg.lstsq(weights, wave, rcond=None)[0]
    first = np.full(len(WAVELENGTHS), 0.4)
    second = first + 0.15 * black / np.abs(black).max()
    assert delta_e_2000(lab_under(first), lab_under(second)) < 1e-3
    shape = colour.SpectralShape(380, 780, 5)
    for lamp in ("A", "FL4", "LED-B1"):
        apart = lab_under(second, lamp) - lab_under(first, lamp)
        source = colour.SDS_ILLUMINANTS[lamp].copy().align(shape).values
        observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape).values
        seen = [
            np.interp(shape.wavelengths, WAVELENGTHS, one) @ (source[:, None] * observer) / (source @ observer[:, 1])
            for one in (first, second)
        ]
        white = source @ observer / (source @ observer[:, 1])
        adapted = [
            colour.adaptation.chromatic_adaptation_VonKries(xyz, white, lamp_white("D65"), transform="CAT16")
            for xyz in seen
        ]
        daylight = lamp_white("D65")[:2] / lamp_white("D65").sum()
        theirs = colour.XYZ_to_Lab(adapted[1], daylight) - colour.XYZ_to_Lab(adapted[0], daylight)
        assert np.hypot(*apart[1:]) > 1 and apart == pytest.approx(theirs, abs=0.05)


def test_a_recovered_spectrum_has_its_colour_and_is_the_smoothest():
    """Colour to a ten-thousandth; and no step that keeps the colour lessens the slope of z (Burns, 2020)."""
    random = np.random.default_rng(3)
    lab = np.asarray(linear_to_lab(random.uniform(0.03, 0.9, (60, 3)).astype(np.float32)), dtype=np.float64)
    spectra = recovered(lab)
    assert ((spectra > 0) & (spectra < 1)).all()
    assert delta_e_2000(lab_under(spectra), lab).max() < 0.02
    tanh = 2 * spectra - 1
    z = np.arctanh(np.clip(tanh, -1 + 1e-12, 1 - 1e-12))
    for one, slope in zip(z, (1 - tanh**2) / 2, strict=True):
        constraint = lamp_weights("D65").T * slope
        free = np.linalg.svd(constraint)[2][3:]  # steps that leave the colour as it is, to first order
        downhill = free @ (np.diff(np.eye(len(one)), axis=0).T @ np.diff(one))
        assert np.abs(downhill).max() < 1e-3


def test_what_lamps_do_to_recovered_spectra_is_what_they_do_to_measured_paint():
    paints = measured_box().with_white
    random = np.random.default_rng(5)
    parts = np.zeros((300, len(paints)))
    for row in parts:
        row[random.choice(len(paints) - 1, 3, replace=False)] = random.dirichlet([0.6] * 3)
        row[-1] = random.uniform(0, 2)
    spectra = mixture_reflectance(parts, paints)
    again = recovered(lab_under(spectra))
    for lamp in LAMPS:
        error = delta_e_2000(lab_under(again, lamp.name), lab_under(spectra, lamp.name))
        assert np.quantile(error, 0.5) < 1.8 and np.quantile(error, 0.95) < 5
        if lamp.name != "D75":  # and it is better than to leave the colour as it is
            moved = delta_e_2000(lab_under(spectra), lab_under(spectra, lamp.name))
            assert np.quantile(error, 0.5) < 0.6 * np.quantile(moved, 0.5)
