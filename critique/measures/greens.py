"""How much of a picture is yellow-green, how strong it is, and whether leaves could be that green."""

from dataclasses import dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.measures.figure import AREA, CIELAB, HUE, LIGHTNESS, PART, PRACTICE, SPECKS, TENTH, VALUE, Figure, rounded
from critique.measures.finely_seen import finely_coloured
from critique.measures.histogram import COLOURS_LONG_EDGE, ColourHistogram, colour_histogram, rank_value
from critique.measures.reads_as_green import ReadsAsGreen
from critique.measures.smoothing import gaussian
from critique.perception.channels import chroma_of
from critique.perception.difference import delta_e_2000
from critique.perception.hue import (
    GREEN_FAMILY,
    LEAF_SLOPE,
    LEAF_TOP_CHROMA,
    LEAF_TOP_LIGHTNESS,
    RELIEF,
    YELLOW_GREEN,
    HueBand,
    leaf_limit,
)
from critique.picture.picture import Picture, lab_at
from critique.words.figures import number, percent

SAME_GREEN = 5.0  # ΔE00 within which two greens read as one paint; common practice, no source
SAME_FADES = 1.4  # ΔE00 over which they come to be two, so that none does by a hair
HUE_FADES, CHROMA_FADES = 1.5, 0.5  # degrees and C* over which a colour comes to be a green, likewise
BORDER = 3  # of CHROMA_FADES below the band, where nothing counts
HARDLY = 0.01  # of a green: what is less of one isn't looked at
ONE_TONE = 3.0  # ΔE00 within which a green is brushed out of one mixture: a leaf beside a leaf differs by more
PATCH = 0.0031  # of the long edge, spread of a Gaussian, 2 px: a green is a patch of leaves, and no stroke
Evenness = tuple[float, tuple[float, float, float], float]

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
    one_tone_share: float  # of the picture: green within ΔE00 3 of the commonest, as of one mixture brushed out
    family: GreenFigures
    reads_as_green_share: float | None  # of the area: what a person would call green; None where nobody asked


def measure_greens(
    picture: Picture,
    band: HueBand = YELLOW_GREEN,
    reads_as_green: ReadsAsGreen | None = None,
) -> Greens:
    """Measure the yellow-green of a picture.

    Parameters
    ----------
    picture : Picture
        Its ``lab`` is (height, width, 3), CIELAB under D65.
    band : HueBand
        Hue limits in degrees and the least chroma that counts as coloured.
    reads_as_green : ReadsAsGreen, optional
        Of the picture, when its parts are known.

    Notes
    -----
    Seen from twice as far as the picture is viewed, without the finest: single px make no greens of their own.
    The band spans what most people call green or olive, to Munsell 10GY. [Newhall et al., 1943] The relief is the
    chroma of 281°–328° and of the reds up to 60°, where burnt sienna lies: what stands opposite the green on the wheel.
    """
    seen = lab_at(picture, COLOURS_LONG_EDGE)
    lab = finely_coloured(picture)
    chroma = chroma_of(lab)
    total = float(chroma.sum(dtype=np.float64))
    inside = band.contains(lab)
    patches = colour_histogram(gaussian(seen, PATCH * max(seen.shape[:2]), truncate=3))
    evenness = _evenness(patches, band)
    figures = _figures(lab, chroma, inside, total, evenness, band)
    relief = float(chroma[RELIEF.contains(lab)].sum(dtype=np.float64)) / total if total > 0 else 0.0
    return Greens(
        **{field.name: getattr(figures, field.name) for field in fields(GreenFigures)},
        relief_share=relief,
        one_tone_share=evenness[2] * figures.area_share,
        family=_figures(lab, chroma, GREEN_FAMILY.contains(lab), total, _evenness(patches, GREEN_FAMILY), GREEN_FAMILY),
        reads_as_green_share=reads_as_green.share if reads_as_green is not None else None,
    )


def green_strength(
    lab: NDArray[np.float32], band: HueBand = YELLOW_GREEN, *, beside: float = 0.0
) -> tuple[float, float]:
    """The band's share of all the chroma of colours (height, width, 3), and its median chroma, px by px.

    ``beside`` is the sum of the chroma of other colours that belong to the same whole, none of them in the band.
    """
    chroma = chroma_of(lab)
    strength = chroma[band.contains(lab)]
    if len(strength) == 0:
        return 0.0, float("nan")
    share = float(strength.sum(dtype=np.float64)) / (float(chroma.sum(dtype=np.float64)) + beside)
    return share, float(rank_value(strength, 0.5))


