"""Whether a picture's green leaves room for the rest.

Two greens are never mixed in a sentence: yellow-green as colour (what hits the eye, a wall and a lamp), and what reads
as green (grass and foliage with its darks).
"""

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import foliage_words
from critique.advice.finding import Finding, Level
from critique.advice.green_share import (
    A_LITTLE,
    ALMOST_NONE,
    NEXT_TO_NONE,
    cool_greens,
    cool_greens_beside,
    green_by_cool,
    greyed_greens,
    is_air_or_water,
    of_a_yellow_field,
    told_green,
    told_share,
)
from critique.advice.green_strength import DARK_GREEN, OLIVES_TO, strength_moved
from critique.advice.greens_in_other_light import green_area_in_other_light, greens_in_other_light
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.greens import Greens
from critique.measures.land_greens import MAP_LONG_EDGE, land_green_share, land_greens_map
from critique.measures.measure import Measures
from critique.perception.channels import chroma_of
from critique.perception.hue import HueBand
from critique.picture.areas import MOST_OF_IT, area_of
from critique.picture.picture import lab_at
from critique.picture.places import EVERYWHERE, place_of
from critique.words.aloud import about, green_word, sentence, strength_word
from critique.words.figures import percent
from critique.words.lists import listed
from critique.words.painters import is_a_grey

# Limits, each beside the landscapes' own figures (norms.csv; 76 landscapes and marines, 1603–1908).
AREA_WATCH: float = 0.45  # of the picture; see norms.csv: one in ten landscapes, then one in twenty
AREA_REWORK: float = 0.60
# Median C*: nineteen of twenty landscapes keep below; a wood in greens so quiet is a choice, not a fault.
TOO_STRONG = 26.0
# Median C*, from which olives too are vivid. Of three pictures of quieter olives no reader would have less of them; one of
# 52, a meadow, was too green to its readers.
RICH_OLIVE = 40.0
# Of the chroma: so much red stands on the green, and it is the ground for that. A violet-blue hill is no red to anyone.
AS_A_GROUND, REDS = 0.1, HueBand("reds on the green", 320.0, 60.0, 12.0)
MOST_BORNE_OUT = 0.5  # of what is green as colour, that reads as green: with less the two are far apart; our choice
QUIET = 18.0  # median C*: a large green so quiet is a tone that others rest on
NEAR_GREY = 12.0  # median C*: green this near to grey is hardly a colour; the middle landscape has 13
PLACED = 0.5  # of the picture: more green than that isn't said to lie in a part of it
SKY_TOLD = 0.005  # of the picture: a sky with less yellow-green in it needs no word
COOL_TOLD = 0.02  # of the picture in cool greens: less changes no share that is told
# Of the picture that reads as green: an olive slope so large is seen, and a reader denied that there is almost no green.
IS_SEEN = 0.12
FOLIAGE = 0.35  # of the picture that reads as green though it has hardly that colour: less may be bare rock
SEA = 0.2  # of the picture in cool greens: with hardly any foliage beside them they are a sea's, and told as that
WATERS_GREEN = "there is almost no grass or foliage in it: what green it has is that of water, sky or distance"
MOSTLY_WATERS = "more of its green is that of water, sky or distance than of grass and foliage"
# Times what reads as green: so much cool green beside it is no less of its green. Of nine pictures two have as much, an
# emerald lake and a turquoise sky, whose readers missed it; the next has 0.3.
AS_MUCH_BESIDE = 0.9
GREYED_TOLD = 0.1  # of the picture in greens nearer to grey than a clear one
LESS_GREEN = 0.02  # of the picture: so much less is told as less, as where two pictures are compared


def area(case: Case, kind: Kind) -> Finding:
    """Whether green leaves room for the rest."""
    greens = case.measures.greens
    share, reads = land_green_share(case.picture, case.measures.parts), _reads(case.measures)
    level = kind.by_limits(share) if not of_a_yellow_field(case) else "holds"
    least = share if level != "rework" else green_area_in_other_light(case.picture, case.measures.parts)
    if level != "holds" and (greens.median_chroma < TOO_STRONG or _olives(greens)):
        level = "holds"  # a wood is green: in greens so quiet, how much of it was a fault to none of its readers
    elif level == "rework" and (least <= AREA_WATCH or any(map(_olives, greens_in_other_light(case.picture)))):
        level = "watch"  # how much is green is then the photograph's say, no ground for repainting
    return kind.finding(
        level=level,
        text=sentence(_area_text(case, level, share, least)),
        figure=share,
        figure_text=f"{percent(share)} yellow-green as colour{_less_sky(greens, share)}{_with_cool(greens)}; {percent(reads)} reads as green{_between(case, share)}",
        norm=f"as colour {case.standing('greens.area_share')}; nine in ten stay below {percent(case.norms.at('greens.area_share', 90))}",
        percentile=case.percentile("greens.area_share"),
    )


