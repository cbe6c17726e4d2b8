"""How much of a picture is yellow-green, how strong it is, and whether leaves could be that green."""

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from critique.measures.histogram import colour_histogram
from critique.perception.difference import delta_e_2000
from critique.perception.hue import (
    GREEN_FAMILY,
    RELIEF,
    YELLOW_GREEN,
    HueBand,
    circular_mean,
    circular_spread,
    leaf_limit,
)
from critique.picture.picture import Picture

SAME_GREEN = 5.0  # ΔE00 within which two greens read as one paint; common practice, no source
CANDIDATES = 24  # heaviest bins tried as the commonest green: more never changed the answer on real pictures


@dataclass(frozen=True, slots=True)
class GreenFigures:
    """The green of one hue band. Shares are fractions 0–1; chroma is C*ab; hues are CIELAB degrees.

    Figures of the green itself are NaN (null in the record) when the picture has none.
    """

    area_share: float  # of the picture
    chroma_share: float  # of all the chroma in the picture
    beyond_leaf_share: float  # of the picture: greens that no front-lit leaf reaches
    median_lightness: float  # L*
    median_chroma: float
    p95_chroma: float
    mean_hue: float  # chroma-weighted
    hue_spread: float  # circular standard deviation, degrees
    value_spread: float  # standard deviation of L*/10
    evenness: float  # of the green: how much lies within ΔE00 5 of the commonest green
    commonest: tuple[float, float, float]  # L*a*b* of that green


@dataclass(frozen=True, slots=True)
class Greens(GreenFigures):
    """Yellow-green in a picture, the chroma that relieves it, and the same figures for the wider green family."""

    relief_share: float  # of all the chroma: the opposite sector and the reds
    family: GreenFigures


def measure_greens(picture: Picture, band: HueBand = YELLOW_GREEN) -> Greens:
    """Measure the yellow-green of a picture.

    Parameters
    ----------
    picture : Picture
        Its ``lab`` is (height, width, 3), CIELAB under D65.
    band : HueBand
        Hue limits in degrees and the least chroma that counts as coloured.

    Notes
    -----
    The band spans Munsell 10Y to 10GY. [Munsell renotation, Newhall et al., 1943] The relief is the chroma of
    281°–328° and of the reds up to 45°: what stands opposite the green on the wheel.
    """
    lab = picture.lab
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    total = float(chroma.sum(dtype=np.float64))
    inside = band.contains(lab)
    figures = _figures(lab, chroma, inside, total)
    relief = float(chroma[RELIEF.contains(lab)].sum(dtype=np.float64)) / total if total > 0 else 0.0
    return Greens(
        **{field.name: getattr(figures, field.name) for field in fields(GreenFigures)},
        relief_share=relief,
        family=_figures(lab, chroma, GREEN_FAMILY.contains(lab), total),
    )


def _figures(
    lab: NDArray[np.float32], chroma: NDArray[np.float32], inside: NDArray[np.bool_], total_chroma: float
) -> GreenFigures:
    greens, strength = lab[inside], chroma[inside]
    if len(greens) == 0:
        none = float("nan")
        return GreenFigures(0.0, 0.0, 0.0, none, none, none, none, none, none, none, (none, none, none))
    hue = np.degrees(np.arctan2(greens[:, 2], greens[:, 1]))
    evenness, commonest = _evenness(greens)
    return GreenFigures(
        area_share=len(greens) / inside.size,
        chroma_share=float(strength.sum(dtype=np.float64)) / total_chroma,
        beyond_leaf_share=float(np.count_nonzero(strength > leaf_limit(greens[:, 0]))) / inside.size,
        median_lightness=float(np.median(greens[:, 0])),
        median_chroma=float(np.median(strength)),
        p95_chroma=float(np.percentile(strength, 95)),
        mean_hue=circular_mean(hue, strength),
        hue_spread=circular_spread(hue, strength),
        value_spread=float(greens[:, 0].std(dtype=np.float64)) / 10,
        evenness=evenness,
        commonest=commonest,
    )


def _evenness(greens: NDArray[np.float32]) -> tuple[float, tuple[float, float, float]]:
    """Share of the green (n, 3) that lies within ΔE00 5 of its commonest green, and that green.

    The commonest green is the one that the most green is like, found among the heaviest bins of a histogram.
    """
    histogram = colour_histogram(greens)
    heaviest = np.argsort(-histogram.share, kind="stable")[:CANDIDATES]
    candidates = histogram.lab[heaviest]
    alike = delta_e_2000(candidates[:, None, :], histogram.lab[None, :, :]) <= SAME_GREEN
    share = alike @ histogram.share
    best = int(share.argmax())
    L, a, b = candidates[best]
    return float(share[best]), (float(L), float(a), float(b))
