"""Whether a picture's greens are too much, too strong or too even.

Two greens are never mixed in a sentence: yellow-green as colour (what hits the eye, a wall and a lamp), and what reads
as green (grass and foliage with its darks).
"""

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import foliage_words
from critique.advice.finding import Finding, Level
from critique.advice.green_share import (
    A_LITTLE,
    cool_greens,
    green_by_cool,
    greyed_greens,
    of_a_yellow_field,
    told_green,
    told_share,
)
from critique.advice.greens_in_other_light import green_area_in_other_light
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.advice.norms import SOME_GREEN
from critique.measures.greens import Greens
from critique.measures.land_greens import (
    BLUEST_LEAF,
    MAP_LONG_EDGE,
    beyond_one_leaf,
    far_beyond_leaf,
    land_green_share,
    land_greens_map,
    raw_land_greens,
    sure_sky,
)
from critique.measures.measure import Measures
from critique.perception.channels import chroma_of, colours_in
from critique.perception.cielab import lch_of
from critique.perception.hue import hue_of, leaf_limit
from critique.perception.ranks import median_of, middle_colour
from critique.picture.areas import MOST_OF_IT, area_of, same_frame
from critique.picture.picture import lab_at
from critique.picture.places import EVERYWHERE, place_of
from critique.words.aloud import about, green_word, sentence, share_words, strength_word
from critique.words.figures import percent
from critique.words.lists import listed

# Limits, each beside the landscapes' own figures (norms.csv; 76 landscapes and marines, 1603–1908).
AREA_WATCH: float = 0.45  # of the picture; see norms.csv: one in ten landscapes, then one in twenty
AREA_REWORK: float = 0.60
BEYOND_WATCH: float = 0.015  # of the picture, farther beyond the limit than leaves differ
BEYOND_REWORK: float = 0.08
# Of the picture beyond one leaf's limit, though within what leaves differ by: more than the 0 % that its figure tells.
SOME_BEYOND = 0.0005
CHROMA_WATCH = 30.0  # median C* of the green; among landscapes with 8 % or more of it, 95th percentile 27.8
# Degrees: greens of an olive's hue. Of pictures whose readers called the greens too strong none has its strong ones below
# 112, of faults put in none below 121; a field at 100 and two paintings at 99 and 105 were loud to nobody.
OLIVE_TO = 107.0
# Of the strong green, what reads as green: an evening sky has less of it, and a green sky over a road had 0.7. Of 23
# pictures with strong leaves none has less than 0.92.
MOST_LEAF = 0.8
IN_REDS = 0.5  # of the chroma in reds and violets: the stalks of a field of tulips were no trouble to its readers
SPARKLE = 0.07  # of the green: so little of it is seen by nobody; of greens put in too strong the least has 0.33
# C* beyond one leaf's limit, at the middle of them: a lawn in the sun has less; of greens put in too strong the least has 11.9.
FAR_BEYOND = 7.5
TOO_STRONG = (
    26.0  # median C*: nineteen of twenty landscapes keep below; a wood in greens so quiet is a choice, not a fault
)
QUIET = 18.0  # median C*: a large green so quiet is a tone that others rest on
GREYED = 12.0  # median C*: green this near to grey is hardly a colour; the middle landscape has 13
PLACED = 0.5  # of the picture: more green than that isn't said to lie in a part of it
WIDE_ROWS, STREWN = ("upper", "lower", "ends"), 0.2  # rows of a place; of the picture: so little fills no two thirds
MATTERS = SOME_GREEN  # of the picture: with less green than this its evenness and strength are an accent's
SKY_TOLD = 0.005  # of the picture: a sky with less yellow-green in it needs no word
DARK_GREEN = 38.0  # L*: a green below it is a dark one
FEW_LEAVES = 0.07  # of the picture that reads as green: with less no green asks to be believed as a leaf
YELLOW_FIELD = 0.25  # of what lies about a place: its greenish touches are those of a yellow, and no leaf's
# Of the picture: none of 76 paintings and 8 demos has more than 0.025 of its land in greens bluer than leaves and as strong;
# where they were put in for the foliage they fill 0.05 and more.
RAW_WATCH, RAW_REWORK = 0.042, 0.3
FOLIAGE = 0.35  # of the picture that reads as green though it has hardly that colour: less may be bare rock
SEA = 0.2  # of the picture in cool greens: with hardly any foliage beside them they are a sea's, and told as that
WATERS_GREEN = "there is almost no grass or foliage in it: what green it has is that of water, sky or distance"
MOSTLY_WATERS = "more of its green is that of water, sky or distance than of grass and foliage"
GREYED_TOLD = 0.1  # of the picture in greens nearer to grey than a clear one
NEXT_TO_NONE = 0.02  # of the picture, as colour and as what reads as green: a bright strip of meadow is seen
LESS_GREEN = 0.02  # of the picture: so much less is told as less, as where two pictures are compared
ALMOST_NONE = 0.05  # of the picture, as colour and as what reads as green: both, or it isn't said


