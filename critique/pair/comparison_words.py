"""The verdict on a repaint in a few sentences, where it changed, and what was done about the light."""

import numpy as np

from critique.pair.alike import OneChange
from critique.pair.answer import Answer, QuestionId
from critique.pair.answers import WIDE
from critique.pair.balance import BEYOND_A_PHOTOGRAPH, Balance
from critique.pair.change_maps import ChangeMaps
from critique.pair.changed_words import group_in_words, most_changed, things_in_words
from critique.pair.comparison import Changes
from critique.pair.crop_words import crop_in_words, is_cropped
from critique.pair.definition import Definition, definition_in_words
from critique.pair.drawing_words import TURNED_ROUND, moved_in_words
from critique.pair.finding_moves import (
    FindingMove,
    any_better_or_worse,
    better_and_worse,
    beyond_landscapes,
    on_the_edge,
    open_beside_others,
    still_open,
    subjects,
)
from critique.pair.frame import Frame
from critique.pair.register import Registration
from critique.pair.scattered import patches_in_words, share_in_patches
from critique.pair.shine import Shine
from critique.perception.cielab import LIGHT_TO_LUMINANCE
from critique.picture.places import roughly
from critique.words.aloud import sentence
from critique.words.figures import percent
from critique.words.lists import listed

LEAST_GAIN = 0.005  # of the light: less is nothing
SIDE_BY_SIDE = "Figures are given with and without that correction"
PERHAPS_TWO = (
    "The one's drawing can't be laid on the other's: if it wasn't composed anew, see whether that is the right file."
)
TURNED_ROUND_STATE = "This state is the one before it turned round, left for right."
BY_A_GREY = "--grey-original and --grey-repaint"
PAIR = {"first": "the original", "second": "the repaint"}
STATES = {"first": "the state before", "second": "this state"}
BY_GREYS = "--grey, once for each"
JUDGED = "What moved is judged in that light; the charts show each state as photographed"
CARELESS = 0.15  # of the light by which a photograph's exposure may be off; an automatic one misses by a tenth
NO_CHANGE = "No change: every figure stays within what another photograph of the same painting could show."
SHORT: dict[tuple[QuestionId, str], str] = {  # what an answer adds to the first sentence of the verdict
    ("quieter", "quieter"): "quieter",
    ("quieter", "louder"): "louder",
    ("richer", "richer"): "richer in colour",
    ("richer", "poorer"): "poorer in colour",
    ("values", "wider"): "wider in its values",
    ("values", "narrower"): "narrower in its values",
    ("values", "clearer"): "clearer in its masses",
    ("values", "less_clear"): "less clear in its masses",
    ("halved", "no_longer"): "no longer cut in half",
    ("halved", "now"): "now cut in half",
    ("lean", "less_green"): "less green as a whole",
    ("lean", "greener"): "greener as a whole",
    ("lean", "warmer"): "warmer as a whole",
    ("lean", "cooler"): "cooler as a whole",
}
REACHES: frozenset[tuple[QuestionId, str]] = frozenset({("values", "wider"), ("values", "narrower")})
ALONE = 0.5  # of what one end of the values moved: the other moved by no more
BLACK = 0.3  # value: darks below it have no colour to the eye
ASIDE: dict[tuple[QuestionId, str], str] = {  # changes that are neither better nor worse, or of less weight
    ("quieter", "in_part"): "part of its colour is quieter, part louder",
    ("quieter", "fewer_raw"): "less of its green is stronger than a leaf's",
    ("quieter", "more_raw"): "more of its green is stronger than a leaf's",
    ("richer", "by_some_counts"): "it is richer by some counts of variety, poorer by others",
    ("richer", "fewer_colours"): "fewer colours share the picture",
    ("richer", "more_colours"): "more colours share the picture",
    ("values", "moved"): "its values moved",
    ("values", "lighter"): "it is lighter",
    ("values", "darker"): "it is darker",
    ("edges", "better"): "its edges hold the eye better",
    ("edges", "less"): "its edges hold the eye less",
}
OTHERWISE: tuple[QuestionId, str] = ("lean", "otherwise")  # told with what it leans to
ONE_END: tuple[QuestionId, str] = ("values", "one_end")  # told with that end: the whole is as light as it was
# Told with the line's way.
STILL_HALVED: tuple[QuestionId, str] = ("halved", "still_moved")
NOW_NEAR: tuple[QuestionId, str] = ("halved", "now_near")


