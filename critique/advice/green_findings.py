"""Whether a picture's greens are too much, too strong, too even, or spread over everything."""

from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.advice.finding import Finding, Level
from critique.advice.greens_in_other_light import green_area_in_other_light, greens_in_other_light
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.cast import DISTURBED_NEUTRAL, Cast
from critique.measures.greens import Greens
from critique.measures.measure import Measures
from critique.perception.hue import YELLOW_GREEN, beyond_leaf, leaf_limit
from critique.picture.picture import lab_at
from critique.picture.places import place_of
from critique.words.aloud import about, green_word, percent, sentence, share_words, strength_word

MAP_LONG_EDGE = 400  # px: places are named by thirds; the size that the values are seen at

# Limits, each beside the landscapes' own percentiles (norms.csv; 76 landscapes and marines, 1603–1908).
AREA_WATCH, AREA_REWORK = 0.30, 0.46  # of the picture; 90th percentile 0.27, 95th 0.33, highest 0.55
BEYOND_WATCH, BEYOND_REWORK = 0.015, 0.08  # of the picture; 95th percentile 0.008, highest 0.12
CHROMA_WATCH = 26.0  # median C* of the green; 95th percentile 24, highest 40
EVEN_WATCH, EVEN_REWORK = 0.60, 0.72  # of the green within ΔE00 5; among greens that matter 90th percentile 0.57
EVEN_QUIET = 16.0  # median C*: an even green this quiet is a tone, not tube green
GREENNESS_WATCH, GREENNESS_REWORK = 5.0, 9.0  # mean −a*; 90th percentile 4.0, highest 6.8
GREYS_GREEN = 1.5  # −a* of the most neutral tenth from which the greys lean to green with the rest; our choice
SURE_ENOUGH, VERY_SURE = 0.6, 0.75  # of 1: where "perhaps" becomes "likely" and "very likely"
GREYED = 12.0  # median C*: green this near to grey is air or water; the middle landscape has 13
MATTERS = 0.08  # of the picture: with less green than this its evenness and strength are an accent's


def area(case: Case, kind: Kind) -> Finding:
    """Whether green leaves room for the rest."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    greens = case.measures.greens
    share = greens.area_share
    level = kind.by_limits(share)
    least = share if level != "rework" else green_area_in_other_light(case.picture)
    if greens.median_chroma < GREYED and level != "holds":
        level = "holds" if level == "watch" else "watch"  # it is more grey than green
    elif level == "rework" and least <= AREA_WATCH:
        level = "watch"  # how much is green is then the photograph's say, and no ground for repainting
    place = place_of(YELLOW_GREEN.contains(lab))
    if share > AREA_WATCH and level == "holds":
        text = (
            f"{about(share)} of the picture, {place}, leans to yellow-green, but so greyed (chroma "
            f"{greens.median_chroma:.0f}) that it reads as air, water or a warm grey"
        )
    elif share < 0.005:
        text = "there is no yellow-green to speak of: nothing here will cast green on a gallery wall"
    elif level == "holds":
        mostly = f"{strength_word(greens.median_chroma)} {green_word(greens.mean_hue)}"
        text = f"yellow-green covers {about(share)} of the picture, {place}, mostly a {mostly}, and leaves room for the rest"
        if share < 0.05:
            text = f"only {percent(share)} of the picture is yellow-green, {place}: an accent, not a climate"
    elif level == "watch" and least <= AREA_WATCH:
        text = (
            f"yellow-green covers {about(share)} of the picture, {place}, but so close to grey or to yellow that a "
            f"little other light leaves {percent(least)} of it. See whether the painting itself is that green; if it "
            "is, turn some of it toward ochre, earth or blue-grey"
        )
    elif level == "watch":
        text = (
            f"yellow-green covers {about(share)} of the picture, {place}. Nine in ten {case.norms.kind} stay below "
            f"{percent(case.norms.at('greens.area_share', 90))}; turn some of it toward ochre, earth or blue-grey"
        )
    else:
        text = (
            f"green takes {about(share)} of the picture, {place}, and everything else has to answer to it. Give "
            f"up a good third of it: let the lights go to straw and ochre, the shadows to violet-grey and earth"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=share,
        figure_text=f"{percent(share)} of the picture",
        norm=f"{case.standing('greens.area_share')}; nine in ten stay below {percent(case.norms.at('greens.area_share', 90))}",
        percentile=case.percentile("greens.area_share"),
    )


def strength(case: Case, kind: Kind) -> Finding:
    """Whether leaves could be as green as these greens."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    greens = case.measures.greens
    beyond, chroma = greens.beyond_leaf_share, greens.median_chroma
    level = kind.by_limits(beyond)
    if level == "holds" and greens.area_share >= MATTERS and chroma > CHROMA_WATCH:
        level = "watch"
    norm = f"{case.standing('greens.beyond_leaf_share')}; nine in ten stay below {_fine(case.norms.at('greens.beyond_leaf_share', 90))}"
    if greens.area_share < 0.005:
        text = "what little green there is stays well within what a leaf can be"
    elif level == "holds":
        text = (
            f"the greens are {strength_word(chroma)}, chroma {chroma:.0f} at the middle, and "
            + ("none of them goes" if beyond == 0 else "next to none go")
            + " beyond what a leaf lit from the front can reach: they can be believed"
        )
    elif beyond > BEYOND_WATCH:
        mask = beyond_leaf(lab)
        where = place_of(mask) if mask.any() else place_of(YELLOW_GREEN.contains(lab))
        part = beyond / greens.area_share
        text = (
            f"{share_words(part)} of the green, {where}, is stronger than any leaf lit from the front"
            + (", as only tube green is" if level == "rework" else "")
            + f" ({_excess(lab, mask)}). Knock it back with its complement, a red earth or a violet, before any more "
            "yellow goes in"
        )
    else:
        text = (
            f"{'no' if beyond == 0 else 'hardly any'} green is beyond a leaf's, but the middle green has chroma "
            f"{chroma:.0f}, where three in four {case.norms.kind} stay below {case.norms.at('greens.median_chroma', 75):.0f}. Grey the larger fields and keep the strength for one place"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=beyond,
        figure_text=f"{_fine(beyond)} of the picture beyond a leaf",
        norm=norm,
        percentile=case.percentile("greens.beyond_leaf_share"),
    )


