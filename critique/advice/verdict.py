"""The review in a few sentences: what works, then what holds the picture back most, and what to do first."""

from collections.abc import Callable, Collection, Iterable, Sequence
from typing import Literal

import numpy as np

from critique.advice import hints
from critique.advice.accent import MOST as MOST_OF_AN_ACCENT
from critique.advice.accent import accent
from critique.advice.change_kinds import all_change_kinds
from critique.advice.colour_words import named_green, word_of_lab
from critique.advice.finding import Finding
from critique.advice.gravity import SMALL_MATTERS, gravest_first, said_first, spoken_of, to_rework
from critique.advice.green_area import FOLIAGE, SEA, foliage_colours, small_foliage
from critique.advice.green_share import (
    A_LITTLE,
    ALMOST_NONE,
    NEXT_TO_NONE,
    cool_greens,
    green_by_cool,
    told_green,
    told_share,
)
from critique.advice.judging import Case
from critique.advice.kinds import kind_named, kind_of
from critique.advice.main_colours import main_colours
from critique.advice.praise import what_works
from critique.advice.praise_plain import plain_praise, what_is_there
from critique.advice.something_there import in_greys, one_colour
from critique.advice.subject_colour import subject_colour
from critique.advice.suggestion import Suggestion
from critique.advice.too_green import GREY_GREENS, held_back_by_its_greens
from critique.advice.value_ends import darks_spoken_of
from critique.advice.value_findings import big_shapes, picture_in_key
from critique.measures.eye_judging import near_edge_fault
from critique.measures.land_greens import land_green_share
from critique.measures.measure import Measures
from critique.picture.pieces import most_of_it_lies
from critique.picture.places import spot
from critique.words.aloud import about
from critique.words.figures import percent
from critique.words.lists import listed
from critique.words.painters import is_a_grey

# Of the picture: greens among the main colours beyond what reads as green; another share beside puzzles.
SAID_BEFORE = 0.07
REST = 1  # named after the first where both are grave; of lists of three and four worries readers signed few, for one of them
# Told of a picture that holds, and against a praise all the same.
REMARKS = frozenset({"small_lights", "middle_subject"})
# Of teachers, at most, who would mend it first: a lean, a hard edge or greys are looked at, and left for last.
NEVER_FIRST = 0.06
IF_NOT_MEANT = "If it isn't meant so, a first step"
AS_LIKELY = 0.7  # of how often the likeliest is mended first: with less it isn't told before that
Turn = Literal["first", "later", "last"]  # of what a change mends, in the order in which things are mended
PORTRAIT = 1  # place in a verdict of the sentence that says what the picture is; a blank has but one sentence


def verdict(
    case: Case,
    findings: tuple[Finding, ...],
    suggestions: tuple[Suggestion, ...],
    first_mends: Collection[str] | None = None,
) -> tuple[str, ...]:
    """What works in it, what holds it back most, what the picture is, and what to do first where there is anything.

    ``first_mends`` are the kinds of finding that the first step mends, where it isn't the first suggestion.
    """
    if one_colour(case.picture):
        name = case.measures.families[0].name
        return (f"One colour from edge to edge, {name}: there is nothing here to judge yet.",)
    open_findings = gravest_first(finding for finding in findings if finding.level != "holds")
    told_against = {finding.kind for finding in findings if finding.level != "holds" or finding.kind in REMARKS}
    works = "; ".join(what_works(case, told_against)) or plain_praise(case, told_against)
    too_loud = _loudest(case.measures) if "loudest_colour" in told_against else ""
    shapes = big_shapes(case, findings)
    praise = f"What works: {works}." if works else what_is_there(case, shapes, too_loud=too_loud)
    mended = _mended_by(suggestions) if first_mends is None else first_mends
    step = _first_step(case, suggestions, open_findings, hints.told(case, findings))
    # Without one the first sentence has said that nothing holds it back: a touch asked for all the same readers called empty.
    return (f"{praise} {_judgement(case, open_findings, mended)}", _portrait(case), *([step] if step else []))


def step_not_tried(case: Case, findings: Sequence[Finding]) -> str:
    """The first step that a verdict ends with where something is open and no change is offered; else empty."""
    open_findings = gravest_first(finding for finding in findings if finding.level != "holds")
    small = hints.told(case, tuple(findings))
    return _first_step(case, (), open_findings, small, by_hand=True) if open_findings else ""


def portrait_in(sentences: Sequence[str]) -> str:
    """The sentence of a verdict that says what the picture is."""
    return sentences[min(PORTRAIT, len(sentences) - 1)]