def comparison_verdict(
    changes: Changes,
    answers: tuple[Answer, ...],
    moves: tuple[FindingMove, ...],
    maps: ChangeMaps | None,
    registration: Registration,
    balance: Balance | None,
    crop: Frame | None = None,
    *,
    turned_round: bool = False,
    alike: OneChange | None = None,
    shine: Shine | None = None,
    definition: Definition | None = None,
) -> tuple[str, ...]:
    """What the second is beside the first; what of that is better and worse; what is still open.

    ``turned_round`` says that it is the first left for right, ``alike`` that all of it moved as by another light, and
    ``shine`` that a veil of light lies over part of either, ``definition`` that strokes alone are crisper or softer.
    """
    finer = (definition_in_words(definition),) if definition is not None else ()
    told = told_of(answers, changes)
    places = maps.places if maps is not None else ()
    moved = registration.moved
    cropped = crop_in_words(crop)
    if turned_round:
        rest = " But for that, every figure stays within what another photograph could show."
        opening = f"{TURNED_ROUND}.{'' if changes.changed else rest}"
        return (opening, *([] if not changes.changed else [_balance_of_findings(moves)]), *_still_open(moves))
    things = (*_things(maps), *_patches(maps))
    if not changes.changed and not places and not things and moved is None:
        kept = (f"{cropped}; what both show is unchanged.",) if is_cropped(crop) else ()
        return (*(finer or (NO_CHANGE,)), *kept, *_taken_for_light(balance), *_still_open(moves))
    if is_cropped(crop):
        by_itself = not places and not things and not finer
        cropped += (
            "; what both show is unchanged, and all that follows is the crop's doing."
            if by_itself
            else ". What both show changed too."
        )
    aside = asides_of(answers, changes)
    if moved is not None and not changes["division.height"].changed:
        aside.append(moved_in_words(moved))
    if told:
        opening = f"Beside the original, the repaint is {listed(told)}."
        opening += f" {sentence('; '.join(aside))}" if aside else ""
    elif aside:
        opening = f"In the repaint {'; '.join(aside)}."
    elif things:
        opening = "As a whole the picture is what it was."
    elif places:
        opening = "Parts of it were painted otherwise; the picture as a whole is what it was."
    elif finer:
        opening, finer = finer[0], ()
    else:
        opening = "Some figures moved by more than a photograph could, but none that decides."
    most = _most_of_all(maps)
    light, judged, still = _taken_for_light(balance), _balance_of_findings(moves), _still_open(moves)
    lit = (alike_in_words(alike, BY_A_GREY), shine_in_words(shine, PAIR), cropped)
    first = [told_first for told_first in lit if told_first]
    most = (*finer, *most)
    if alike is not None:
        most = ()  # what moved most is the light's doing as likely as the brush's
    if beyond_landscapes(moves):
        return (*first, judged, *things, opening, *most, *light, *still)
    if any_better_or_worse(moves):  # whether it got better is what anyone asks first
        return (*first, *things, judged, opening, *most, *light, *still)
    return (*first, *things, opening, *most, *light, judged, *still)


def _things(maps: ChangeMaps | None) -> tuple[str, ...]:
    """What any eye sees first: what came in and what is gone."""
    return (" ".join(things_in_words(maps.things)),) if maps is not None and maps.things else ()


def _patches(maps: ChangeMaps | None) -> tuple[str, ...]:
    """That it changed in small patches all over, which no figure of the whole tells."""
    share = share_in_patches(maps) if maps is not None else 0.0
    return (patches_in_words(share),) if share > 0 else ()


def _most_of_all(maps: ChangeMaps | None) -> tuple[str, ...]:
    """The largest change of a place, in a sentence; none where no place of it is large."""
    most = most_changed(maps, WIDE) if maps is not None else None
    if most is None:
        return ()
    told = group_in_words(most)
    return (f"Most of all {told[0].lower()}{told[1:]}",)


def _lighter(balance: Balance) -> float:
    """By how many L* the grey of the second is lighter; 0 within what a careful photograph may be off."""
    exposure = 1 / float(np.dot(balance.gains_second, LIGHT_TO_LUMINANCE))
    careless = max(exposure, 1 / exposure) > 1 + CARELESS
    return balance.references[1][0] - balance.references[0][0] if careless else 0.0