def _less_sky(greens: Greens, share: float) -> str:
    """Says that the sky was left out, where that makes a difference."""
    return ", the sky left out" if greens.area_share - share >= SKY_TOLD else ""


def _with_cool(greens: Greens) -> str:
    """How much more the cool greens are, where there are any."""
    cool = greens.family.area_share - greens.area_share
    return f", {percent(cool)} a cooler green" if cool >= COOL_TOLD else ""


def _between(case: Case, share: float) -> str:
    """What is told, where that is neither the colour's share nor what reads as green."""
    told = told_green(case, share)
    return f"; told is the middle of the two, {percent(told)}" if about(told) != about(_reads(case.measures)) else ""


def _reads(measures: Measures) -> float:
    """What reads as green, as a share of the picture."""
    return measures.reads_as_green.share


def _area_text(case: Case, level: Level, share: float, least: float) -> str:
    """What is said of the green, ``share`` of the picture as colour and ``least`` of it in other light."""
    reads = _reads(case.measures)
    if share < ALMOST_NONE and reads < ALMOST_NONE:
        if cool_greens(case) >= ALMOST_NONE:
            return WATERS_GREEN
        clear = "clear " if greyed_greens(case) >= GREYED_TOLD else ""  # a grey-green sea is green to its readers
        return f"there is {'almost no' if max(share, reads) < NEXT_TO_NONE else 'little'} {clear}green in it"
    if of_a_yellow_field(case):
        return "what is yellow-green in it is the shade of its yellow, and is seen as yellow"
    told = told_green(case, share)
    # More than half of it lies in no part.
    place = lying(land_greens_map(case.picture, case.measures.parts)) if told <= PLACED else ""
    if level != "holds":
        return _too_much(case, level, share, told, place, least)
    return (
        _as_much_as_it_carries(case, share, told, place) if share > AREA_WATCH else _no_more(case, share, told, place)
    )


def _as_much_as_it_carries(case: Case, share: float, told: float, place: str) -> str:
    """What is said of much green that holds."""
    greens = case.measures.greens
    if greens.median_chroma < NEAR_GREY and _reads(case.measures) < share:
        return (
            f"{about(share)} of the picture{place}{',' if place else ''} leans to yellow-green, but so greyed (chroma "
            f"{greens.median_chroma:.0f}) that it reads as a grey and not as a green"
        )
    if greens.median_chroma >= TOO_STRONG and _olives(greens):
        dark = "dark " if greens.median_lightness < DARK_GREEN else ""
        return (
            f"{told_share(case, told)} of it reads as green, mostly {dark}olive: so near to earth, a picture can carry that "
            f"much of it (chroma {greens.median_chroma:.0f})"
        )
    so_quiet = (
        "a picture can carry that much of a green so near to grey"
        if greens.median_chroma < QUIET
        else "a picture can carry that much of it while it is no stronger"
    )
    return f"{told_share(case, told)} of it reads as green, mostly {_mostly(greens)}: {so_quiet} (chroma {greens.median_chroma:.0f})"


def _no_more(case: Case, share: float, told: float, place: str) -> str:
    """What is said of green that leaves room for the rest."""
    reads = _reads(case.measures)
    if reads < ALMOST_NONE:
        return (
            f"{about(share)} of it has a yellow-green colour{place}, mostly {_mostly(case.measures.greens)}: grass or leaves "
            "in the light, or a light on earth or water"
        )
    if reads < A_LITTLE and cool_greens(case) >= SEA:
        return MOSTLY_WATERS
    named = foliage_colours(case)
    if share < ALMOST_NONE and green_by_cool(case):
        return f"{told_share(case, told)} of it reads as green, most of it a cool one"
    if share < ALMOST_NONE and (reads < FOLIAGE or not named):
        # How much of it is foliage is not said where it isn't green: readers count brown trees, and the parts don't.
        few = "almost no" if max(share, cool_greens(case)) < NEXT_TO_NONE else "little"
        if seen := small_foliage(case):
            return f"what grass and foliage it has is mostly {seen}"
        browns = "what grass and foliage it has is mostly too dark, brown or grey to be called a clear green"
        return browns if reads >= A_LITTLE else f"there is {few} clear green in it"
    if share < ALMOST_NONE:
        return f"its grass and foliage are mostly {named}"
    if named and cool_greens_beside(case) >= AS_MUCH_BESIDE * reads:
        whose = " of water, sky or distance" if is_air_or_water(case) else ""
        return (
            f"{told_share(case, told)} of it reads as green: grass and foliage mostly {named}, and about as much a cooler "
            f"green{whose}"
        )
    in_what = f", mostly {named}" if named and named != "green" else ""
    return f"{told_share(case, told)} of it reads as green{in_what}"


