"""What a coat of paint looks like over what lies below, by the full hyperbolic form of Kubelka–Munk.

[P. Kubelka, J. Opt. Soc. Am. 38(5), 1948; stacked layers: Kubelka, J. Opt. Soc. Am. 44(4), 1954]
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.one_thread import in_one_thread
from critique.paints.catalogue import titanium_white
from critique.paints.kubelka_munk import beneath_surface, paint_lab, thick_layer, through_surface
from critique.paints.paint import MEASURED, Paint, Spectrum
from critique.perception.spectra import reflectance_to_lab, reflectance_to_xyz

WHITE_GROUND = 0.80  # reflectance of the white half of a drawdown card, as hiding is tested [ISO 6504-3]
BLACK_GROUND = 0.0
FULL_COAT_COVER = 0.98  # contrast ratio of titanium white in one full brush coat; common practice, no source
HIDES = 0.98  # contrast ratio above which a coat is taken to cover fully [ISO 6504-3; ASTM D2805]
FULL = 1.0  # one full brush coat, undiluted
THIN = 0.15  # of a full coat: a glaze or a scumble; common practice, no source

# Contrast ratios of a coat; chosen so that titanium white and cadmium red cover, and ultramarine doesn't. Labels judge
# thinner films: phthalos are called transparent, and yet cover when laid thick.
COVERS, MOSTLY, LETS_LITTLE = 0.95, 0.7, 0.6
COVERING_WORDS = ("opaque", "semi-opaque")  # of a label, that promise cover


def layer(K: ArrayLike, S: ArrayLike, thickness: ArrayLike) -> tuple[Spectrum, Spectrum]:
    """Reflectance and transmittance of a layer with nothing behind it.

    With β = √(K(K + 2S)) and τ = tanh(βX)/β: R = Sτ/(1 + (K + S)τ), T = sech(βX)/(1 + (K + S)τ). This is Kubelka's
    hyperbolic form divided through by cosh(βX), which stays finite for K = 0, for S = 0 and for thick layers.
    """
    K, S, X = (np.asarray(value, dtype=np.float64) for value in (K, S, thickness))
    beta = np.sqrt(K * (K + 2 * S))
    depth = beta * X
    tau = np.where(depth > 1e-6, np.tanh(depth) / np.where(beta > 0, beta, 1.0), X)
    below = 1 + (K + S) * tau
    fade = np.exp(-depth)
    return np.asarray(S * tau / below), np.asarray(2 * fade / (1 + fade**2) / below)


def over(reflectance: ArrayLike, transmittance: ArrayLike, ground: ArrayLike) -> Spectrum:
    """Inner reflectance of a layer above a ground of inner reflectance ``ground``: R + T²·Rg/(1 − R·Rg)."""
    R, T, below = (np.asarray(value, dtype=np.float64) for value in (reflectance, transmittance, ground))
    return np.asarray(R + T**2 * below / (1 - R * below))


@lru_cache(maxsize=16)  # whites
def _full_coat(white: Paint) -> float:
    """Thickness, in the inverse of the unit of K and S, at which a white reaches ``FULL_COAT_COVER``."""
    return _first_reaching(FULL_COAT_COVER, lambda X: _contrast(white.K, white.S, X), 1e3)


def _first_reaching(level: float, ratio: Callable[[float], float], most: float) -> float:
    """Thickness at which a contrast ratio reaches a level: it rises with thickness, so halving finds the one place."""
    low, high = 0.0, most
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if ratio(middle) >= level else (middle, high)
    return high


def _contrast(K: Spectrum, S: Spectrum, X: float) -> float:
    R, T = layer(K, S, X)
    dark, pale = (
        reflectance_to_xyz(through_surface(over(R, T, beneath_surface(ground))))[..., 1]
        for ground in (BLACK_GROUND, WHITE_GROUND)
    )
    return float(dark / pale)


def _thickness(coats: float) -> float:
    return coats * _full_coat(titanium_white())


def coat_reflectance(paint: Paint, ground: ArrayLike, coats: float = FULL) -> Spectrum:
    """Inner reflectance (38,) of a coat of paint over a ground of inner reflectance ``ground`` (38,) or scalar.

    ``coats`` counts full brush coats: the measured coefficients carry no unit of length, so a full coat is the
    thickness at which titanium white reaches a contrast ratio of 0.98.
    """
    R, T = layer(paint.K, paint.S, _thickness(coats))
    return over(R, T, ground)


def coat_lab(paint: Paint, below: Paint | float, coats: float = FULL, light: str = "D65") -> NDArray[np.floating]:
    """CIELAB (3,) of a coat over dry thick paint, or over a plain ground of the reflectance given (0–1)."""
    ground = thick_layer(below.K, below.S) if isinstance(below, Paint) else beneath_surface(below)
    return reflectance_to_lab(through_surface(coat_reflectance(paint, ground, coats)), light)


def contrast_ratio(paint: Paint, coats: float = FULL) -> float:
    """Hiding power: luminance of a coat over black divided by that over white, 0–1. [ISO 6504-3]"""
    return _contrast(paint.K, paint.S, _thickness(coats))


@dataclass(frozen=True, slots=True)
class Hiding:
    """How a paint covers. Ratios are 0–1 of luminance over black to luminance over white."""

    thin_contrast: float
    full_contrast: float
    coats_to_hide: float  # full brush coats until the ratio reaches 0.98; NaN when fifty are not enough
    text: str


MOST_COATS = 50.0


@in_one_thread
def hiding(paint: Paint) -> Hiding:
    """Measure how a paint covers, and say what it does to what lies below.

    The words for a paint that was not measured follow its label, and claim nothing where that was not given: the
    scattering that is found from two dabs mixes well, but is too rough to promise how a film covers.
    """
    full, coats = contrast_ratio(paint, FULL), _coats_to_hide(paint)
    return Hiding(contrast_ratio(paint, THIN), full, coats, _hiding_text(paint, full, coats))


def _coats_to_hide(paint: Paint) -> float:
    if contrast_ratio(paint, MOST_COATS) < HIDES:
        return float("nan")
    return _first_reaching(HIDES, lambda coats: contrast_ratio(paint, coats), MOST_COATS)


PALE = 40.0  # L* from which a masstone can glow over white and go dull over a dark


def _hiding_text(paint: Paint, full: float, coats: float) -> str:
    glows = float(paint_lab(paint)[0]) > PALE
    if paint.origin != MEASURED:
        return _label_text(paint, glows)
    promised = paint.opacity in COVERING_WORDS
    if full >= COVERS:
        little = contrast_ratio(paint, THIN) >= LETS_LITTLE
        covers, lets = (
            "covers in one or two full coats; laid thin it",
            "little" if little else "much of what lies below",
        )
        if promised:
            return f"{paint.name} {covers} lets {lets} through."
        stain = "strong" if glows else "dark"
        thin = "darkens much: let it down with medium to glaze" if little else f"lets {lets} through, as a glaze does"
        called = f"is called {paint.opacity} after thin films"
        return f"{paint.name} {called}, but laid thick so {stain} a stain {covers} {thin}."
    number = f"about {int(np.ceil(coats))} full coats" if np.isfinite(coats) else "more coats than are practical"
    needs = f"{paint.name} needs {number} to cover"
    if promised:
        one = f"one full coat covers {'mostly' if full >= MOSTLY else 'in part'}"
        needs = f"{paint.name} is called {paint.opacity}: {one}, but to hide a black altogether it needs {number}"
    stop = ";" if promised else ":"
    if glows:
        return f"{needs}{stop} thin over a dark or a green it keeps that colour, over white it glows."
    return f"{needs}{stop} it darkens what lies below, and shows its own colour over white."


def _label_text(paint: Paint, glows: bool) -> str:
    if not paint.opacity:
        return (
            f"How {paint.name} covers is not known: its label's word was not given, and two dabs can't tell. "
            "Brush it over a black line and look."
        )
    covers = paint.opacity in COVERING_WORDS
    through = "what lies below shows through" + ("; over white it glows" if glows else "")
    return f"{paint.name} is {paint.opacity} ({paint.origin}): {'it mostly covers' if covers else through}."
