"""Whether what holds the eye stands too near a side of the picture."""

from dataclasses import dataclass

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


def near_edge(case: Case, kind: Kind) -> Finding | None:
    """Whether the subject stands too near a side."""
    aside = near_edge_fault(case.measures.eyepath)
    if aside is None or pull_fault(case.measures.eyepath) is not None:
        return None
    told = _by_outline(aside, aside.thing) if aside.thing is not None else _by_contrast(aside)
    return kind.finding(
        level="watch",
        text=sentence(
            f"{told.what} may leave there. Give it more room on that side, or let something farther in answer it"
        ),
        figure=told.figure,
        figure_text=told.figure_text,
        norm="found in none of the 76 landscapes; common practice, no source",
        stands_on=told.stands_on,
    )


@dataclass(frozen=True, slots=True)
class _Told:
    """What stands there and that the eye may leave, and the figure that tells it."""

    what: str
    figure: float
    figure_text: str
    stands_on: str


def _by_contrast(aside: Aside) -> _Told:
    side, near = _side(aside)
    farther = HARDLY_ANYTHING if aside.is_left_alone else "nothing farther in holds the eye as much"
    return _Told(
        f"something strong stands {spot(aside.x, aside.y)}, {'close to' if near <= CLOSE_TO else 'near'} the {side} edge, "
        f"and {farther}, which",
        aside.half,
        f"half of all that would hold the eye lies within {aside.half:.2f} of the width",
        "eyepath.aside.half",
    )


def _by_outline(aside: Aside, thing: Outlined) -> _Told:
    """Of what parts from all about it."""
    side, _ = _side(aside)
    it, _, step = OF_MANNER[thing.manner]
    stands = "is cut by" if thing.is_cut else "stands hard by"
    alone = aside.beyond <= NEXT_TO_NONE
    farther = f"{HARDLY_ANYTHING}, which" if alone else "nothing farther in stands out as much: the eye"
    return _Told(
        f"{it} {stands} the {side} edge, and {farther}",
        thing.stands_out,
        f"{step(thing.step)} what lies about it, on {percent(thing.share)} of the picture",
        "eyepath.aside.stands_out",
    )


def _side(aside: Aside) -> tuple[str, float]:
    return ("left", aside.x) if aside.x < 0.5 else ("right", 1 - aside.x)
