"""How well two colours go together, by the model of Ou and Luo.

L.-C. Ou and M. R. Luo, A Colour Harmony Model for Two-colour Combinations, Color Research and Application 31(3), 2006;
the coefficients are from memory of that paper.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.measures.families import SAME_FAMILY
from critique.measures.histogram import ColourHistogram, coarser
from critique.perception.cielab import lab_to_lch

CELL = 9.0  # CIELAB units: finer cells move the mean by 0.008 at most, and cost by their square
SAME_FADES = 3.0  # ΔE*ab over which two colours come to be two families, so that none does by a hair


def pair_harmony(lab1: ArrayLike, lab2: ArrayLike) -> NDArray[np.float64]:
    """Harmony CH of CIELAB colours (..., 3) that broadcast together; higher is more harmonious."""
    first, second = (lab_to_lch(np.asarray(lab, dtype=np.float64)) for lab in (lab1, lab2))
    return chroma_harmony(first, second) + lightness_harmony(first, second) + hue_harmony(first) + hue_harmony(second)


def chroma_harmony(lch1: ArrayLike, lch2: ArrayLike) -> NDArray[np.float64]:
    """H_C of pairs of colours (..., 3), each L*, C*ab and hue in degrees: those near in chroma and hue agree."""
    (_, C1, h1), (_, C2, h2) = (np.moveaxis(np.asarray(lch, dtype=np.float64), -1, 0) for lch in (lch1, lch2))
    dH = 2 * np.sqrt(C1 * C2) * np.sin(np.radians(h1 - h2) / 2)
    dC = np.sqrt(dH**2 + ((C1 - C2) / 1.46) ** 2)
    return np.asarray(0.04 + 0.53 * np.tanh(0.8 - 0.045 * dC))


def lightness_harmony(lch1: ArrayLike, lch2: ArrayLike) -> NDArray[np.float64]:
    """H_L of pairs of colours (..., 3) as L*, C*ab, hue: light ones, and those that differ in lightness, agree."""
    L1, L2 = np.asarray(lch1, dtype=np.float64)[..., 0], np.asarray(lch2, dtype=np.float64)[..., 0]
    total = 0.28 + 0.54 * np.tanh(-3.88 + 0.029 * (L1 + L2))
    return np.asarray(total + 0.14 + 0.15 * np.tanh(-2 + 0.2 * np.abs(L1 - L2)))


def hue_harmony(lch: ArrayLike) -> NDArray[np.float64]:
    """H_SY of colours (..., 3) as L*, C*ab, hue: some hues please more than others, the more the stronger."""
    L, C, h = np.moveaxis(np.asarray(lch, dtype=np.float64), -1, 0)
    strength = 0.5 + 0.5 * np.tanh(-2 + 0.5 * C)
    hue = -0.08 - 0.14 * np.sin(np.radians(h + 50)) - 0.07 * np.sin(np.radians(2 * h + 90))
    # The exponential's argument grows without bound for h below 90; past 40 the term is nil all the same.
    rise = np.minimum((90 - h) / 10, 40)
    yellow = (0.22 * L - 12.8) / 10 * np.exp(rise - np.exp(rise))
    return np.asarray(strength * (hue + yellow))


def two_colour_harmony(colours: ColourHistogram) -> float:
    """Mean harmony over all pairs of a picture's colours, weighted by the product of their areas; 0 for one colour.

    Two shades of one family are no pair, and count the less the nearer they lie. Asked of the colours themselves and
    not of the few families that stand for them: those are a choice, and a hair's change of the picture makes it anew.
    """
    cells = coarser(colours, CELL)
    apart = np.linalg.norm(cells.lab[:, None] - cells.lab[None], axis=-1)
    share = cells.share[:, None] * cells.share[None, :] * (0.5 + 0.5 * np.tanh((apart - SAME_FAMILY) / SAME_FADES))
    np.fill_diagonal(share, 0)
    total = float(share.sum())
    return float((pair_harmony(cells.lab[:, None], cells.lab[None]) * share).sum()) / total if total > 0 else 0.0
