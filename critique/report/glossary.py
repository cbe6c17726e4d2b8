"""What every figure means, how it is defined and where its definition comes from."""

from dataclasses import dataclass

from critique.measures.division import HALVING_TOLERANCE, LINE_ROUGHNESS, MASS_REACH, PRESENT_STRENGTH
from critique.measures.division_path import STRAIGHT_TOLERANCE
from critique.measures.green_kinds import STEP_HUE, STRONGEST
from critique.measures.greens import SAME_GREEN
from critique.measures.neighbours import TOUCHES
from critique.measures.values import HIGH_KEY, LOW_KEY, MAJOR_SPREAD, TWIN_HUE, TWIN_SHARE, TWIN_VALUE
from critique.perception.hue import (
    GREEN_FAMILY,
    LEAF_SLOPE,
    LEAF_TOP_CHROMA,
    LEAF_TOP_LIGHTNESS,
    RELIEF,
    YELLOW_GREEN,
    HueBand,
)

PRACTICE = "common practice, no source"
CIELAB = "CIE 15:2004 (CIELAB, D65, 2° observer)"
OWN = "our own measure"


@dataclass(frozen=True, slots=True)
class Entry:
    """One figure: its name on the page, what it means to a painter, its definition and the source of that."""

    label: str
    meaning: str
    definition: str
    source: str


def _span(band: HueBand) -> str:
    return f"{band.start:.0f}°–{band.end:.0f}°"


_LEAF = "reflectances of leaves computed with PROSPECT-D (Féret and others, 2017); the table ships with the program"

GREENS = {
    "area_share": Entry(
        "Green area",
        "how much of the surface is yellow-green",
        f"Area with a CIELAB hue of {_span(YELLOW_GREEN)} and chroma C*ab of {YELLOW_GREEN.least_chroma:.0f} or more "
        "(Munsell 10Y to 10GY), over the whole area.",
        "Munsell renotation (Newhall, Nickerson and Judd, 1943) for the limits of hue",
    ),
    "chroma_share": Entry(
        "Green share of the colour",
        "how much of all the colour strength is yellow-green",
        "Sum of chroma in the yellow-green band over the sum of chroma in the picture.",
        CIELAB,
    ),
    "beyond_leaf_share": Entry(
        "Beyond the leaf limit",
        "green that no leaf lit from the front reaches",
        f"Area in the band with a chroma over {LEAF_SLOPE} (L* + 16), from L* {LEAF_TOP_LIGHTNESS:.0f} up over "
        f"{LEAF_TOP_CHROMA:.1f}. Leaves lit from behind pass it.",
        _LEAF,
    ),
    "median_lightness": Entry(
        "Middle value of the greens", "how light the greens are", "Median L*/10 of the band.", CIELAB
    ),
    "median_chroma": Entry(
        "Middle chroma of the greens", "how strong the ordinary green is", "Median C*ab of the band.", CIELAB
    ),
    "p95_chroma": Entry(
        "Strongest greens", "how strong the strongest greens are", "95th percentile of C*ab in the band.", CIELAB
    ),
    "mean_hue": Entry(
        "Mean hue of the greens",
        "105° is olive, 120° leaf, 140° cool green",
        "Circular mean of CIELAB hue in the band, weighted by chroma.",
        "N. I. Fisher, Statistical Analysis of Circular Data, 1993",
    ),
    "hue_spread": Entry(
        "Spread of green hues",
        "how far the greens differ in hue",
        "Circular standard deviation of hue in the band, weighted by chroma.",
        "N. I. Fisher, Statistical Analysis of Circular Data, 1993",
    ),
    "value_spread": Entry(
        "Spread of green values",
        "how far the greens differ in value",
        "Standard deviation of L*/10 in the band.",
        CIELAB,
    ),
    "evenness": Entry(
        "Evenness of the greens",
        "how much of the green is one and the same green",
        f"Share of the band within ΔE00 {SAME_GREEN:.0f} of its own commonest colour.",
        "CIEDE2000 (CIE 142-2001); the size of the step is " + PRACTICE,
    ),
    "relief_share": Entry(
        "Relief",
        "colour that stands against the green: reds and violets",
        f"Chroma of the hues {_span(RELIEF)} over the chroma of the picture.",
        "the sector opposite the band, with the reds; " + PRACTICE,
    ),
}
GREEN_KINDS = {
    "near_far": Entry(
        "Greens below, above",
        "distance usually quiets, lightens and cools green",
        "Mean value and chroma of the third of the green that lies lowest in the picture, then of the third that lies "
        "highest.",
        PRACTICE,
    ),
    "light_shade": Entry(
        "Greens in light, in shade",
        "sunlight usually turns green toward yellow",
        "Mean hue of the lightest third of the green, then of its darkest third; a difference of less than "
        f"{STEP_HUE:.0f}° counts as none.",
        PRACTICE,
    ),
    "strongest": Entry(
        "Where the strongest greens lie",
        "at the focal place they help it, at an edge they draw the eye out",
        f"Middle of the strongest {100 * STRONGEST:.0f} % of the green by chroma, as parts of width and height.",
        OWN,
    ),
}