def area(case: Case, kind: Kind) -> Finding:
    """Whether green leaves room for the rest."""
    greens = case.measures.greens
    share, reads = land_green_share(case.picture, case.measures.parts), _reads(case.measures)
    level = kind.by_limits(share) if not of_a_yellow_field(case) else "holds"
    least = share if level != "rework" else green_area_in_other_light(case.picture, case.measures.parts)
    greyed = share > 0 and greens.median_chroma < GREYED
    if greyed and level != "holds":
        level = "holds" if level == "watch" else "watch"  # it is more grey than green
    elif level != "holds" and greens.median_chroma < TOO_STRONG:
        level = "holds"  # a wood is green: in greens so quiet, how much of it was a fault to none of its readers
    elif level == "rework" and least <= AREA_WATCH:
        level = "watch"  # how much is green is then the photograph's say, no ground for repainting
    return kind.finding(
        level=level,
        text=sentence(_area_text(case, level, share, least)),
        figure=share,
        figure_text=f"{percent(share)} yellow-green as colour{_less_sky(greens, share)}; {percent(reads)} reads as green{_with_cool(case, share)}",
        norm=f"as colour {case.standing('greens.area_share')}; nine in ten stay below {percent(case.norms.at('greens.area_share', 90))}",
        percentile=case.percentile("greens.area_share"),
    )


def _less_sky(greens: Greens, share: float) -> str:
    """Says that the sky was left out, where that makes a difference."""
    return ", the sky left out" if greens.area_share - share >= SKY_TOLD else ""


def _with_cool(case: Case, share: float) -> str:
    """What it comes to with the cool greens, where that is what is told."""
    told = told_green(case, share)
    return f", {percent(told)} with its cool greens" if about(told) != about(_reads(case.measures)) else ""


def _reads(measures: Measures) -> float:
    """What reads as green, as a share of the picture."""
    return measures.reads_as_green.share