def _taken_for_light(balance: Balance | None) -> tuple[str, ...]:
    """What a correction took away, where the painter may have meant it."""
    lighter = _lighter(balance) if balance is not None and balance.how != "pointed at" else 0.0
    if not lighter:
        return ()
    return (
        f"The repaint, or only its photograph, is {abs(lighter) / 10:.1f} values {'lighter' if lighter > 0 else 'darker'} "
        "all over; the figures take that for light.",
    )


def alike_in_words(alike: OneChange | None, by_a_grey: str) -> str:
    """That a change of light would do all of it, which a painter may have meant; empty where none would."""
    if alike is None:
        return ""
    return (
        f"All of it moved alike, as in {alike.word} light. Unless you repainted it so, that is the photograph: name a "
        f"grey in each ({by_a_grey}) before you read on."
    )


def shine_in_words(shine: Shine | None, called: dict[str, str]) -> str:
    """That light lies over part of a photograph, which is counted as paint all the same; empty where none does."""
    if shine is None:
        return ""
    return (
        f"{roughly(shine.x, shine.y).capitalize()}, light lies over {percent(shine.share)} of {called[shine.over]}, and "
        "all that it covers is still seen through it. Unless you veiled it so, that is shine: turn the easel until it "
        "goes, and photograph it again before you read on, for it is counted as paint."
    )


def told_of(answers: tuple[Answer, ...], changes: Changes) -> list[str]:
    """What the answers add to a sentence on what the later picture is, such as "quieter"."""
    return [
        _one_end(changes) or SHORT[answer.key] if answer.key in REACHES else SHORT[answer.key]
        for answer in answers
        if answer.key in SHORT
    ]


def _one_end(changes: Changes) -> str:
    """What became of the darks, or of the lights, where one of them alone moved its end; else empty."""
    darks, lights = changes["values.percentiles.p5"], changes["values.percentiles.p95"]
    end, other = (darks, lights) if darks.changed else (lights, darks)
    if darks.changed == lights.changed or abs(other.decisive) > ALONE * abs(end.decisive):
        return ""
    return _end_in_words(changes)


def _end_in_words(changes: Changes) -> str:
    """Where the darks went, if they changed, else where the lights did."""
    darks, lights = changes["values.percentiles.p5"], changes["values.percentiles.p95"]
    end = darks if darks.changed else lights
    was, now = end.ends
    if darks.changed:
        black = ", as good as black" if now <= BLACK and now < was else ""
        return f"{'lighter' if now > was else 'deeper'} in its darks (value {was:.1f} to {now:.1f}{black})"
    return f"{'brighter' if now > was else 'lower'} in its lights (value {was:.1f} to {now:.1f})"


def asides_of(answers: tuple[Answer, ...], changes: Changes) -> list[str]:
    """Clauses on what changed beside that, such as "its line moved from 51 % to 65 % of the way down"."""
    aside = []
    for answer in answers:
        if answer.key == STILL_HALVED:
            aside.append(f"{_line_in_words(changes)}, but still lies near the middle")
        elif answer.key == NOW_NEAR:
            aside.insert(0, f"{_line_in_words(changes)}, and lies near the middle now")
        elif answer.key == OTHERWISE:
            aside.append(f"the whole {answer.short}")
        elif answer.key == ONE_END:
            aside.append(f"it is {_end_in_words(changes)}")
        elif answer.key in ASIDE:
            aside.append(ASIDE[answer.key])
    aside += [answer.aside for answer in answers if answer.aside]
    if changes["division.height"].changed and all(answer.key not in (STILL_HALVED, NOW_NEAR) for answer in answers):
        aside.insert(0, _line_in_words(changes))
    return aside


def _balance_of_findings(moves: tuple[FindingMove, ...]) -> str:
    told = better_and_worse(moves)
    if told:
        better, worse = subjects(moves, "fixed", "better"), subjects(moves, "broke", "worse")
        if better and not worse:
            told.append("Nothing is worse.")
        elif worse and not better:
            told.append("Nothing that the review judges is better.")
        return " ".join(told)
    return (
        "Of what the review judges, nothing is surely better or worse."
        if subjects(moves, "on the edge")
        else "What the review finds in it is as it was."
    )


