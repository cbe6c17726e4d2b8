"""What every figure on colour and on the path of the eye means."""

from critique.advice.eye_findings import PULL_WATCH
from critique.measures.cast import DISTURBED_NEUTRAL, SAME_LEAN
from critique.measures.eyepath import AIM, PULL
from critique.measures.harmony import CLOSE_FIT, COLOURED, COMPLEMENT_TOLERANCE, WARM
from critique.measures.lines import LEAST_LENGTH
from critique.measures.variety import HUE_STEP, HULL_SHARE, NAME_SHARE
from critique.report.glossary import CIELAB, OWN, PRACTICE, Entry

_WHEEL = "the six even stations of additive light; " + PRACTICE
HARMONY = {
    "template": Entry(
        "Hue template",
        "the simplest pattern of hues that holds the picture's colour",
        f"The narrowest of Matsuda's templates that the chroma-weighted hues miss by {CLOSE_FIT:.0f}° or less, else "
        "the nearest.",
        "Cohen-Or, Sorkine, Gal, Leyvand and Xu, Color Harmonization, 2006",
    ),
    "distance": Entry(
        "Off the template",
        "how far the colours stray from it",
        "Mean distance in hue from the template, weighted by chroma.",
        "Cohen-Or, Sorkine, Gal, Leyvand and Xu, 2006; with CIELAB hue",
    ),
    "pair_harmony": Entry(
        "Two-colour harmony",
        "how well the dominant colours go together; above 0 is harmonious",
        "Mean over all pairs of dominant colours, weighted by their areas. The scale runs from about −1.2 to 1.2.",
        "Ou and Luo, A Colour Harmony Model for Two-colour Combinations, 2006",
    ),
    "warm_share": Entry(
        "Warm colour",
        "how much of the colour is warm",
        f"Chroma of the hues from −{-WARM[0]:.0f}° to {WARM[1]:.0f}° over all chroma.",
        PRACTICE,
    ),
    "complements": Entry(
        "Complements",
        "pairs of dominant colours that face each other",
        f"Pairs within {COMPLEMENT_TOLERANCE:.0f}° of opposite in hue, each with chroma of {COLOURED:.0f} or more.",
        _WHEEL,
    ),
}
VARIETY = {
    "effective_hues": Entry(
        "Effective hues",
        "how many hues are really at work",
        f"Exponential of the entropy of the chroma-weighted hues, in steps of {HUE_STEP:.0f}°: n for n equal hues.",
        "Shannon, 1948; Hill, 1973",
    ),
    "hull_area": Entry(
        "Spread of colour",
        "how wide a field of hue and chroma the picture takes",
        f"Area in a*b* of the convex hull around the {HULL_SHARE:.0%} of the picture nearest to its median colour.",
        CIELAB,
    ),
    "names": Entry(
        "Named colours",
        "how many colours a person would name",
        f"ISCC–NBS colour names that cover at least {NAME_SHARE:.0%} of the area each.",
        "Kelly and Judd, NBS Circular 553, 1955",
    ),
    "colourfulness": Entry(
        "Colourfulness",
        "15 is slight, 33 moderate, 59 quite, 82 high",
        "√(σrg² + σyb²) + 0.3 √(μrg² + μyb²) over sRGB codes, with rg = R − G and yb = (R + G)/2 − B.",
        "Hasler and Süsstrunk, Measuring Colorfulness in Natural Images, 2003",
    ),
}
CAST = {
    "mean": Entry("Lean of the whole", "what the colours stir together to", "Mean a*, b* of the picture.", CIELAB),
    "lightest": Entry(
        "Lean of the lights",
        "what the lightest tenth leans to",
        "Mean a*, b* of the lightest tenth of the area.",
        CIELAB,
    ),
    "most_neutral": Entry(
        "Lean of the greys", "what the greyest tenth leans to", "Mean a*, b* of the tenth with least chroma.", CIELAB
    ),
    "likely": Entry(
        "Where a cast comes from",
        "the photograph, when lights and greys lean alike; else the painting; 50 % sure is as likely as not",
        f"Lights and greys lean within {SAME_LEAN:.0f}° of each other and of the whole, both by a chroma of "
        f"{DISTURBED_NEUTRAL:.0f} or more.",
        PRACTICE,
    ),
}
EYE_PATH = {
    "focus": Entry(
        "Focal place",
        "where contrast gathers, from the left and from the top",
        "Peak of contrast of value, chroma, edges and reds between spots and their surroundings, favoured where most "
        "pictures have it: in the middle and a little below.",
        "after Itti, Koch and Niebur, 1998; Tatler, 2007, on gaze",
    ),
    "from_middle": Entry(
        "Away from the middle",
        "0 is the very middle, 1 a corner",
        "Distance of the focal place from the middle over that from the middle to a corner.",
        OWN,
    ),
    "from_thirds": Entry(
        "Away from the thirds",
        "0 is on a crossing of thirds",
        "Distance of the focal place from the nearest crossing of thirds, on the same scale.",
        PRACTICE,
    ),
    "framing": Entry(
        "Corners darker by",
        "darker corners keep the eye in",
        "Mean value of the interior less that of the four corners.",
        PRACTICE,
    ),
    "border_framing": Entry(
        "Border darker by",
        "the same for the whole border",
        "Mean value of the interior less that of the outer tenth on every side.",
        PRACTICE,
    ),
    "strongest_pull": Entry(
        "Strongest pull at an edge",
        f"1 is as strong as the focal place; from {PULL} marked on the plate, from {PULL_WATCH} it draws the eye out",
        "Highest contrast near an edge or corner over that of the focal place.",
        OWN,
    ),
    "lines": Entry(
        "Long lines",
        "how many lead to the focal place, and how many out",
        f"Straight edges over {LEAST_LENGTH:.0%} of the long edge; they lead to the focal place when they pass within "
        f"{AIM:.0%} of it.",
        "Hough transform with gradient directions (O'Gorman and Clowes, 1976)",
    ),
}