def _portrait(case: Case) -> str:
    """What kind of picture this is: its key, its main colours, its green and its line."""
    measures = case.measures
    named_colours = main_colours(case.picture, measures)
    colours = listed([f"{name} ({percent(share)})" for name, share in named_colours])
    in_greens = sum(share for name, share in named_colours if "green" in name and not is_a_grey(name))
    key = picture_in_key(measures.values)
    if in_greys(case.picture):
        return f"{key}, in greys: its colour is not judged. If it is a painting, photograph it in colour."
    colour = land_green_share(case.picture, measures.parts)
    reads = told_green(case, colour)
    if in_greens >= reads + SAID_BEFORE:
        climate = ""  # the colours have said it
    elif max(reads, colour) < ALMOST_NONE:
        named = named_green(measures)  # a grey may be named after the green that it leans to
        almost = "almost no" if max(reads, colour) < NEXT_TO_NONE else "little"
        climate = ", and hardly any of it reads as green" if named else f", with {almost} {_no_green(case)}"
    elif colour < ALMOST_NONE and reads < A_LITTLE:
        greens = small_foliage(case)  # a brown heath reads as green to some
        climate = f"; its foliage is mostly {greens}" if greens else f", with little {_no_green(case, 'clear green')}"
    elif colour < ALMOST_NONE and not green_by_cool(case):
        greens = foliage_colours(case) if reads >= FOLIAGE else ""
        climate = f"; its foliage is mostly {greens}" if greens else ", with hardly any clear green"
    elif reads < A_LITTLE and cool_greens(case) >= SEA:
        climate = "; more of its green is water, sky or distance than grass and foliage"
    elif reads >= ALMOST_NONE:
        climate = f"; {told_share(case, reads)} of it reads as green"
    else:
        climate = f"; {about(colour)} of it has a yellow-green colour"
    return f"{key}, above all {colours}{_with_accent(case, [name for name, _ in named_colours])}{climate}."


def _with_accent(case: Case, told: list[str]) -> str:
    """The accent beside the colours ``told``, or the colour of what leads, to follow them; empty where there is none."""
    small = accent(case.picture, case.measures, told)
    if small is not None:
        return f", and an accent of {small.word} ({percent(small.share)})" + (f" {small.place}" if small.place else "")
    leads = subject_colour(case.picture, case.measures, told)
    if leads is None:
        return ""
    # Only what lies about the place is counted: beside a whole gold pavilion with its reflection that share reads as wrong.
    return f", and {'an accent of ' if leads.share <= MOST_OF_AN_ACCENT else ''}{leads.word} {leads.place}"


def _no_green(case: Case, green: str = "green") -> str:
    """What a picture has none of: a sea or a sky may be ``green`` where nothing grows."""
    return "grass or foliage" if cool_greens(case) >= ALMOST_NONE else green


def _judgement(case: Case, open_findings: list[Finding], mended: Collection[str]) -> str:
    """The one thing that holds it back most, then the next as grave; of equals that first for which a step is offered."""
    if not open_findings:
        return "Nothing that is measured here holds it back."
    grave, first = _grave(open_findings), _first(open_findings, mended)
    if not grave and _comes_last(first):
        # How much outlines weigh is not measured: of six pictures with these alone readers would mend them first in two.
        if any(finding.kind == "outlines" for finding in open_findings):
            return "What may be looked at once more is told below."
        return "Nothing that is measured here weighs much; what may be looked at once more is told below."
    told = _spoken(first) + _placed(case, first)
    rest = listed([_spoken(finding) for finding in grave if finding is not first][:REST])
    if grave:
        return f"What holds it back most is {told}" + (f"; then look at {rest}." if rest else ".")
    return f"Look once more at {told} before it goes out."


def _first(open_findings: list[Finding], mended: Collection[str]) -> Finding:
    """The gravest; of equals that for which a step is offered, whose kinds are ``mended``."""
    ahead = open_findings[0]
    equals = _grave(open_findings) or [one for one in open_findings if spoken_of(one) >= AS_LIKELY * spoken_of(ahead)]
    return next((finding for finding in equals if finding.kind in mended), equals[0])


def _mended_by(suggestions: Sequence[Suggestion]) -> tuple[str, ...]:
    """The kinds of finding that the first step offered may mend."""
    return next((kind.mends for kind in all_change_kinds() if suggestions and kind.id == suggestions[0].kind), ())


def _spoken(finding: Finding) -> str:
    """What an open finding is called in a sentence."""
    return finding.spoken or kind_of(finding).spoken or f"its {finding.subject}"


def _grave(open_findings: list[Finding]) -> list[Finding]:
    """Those for which a picture is held back."""
    return [finding for finding in open_findings if finding.level == "rework" and finding.kind not in SMALL_MATTERS]


def in_order_told(findings: Sequence[Finding]) -> list[Finding]:
    """The findings that are open, the one that is told first before the others."""
    return _grave_first(gravest_first(finding for finding in findings if finding.level != "holds"))