def strength_gone(measures: Measures) -> str:
    """Why strong greens no longer matter."""
    greens = measures.greens
    return little_green_left(greens) if greens.area_share < MATTERS and greens.median_chroma > CHROMA_WATCH else ""


def little_green_left(greens: Greens) -> str:
    """Such as "there is little green left (6 %)"."""
    return f"there is little green left ({percent(greens.area_share)})"


def _excess(lab: NDArray[np.float32], mask: NDArray[np.bool_]) -> str:
    """The chroma of the greens beyond the leaf limit, beside what a leaf reaches at their lightness."""
    if not mask.any():
        return "chroma beyond 44"
    L, C = float(np.median(lab[mask][:, 0])), float(np.median(np.hypot(lab[mask][:, 1], lab[mask][:, 2])))
    return f"chroma {C:.0f} at value {L / 10:.1f}, where a leaf reaches {float(leaf_limit(L)):.0f}"


def _evenness_level(greens: Greens, kind: Kind) -> Level:
    if greens.area_share < MATTERS or greens.median_chroma < EVEN_QUIET:
        return "holds"
    return kind.by_limits(greens.evenness)


def evenness(case: Case, kind: Kind) -> Finding:
    """Whether the green is one tone, as from a tube."""
    greens = case.measures.greens
    even = greens.evenness if greens.area_share > 0 else 0.0
    matters = greens.area_share >= MATTERS
    level = _evenness_level(greens, kind)
    if level == "rework" and any(
        _evenness_level(other, kind) == "holds" for other in greens_in_other_light(case.picture)
    ):
        level = "watch"  # greens that other light breaks up or turns to grey are not the mark of a tube
    spread = greens.hue_spread
    if not matters:
        text = "there is too little green for its evenness to matter"
    elif level == "holds" and even > EVEN_WATCH:
        text = "the green is nearly one tone, but so quiet that it reads as air or water and not as paint"
    elif level == "holds":
        kinds = (
            "from warm to cool"
            if spread >= 9
            else "more in value than in hue"
            if greens.value_spread >= 1.2
            else "by small steps"
        )
        text = f"the greens vary {kinds}; the commonest of them makes up {share_words(even)} of the green"
    else:
        text = (
            f"{share_words(even)} of the green is one and the same {green_word(greens.mean_hue)}, the mark of a tube used "
            "unmixed. Break it: yellower and lighter where the sun falls, bluer and greyer in the shade and with distance"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=even,
        figure_text=f"{percent(even)} of the green within one step of its commonest",
        norm=f"{case.standing('greens.evenness')}" if matters else "judged only where green covers 8 % or more",
        percentile=case.percentile("greens.evenness") if matters else None,
    )


