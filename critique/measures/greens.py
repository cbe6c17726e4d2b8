"""How much of a picture is yellow-green, how strong it is, and whether leaves could be that green."""

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from critique.measures.histogram import ColourHistogram, colour_histogram, rank_value
from critique.measures.reads_as_green import ReadsAsGreen
from critique.perception.difference import delta_e_2000
from critique.perception.hue import (
    GREEN_FAMILY,
    RELIEF,
    YELLOW_GREEN,
    HueBand,
    leaf_limit,
)
from critique.picture.picture import Picture

SAME_GREEN = 5.0  # ΔE00 within which two greens read as one paint; common practice, no source
Evenness = tuple[float, tuple[float, float, float]]

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
    reads_as_green_share: float  # of the area: what a person would call green; NaN where the parts weren't asked for


def measure_greens(
    picture: Picture,
    band: HueBand = YELLOW_GREEN,
    histogram: ColourHistogram | None = None,
    reads_as_green: ReadsAsGreen | None = None,
) -> Greens:
    """Measure the yellow-green of a picture.

    Parameters
    ----------
    picture : Picture
        Its ``lab`` is (height, width, 3), CIELAB under D65.
    band : HueBand
        Hue limits in degrees and the least chroma that counts as coloured.
    histogram : ColourHistogram, optional
        Of the picture, when it is at hand: the commonest green is sought in it.
    reads_as_green : ReadsAsGreen, optional
        Of the picture, when its parts are known.

    Notes
    -----
    The band spans what most people call green or olive, to Munsell 10GY. [Newhall et al., 1943] The relief is the
    chroma of 281°–328° and of the reds up to 60°, where burnt sienna lies: what stands opposite the green on the wheel.
    """
    lab = picture.lab
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    total = float(chroma.sum(dtype=np.float64))
    inside = band.contains(lab)
    colours = histogram if histogram is not None else colour_histogram(lab)
    figures = _figures(lab, chroma, inside, total, _evenness(colours, band))
    relief = float(chroma[RELIEF.contains(lab)].sum(dtype=np.float64)) / total if total > 0 else 0.0
    return Greens(
        **{field.name: getattr(figures, field.name) for field in fields(GreenFigures)},
        relief_share=relief,
        family=_figures(lab, chroma, GREEN_FAMILY.contains(lab), total, _evenness(colours, GREEN_FAMILY)),
        reads_as_green_share=reads_as_green.share if reads_as_green is not None else float("nan"),
    )


def _figures(
    lab: NDArray[np.float32],
    chroma: NDArray[np.float32],
    inside: NDArray[np.bool_],
    total_chroma: float,
    evenness: Evenness,
) -> GreenFigures:
    strength = chroma[inside]
    number = len(strength)
    if number == 0:
        none = float("nan")
        return GreenFigures(0.0, 0.0, 0.0, none, none, none, none, none, none, none, (none, none, none))
    lightness = lab[..., 0][inside]
    total = float(strength.sum(dtype=np.float64))
    # The mean direction weighted by chroma is that of the summed a* and b*: no angle of a pixel is needed.
    a, b = (float(lab[..., axis].sum(where=inside, dtype=np.float64)) for axis in (1, 2))
    middle = float(np.mean(lightness, dtype=np.float64))
    return GreenFigures(
        area_share=number / inside.size,
        chroma_share=total / total_chroma,
        beyond_leaf_share=float(np.count_nonzero(strength > leaf_limit(lightness))) / inside.size,
        median_lightness=float(rank_value(lightness, 0.5)),
        median_chroma=float(rank_value(strength, 0.5)),
        p95_chroma=float(rank_value(strength, 0.95)),
        mean_hue=float(np.degrees(np.arctan2(b, a)) % 360),
        hue_spread=float(np.degrees(np.sqrt(-2 * np.log(min(np.hypot(a, b) / total, 1.0))))),
        value_spread=float(np.sqrt(np.mean((lightness - np.float32(middle)) ** 2, dtype=np.float64))) / 10,
        evenness=evenness[0],
        commonest=evenness[1],
    )


def _evenness(colours: ColourHistogram, band: HueBand) -> Evenness:
    """Share of the band's green that lies within ΔE00 5 of its commonest green, and that green.

    The commonest green is the one that the most green is like, found among the heaviest bins of the histogram.
    """
    inside = band.contains(colours.lab)
    lab, share = colours.lab[inside], colours.share[inside]
    if len(share) == 0:
        return float("nan"), (float("nan"),) * 3
    heaviest = np.argsort(-share, kind="stable")[:CANDIDATES]
    candidates = lab[heaviest]
    alike = delta_e_2000(candidates[:, None, :], lab[None, :, :]) <= SAME_GREEN
    like = alike @ share / share.sum()
    best = int(like.argmax())
    L, a, b = candidates[best]
    return float(like[best]), (float(L), float(a), float(b))