FAMILY_GREENS = {
    "area_share": Entry(
        "All greens, area",
        "the same with the blue-greens",
        f"Area with a hue of {_span(GREEN_FAMILY)} and chroma of {GREEN_FAMILY.least_chroma:.0f} or more (to Munsell "
        "10G), over the whole area.",
        "Munsell renotation (Newhall, Nickerson and Judd, 1943) for the limits of hue",
    ),
    "chroma_share": Entry(
        "All greens, share of the colour",
        "the same with the blue-greens",
        f"Sum of chroma in {_span(GREEN_FAMILY)} over the sum of chroma in the picture.",
        CIELAB,
    ),
    "median_chroma": Entry(
        "All greens, middle chroma", "the same with the blue-greens", f"Median C*ab in {_span(GREEN_FAMILY)}.", CIELAB
    ),
}
VALUES = {
    "key": Entry(
        "Key",
        "where the middle of the values lies, and how far they reach",
        f"High when the median value is above {HIGH_KEY:.0f}, low below {LOW_KEY:.0f}; major when nine tenths span "
        f"{MAJOR_SPREAD:.0f} values or more.",
        PRACTICE,
    ),
    "percentiles": Entry(
        "Darks, middle, lights",
        "the 5th, 50th and 95th percentiles of value",
        "Value is L*/10: 0 is black, 10 is white.",
        CIELAB,
    ),
    "range": Entry("Range of values", "how far the values reach", "95th percentile of value less the 5th.", CIELAB),
    "separation_2": Entry(
        "Two masses hold",
        "how far two values alone carry the picture",
        "Variance of value between the masses over all of it, after a squint, at the best threshold.",
        "N. Otsu, 1979",
    ),
    "separation_3": Entry(
        "Three masses hold", "the same with three values", "As above, at the best two thresholds.", "N. Otsu, 1979"
    ),
    "separation_5": Entry(
        "Five masses hold", "the same with five values", "As above, at the best four thresholds.", "N. Otsu, 1979"
    ),
    "largest_mass": Entry(
        "Largest shape",
        "how much the largest connected shape covers",
        "Largest connected part of one mass of the three-value plan, over the whole area.",
        OWN,
    ),
    "twins": Entry(
        "Alike in value",
        "colours that differ in hue but print as one grey",
        f"Pairs of dominant colours {TWIN_HUE:.0f}° or more apart in hue and under {TWIN_VALUE} of a value apart, each "
        f"over {TWIN_SHARE:.0%} of the area.",
        PRACTICE,
    ),
    "neighbours": Entry(
        "Green against its neighbour",
        "whether a green parts in value from what it touches",
        f"The green family and the family {TWIN_HUE:.0f}° or more of hue away that share {TOUCHES:.0%} of the smaller "
        "one’s border, and of these the two nearest in value along it.",
        OWN,
    ),
}
DIVISION = {
    "height": Entry(
        "Height of the line",
        "where the dividing line lies, from the top",
        "Level of most of the path from left to right along which what lies above differs most from what lies below.",
        OWN,
    ),
    "strength": Entry(
        "Strength of the line",
        f"how plainly it parts the picture; below {PRESENT_STRENGTH} it is no division",
        "Mean difference of both sides along the path, in value and colour, 0–1.",
        OWN,
    ),
    "straightness": Entry(
        "Straightness",
        "how much of the line keeps to one straight line",
        f"Part of the width within {STRAIGHT_TOLERANCE:.0%} of the height of a straight line.",
        OWN,
    ),
    "slope": Entry("Slope", "how far the line falls to the right", "Fall over run of the path's straight line.", OWN),
    "near_middle": Entry(
        "Runs near the middle",
        "how much of the line lies near half the height",
        f"Part of the width where the path is within {HALVING_TOLERANCE + LINE_ROUGHNESS:.0%} of half the height: "
        f"{HALVING_TOLERANCE:.0%} for the line, {LINE_ROUGHNESS:.0%} for what grows on it.",
        PRACTICE,
    ),
    "value_step": Entry(
        "Step of value",
        "how much lighter it is above the line than below",
        f"Mean value within {MASS_REACH:.0%} of the height above the line less that below it.",
        OWN,
    ),
    "vertical": Entry(
        "Upright split",
        "whether a line from top to bottom parts the picture",
        "The same path from top to bottom; its place is counted from the left.",
        OWN,
    ),
    "lights": Entry(
        "Lights against darks",
        "how lights and darks share the surface",
        "Area above the value that parts lights from darks best.",
        "N. Otsu, 1979",
    ),
}
