"""Whether what holds the eye stands too near a side of the picture."""

from critique.advice.eye_findings import OF_MANNER
from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.aside import NEXT_TO_NONE, Aside
from critique.measures.eye_judging import CLOSE_TO, near_edge_fault, pull_fault
from critique.measures.outlined import Outlined
from critique.picture.places import spot
from critique.words.aloud import sentence
from critique.words.figures import percent

HARDLY_ANYTHING = "hardly anything farther in holds the eye"
NORM = "found in none of the 76 landscapes; common practice, no source"


def near_edge(case: Case, kind: Kind) -> Finding | None:
    """Whether the subject stands too near a side."""
    aside = near_edge_fault(case.measures.eyepath)
    if aside is None or pull_fault(case.measures.eyepath) is not None:
        return None
    if aside.thing is not None:
        return _outlined(aside, aside.thing, kind)
    side, near = _side(aside)
    farther = HARDLY_ANYTHING if aside.is_left_alone else "nothing farther in holds the eye as much"
    text = (
        f"something strong stands {spot(aside.x, aside.y)}, {'close to' if near <= CLOSE_TO else 'near'} the {side} edge, and "
        f"{farther}, which may leave there. Give it more room on that side, or let something farther in answer it"
    )
    return kind.finding(
        level="watch",
        text=sentence(text),
        figure=aside.half,
        figure_text=f"half of all that would hold the eye lies within {aside.half:.2f} of the width",
        norm=NORM,
        stands_on="eyepath.aside.half",
    )


def _outlined(aside: Aside, thing: Outlined, kind: Kind) -> Finding:
    """Of what parts from all about it."""
    side, _ = _side(aside)
    it, _, step = OF_MANNER[thing.manner]
    stands = "is cut by" if thing.is_cut else "stands hard by"
    farther = (
        f"{HARDLY_ANYTHING}, which"
        if aside.beyond <= NEXT_TO_NONE
        else "nothing farther in stands out as much: the eye"
    )
    text = (
        f"{it} {stands} the {side} edge, and {farther} may leave there. Give it more room on that side, or let something "
        "farther in answer it"
    )
    return kind.finding(
        level="watch",
        text=sentence(text),
        figure=thing.stands_out,
        figure_text=f"{step(thing.step)} what lies about it, on {percent(thing.share)} of the picture",
        norm=NORM,
        stands_on="eyepath.aside.stands_out",
    )


def _side(aside: Aside) -> tuple[str, float]:
    return ("left", aside.x) if aside.x < 0.5 else ("right", 1 - aside.x)