def _grave_first(open_findings: list[Finding]) -> list[Finding]:
    """Those first for which a picture is held back."""
    grave = _grave(open_findings)
    return [*grave, *(finding for finding in open_findings if finding not in grave)]


def _placed(case: Case, finding: Finding) -> str:
    """Where a fault of the eye's path lies, or which colour is loudest, to follow its name; empty where that says enough."""
    place = _PLACES[finding.kind](case.measures) if finding.kind in _PLACES else ""
    return f" ({place})" if place else ""


def _loudest(measures: Measures) -> str:
    return word_of_lab(np.array(measures.loudest.lab))


def _place_near_edge(measures: Measures) -> str:
    near = near_edge_fault(measures.eyepath) or measures.eyepath.focus
    return str(spot(near.x, near.y))


_PLACES: dict[str, Callable[[Measures], str]] = {
    "edge_pull": lambda measures: f"the {measures.eyepath.strongest_pull.place}",
    "near_edge": _place_near_edge,
    "closed_darks": lambda measures: most_of_it_lies(
        darks_spoken_of(measures.closed_darks, kind_named("closed_darks").by_limits)
    ),
    "loudest_colour": lambda measures: f"the {_loudest(measures)}",
}


def _step(case: Case, finding: Finding) -> str:
    """What to try first; of a lean, not whose it is where a grey beside the painting has told that."""
    kind = kind_of(finding)
    return kind.step_known if kind.step_known and case.measures.cast.owner == "painting" else kind.step


def _comes_last(finding: Finding) -> bool:
    """Whether what is open is only to watch, and of a kind that next to no teacher mends first."""
    return finding.level == "watch" and said_first(finding) <= NEVER_FIRST


def may_be_left(findings: Sequence[Finding]) -> bool:
    """Whether nothing is open but what next to no teacher mends first: no step is pressed on such a picture."""
    return all(finding.level == "holds" or _comes_last(finding) for finding in findings)


def turn_of(findings: Iterable[Finding], mends: Collection[str]) -> Turn:
    """When a change that mends these kinds has its turn.

    "last" where of what is open it mends only what next to no teacher mends first; "first" where it mends what the verdict
    tells first, or there are no words on what to do about that.
    """
    open_findings = gravest_first(finding for finding in findings if finding.level != "holds")
    mended = [finding for finding in open_findings if finding.kind in mends]
    if mended and all(_comes_last(finding) for finding in mended):
        return "last"
    first = _first(open_findings, mends) if open_findings else None
    return "first" if first is None or first.kind in mends or not kind_of(first).step else "later"


def _first_step(
    case: Case, suggestions: tuple[Suggestion, ...], open_findings: list[Finding], small: str, *, by_hand: bool = False
) -> str:
    """What to do first, ``small`` where nothing is open or what is open comes last; empty where there is nothing to do.

    ``by_hand`` says that no change does it: an aim that greys the greens was looked for.
    """
    mends = _mended_by(suggestions)
    turn = turn_of(open_findings, mends)
    if not suggestions or turn == "last":
        if not open_findings:
            return small
        first = next((finding for finding in _grave_first(open_findings) if kind_of(finding).step), None)
        if first is not None and _comes_last(first):
            return small
        if not by_hand and held_back_by_its_greens(case.measures.greens, _grave(open_findings)):
            return f"First step: {GREY_GREENS}."
        if first is None:
            return "What to try is said with it below; on a small study first."
        meant = "First step" if to_rework(first) else IF_NOT_MEANT
        return f"{meant}: {_step(case, first)}."
    tried = "tried on this picture: look at both, side by side."
    grave = [finding for finding in _grave(open_findings) if kind_of(finding).step]
    offer = _offered_for(grave, suggestions) if grave else suggestions[0]
    if offer is None:
        greyed = held_back_by_its_greens(case.measures.greens, grave)
        return f"First step: {GREY_GREENS if greyed else _step(case, grave[0])}; then {suggestions[0].subject}, which has been {tried}"
    if not any(to_rework(finding) for finding in open_findings):
        first = _first(open_findings, mends)
        if _comes_last(first):
            return small
        if turn == "later":
            return f"{IF_NOT_MEANT}: {_step(case, first)}."
        return f"{IF_NOT_MEANT}: {suggestions[0].subject}, which has been {tried}"
    return f"First step: {offer.subject}. It has been {tried}"


def _offered_for(grave: Sequence[Finding], suggestions: Sequence[Suggestion]) -> Suggestion | None:
    """The first that mends something that holds the picture back, or eases it; None where none does."""
    kinds = {kind.id: {*kind.mends, *kind.eases} for kind in all_change_kinds()}
    held_back = {finding.kind for finding in grave}
    return next((one for one in suggestions if held_back & kinds.get(one.kind, set())), None)