def _figures(
    lab: NDArray[np.float32],
    chroma: NDArray[np.float32],
    inside: NDArray[np.bool_],
    total_chroma: float,
    evenness: Evenness,
    band: HueBand,
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
    return GreenFigures(
        area_share=number / inside.size,
        chroma_share=total / total_chroma,
        beyond_leaf_share=float(np.count_nonzero(strength > leaf_limit(lightness))) / inside.size,
        median_lightness=float(rank_value(lightness, 0.5)),
        median_chroma=float(rank_value(strength, 0.5)),
        p95_chroma=float(rank_value(strength, 0.95)),
        mean_hue=float(np.degrees(np.arctan2(b, a)) % 360),
        hue_spread=float(np.degrees(np.sqrt(-2 * np.log(min(np.hypot(a, b) / total, 1.0))))),
        value_spread=_value_spread(lab[chroma >= band.least_chroma - BORDER * CHROMA_FADES], band),
        evenness=evenness[0],
        commonest=evenness[1],
    )


def _value_spread(lab: NDArray[np.float32], band: HueBand) -> float:
    """Standard deviation of value among the greens of colours (n, 3), each counted by how far it is one."""
    green = band.holds(lab, hue_fades=HUE_FADES, chroma_fades=CHROMA_FADES)
    lightness = lab[:, 0].astype(np.float64)
    middle = np.average(lightness, weights=green)
    return float(np.sqrt(np.average(np.square(lightness - middle), weights=green))) / 10


def _evenness(colours: ColourHistogram, band: HueBand) -> Evenness:
    """Share of the band's green within ΔE00 5 of its commonest green, that green, and the share within ΔE00 3 of it.

    The commonest green is the one that the most green is like, found among the heaviest bins of the histogram. At just
    ΔE00 5 a green counts half, and so does one on the border of the band.
    """
    if not band.contains(colours.lab).any():
        return float("nan"), (float("nan"),) * 3, 0.0
    green = band.holds(colours.lab, hue_fades=HUE_FADES, chroma_fades=CHROMA_FADES)
    inside = green >= HARDLY
    lab, share = colours.lab[inside], (colours.share * green)[inside]
    heaviest = np.argsort(-share, kind="stable")[:CANDIDATES]
    candidates = lab[heaviest]
    apart = delta_e_2000(candidates[:, None, :], lab[None, :, :])
    like = _within(apart, SAME_GREEN) @ share / share.sum()
    best = int(like.argmax())
    L, a, b = candidates[best]
    one_tone = float(_within(apart[best], ONE_TONE) @ share / share.sum())
    return float(like[best]), (float(L), float(a), float(b)), one_tone


def _within(apart: NDArray[Any], limit: float) -> NDArray[Any]:
    """How far differences keep within a limit in ΔE00, 0–1: at the limit, half."""
    return np.asarray(0.5 - 0.5 * np.tanh((apart - limit) / SAME_FADES))


_LEAF = "reflectances of leaves computed with PROSPECT-D (Féret and others, 2017); the table ships with the program"
_RENOTATION = "Munsell renotation (Newhall, Nickerson and Judd, 1943) for the limits of hue"
_FISHER = "N. I. Fisher, Statistical Analysis of Circular Data, 1993"


def _span(band: HueBand) -> str:
    return f"{band.start:.0f}°–{band.end:.0f}°"


FIGURES = (
    Figure(
        name="greens.reads_as_green_share",
        label="Reads as green",
        meaning="how much a person would call green: grass and foliage, olive and dark ones too",
        definition="Share of the land's regions that colour, lightness and place make grass or foliage.",
        source="our own measure, held to two independent machine readings of twenty landscapes",
        unit="share",
        show=percent,
        norm=True,
        column="what reads as green, share of the picture's area, 0–1",
        worth=AREA,
    ),
    Figure(
        name="greens.area_share",
        label="Green area, sky and all",
        meaning="how much of the whole surface is yellow-green; what is said of the green leaves a sure sky out",
        definition=f"Area with a CIELAB hue of {_span(YELLOW_GREEN)} and chroma C*ab of "
        f"{YELLOW_GREEN.least_chroma:.0f} "
        "or more (Munsell 10Y to 10GY), over the whole area.",
        source=_RENOTATION,
        unit="share",
        show=percent,
        norm=True,
        column="yellow-green, share of the picture's area, 0–1",
        worth=AREA,
    ),
    Figure(
        name="greens.chroma_share",
        label="Green share of the colour",
        meaning="how much of all the colour strength is yellow-green",
        definition="Sum of chroma in the yellow-green band over the sum of chroma in the picture.",
        source=CIELAB,
        unit="share",
        show=percent,
        norm=True,
        column="yellow-green, share of all the chroma, 0–1",
        worth=AREA,
    ),
    Figure(
        name="greens.beyond_leaf_share",
        label="Beyond the leaf limit",
        meaning="green stronger than one leaf lit from the front; leaves differ, and some pass it by a little",
        definition=f"Area in the band with a chroma over {LEAF_SLOPE} (L* + 16), from L* {LEAF_TOP_LIGHTNESS:.0f} up "
        "over "
        f"{LEAF_TOP_CHROMA:.1f}, the finest detail left out. Leaves lit from behind pass it.",
        source=_LEAF,
        unit="share",
        show=percent,
        norm=True,
        column="green beyond the leaf limit, share of the area, 0–1",
        worth=SPECKS,
    ),
    Figure(
        name="greens.median_lightness",
        label="Middle value of the greens",
        meaning="how light the greens are",
        definition="Median L*/10 of the band.",
        source=CIELAB,
        unit="L*",
        show=lambda lightness: number(lightness / 10),
        needs="green",
        worth=LIGHTNESS,
    ),
    Figure(
        name="greens.median_chroma",
        label="Middle chroma of the greens",
        meaning="how strong the ordinary green is",
        definition="Median C*ab of the band.",
        source=CIELAB,
        unit="C*ab",
        show=rounded(0),
        norm=True,
        column="middle chroma C*ab of the yellow-green; empty without any",
        scale="ratio",
        needs="green",
        worth=TENTH,
    ),
    Figure(
        name="greens.p95_chroma",
        label="Strongest greens",
        meaning="how strong the strongest greens are",
        definition="95th percentile of C*ab in the band.",
        source=CIELAB,
        unit="C*ab",
        show=rounded(0),
        norm=True,
        scale="ratio",
        needs="green",
        worth=TENTH,
    ),
    Figure(
        name="greens.mean_hue",
        label="Mean hue of the greens",
        meaning="105° is olive, 120° leaf, 140° cool green",
        definition="Circular mean of CIELAB hue in the band, weighted by chroma.",
        source=_FISHER,
        unit="degrees",
        show=rounded(0, "°"),
        norm=True,
        scale="angle",
        needs="green",
        worth=HUE,
    ),
    Figure(
        name="greens.hue_spread",
        label="Spread of green hues",
        meaning="how far the greens differ in hue",
        definition="Circular standard deviation of hue in the band, weighted by chroma.",
        source=_FISHER,
        unit="degrees",
        show=rounded(0, "°"),
        norm=True,
        needs="green",
        worth=HUE,
    ),
    Figure(
        name="greens.value_spread",
        label="Spread of green values",
        meaning="how far the greens differ in value",
        definition="Standard deviation of L*/10 in the band, what lies on its border counted half.",
        source=CIELAB,
        unit="value",
        norm=True,
        needs="green",
        worth=VALUE,
    ),
    Figure(
        name="greens.evenness",
        label="Evenness of the greens",
        meaning="how much of the green is one and the same green",
        definition=f"Share of the band within ΔE00 {SAME_GREEN:.0f} of its own commonest colour, seen in patches.",
        source="CIEDE2000 (CIE 142-2001); the size of the step is " + PRACTICE,
        unit="share",
        show=percent,
        norm=True,
        column="share of the green within ΔE00 5 of its commonest colour, 0–1; empty without any",
        needs="green",
        worth=PART,
        jumps=True,
    ),
    Figure(
        name="greens.relief_share",
        label="Relief",
        meaning="colour that stands against the green: from violet-blue through violet to red",
        definition=f"Chroma of the hues {_span(RELIEF)} over the chroma of the picture.",
        source="the sector opposite the band, with the reds; " + PRACTICE,
        unit="share",
        show=percent,
        norm=True,
        worth=AREA,
    ),
    Figure(
        name="greens.family.area_share",
        label="All greens, area",
        meaning="the same with the blue-greens",
        definition=f"Area with a hue of {_span(GREEN_FAMILY)} and chroma of {GREEN_FAMILY.least_chroma:.0f} or more "
        "(to "
        "Munsell 10G), over the whole area.",
        source=_RENOTATION,
        unit="share",
        show=percent,
        norm=True,
        worth=AREA,
    ),
    Figure(
        name="greens.family.chroma_share",
        label="All greens, share of the colour",
        meaning="the same with the blue-greens",
        definition=f"Sum of chroma in {_span(GREEN_FAMILY)} over the sum of chroma in the picture.",
        source=CIELAB,
        unit="share",
        show=percent,
        norm=True,
        worth=AREA,
    ),
    Figure(
        name="greens.family.median_chroma",
        label="All greens, middle chroma",
        meaning="the same with the blue-greens",
        definition=f"Median C*ab in {_span(GREEN_FAMILY)}.",
        source=CIELAB,
        unit="C*ab",
        show=rounded(0),
        scale="ratio",
        needs="all greens",
        worth=TENTH,
    ),
)