def _too_much(case: Case, level: Level, share: float, told: float, place: str, least: float) -> str:
    """What is said of more green than a picture carries."""
    chroma = case.measures.greens.median_chroma
    # A lamp or a field in its colour reads as hardly any green: then the colour is told, and how much there is of that.
    green, much = ("green", told) if told >= MOST_BORNE_OUT * share else ("yellow-green", share)
    if level == "watch" and least <= AREA_WATCH:
        return (
            f"yellow-green covers {about(share)} of the picture{place}, but so close to grey or to yellow that a "
            f"little other light leaves {percent(least)} of it. See whether the painting itself is that green; if it "
            "is, turn some of it toward ochre, earth or blue-grey"
        )
    if level == "watch":
        covers = (
            f"{green} covers {about(much)} of the picture{place}, and it is {strength_word(chroma)} "
            f"(chroma {chroma:.0f} at the middle). "
        )
        if _reds(case) >= AS_A_GROUND:
            return covers + "As the ground for its reds it may be so beside them; away from them let it go greyer"
        return covers + "Keep that strength for one place, and let the rest of it go greyer"
    return (
        f"{green} takes {about(much)} of the picture{place}, and everything else has to answer to it. Let some of it go: in "
        "the light to straw and ochre, in the shadows to violet and earth, and to blue-grey where it is far and still green"
    )


def _reds(case: Case) -> float:
    """How much of all the chroma is red (0–1)."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    chroma = chroma_of(lab)
    return float(chroma[REDS.contains(lab)].sum()) / max(float(chroma.sum()), 1e-6)


def _olives(greens: Greens) -> bool:
    """Whether its greens are olives as a whole, and not vivid."""
    return greens.mean_hue < OLIVES_TO and greens.median_chroma < RICH_OLIVE


def _mostly(greens: Greens) -> str:
    """What most of the green is, such as "quiet dark olive"; a strength that is neither quiet nor strong goes unsaid."""
    strength, named = strength_word(greens.median_chroma), _green_named(greens)
    return named if strength == "moderate" else f"{strength} {named}"


def _green_named(greens: Greens) -> str:
    """What the greens are called at their middle: nobody calls a dark one yellow-green."""
    word = green_word(greens.mean_hue)
    if greens.median_lightness >= DARK_GREEN:
        return word
    return "dark green" if word == "yellow-green" else f"dark {word}"


def foliage_colours(case: Case) -> str:
    """Which greens grass and foliage are painted in, in a word or two; empty where most of it is no green to anyone."""
    words = foliage_words(case.picture, case.measures)
    return listed([word for word in words if _is_green(word)]) if words and _is_green(words[0]) else ""


def small_foliage(case: Case) -> str:
    """The same of little foliage, so large that it is seen, and where it isn't a grey; else empty."""
    named = foliage_colours(case) if _reads(case.measures) >= IS_SEEN else ""
    return "" if is_a_grey(named) else named


def _is_green(word: str) -> bool:
    return "green" in word or "olive" in word


def lying(mask: NDArray[np.bool_]) -> str:
    """Where greens lie, to follow a noun; empty where they lie about everywhere, or too faint to be placed."""
    if not mask.any():
        return ""
    words = area_of(mask) or str(place_of(mask))
    return "" if words in (EVERYWHERE, MOST_OF_IT) else f", {words}"


def quieter_in_its_place(was: Measures, now: Measures) -> str:
    """That about as much green has another strength in a later picture; empty where its strength is what it was."""
    more = now.greens.area_share - was.greens.area_share
    if now.greens.median_chroma <= was.greens.median_chroma:
        much = "less of it, and" if more <= -LESS_GREEN else "no less of it, but"
    else:
        much = "more of it, and" if more >= LESS_GREEN else "no more of it, but"
    told = strength_moved(was.greens, now.greens)
    return f"{much} {told}" if told else ""
