"""Whether a picture's hues keep together, by two published models that know nothing of what is painted."""

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from critique.measures.families import Family
from critique.measures.figure import HUE, PAIR, PART, PRACTICE, Figure, Words, rounded
from critique.measures.finely_seen import finely_coloured
from critique.measures.harmony_pairs import two_colour_harmony
from critique.measures.histogram import ColourHistogram, picture_histogram
from critique.perception.hue import LIGHT_WHEEL, WARM_FROM, WARM_TO, hue_of, is_warm, nearest_station, turn
from critique.picture.picture import Picture
from critique.words.figures import percent

if TYPE_CHECKING:
    from critique.measures.measure import Measures

# Widths in degrees and centres from the first sector of Matsuda's hue templates, as Cohen-Or, Sorkine, Gal, Leyvand
# and Xu use them (Color Harmonization, ACM Transactions on Graphics 25(3), 2006); from memory of that paper.
TEMPLATES: dict[str, tuple[tuple[float, float], ...]] = {  # (centre, width) of each sector
    "i": ((0.0, 18.0),),
    "V": ((0.0, 93.6),),
    "L": ((0.0, 18.0), (90.0, 79.2)),
    "I": ((0.0, 18.0), (180.0, 18.0)),
    "T": ((0.0, 180.0),),
    "Y": ((0.0, 93.6), (180.0, 18.0)),
    "X": ((0.0, 93.6), (180.0, 93.6)),
}
TEMPLATE_WORDS = {
    "i": "one narrow run of hues",
    "V": "one run of neighbouring hues",
    "L": "a narrow run of hues and a broader one a quarter of the wheel away",
    "I": "two narrow runs that face each other",
    "T": "half the wheel",
    "Y": "a run of neighbours and one narrow accent opposite",
    "X": "two runs of neighbours that face each other",
}
CLOSE_FIT = 6.0  # degrees of mean distance within which the narrowest template is taken; our choice
COMPLEMENT_TOLERANCE = 30.0  # degrees from the exact opposite on the wheel: half a station
COLOURED = 8.0  # C*: a family below it is a grey


@dataclass(frozen=True, slots=True)
class TemplateFit:
    """How well a hue template fits: mean chroma-weighted distance in degrees, at its best rotation (CIELAB hue)."""

    template: str
    rotation: float
    distance: float


@dataclass(frozen=True, slots=True)
class Complements:
    """Two families, by index, that face each other on the light wheel."""

    first: int
    second: int
    off_by: float  # degrees from exact opposition


@dataclass(frozen=True, slots=True)
class Harmony:
    """Template fits (narrowest first), the chosen one, the two-colour model's mean, warm and cool, complements."""

    template: str
    template_words: str
    rotation: float
    distance: float
    fits: tuple[TemplateFit, ...]
    pair_harmony: float  # area-weighted mean over pairs of colours; the model's scale runs from about −1.2 to 1.2
    warm_share: float  # of the chroma
    cool_share: float
    complements: tuple[Complements, ...]
    stations: dict[str, float]  # share of the chroma nearest to each station of the light wheel


def measure_harmony(
    picture: Picture, families: tuple[Family, ...], histogram: ColourHistogram | None = None
) -> Harmony:
    """Measure how a picture's hues keep together. Hue is CIELAB's, not the HSV of the 2006 paper."""
    colours = histogram if histogram is not None else picture_histogram(picture)
    weights = hue_weights(finely_coloured(picture))
    fits = tuple(fit_template(name, weights) for name in sorted(TEMPLATES, key=_width))
    best = next((fit for fit in fits if fit.distance <= CLOSE_FIT), min(fits, key=lambda fit: fit.distance))
    hue = np.arange(360, dtype=np.float64) + 0.5
    warm = float(weights[is_warm(hue)].sum())
    stations = dict(zip((station.name for station in LIGHT_WHEEL), _by_station(weights), strict=True))
    coloured = float(weights.sum())
    return Harmony(
        template=best.template,
        template_words=TEMPLATE_WORDS[best.template],
        rotation=best.rotation,
        distance=best.distance,
        fits=fits,
        pair_harmony=two_colour_harmony(colours),
        warm_share=warm,
        cool_share=coloured - warm,
        complements=_complements(families),
        stations=stations,
    )


GREY = 0.05  # C* of the mean below which a picture is grey, and its hues are what rounding left


def hue_weights(lab: NDArray[np.floating]) -> NDArray[np.float64]:
    """Share of the chroma of colours (..., 3) at each whole degree of CIELAB hue, (360,), summing to 1 (0 for greys).

    Of colours themselves, not of bins of them: by its bin a colour changes its hue by a hair.
    """
    a, b = lab[..., 1].ravel(), lab[..., 2].ravel()
    hue = hue_of(a, b).astype(np.intp) % 360
    weights = np.bincount(hue, weights=np.hypot(a, b), minlength=360) / max(a.size, 1)
    total = weights.sum()
    return np.asarray(weights / total if total > GREY else weights * 0)