def _area_text(case: Case, level: Level, share: float, least: float) -> str:
    greens, reads = case.measures.greens, _reads(case.measures)
    if share < ALMOST_NONE and reads < ALMOST_NONE:
        if cool_greens(case) >= ALMOST_NONE:
            return WATERS_GREEN
        clear = "clear " if greyed_greens(case) >= GREYED_TOLD else ""  # a grey-green sea is green to its readers
        return f"there is {'almost no' if max(share, reads) < NEXT_TO_NONE else 'little'} {clear}green in it"
    if of_a_yellow_field(case):
        return "what is yellow-green in it is the shade of its yellow, and is seen as yellow"
    place = lying(land_greens_map(case.picture, case.measures.parts))
    aside = "," if place else ""
    mostly = _mostly(greens) if share > 0 else ""
    told = told_green(case, share)
    if told > PLACED:
        place = ""  # so much of it lies in no half
    if level == "holds" and share > AREA_WATCH and greens.median_chroma >= GREYED:
        so_quiet = (
            "a picture can carry that much of a green so near to grey"
            if greens.median_chroma < QUIET
            else "a picture can carry that much of it while it is no stronger"
        )
        return f"{told_share(case, told)} of it reads as green, mostly {mostly}: {so_quiet} (chroma {greens.median_chroma:.0f})"
    if level == "holds" and share > AREA_WATCH:
        return (
            f"{about(share)} of the picture{place}{aside} leans to yellow-green, but so greyed (chroma "
            f"{greens.median_chroma:.0f}) that it reads as a grey and not as a green"
        )
    if level == "holds":
        if reads < ALMOST_NONE:
            return (
                f"{about(share)} of it has a yellow-green colour{place}, mostly {mostly}, but hardly any of it is grass "
                "or foliage: light, earth and water carry it"
            )
        if reads < A_LITTLE and cool_greens(case) >= SEA:
            return MOSTLY_WATERS
        named = foliage_colours(case)
        if share < ALMOST_NONE and green_by_cool(case):
            return f"{told_share(case, told)} of it reads as green, most of it a cool one"
        if share < ALMOST_NONE and (reads < FOLIAGE or not named):
            # How much of it is foliage is not said where it isn't green: readers count brown trees, and the parts don't.
            few = "almost no" if max(share, cool_greens(case)) < NEXT_TO_NONE else "little"
            browns = "what grass and foliage it has is mostly too dark, brown or grey to be called a clear green"
            return browns if reads >= A_LITTLE else f"there is {few} clear green in it"
        if share < ALMOST_NONE:
            return f"its grass and foliage are mostly {named}"
        in_what = f", mostly {named}" if named and named != "green" else ""
        return f"{told_share(case, told)} of it reads as green{in_what}"
    if level == "watch" and least <= AREA_WATCH:
        return (
            f"yellow-green covers {about(share)} of the picture{place}, but so close to grey or to yellow that a "
            f"little other light leaves {percent(least)} of it. See whether the painting itself is that green; if it "
            "is, turn some of it toward ochre, earth or blue-grey"
        )
    if level == "watch":
        return (
            f"green covers {about(told)} of the picture{place}, and it is {strength_word(greens.median_chroma)} "
            f"(chroma {greens.median_chroma:.0f} at the middle). Keep that strength for one place, and let the rest of it go "
            "greyer"
        )
    return (
        f"green takes {about(told)} of the picture{place}, and everything else has to answer to it. Give up a good third of "
        "it: let what lies in the light go to straw and ochre, what is far to blue-grey, the shadows to violet and earth"
    )


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


def _is_green(word: str) -> bool:
    return "green" in word or "olive" in word


def lying(mask: NDArray[np.bool_]) -> str:
    """Where greens lie, to follow a noun; empty where they lie about everywhere, or too faint to be placed."""
    if not mask.any():
        return ""
    words = area_of(mask) or str(place_of(mask))
    return "" if words in (EVERYWHERE, MOST_OF_IT) else f", {words}"


