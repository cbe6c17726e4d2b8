"""Whether anything answers the green, which colour is loudest, and whether far land lies back."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import (
    MOSTLY,
    SURE_SKY,
    cool_at_all,
    distance_to_say,
    placed,
    sky_in,
    word_of_lab,
)
from critique.advice.fault_limits import (
    at_the_rim,
    is_loud_all_over,
    is_raw_spot,
    is_the_thing,
    judge_dead_colour,
    judge_loudest,
    one_drab,
    stands_alone,
)
from critique.advice.finding import Finding, Level
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.cast import SAME_LEAN
from critique.measures.cast_judging import cast_fault, is_odd, leans_to_green
from critique.measures.families import assign_families
from critique.measures.far_warmth import comes_forward
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.measures.loudest import Loudest
from critique.measures.measure import Measures
from critique.measures.values import TWIN_VALUE
from critique.perception.hue import turn_of_one
from critique.picture.picture import lab_at
from critique.picture.places import place_of, spot
from critique.words.aloud import sentence
from critique.words.figures import percent
from critique.words.lists import listed
from critique.words.painters import painters_word

MEETS = 0.4  # of the border of the smaller: with less readers looked for where the two meet, or saw otherwise there
AS_A_WHOLE = 1.0  # values: how far the step where they touch may be from that of the two as a whole, to be said of them
SUNSET, SUNSET_REACH = 40.0, 55.0  # degrees: from rose to yellow
GLOW, GLOW_REACH, AS_LIGHT = 65.0, 27.0, 8.0  # degrees, from orange to golden yellow; L* below the picture's lights
A_WHOLE_PART = 0.06  # of the picture: no colour over so much of it, a sky or a field, can be kept to one small place
DULL = 7.0  # C* of the strongest tenth, from which on a tone is seen as brown or blue, and below which as grey
# Value that half of a picture is lighter than: snow or fog, whose quiet may be meant, as a reader said of one.
SNOW = 8.0
COLOURLESS = 3.0  # C* of the strongest spot below which there is no colour at all
# Far land against near, from which a difference is told; common practice, no source.
LIGHTER, QUIETER, COOLER, CALMER = 0.4, 2.0, 3.0, 0.3  # values, C*, b*, values of contrast


def neighbours(case: Case, kind: Kind) -> Finding | None:
    """Whether the green parts from the colour that it touches most by value too."""
    near, families = case.measures.neighbours, case.measures.families
    if near.green is None or near.other is None or near.value_difference is None:
        return None
    green, other = families[near.green], families[near.other]
    if near.contact is None or near.contact < MEETS:
        return None  # they touch in places only
    if abs(near.value_difference - (green.lab[0] - other.lab[0]) / 10) > AS_A_WHOLE:
        return None  # what they do where they touch isn't what they do to the eye
    apart = abs(near.value_difference)
    labels = assign_families(lab_at(case.picture, MAP_LONG_EDGE), families)
    if not _is_foliage(case, labels == near.green):
        return None  # a wall or a light of that colour is no green to a painter
    named, beside = painters_word(*green.lch), painters_word(*other.lch)
    if named == beside:
        named, beside = green.name, other.name
    green_one = f"the {named}{placed(labels == near.green)}"
    if apart < TWIN_VALUE:
        text = (
            f"{green_one} and the {beside} that it touches are one value and part by hue alone, so that they meet "
            "softly; in a grey print they are one"
        )
    else:
        side = "darker" if near.value_difference < 0 else "lighter"
        text = (
            f"{green_one} is {_steps(apart)} {side} than the {beside} that it touches, so the two part without their "
            "hues"
        )
    return kind.finding(
        level="holds",  # masters let greens and skies meet in one value as often as not
        text=sentence(text),
        figure=apart,
        figure_text=f"{_steps(apart)} between {green.name} and {other.name}",
        norm=f"below {TWIN_VALUE} two colours print as one grey; common practice, no source",
    )


def _is_foliage(case: Case, family: NDArray[np.bool_]) -> bool:
    """Whether most of a family lies in what reads as green."""
    return bool(family.any()) and float(case.measures.reads_as_green.where(family.shape)[family].mean()) >= MOSTLY


def neighbours_gone(measures: Measures) -> str:
    """Why the green has no neighbour to part from."""
    return "no green of any size meets a colour of another hue" if measures.neighbours.green is None else ""


def _steps(values: float) -> str:
    return f"{values:.1f} values" if values > 1 else f"{values:.1f} of a value"


# C* off the neutral: a lean that is hardly in the rest comes from the colour itself. Casts that make a colour loud have 4.7
# at least, a raw pink sky over a land of its own colours 2.1 at most.
THE_REST_TOO = 3.0
ALONE_FIRST = 0.3  # how often a colour that stands alone is spoken of first; our choice
# Times the chroma that landscapes reach at most: a colour that loud weighs, unless it is what the picture is about. Of 100
# pictures noted by readers one has such a one to watch, a hard yellow sun: both would mend it first.
WEIGHS = 1.2
TWO_THIRDS_HIGH = ("upper", "lower")  # rows of a place
SPARSE = 0.2  # of the picture: less than a third of two thirds of it, which its words would claim


def loudest_colour(case: Case, kind: Kind) -> Finding | None:
    """The loudest colour, of whatever hue, and whether it is where the eye should be."""
    loudest, eye = case.measures.loudest, case.measures.eyepath
    focus = (eye.claimed[0].x, eye.claimed[0].y) if eye.claimed else None
    level = judge_loudest(loudest, kind.by_limits, focus=focus)
    if _is_the_lean(case):
        return None
    if level == "holds" or (level == "watch" and (_is_the_light(case) or is_sunset(case))):
        return None
    if level == "rework" and is_sunset(case):
        level = "watch"  # a red sky is what was seen; how loud it is can still be asked
    weighs = loudest.excess >= WEIGHS and not is_the_thing(loudest, focus)
    name, where = loudest_told(loudest)
    if is_loud_all_over(loudest):
        text = (
            f"all of it is loud at once, and the {name} {where} most for its hue: where every colour is at full strength none "
            "can sing. Choose the one that the picture is about, and grey the others by half, those farthest from it most"
        )
    elif level == "rework" and loudest.share >= A_WHOLE_PART:
        text = (
            f"one colour is loud over much of the picture: the {name} {where} ({_part(loudest.share)}). Vary it: keep it so "
            "strong where the eye should be, and let the rest of it go greyer, lighter or nearer to its neighbours"
        )
    elif level == "rework" and at_the_rim(loudest):
        text = (
            f"the loudest colour, the {name} {where}, lies at the edge of the picture and leads the eye out. Grey it until it is "
            "seen last, or take it out"
        )
    elif level == "rework" and (is_raw_spot(loudest) or is_the_thing(loudest, focus)):
        thing = "one small thing" if is_raw_spot(loudest) else "one thing"
        text = (
            f"{thing} shouts: the {name} {where}, far beyond anything else here. Break it down toward its neighbours, "
            "and give it a lighter and a darker side; even where the eye should be, half of that leads"
        )
    elif level == "rework":
        text = (
            f"one colour shouts: the {name} {where} ({_part(loudest.share)} of the picture). Grey it with its complement or "
            "bring its neighbours toward it, and let it be strong in one small place only, where the eye should be"
        )
    elif is_the_thing(loudest, focus):
        text = (
            f"the {name} {where} is the loudest colour, and the eye goes there. If that is what the picture is about, keep "
            "it, and let nothing else be so strong; if not, grey it with a little of its complement"
        )
    elif stands_alone(loudest):
        text = (
            f"the {name} {where} ({_part(loudest.share)} of the picture) stands alone: nothing else here is of its hue and near "
            "its strength. If the eye should be there, keep it, and let a quieter touch of it come again somewhere; if not, "
            "grey it with a little of its complement"
        )
    else:
        text = (
            f"the {name} {where} ({_part(loudest.share)} of the picture) is the loudest colour. If the eye should be there, "
            "keep it; if not, grey it with a little of its complement"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=loudest.excess,
        figure_text=f"chroma {loudest.chroma:.0f}, {loudest.excess:.2f} times the most that landscapes reach there"
        + (", and little of its hue elsewhere" if stands_alone(loudest) else ""),
        norm=case.standing("loudest.excess"),
        percentile=case.percentile("loudest.excess"),
        said_first=ALONE_FIRST if stands_alone(loudest) or weighs else None,
    )


def loudest_told(loudest: Loudest) -> tuple[str, str]:
    """The words for the loudest colour and for where it lies, the same in what is found and in what is to be done."""
    place = place_of(loudest.mask)
    where = place.words
    if place.everywhere and loudest.share < MOSTLY:
        where = "here and there"  # a tenth is not "all of it"
    elif place.row in TWO_THIRDS_HIGH and loudest.share < SPARSE:
        where = f"here and there {where}"
    return word_of_lab(np.array(loudest.lab)), where


def _is_the_light(case: Case) -> bool:
    """Whether the loudest colour is the glow of the picture's own light: that is its subject, and not greyed."""
    loudest = case.measures.loudest
    lightest = 10 * case.measures.values.percentiles["p95"]
    glows = abs(turn_of_one(loudest.hue, GLOW)) <= GLOW_REACH and loudest.lab[0] >= lightest - AS_LIGHT
    if not glows or case.measures.parts.sky_sureness < SURE_SKY:
        return bool(glows)
    return _loudest_in_sky(case)


