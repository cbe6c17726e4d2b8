"""Kubelka–Munk and Saunderson against their textbook limits, their own differential equations and another library."""

import warnings

import numpy as np
import pytest
from scipy.integrate import solve_bvp

from critique.paints.box import find_paint, measured_box
from critique.paints.coats import layer, over
from critique.paints.kubelka_munk import (
    absorption_ratio,
    beneath_surface,
    mixture_lab,
    mixture_reflectance,
    thick_layer,
    through_surface,
)
from critique.paints.mixtures import Mixer
from critique.perception.cielab import lab_to_lch
from critique.perception.spectra import WAVELENGTHS, adaptation, reflectance_to_xyz

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour

RATIOS = np.logspace(-4, 3, 60)


@pytest.mark.parametrize("surface", [True, False])
def test_saunderson_comes_back_through_its_closed_inverse(surface):
    inner = np.linspace(0, 1, 101)
    seen = through_surface(inner, surface)
    # J. L. Saunderson, J. Opt. Soc. Am. 32, 1942: R∞ = (Rm − k1)/(1 − k1 − k2(1 − Rm)), for a Rm that includes k1.
    measured = seen if surface else seen + 0.03
    assert np.allclose((measured - 0.03) / (1 - 0.03 - 0.65 * (1 - measured)), inner, atol=1e-12)
    assert np.allclose(beneath_surface(seen, surface), inner, atol=1e-12)


def test_thick_layer_is_the_classic_form_and_inverts_to_k_over_s():
    # P. Kubelka and F. Munk, Z. tech. Physik 12, 1931: R∞ = 1 + K/S − √((K/S)² + 2K/S), and K/S = (1 − R∞)²/2R∞.
    classic = 1 + RATIOS - np.sqrt(RATIOS**2 + 2 * RATIOS)
    assert np.allclose(thick_layer(RATIOS, 1.0), classic, rtol=1e-9, atol=1e-12)
    assert np.allclose(absorption_ratio(classic), RATIOS, rtol=1e-5)


def test_a_very_thick_coat_is_a_thick_layer_and_hides_its_ground():
    R, T = layer(RATIOS, 1.0, 1e4)
    assert np.allclose(R, thick_layer(RATIOS, 1.0), atol=1e-9)
    assert np.allclose(over(R, T, 0.0), over(R, T, 1.0), atol=1e-9)


def test_a_coat_that_scatters_nothing_is_a_filter():
    # Beer–Lambert: T = exp(−KX), and the ground is seen through it twice.
    R, T = layer(RATIOS[:40], 0.0, 2.0)
    assert np.allclose(R, 0) and np.allclose(T, np.exp(-2.0 * RATIOS[:40]), rtol=1e-9)
    assert np.allclose(over(R, T, 0.8), 0.8 * np.exp(-4.0 * RATIOS[:40]), rtol=1e-9)


def test_a_coat_that_absorbs_nothing_loses_no_light():
    # Kubelka, J. Opt. Soc. Am. 38(5), 1948: for K = 0, R = SX/(1 + SX) and T = 1/(1 + SX).
    X = np.linspace(0, 20, 50)
    R, T = layer(0.0, 0.7, X)
    assert np.allclose(R, 0.7 * X / (1 + 0.7 * X)) and np.allclose(R + T, 1)


def test_a_coat_of_no_thickness_leaves_the_ground_as_it_is():
    R, T = layer(RATIOS, 1.0, 0.0)
    assert np.allclose(over(R, T, 0.37), 0.37)