def evenness_gone(measures: Measures) -> str:
    """Why even greens no longer matter."""
    greens = measures.greens
    return little_green_left(greens) if greens.area_share < MATTERS and not greens.evenness <= EVEN_WATCH else ""


def cast(case: Case, kind: Kind) -> Finding:
    """Whether the whole leans to green, and whose lean that is."""
    greenness = -case.measures.cast.mean.a
    level: Level = kind.by_limits(greenness)
    if level == "holds":
        text = _no_cast(case.measures.cast)
    else:
        level, text = _green_cast(case.measures.cast, level)
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=greenness,
        figure_text=f"mean a* {-greenness:.1f}".replace("-", "−"),
        norm=f"{case.standing('cast.greenness')}; nine in ten stay below {case.norms.at('cast.greenness', 90):.1f} toward green",
        percentile=case.percentile("cast.greenness"),
    )


def _no_cast(cast: Cast) -> str:
    text = (
        f"there is no green cast: taken together the picture leans to {cast.mean.word}"
        if cast.mean.chroma >= 4
        else "there is no green cast: taken together the colours cancel to a grey"
    )
    if -cast.mean.a > 1.5:
        text = "the picture leans a little to green when it is all stirred together, no more than landscapes do"
    return text + (whose_cast(cast) if cast.mean.chroma >= 4 else "")


def green_cast_owner(cast: Cast) -> Literal["photograph", "painting", "either"]:
    """Whose a green cast is: what the greys lean beyond is the painting's."""
    if -cast.most_neutral.a <= GREYS_GREEN:
        return "painting"
    if cast.likely == "photograph":
        return "photograph"
    return "painting" if cast.most_neutral.a - cast.mean.a > GREENNESS_WATCH else "either"


def _green_cast(cast: Cast, level: Level) -> tuple[Level, str]:
    """How far a green cast is to be judged, and in what words, by whose it is."""
    greenness = -cast.mean.a
    lean = f"the whole leans {greenness:.0f} toward green"
    greys_too, owner = -cast.most_neutral.a > GREYS_GREEN, green_cast_owner(cast)
    if owner == "photograph":
        level = "watch"
        text = (
            f"{lean}, and its greys and lights lean the same way: this is {_likely(cast)} the photograph. Photograph it "
            "again in open shade with a grey card before you judge its greens"
        )
    elif owner == "painting" and greys_too:
        text = (
            f"{lean}, far more than its greys do ({-cast.most_neutral.a:.0f}): most of it is likely the painting's own, "
            "and under warm gallery lamps it will show. Let more red and violet into the greys and the lights"
        )
    elif owner == "either":
        level = "watch"
        text = (
            f"{lean}, and its greys lean with it but its lights do not: it may be the photograph's or the painting's. "
            "Hold the painting beside a grey card in daylight before you change a green"
        )
    elif cast.sureness < SURE_ENOUGH:
        text = (
            f"{lean}, but its greys do not: perhaps that is the painting's own, as a grey card beside it would tell, and "
            "then warm gallery lamps will show it. Let more red and violet into the greys and the lights"
        )
    else:
        text = (
            f"{lean}, but its greys do not: the cast is {_likely(cast)} the painting's own, and under warm gallery lamps "
            "it will show. Let more red and violet into the greys and the lights"
        )
    return level, text


def whose_cast(cast: Cast) -> str:
    """Whether a lean is the photograph's or the painting's, and how sure that is; empty when there is none."""
    if cast.likely == "none":
        return ""
    if cast.likely == "photograph":
        return f". Its greys and its lights lean with it, so that is {_likely(cast)} the photograph, unless you glazed the whole"
    if cast.most_neutral.chroma < DISTURBED_NEUTRAL:
        return f". Its greys stay grey, so that is {_likely(cast)} the painting's own colour"
    greys, lights = cast.most_neutral.word, cast.lightest.word
    how = (
        f"greys and lights lean to {greys}" if greys == lights else f"greys lean to {greys} and its lights to {lights}"
    )
    return f". Its {how}: whether that is the photograph or the painting can't be told from here"


def _likely(cast: Cast) -> str:
    return "very likely" if cast.sureness >= VERY_SURE else "likely" if cast.sureness >= SURE_ENOUGH else "perhaps"


def _fine(share: float) -> str:
    """A small share with the one decimal that it needs."""
    return "0 %" if share < 0.0005 else f"{100 * share:.1f} %" if share < 0.1 else percent(share)
