"""How many colours a picture really has, by four measures that need not agree."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.figure import CIELAB, NAMES, TENTH, Figure, rounded
from critique.measures.histogram import ColourHistogram, picture_histogram
from critique.perception.channels import chroma_of
from critique.perception.hue import LEAST_CHROMA, hue_of
from critique.perception.munsell import munsell_of
from critique.perception.names import shares_of_names
from critique.perception.srgb import Codes
from critique.picture.picture import Picture

HUE_STEP = 10.0  # degrees: the 36 hues that the entropy counts
IN_A_LINE = 1e-3  # a*b*: colours that stray no farther from a line, all taken together, have no area
HULL_SHARE = 0.95  # of the picture that the hull of a*b* holds
HULL_SHARES = tuple(np.linspace(-0.04, 0.04, 9))  # about that: the mean of so many hulls hangs on no single colour
NAME_SHARE = 0.01  # of the area, of which a name counts half: half of what is missing for every further 1 %
# Munsell value and chroma, and hue (of 100) at a chroma of 1, by which a colour is named again: what lies at the border
# of two names counts for both, and no part of a picture is renamed by a hair.
BORDERS = ((1.5, 0.05, 0.1), (1.5, -0.05, -0.1), (-1.5, 0.05, -0.1), (-1.5, -0.05, 0.1))
LEAST_MUNSELL = 0.5  # chroma below which a hue is turned no farther
COLOURFULNESS_WORDS = (  # Hasler and Süsstrunk, Measuring Colorfulness in Natural Images, SPIE 5007, 2003, table 2
    (15, "not colourful"),
    (33, "slightly colourful"),
    (45, "moderately colourful"),
    (59, "averagely colourful"),
    (82, "quite colourful"),
    (109, "highly colourful"),
    (float("inf"), "extremely colourful"),
)


@dataclass(frozen=True, slots=True)
class Variety:
    """Four counts of colour: hues (an effective number), hull area in a*b*, names and colourfulness."""

    effective_hues: float
    hull_area: float  # square units of a*b*
    names: float  # a name of 1 % of the area counts half, one of 2 % three quarters
    colourfulness: float
    colourfulness_word: str


def measure_variety(picture: Picture, histogram: ColourHistogram | None = None) -> Variety:
    """Measure how many colours a picture has."""
    colours = histogram if histogram is not None else picture_histogram(picture)
    strength = colourfulness(picture.srgb)
    return Variety(
        effective_hues=effective_hues(colours),
        hull_area=hull_area(colours),
        names=_names(colours),
        colourfulness=strength,
        colourfulness_word=next(word for limit, word in COLOURFULNESS_WORDS if strength < limit),
    )


def effective_hues(colours: ColourHistogram) -> float:
    """Exponential of the entropy of the chroma-weighted hues: n for n equal hues, 0 for a grey picture.

    [Shannon, 1948; Hill, Ecology 54(2), 1973: the number of order 1]
    """
    chroma = chroma_of(colours.lab)
    weight = np.where(chroma >= LEAST_CHROMA, chroma * colours.share, 0)
    if weight.sum() <= 0:
        return 0.0
    hue = hue_of(colours.lab[:, 1], colours.lab[:, 2])
    shares = np.bincount((hue // HUE_STEP).astype(np.intp), weights=weight)
    shares = shares[shares > 0] / weight.sum()
    return float(np.exp(-(shares * np.log(shares)).sum()))


def hull_area(colours: ColourHistogram) -> float:
    """Area in a*b* of the convex hull of the 95 % of the picture that lie nearest to its median colour."""
    ab = colours.lab[:, 1:]
    median = np.array([_weighted_median(ab[:, axis], colours.share) for axis in (0, 1)])
    distance = np.hypot(*(ab - median).T)
    order = np.argsort(distance, kind="stable")
    held, outward = np.cumsum(colours.share[order]), ab[order]
    return float(np.mean([_hull(outward[: int(np.searchsorted(held, HULL_SHARE + more)) + 1]) for more in HULL_SHARES]))


def _hull(ab: NDArray[np.float64]) -> float:
    """Area of the convex hull of points (n, 2); 0 where they lie in a line."""
    off = ab - ab.mean(axis=0)
    if len(ab) < 3 or np.linalg.eigvalsh(off.T @ off)[0] <= IN_A_LINE**2:
        return 0.0
    from scipy.spatial import ConvexHull

    return float(ConvexHull(ab).volume)  # in two dimensions the hull's "volume" is its area


def colourfulness(srgb: Codes) -> float:
    """Colourfulness of 8-bit sRGB codes (h, w, 3). [Hasler and Süsstrunk, SPIE 5007, 2003, equation 3]"""
    red, green, blue = (srgb[..., channel].astype(np.float32) for channel in range(3))
    (rg, rg_spread), (yb, yb_spread) = (_moments(part) for part in (red - green, (red + green) / 2 - blue))
    return float(np.hypot(rg_spread, yb_spread) + 0.3 * np.hypot(rg, yb))


def _moments(values: NDArray[np.floating]) -> tuple[float, float]:
    """Mean and standard deviation."""
    mean = values.mean(dtype=np.float64)
    centred = (values - np.float32(mean)).ravel()
    return float(mean), float(np.sqrt(np.mean(centred * centred, dtype=np.float64)))


def _weighted_median(values: NDArray[np.float64], weights: NDArray[np.float64]) -> float:
    order = np.argsort(values, kind="stable")
    total = np.cumsum(weights[order])
    return float(values[order[int(np.searchsorted(total, total[-1] / 2))]])


def _names(colours: ColourHistogram) -> float:
    """How many ISCC–NBS names a picture has, each the more of a name the more it covers: one of 1 % is half of one.

    Every bin of the histogram is named by itself: by coarser ones, a hair's change would rename a part of the picture.
    """
    munsell, near = munsell_of(colours.lab), []
    for turned, lighter, stronger in BORDERS:
        beside = np.maximum(munsell + np.array((0.0, lighter, stronger)), 0)
        beside[:, 0] = (munsell[:, 0] + turned / np.maximum(munsell[:, 2], LEAST_MUNSELL)) % 100
        near.append(beside)
    total = shares_of_names(np.concatenate(near), np.tile(colours.share / len(BORDERS), len(BORDERS)))
    return float((1 - np.exp2(-total / NAME_SHARE)).sum())


FIGURES = (
    Figure(
        name="variety.effective_hues",
        label="Effective hues",
        meaning="how many hues are really at work",
        definition=f"Exponential of the entropy of the chroma-weighted hues, in steps of {HUE_STEP:.0f}°: n for n "
        "equal "
        "hues.",
        source="Shannon, 1948; Hill, 1973",
        norm=True,
        column="effective number of hues",
        scale="ratio",
        worth=TENTH,
    ),
    Figure(
        name="variety.hull_area",
        label="Spread of colour",
        meaning="how wide a field of hue and chroma the picture takes",
        definition=f"Area in a*b* of the convex hull around the {HULL_SHARE:.0%} of the picture nearest to its median "
        "colour.",
        source=CIELAB,
        unit="square units of a*b*",
        show=rounded(0),
        norm=True,
        scale="ratio",
        worth=0.4,  # of the logarithm, half as much again: it stands on the outermost colours alone
    ),
    Figure(
        name="variety.names",
        label="Named colours",
        meaning="how many colours a person would name",
        definition=f"ISCC–NBS colour names by the area that each covers: one of {NAME_SHARE:.0%} counts half, one of "
        f"{2 * NAME_SHARE:.0%} three quarters, and so on.",
        source="Kelly and Judd, NBS Circular 553, 1955",
        show=rounded(0),
        norm=True,
        worth=NAMES,
        jumps=True,
    ),
    Figure(
        name="variety.colourfulness",
        label="Colourfulness",
        meaning="15 is slight, 33 moderate, 59 quite, 82 high",
        definition="√(σrg² + σyb²) + 0.3 √(μrg² + μyb²) over sRGB codes, with rg = R − G and yb = (R + G)/2 − B.",
        source="Hasler and Süsstrunk, Measuring Colorfulness in Natural Images, 2003",
        show=rounded(0),
        told=lambda measures: f"{measures.variety.colourfulness:.0f}, {measures.variety.colourfulness_word}",
        norm=True,
        column="colourfulness by Hasler and Süsstrunk (2003)",
        scale="ratio",
        worth=TENTH,
    ),
)
