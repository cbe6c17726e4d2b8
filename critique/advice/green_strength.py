"""Whether a picture's greens are too strong for leaves."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.finding import Finding, Level
from critique.advice.green_share import ALMOST_NONE, MATTERS, green_by_cool, little_green_left
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.green_places import PLACES_DIFFER, hue_over_places
from critique.measures.greens import Greens
from critique.measures.land_greens import (
    BLUEST_LEAF,
    MAP_LONG_EDGE,
    beyond_one_leaf,
    far_beyond_leaf,
    raw_land_greens,
    sure_sky,
)
from critique.measures.measure import Measures
from critique.perception.channels import chroma_of, colours_in
from critique.perception.cielab import lch_of
from critique.perception.hue import hue_of, leaf_limit
from critique.perception.ranks import median_of, middle_colour
from critique.picture.areas import area_of, same_frame
from critique.picture.picture import lab_at
from critique.picture.places import place_of
from critique.words.aloud import about, sentence, share_words, strength_word
from critique.words.figures import percent

# Limits, each beside the landscapes' own figures (norms.csv; 76 landscapes and marines, 1603–1908).
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
# Degrees: where the mean of all greens is yellower, they are olives as a whole, and no reader would grey them.
OLIVES_TO = 112.0
IN_REDS = 0.5  # of the chroma in reds and violets: the stalks of a field of tulips were no trouble to its readers
SPARKLE = 0.07  # of the green: so little of it is seen by nobody; of greens put in too strong the least has 0.33
# C* beyond one leaf's limit, at the middle of them: a lawn in the sun has less; of greens put in too strong the least has 11.9.
FAR_BEYOND = 7.5
WIDE_ROWS, STREWN = ("upper", "lower", "ends"), 0.2  # rows of a place; of the picture: so little fills no two thirds
DARK_GREEN = 38.0  # L*: a green below it is a dark one
FEW_LEAVES = 0.07  # of the picture that reads as green: with less no green asks to be believed as a leaf
YELLOW_FIELD = 0.25  # of what lies about a place: its greenish touches are those of a yellow, and no leaf's
# Of the picture: none of 76 paintings and 8 demos has more than 0.052 of its land in greens bluer than leaves and nearly as
# strong; where they were put in for the foliage they fill 0.085 and more.
RAW_WATCH, RAW_REWORK = 0.065, 0.3


def strength(case: Case, kind: Kind) -> Finding | None:
    """Whether leaves could be as green as these greens."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    greens, mask, raw = case.measures.greens, beyond_any_leaf(lab, case.measures), raw_greens(case)
    beyond = float(mask.mean())
    if float(raw.mean()) >= max(RAW_WATCH, beyond):
        return _raw(case, kind, lab, raw)
    sparkle = kind.by_limits(beyond) == "watch" and beyond < SPARKLE * greens.area_share
    level = _level("holds" if sparkle else kind.by_limits(beyond), case, lab, mask)
    if level is None:
        return None
    return kind.finding(
        level=level,
        text=sentence(_text(level, case, lab, mask, sparkle=sparkle)),
        figure=beyond,
        figure_text=f"{_fine(beyond)} of the picture well beyond any leaf, {_fine(greens.beyond_leaf_share)} beyond one leaf's limit",
        norm=f"beyond one leaf's limit {case.standing('greens.beyond_leaf_share')}",
        percentile=case.percentile("greens.beyond_leaf_share"),
    )


def _level(by_limits: Level, case: Case, lab: NDArray[np.float32], mask: NDArray[np.bool_]) -> Level | None:
    """The level of greens too strong for a leaf, which a mask holds; None where nothing is to be said of them."""
    greens, level = case.measures.greens, by_limits
    if level == "rework" and not _is_leaf(case, mask):
        return None  # a green sky or roof is no leaf, however strong
    if level == "watch" and (greens.relief_share >= IN_REDS or _is_dark(lab, mask) or not _is_leaf(case, mask)):
        return None  # among so much red, in the shade, or in a sky no green is a loud leaf
    if level == "rework" and beyond_one_leaf(lab, mask) < FAR_BEYOND:
        return "watch"
    if level == "holds" and greens.area_share >= MATTERS and greens.median_chroma > CHROMA_WATCH:
        # Rich olives, and greens that turn from place to place, are loud to nobody, and not quiet either.
        return "watch" if greens.mean_hue >= OLIVES_TO and is_one_hue(case) else None
    if level == "holds" and case.measures.reads_as_green.share < FEW_LEAVES:
        return None  # no green in it has to pass for a leaf
    if level == "holds" and _hardly_any_clear(greens, mask) and not green_by_cool(case):
        return None  # that it has hardly any clear green is said once, of its area
    return level