def _still_open(moves: tuple[FindingMove, ...]) -> tuple[str, ...]:
    left, edge = still_open(moves), on_the_edge(moves)
    told = [*([f"Still open: {listed(left)}."] if left else []), *open_beside_others(moves)]
    return (*told, *([f"On the edge, where another photograph could decide: {listed(edge)}."] if edge else []))


def light_in_words(
    balance: Balance | None,
    shown: str,
    unrelated: bool = False,
    *,
    by_a_grey: str = BY_A_GREY,
    alike: bool = False,
    not_yet: bool = False,
) -> str:
    """What was done about two photographs taken in different light, so that no correction hides.

    ``shown`` says what the page does with the correction: ``SIDE_BY_SIDE`` or ``JUDGED``; ``by_a_grey`` are the
    options that balance them by a grey; ``alike`` says that the verdict asks for one already, ``not_yet`` that
    one of two that look different may show more than its painting.
    """
    if balance is None and unrelated and not_yet:
        return "No correction for light was made: every figure is as photographed."
    if balance is None and unrelated:
        return (
            "The greys of one subject say nothing of the light on another, so no correction for light was made: every "
            "figure is as photographed."
        )
    if balance is None:
        as_it_is = (
            "Nothing that is surely the same in both tells their light apart from their paint, so nothing was corrected: "
            "every figure is as photographed."
        )
        if alike:
            return as_it_is
        return (
            f"{as_it_is} Were they photographed in the same light? If not, and there is a grey in "
            f"each, such as a card beside it, say where ({by_a_grey}), and they are balanced by it."
        )
    if balance.how == "pointed at" and not balance.needed:
        return "The place that you pointed at looks the same in both photographs: no correction was made."
    if balance.how == "pointed at":
        far = balance.difference > BEYOND_A_PHOTOGRAPH
        doubt = (
            ". That is more than light alone does to one grey: see whether both places are the same thing"
            if far
            else ""
        )
        return sentence(
            f"the grey that you pointed at differed by {_steps(balance.difference)}. Both photographs were balanced by it. "
            f"{shown}{doubt}"
        )
    where = {
        "same place": f"by the greyest {percent(balance.share)} that both have at the same place",
        "whole picture": "by the whole of both, since nothing in them is grey and nearly all moved alike",
    }[balance.how]
    if not balance.needed:
        return sentence(f"the two photographs agree in their light, judged {where}: no correction was made")
    lighter = _lighter(balance)
    whole = (
        f" If the whole painting was made {'lighter' if lighter > 0 else 'darker'}, the correction took that away: "
        f"photograph both beside a grey card, and say where it lies ({by_a_grey})"
        if lighter
        else ""
    )
    return sentence(
        f"the photographs differ in their light by {_steps(balance.difference)}, judged {where}. The second was brought to the "
        f"light of the first: {_gains(balance.gains_second)}. {shown}.{whole}"
    )


def asks_for_a_grey(balance: Balance | None, unrelated: bool = False) -> bool:
    """Whether ``light_in_words`` asks to have a grey named in each."""
    if balance is None:
        return not unrelated
    return balance.how != "pointed at" and balance.needed and bool(_lighter(balance))


def _steps(difference: float) -> str:
    """A difference of colour (ΔE00) on a scale that a painter knows."""
    return f"{difference:.1f} steps of colour (one or two are just seen side by side)"


def _gains(gains: tuple[float, float, float]) -> str:
    """What was done to the light: to all of it, or to each of red, green and blue."""
    whole = sum(gains) / 3 - 1
    if abs(whole) >= LEAST_GAIN and max(gains) - min(gains) < LEAST_GAIN:
        return f"{abs(whole) * 100:.0f} % {'brighter' if whole > 0 else 'dimmer'}"
    parts = [
        f"{name} {abs(gain - 1) * 100:.0f} % {'up' if gain > 1 else 'down'}"
        for name, gain in zip(("red", "green", "blue"), gains, strict=True)
        if abs(gain - 1) >= LEAST_GAIN
    ]
    return listed(parts) if parts else "by less than 1 % in each light"


def _line_in_words(changes: Changes) -> str:
    was, now = changes["division.height"].ends
    return f"its line moved from {percent(was)} to {percent(now)} of the way down"
