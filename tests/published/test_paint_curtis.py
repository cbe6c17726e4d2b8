"""Layers of paint against a published table of watercolours and its equations.

C. J. Curtis, S. E. Anderson, J. E. Seims, K. W. Fleischer and D. H. Salesin, "Computer-Generated Watercolor", SIGGRAPH
1997: table 1 (K and S of twelve watercolours, in red, green and blue light, for a layer of thickness 1) and section 5.
Table and equations are from memory of the paper.
"""

import numpy as np
import pytest

from critique.paints.coats import layer, over

TABLE_1 = {
    "quinacridone rose": ((0.22, 1.47, 0.57), (0.05, 0.003, 0.03)),
    "indian red": ((0.46, 1.07, 1.50), (1.28, 0.38, 0.21)),
    "cadmium yellow": ((0.10, 0.36, 3.45), (0.97, 0.65, 0.007)),
    "hooker's green": ((1.62, 0.61, 1.64), (0.01, 0.012, 0.003)),
    "cerulean blue": ((1.52, 0.32, 0.25), (0.06, 0.26, 0.40)),
    "burnt umber": ((0.74, 1.54, 2.10), (0.09, 0.09, 0.004)),
    "cadmium red": ((0.14, 1.08, 1.68), (0.77, 0.015, 0.018)),
    "brilliant orange": ((0.13, 0.81, 3.45), (0.005, 0.009, 0.007)),
    "hansa yellow": ((0.06, 0.21, 1.78), (0.50, 0.88, 0.009)),
    "phthalo green": ((1.55, 0.47, 0.63), (0.01, 0.05, 0.035)),
    "french ultramarine": ((0.86, 0.86, 0.06), (0.005, 0.005, 0.09)),
    "interference lilac": ((0.08, 0.11, 0.07), (1.25, 0.42, 1.43)),
}


def coefficients(name):
    K, S = TABLE_1[name]
    return np.array(K), np.array(S)


@pytest.mark.parametrize("name", TABLE_1)
def test_the_papers_inversion_finds_its_k_and_s_in_our_layers(name):
    """Section 5.1: K and S from the reflectance over white and over black."""
    K, S = coefficients(name)
    R, T = layer(K, S, 1.0)
    over_white, over_black = over(R, T, 1.0 - 1e-9), over(R, T, 0.0)
    a = (over_white + (over_black - over_white + 1) / over_black) / 2
    b = np.sqrt(a**2 - 1)
    inner = (b**2 - (a - over_white) * (a - 1)) / (b * (1 - over_white))
    found_S = np.arctanh(1 / inner) / b
    assert np.allclose(found_S, S, rtol=2e-4)
    assert np.allclose(found_S * (a - 1), K, rtol=2e-4)


def papers_layer(K, S):
    """Section 5.2, thickness 1: R = sinh(bS)/c, T = b/c, c = a·sinh(bS) + b·cosh(bS)."""
    a = 1 + K / S
    b = np.sqrt(a**2 - 1)
    c = a * np.sinh(b * S) + b * np.cosh(b * S)
    return np.sinh(b * S) / c, b / c


@pytest.mark.parametrize("ground", [0.0, 1.0])
@pytest.mark.parametrize(
    ("top", "bottom"),
    [("hansa yellow", "phthalo green"), ("french ultramarine", "cadmium red"), ("interference lilac", "burnt umber")],
)
def test_two_layers_of_watercolour_are_the_papers_composite(top, bottom, ground):
    """Section 5.2: R = R1 + T1²R2/(1 − R1R2), T = T1T2/(1 − R1R2), over black and over white.

    Seen from below two unlike layers reflect R2 + T2²R1/(1 − R1R2) [Kubelka, J. Opt. Soc. Am. 44(4), 1954].
    """
    (R1, T1), (R2, T2) = (papers_layer(*coefficients(name)) for name in (top, bottom))
    R, T = R1 + T1**2 * R2 / (1 - R1 * R2), T1 * T2 / (1 - R1 * R2)
    from_below = R2 + T2**2 * R1 / (1 - R1 * R2)
    composite = R + T**2 * ground / (1 - from_below * ground)
    ours = over(*layer(*coefficients(top), 1.0), over(*layer(*coefficients(bottom), 1.0), ground))
    assert np.allclose(ours, composite, rtol=1e-10)


def test_opaque_watercolours_hide_better_than_transparent_ones():
    """The paper calls indian red opaque, and quinacridone rose transparent in all wavelengths."""

    def contrast(name):
        R, T = layer(*coefficients(name), 1.0)
        return float(np.mean(over(R, T, 0.0)) / np.mean(over(R, T, 1.0)))

    assert contrast("indian red") > 0.7 > 0.1 > contrast("quinacridone rose")