def is_one_hue(case: Case) -> bool:
    """Whether its greens stay at one hue from place to place, light or dark."""
    return hue_over_places(case.picture, case.measures.parts) < PLACES_DIFFER


def _hardly_any_clear(greens: Greens, mask: NDArray[np.bool_]) -> bool:
    """Whether there is next to no yellow-green in it, and none too strong for a leaf."""
    return float(mask.mean()) <= BEYOND_WATCH and greens.area_share < ALMOST_NONE


def _text(level: Level, case: Case, lab: NDArray[np.float32], mask: NDArray[np.bool_], *, sparkle: bool) -> str:
    """What is said of how strong the greens are; those of a ``sparkle`` are so few that they may be."""
    greens, beyond = case.measures.greens, float(mask.mean())
    chroma = greens.median_chroma
    if level == "holds" and _hardly_any_clear(greens, mask):
        chroma = greens.family.median_chroma
        return (
            f"its greens, most of them cool, are {strength_word(chroma)} (chroma {chroma:.0f} at the middle), and no "
            "stronger than a leaf lit from the front: they can be believed"
        )
    if sparkle and level == "holds":
        return f"a few greens, {area_of(mask) or place_of(mask)}, are as strong as light through leaves: so little may sparkle"
    if beyond > BEYOND_WATCH and not sparkle:
        return (
            f"{share_words(beyond / greens.area_share)} of the green, {_strewn(mask)}, is stronger than any leaf lit from "
            f"the front ({_beside_leaf(lab, mask)})"
        ) + (
            ". Light through leaves may be so; else a little red earth or violet in it will do"
            if level == "watch"
            else ". If it isn't light through leaves that you painted, knock it back with its complement, a red earth or a "
            "violet, before any more yellow goes in"
        )
    some_beyond = greens.beyond_leaf_share >= SOME_BEYOND
    if level == "holds":
        return (
            f"the greens are {strength_word(chroma)} (chroma {chroma:.0f} at the middle), and "
            + ("hardly any of them is" if beyond else "none of them is much" if some_beyond else "none of them is")
            + " stronger than a leaf lit from the front: they can be believed"
        )
    few, much = "hardly any" if sparkle else "no", "much " if some_beyond else ""
    return (
        f"{few} green is {much}stronger than a leaf lit from the front, but the whole of it is strong: the middle green "
        f"has chroma {chroma:.0f}, where three in four {case.norms.kind} with as much green stay below "
        f"{case.norms.at('greens.median_chroma', 75):.0f}. Grey the larger fields and keep the strength for one place"
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
        figure_text=f"{percent(share)} of the picture in greens bluer than any leaf, and nearly as strong",
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


def quieter_all_over(was: Measures, now: Measures) -> str:
    """That greens have another strength though as many are beyond a leaf's; empty where it is what it was."""
    return strength_moved(was.greens, now.greens)


def strength_moved(was: Greens, now: Greens) -> str:
    """Such as "quieter, chroma 26 at the middle instead of 58"."""
    before, after = round(was.median_chroma), round(now.median_chroma)
    if before == after:
        return ""
    return f"{'quieter' if after < before else 'stronger'}, chroma {after} at the middle instead of {before}"


def strength_gone(measures: Measures) -> str:
    """Why strong greens no longer matter."""
    greens = measures.greens
    return little_green_left(greens) if greens.area_share < MATTERS and greens.median_chroma > CHROMA_WATCH else ""


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