def is_sunset(case: Case) -> bool:
    """Whether the loudest colour is a warm one of a sky that is sure: the hour that was painted."""
    loudest = case.measures.loudest
    if abs(turn_of_one(loudest.hue, SUNSET)) > SUNSET_REACH or case.measures.parts.sky_sureness < SURE_SKY:
        return False
    return _loudest_in_sky(case)


def _is_the_lean(case: Case) -> bool:
    """Whether a colour over a whole part is that which all leans to, where that is none of earth: the lean is told alone.

    The rest has to lean too, for a raw sky over half of a picture makes a mean of its own. What a warm light alone makes
    loud is told with it, for another light would quiet it.
    """
    loudest, cast = case.measures.loudest, case.measures.cast
    same = abs(turn_of_one(loudest.hue, cast.mean.hue)) <= SAME_LEAN and loudest.share >= A_WHOLE_PART
    return (
        same
        and cast.off_neutral >= THE_REST_TOO
        and cast_fault(cast) is not None
        and is_odd(cast)
        and not leans_to_green(cast)
    )


def _loudest_in_sky(case: Case) -> bool:
    """Whether most of the loudest colour lies in a sky that is sure."""
    mask = case.measures.loudest.mask
    return bool(mask.any()) and float(sky_in(case.measures, mask.shape)[mask].mean()) >= MOSTLY