@pytest.mark.parametrize(
    ("K", "S", "X", "ground"), [(0.3, 1.0, 1.5, 0.2), (2.0, 0.4, 0.8, 0.9), (0.01, 0.05, 9.0, 0.0)]
)
def test_the_hyperbolic_form_solves_the_two_flux_equations(K, S, X, ground):
    # The differential equations of Kubelka and Munk (1931), integrated by scipy: i down, j up, depth z from the top.
    def flow(z, y):
        return np.stack([-(K + S) * y[0] + S * y[1], (K + S) * y[1] - S * y[0]])

    def ends(top, bottom):
        return np.array([top[0] - 1, bottom[1] - ground * bottom[0]])

    z = np.linspace(0, X, 50)
    solved = solve_bvp(flow, ends, z, np.ones((2, 50)), tol=1e-8)
    assert float(over(*layer(K, S, X), ground)) == pytest.approx(float(solved.sol(0)[1]), abs=1e-6)


@pytest.mark.parametrize("light", ["D65", "A", "D50", "LED-B3"])
def test_colours_of_a_mixture_match_colour_science_under_each_light(light):
    """colour-science's own spectral integration of the same reflectance at 10 nm."""
    paints = [find_paint(name) for name in ("PG7", "PY74", "PW6")]
    reflectance = mixture_reflectance([6, 54, 40], paints)
    cmfs = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    shape = colour.SpectralShape(380, 750, 10)
    illuminant = colour.SDS_ILLUMINANTS[light].copy().align(shape)
    sd = colour.SpectralDistribution(reflectance, WAVELENGTHS)
    theirs = colour.sd_to_XYZ(sd, cmfs.copy().align(shape), illuminant, method="Integration") / 100
    assert np.allclose(reflectance_to_xyz(reflectance, light), theirs, atol=2e-4)
    whites = [
        colour.sd_to_XYZ(
            colour.sd_ones(shape),
            cmfs.copy().align(shape),
            colour.SDS_ILLUMINANTS[name].copy().align(shape),
            method="Integration",
        )
        / 100
        for name in (light, "D65")
    ]
    matrix = colour.adaptation.matrix_chromatic_adaptation_VonKries(*whites, transform="CAT16")
    their_lab = colour.XYZ_to_Lab(matrix @ theirs, colour.XYZ_to_xy(whites[1]))
    assert np.allclose(adaptation(light), matrix, atol=1e-4)
    assert np.allclose(mixture_lab([6, 54, 40], paints, light), their_lab, atol=0.05)


def test_the_fast_path_agrees_with_the_plain_one():
    box = measured_box().with_white
    mixer = Mixer.of(box)
    rng = np.random.default_rng(1)
    parts = rng.dirichlet(np.full(19, 0.2), 500)
    sets = np.tile(np.arange(19), (500, 1))
    assert np.abs(mixer.lab(sets, parts.astype(np.float32)) - mixture_lab(parts, box)).max() < 0.02


def test_the_slope_of_a_mixture_is_that_of_finite_differences():
    mixer = Mixer.of(measured_box().with_white)
    rng = np.random.default_rng(2)
    sets, parts = np.array([[1, 6, 15, 18], [3, 9, 12, 18]]), rng.random((2, 4)).astype(np.float32)
    _, slope = mixer.lab_and_slope(sets, parts)
    for member in range(4):
        more, less = parts.copy(), parts.copy()
        more[:, member] *= np.exp(0.01)
        less[:, member] *= np.exp(-0.01)
        assert np.abs((mixer.lab(sets, more) - mixer.lab(sets, less)) / 0.02 - slope[:, :, member]).max() < 0.02


@pytest.mark.parametrize("parts", [{"PG7": 1, "PY74": 20}, {"PG7": 1, "yellow oxide": 6, "burnt sienna": 3, "PW6": 6}])
def test_greens_turn_bluer_under_a_warm_lamp_and_lose_no_strength_to_speak_of(parts):
    """By CAT16 from the spectra; the hue turns toward blue-green by ten degrees and more under illuminant A."""
    paints = [find_paint(name) for name in parts]
    (L0, C0, h0), (L1, C1, h1) = (
        lab_to_lch(mixture_lab(list(parts.values()), paints, light)) for light in ("D65", "A")
    )
    assert 8 < h1 - h0 < 20 and C1 == pytest.approx(C0, rel=0.08) and abs(L1 - L0) < 3
