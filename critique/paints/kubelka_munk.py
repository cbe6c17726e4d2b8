"""What colour a mixture of paints has, by two-constant Kubelka–Munk theory.

[P. Kubelka and F. Munk, Z. tech. Physik 12, 1931; two constants by parts: D. R. Duncan, Proc. Phys. Soc. 52, 1940;
surface correction: J. L. Saunderson, J. Opt. Soc. Am. 32, 1942]
"""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.paints.paint import Paint, Spectrum
from critique.perception.spectra import adaptation, light_white, reflectance_to_lab, reflectance_to_xyz

SURFACE_OUTSIDE = 0.03  # k1, share of light that the paint's surface throws back before it enters [Berns, CIC 24, 2016]
SURFACE_INSIDE = 0.65  # k2, share of the light inside that the surface turns back [Berns, CIC 24, 2016]

Float = NDArray[np.floating]


def thick_layer(K: ArrayLike, S: ArrayLike) -> Float:
    """Reflectance inside a layer too thick to see through: R = 1 + K/S − √((K/S)² + 2K/S), any shape.

    Written as a quotient, which keeps its digits where K/S is large.
    """
    with np.errstate(divide="ignore"):  # a layer that scatters nothing is black
        ratio = np.asarray(K) / np.asarray(S)
    return np.asarray(1 / (1 + ratio + np.sqrt(ratio * (ratio + 2))))


def absorption_ratio(reflectance: ArrayLike) -> Float:
    """K/S of a thick layer from its inner reflectance: (1 − R)²/2R."""
    inner = np.asarray(reflectance)
    return np.asarray((1 - inner) ** 2 / (2 * inner))


def through_surface(inner: ArrayLike, surface: bool = False) -> Float:
    """Reflectance seen from outside, from that inside the paint.

    ``surface`` adds the glare of the surface itself (k1): in for a measurement that includes it, out for a
    painting that is hung and photographed without glare.
    """
    inner = np.asarray(inner)
    body = (1 - SURFACE_OUTSIDE) * (1 - SURFACE_INSIDE) * inner / (1 - SURFACE_INSIDE * inner)
    return np.asarray(body + SURFACE_OUTSIDE if surface else body)


def beneath_surface(seen: ArrayLike, surface: bool = False) -> Float:
    """Reflectance (...), 0–1, inside the paint from that seen outside: the closed inverse of ``through_surface``."""
    body = np.asarray(seen) - (SURFACE_OUTSIDE if surface else 0.0)
    return np.asarray(body / ((1 - SURFACE_OUTSIDE) * (1 - SURFACE_INSIDE) + SURFACE_INSIDE * body))


def coefficients(paints: Sequence[Paint]) -> tuple[Spectrum, Spectrum]:
    """K and S of several paints, each (paints, 38)."""
    return np.stack([paint.K for paint in paints]), np.stack([paint.S for paint in paints])


def mixture_reflectance(parts: ArrayLike, paints: Sequence[Paint], surface: bool = False) -> Float:
    """Reflectance (..., 38) of mixtures in thick layers; ``parts`` is (..., paints), on any scale."""
    K, S = coefficients(paints)
    weights = np.asarray(parts, dtype=np.float64)
    return through_surface(thick_layer(weights @ K, weights @ S), surface)


def mixture_lab(parts: ArrayLike, paints: Sequence[Paint], light: str = "D65", surface: bool = False) -> Float:
    """CIELAB (..., 3) of mixtures in thick layers, as it looks by ``light``; ``parts`` is (..., paints)."""
    return reflectance_to_lab(mixture_reflectance(parts, paints, surface), light)


def paint_lab(paint: Paint, white: Paint | None = None, white_parts: float = 0.0, light: str = "D65") -> Float:
    """CIELAB (3,) of a paint alone, or of one part of it in ``white_parts`` of white."""
    if white is None:
        return mixture_lab([1.0], [paint], light)
    return mixture_lab([1.0, white_parts], [paint, white], light)


@lru_cache(maxsize=16)  # lights of the table
def relative_weights(light: str = "D65") -> NDArray[np.float32]:
    """Weights (38, 3) that take reflectance under a light to X/Xn, Y/Yn, Z/Zn of D65, for bulk work."""
    columns = reflectance_to_xyz(np.eye(38), light) @ adaptation(light).T / light_white("D65")
    return np.asarray(columns, dtype=np.float32)