def _part(share: float) -> str:
    return "under 1 %" if share < 0.01 else percent(share)


def dead_colour(case: Case, kind: Kind) -> Finding | None:
    """Whether it is grey all over."""
    loudest = case.measures.loudest
    level = judge_dead_colour(loudest, kind.by_limits)
    if level == "holds":
        return None
    if case.measures.values.percentiles["p50"] >= SNOW:
        level = "watch"
    if loudest.strongest < COLOURLESS:
        text = (
            "there is no colour in it: if it is a drawing or a grey study, judge its values alone; if it is a painting, "
            "photograph it in colour"
        )
        level = "watch"
    elif loudest.strong >= DULL and one_drab(loudest):
        text = (
            "all its colour is one dull tone, only lighter and darker, with nothing for it to be warm or cool against. If it is "
            "to be a study in one paint, let it be; else give lights and darks each a lean of their own, and one place a colour"
        )
    else:
        text = (
            "nearly everything in it is a grey, and little is left for the greys to be grey against. Fog and snow may be so; "
            "else let a warm and a cool speak in the greys, and one place have a colour of its own"
            if level == "watch"
            else "its colour is dead: everything is a grey, and nothing is left for the greys to be grey against. Let a warm "
            "and a cool speak in the greys, and one place have a colour of its own"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=loudest.strong,
        figure_text=f"the strongest tenth of it has chroma {loudest.strong:.0f}",
        norm=case.standing("loudest.strong"),
        percentile=case.percentile("loudest.strong"),
    )


def land_distance(case: Case, kind: Kind) -> Finding | None:
    """Whether the far land lies back."""
    coming = comes_forward(case.measures.far_warmth)
    if coming is not None:
        return _warm_horizon(case, kind, coming)
    land = case.measures.land_distance
    if not distance_to_say(case.measures):
        return None
    signs = {
        "lighter": land.lighter > LIGHTER,
        "greyer": land.quieter > QUIETER,
        "cooler": land.cooler > COOLER and cool_at_all(land.far),
        "calmer": land.calmer > CALMER,
    }
    made = [word for word, so in signs.items() if so]
    if len(made) < 2 or (
        len(made) == 2 and not signs["lighter"]
    ):  # cool and quiet near ground and warm far rock do that too
        return None
    text = f"the far land lies back: on the whole it is {listed(made)} than the near, as air makes it"
    return kind.finding(
        level="holds",
        text=sentence(text),
        figure=land.cooler,
        figure_text=f"far against near: {land.lighter:+.1f} values, {-land.cooler:+.0f} in warmth".replace("-", "−"),
        norm="common practice, no source",  # too few pictures show far land and near land for ranks among them
    )


def _warm_horizon(case: Case, kind: Kind, level: Level) -> Finding:
    warmth = case.measures.far_warmth
    where = "under the sky" if warmth.mountain is not None else "at the horizon"
    what = "what runs along the horizon" if warmth.ridge else f"the land {where}, {spot(warmth.x, warmth.y)},"
    beside_near = (
        "as warm as what lies in front, or warmer"
        if warmth.far >= warmth.near
        else "about as warm as what lies in front"
    )
    back = "cool and grey it a step, and let its darks go toward the sky"
    if warmth.mountain is None:
        text = f"{what} is warm and strong in colour, and comes forward: {back}, unless it is what the picture is about"
    else:  # a wood near by may stand under the sky so
        text = (
            f"{what} is {beside_near}. If it lies far off it comes forward: {back}. If it stands near, or is what the picture "
            "is about, leave it"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=warmth.far,
        figure_text=f"warmth {warmth.far:.0f} there, {warmth.near:.0f} in front, {warmth.beyond:.0f} beyond it".replace(
            "-", "−"
        ),
        norm="one of the 76 landscapes does so; common practice, no source",
    )