def _by_station(weights: NDArray[np.float64]) -> list[float]:
    """The weights of all degrees of hue (360,) that lie nearest to each station of the light wheel."""
    return [float(share) for share in np.bincount(_stations(), weights=weights, minlength=len(LIGHT_WHEEL))]


@cache
def _stations() -> NDArray[np.intp]:
    """Which station lies nearest to the middle of each degree of hue (360,)."""
    return np.array([LIGHT_WHEEL.index(nearest_station(degree + 0.5)) for degree in range(360)])


@cache
def _turned() -> NDArray[np.intp]:
    """Which degree of a template each degree of hue (360,) meets at each rotation (360,)."""
    degrees = np.arange(360)
    return np.asarray((degrees[:, None] - degrees[None, :]) % 360)


def fit_template(name: str, weights: NDArray[np.float64]) -> TemplateFit:
    """Turn a template to where the chroma of each degree of hue (360,) lies nearest to its sectors.

    [Cohen-Or et al., 2006, equation 1]
    """
    hue = np.arange(360) + 0.5
    distance = np.full(360, np.inf)  # from each hue to the template at rotation 0
    for centre, width in TEMPLATES[name]:
        distance = np.minimum(distance, np.maximum(np.abs(turn(centre, hue)) - width / 2, 0))
    costs = weights @ distance[_turned()]  # a column for each rotation
    level = np.flatnonzero(costs <= costs.min() + 1e-9)
    best = int(level[len(level) // 2])  # the middle of a tie, so that the sector sits on what it holds
    return TemplateFit(name, float(best), float(costs[best]))


def _width(name: str) -> float:
    return sum(width for _, width in TEMPLATES[name])


def _complements(families: tuple[Family, ...]) -> tuple[Complements, ...]:
    pairs = []
    for first, one in enumerate(families):
        for second in range(first + 1, len(families)):
            other = families[second]
            off = 180 - abs(float(turn(one.lch[2], other.lch[2])))
            if min(one.lch[1], other.lch[1]) >= COLOURED and off <= COMPLEMENT_TOLERANCE:
                pairs.append(Complements(first, second, off))
    return tuple(sorted(pairs, key=lambda pair: pair.off_by))


def _pairs(measures: "Measures") -> str:
    names = [family.name for family in measures.families]
    pairs = measures.harmony.complements
    return "; ".join(f"{names[pair.first]} and {names[pair.second]}" for pair in pairs) or "none"


FIGURES = (
    Words(
        page="harmony",
        label="Hue template",
        meaning="the simplest pattern of hues that holds the picture's colour",
        definition=f"The narrowest of Matsuda's templates that the chroma-weighted hues miss by {CLOSE_FIT:.0f}° or "
        "less, "
        "else the nearest.",
        source="Cohen-Or, Sorkine, Gal, Leyvand and Xu, Color Harmonization, 2006",
        told=lambda measures: f"{measures.harmony.template}: {measures.harmony.template_words}",
    ),
    Figure(
        name="harmony.distance",
        label="Off the template",
        meaning="how far the colours stray from it",
        definition="Mean distance in hue from the template, weighted by chroma.",
        source="Cohen-Or, Sorkine, Gal, Leyvand and Xu, 2006; with CIELAB hue",
        unit="degrees",
        show=rounded(1, "°"),
        norm=True,
        worth=HUE,
        jumps=True,
    ),
    Figure(
        name="harmony.pair_harmony",
        label="Two-colour harmony",
        meaning="how well the colours go together; above 0 is harmonious",
        definition="Mean over all pairs of colours that are more than shades of one, weighted by their areas. The "
        "scale runs from about −1.2 to 1.2.",
        source="Ou and Luo, A Colour Harmony Model for Two-colour Combinations, 2006",
        show=rounded(2),
        norm=True,
        worth=PAIR,
        jumps=True,
    ),
    Figure(
        name="harmony.warm_share",
        label="Warm colour",
        meaning="how much of the colour is warm",
        definition=f"Chroma of the hues from −{-WARM_FROM:.0f}° to {WARM_TO:.0f}° over all chroma.",
        source=PRACTICE,
        unit="share",
        show=percent,
        norm=True,
        column="share of the chroma that is warm, 0–1",
        worth=PART,
    ),
    Words(
        page="harmony",
        label="Complements",
        meaning="pairs of dominant colours that face each other",
        definition=f"Pairs within {COMPLEMENT_TOLERANCE:.0f}° of opposite in hue, each with chroma of {COLOURED:.0f} "
        "or "
        "more.",
        source="the six even stations of additive light; " + PRACTICE,
        told=_pairs,
    ),
)