def strength(case: Case, kind: Kind) -> Finding | None:
    """Whether leaves could be as green as these greens."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    greens = case.measures.greens
    mask = beyond_any_leaf(lab, case.measures)
    beyond, chroma = float(mask.mean()), greens.median_chroma
    raw = raw_greens(case)
    if float(raw.mean()) >= max(RAW_WATCH, beyond):
        return _raw(case, kind, lab, raw)
    level = kind.by_limits(beyond)
    sparkle = level == "watch" and beyond < SPARKLE * greens.area_share
    if sparkle:
        level = "holds"
    if level == "rework" and not _is_leaf(case, mask):
        return None  # a green sky or roof is no leaf, however strong
    if level == "watch" and (greens.relief_share >= IN_REDS or _is_dark(lab, mask) or not _is_leaf(case, mask)):
        return None  # among so much red, in the shade, or in a sky no green is a loud leaf
    if level == "rework" and beyond_one_leaf(lab, mask) < FAR_BEYOND:
        level = "watch"
    if level == "holds" and greens.area_share >= MATTERS and chroma > CHROMA_WATCH:
        if greens.mean_hue < OLIVE_TO:
            return None  # rich olives: loud to nobody, and not quiet either
        level = "watch"
    if level == "holds" and _reads(case.measures) < FEW_LEAVES:
        return None  # no green in it has to pass for a leaf
    cool = level == "holds" and beyond <= BEYOND_WATCH and greens.area_share < ALMOST_NONE
    if cool and not green_by_cool(case):
        return None  # that it has hardly any clear green is said once, of its area
    if cool:
        chroma = greens.family.median_chroma
        text = (
            f"its greens, most of them cool, are {strength_word(chroma)} (chroma {chroma:.0f} at the middle), and no "
            "stronger than a leaf lit from the front: they can be believed"
        )
    elif sparkle and level == "holds":
        text = f"a few greens, {area_of(mask) or place_of(mask)}, are as strong as light through leaves: so little may sparkle"
    elif beyond > BEYOND_WATCH and not sparkle:
        part = beyond / greens.area_share
        text = (
            f"{share_words(part)} of the green, {_strewn(mask)}, is stronger than any leaf lit from the front "
            f"({_beside_leaf(lab, mask)})"
        )
        text += (
            ". Light through leaves may be so; else a little red earth or violet in it will do"
            if level == "watch"
            else ". If it isn't light through leaves that you painted, knock it back with its complement, a red earth or a "
            "violet, before any more yellow goes in"
        )
    elif level == "holds":
        some_beyond = greens.beyond_leaf_share >= SOME_BEYOND
        text = (
            f"the greens are {strength_word(chroma)} (chroma {chroma:.0f} at the middle), and "
            + ("hardly any of them is" if beyond else "none of them is much" if some_beyond else "none of them is")
            + " stronger than a leaf lit from the front: they can be believed"
        )
    else:
        text = (
            f"{'hardly any' if sparkle else 'no'} green is beyond a leaf's, but the whole of it is strong: the middle green "
            f"has chroma {chroma:.0f}, where "
            f"three in four {case.norms.kind} with as much green stay below "
            f"{case.norms.at('greens.median_chroma', 75):.0f}. Grey the larger fields and keep the strength for one place"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=beyond,
        figure_text=f"{_fine(beyond)} of the picture well beyond any leaf, {_fine(greens.beyond_leaf_share)} beyond one leaf's limit",
        norm=f"beyond one leaf's limit {case.standing('greens.beyond_leaf_share')}",
        percentile=case.percentile("greens.beyond_leaf_share"),
    )


def beyond_any_leaf(lab: NDArray[np.float32], measures: Measures) -> NDArray[np.bool_]:
    """Which greens of the map (height, width) are too strong for any leaf: no yellow field's, no olive, no sky's."""
    mask = far_beyond_leaf(lab) & ~same_frame(measures.reads_as_green.yellow >= YELLOW_FIELD, lab.shape)
    return np.asarray(mask & ~_is_olive(lab) & ~sure_sky(measures.parts, lab.shape))


def raw_greens(case: Case) -> NDArray[np.bool_]:
    """Where the land is a strong green that is bluer than any leaf, on the map (height, width)."""
    return raw_land_greens(lab_at(case.picture, MAP_LONG_EDGE), case.measures.parts)


def _raw(case: Case, kind: Kind, lab: NDArray[np.float32], mask: NDArray[np.bool_]) -> Finding:
    """What is said of a field of green that is bluer than leaves are and strong."""
    share, (lightness, chroma, hue) = float(mask.mean()), lch_of(middle_colour(colours_in(lab, mask)))
    text = (
        f"{about(share)} of the picture, {_strewn(mask)}, is a green bluer than any leaf, and strong (hue {hue:.0f}°, chroma "
        f"{chroma:.0f} at value {lightness / 10:.1f}), as phthalo green (PG7) or viridian (PG18) is that is little mixed. Warm "
        "it with ochre or a red earth, and let it differ from light to shade"
    )
    return kind.finding(
        level="rework" if share >= RAW_REWORK else "watch",
        text=sentence(text),
        figure=share,
        figure_text=f"{percent(share)} of the picture in greens bluer than any leaf, and about as strong",
        norm=f"no leaf so strong has a hue beyond {BLUEST_LEAF:.0f}°; beyond one leaf's limit {case.standing('greens.beyond_leaf_share')}",
        percentile=case.percentile("greens.beyond_leaf_share"),
    )


def _strewn(mask: NDArray[np.bool_]) -> str:
    """Where a shape lies, told as lying here and there where its place is wide and it fills little of it."""
    place = place_of(mask)
    if area := area_of(mask):
        return area
    if float(mask.mean()) < STREWN and (place.row in WIDE_ROWS or place.everywhere):
        return "here and there" if place.everywhere else f"here and there {place}"
    return str(place)


def quieter_in_its_place(was: Measures, now: Measures) -> str:
    """That about as much green has another strength in a later picture; empty where its strength is what it was."""
    more = now.greens.area_share - was.greens.area_share
    if now.greens.median_chroma <= was.greens.median_chroma:
        much = "less of it, and" if more <= -LESS_GREEN else "no less of it, but"
    else:
        much = "more of it, and" if more >= LESS_GREEN else "no more of it, but"
    told = _strength_moved(was.greens, now.greens)
    return f"{much} {told}" if told else ""


def quieter_all_over(was: Measures, now: Measures) -> str:
    """That greens have another strength though as many are beyond a leaf's; empty where it is what it was."""
    return _strength_moved(was.greens, now.greens)


def _strength_moved(was: Greens, now: Greens) -> str:
    """Such as "quieter, chroma 26 at the middle instead of 58"."""
    before, after = round(was.median_chroma), round(now.median_chroma)
    if before == after:
        return ""
    return f"{'quieter' if after < before else 'stronger'}, chroma {after} at the middle instead of {before}"


def strength_gone(measures: Measures) -> str:
    """Why strong greens no longer matter."""
    greens = measures.greens
    return little_green_left(greens) if greens.area_share < MATTERS and greens.median_chroma > CHROMA_WATCH else ""


def little_green_left(greens: Greens) -> str:
    """Such as "there is little green left (6 %)"."""
    return f"there is little green left ({percent(greens.area_share)})"


def _is_dark(lab: NDArray[np.float32], mask: NDArray[np.bool_]) -> bool:
    """Whether what is stronger than a leaf lies in the darks: lawns and trees in the shade were loud to no reader."""
    return median_of(colours_in(lab, mask)[:, 0]) < DARK_GREEN


def _is_leaf(case: Case, mask: NDArray[np.bool_]) -> bool:
    """Whether what a mask holds is grass or foliage, and no green sky or water."""
    return float(case.measures.reads_as_green.where(mask.shape)[mask].mean()) >= MOST_LEAF


def _is_olive(lab: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Which colours (height, width) are olives, if they are greens: however rich, no painter calls one louder than a leaf."""
    return np.asarray(hue_of(lab[..., 1], lab[..., 2]) < OLIVE_TO)


def _beside_leaf(lab: NDArray[np.float32], mask: NDArray[np.bool_]) -> str:
    """The chroma of the greens beyond the leaf limit, beside what a leaf reaches at their lightness."""
    inside = colours_in(lab, mask)
    L, C = median_of(inside[:, 0]), median_of(chroma_of(inside))
    return f"chroma {C:.0f} at value {L / 10:.1f}, where a leaf reaches {float(leaf_limit(L)):.0f}"


def _fine(share: float) -> str:
    """A small share with the one decimal that it needs."""
    return "0 %" if share < 0.0005 else f"{100 * share:.1f} %" if share < 0.1 else percent(share)
