"""What a repaint or a pass fixed, what it broke and what is still open, by the findings of both pictures."""

from dataclasses import dataclass
from typing import Literal

from critique.advice.colour_findings import MUCH_GREEN, RELIEF_WATCH
from critique.advice.finding import LEVELS, Finding, Level
from critique.advice.green_findings import CHROMA_WATCH, EVEN_WATCH, MATTERS
from critique.measures.measure import Measures
from critique.pair.comparison import Changes
from critique.words.aloud import percent
from critique.words.lists import listed

Outcome = Literal["fixed", "better", "broke", "worse", "open", "holds", "on the edge", "no longer matters"]
# How outcomes are called, in the verdict, the table and the passes alike. "Gained: green area" would read as more green.
OUTCOME_WORDS: dict[Outcome, str] = {
    "fixed": "better",
    "better": "better, not yet done",
    "broke": "worse",
    "worse": "worse",
    "open": "still open",
    "holds": "",
    "on the edge": "on the edge: another photograph could decide",
    "no longer matters": "no longer matters",
}

# Which figures a finding stands on, by the first words of its subject; a level that moves while none of them moves by
# more than a photograph could is on the edge, and no more is said of it.
BEHIND: dict[str, tuple[str, ...]] = {
    "green area": ("greens.area_share", "greens.chroma_share"),
    "green strength": ("greens.beyond_leaf_share", "greens.median_chroma", "greens.p95_chroma"),
    "evenness": ("greens.evenness", "greens.area_share", "greens.median_chroma"),
    "green cast": ("cast.mean.a", "cast.most_neutral.chroma"),
    "value range": ("values.range", "values.percentiles.p5", "values.percentiles.p95"),
    "value masses": ("values.plans.1.separation", "values.largest_mass"),
    "halving": ("division.height", "division.near_middle", "division.strength"),
    "relief for the green": ("greens.area_share", "greens.relief_share", "greens.median_chroma"),
    "distance in the greens": ("greens.median_chroma", "greens.hue_spread", "greens.value_spread", "greens.area_share"),
    "green against": ("greens.median_lightness", "values.percentiles.p50", "greens.mean_hue"),
    "run of colours": ("harmony.distance", "variety.effective_hues", "harmony.warm_share"),
    "left and right": ("division.strength",),
    "light and dark": ("division.lights.light_share",),
    "edges and corners": ("eyepath.strongest_pull.strength", "eyepath.framing", "eyepath.focus.x", "eyepath.focus.y"),
}


@dataclass(frozen=True, slots=True)
class FindingMove:
    """One finding in both pictures. A finding that one of them doesn't have counts as ``holds`` there."""

    subject: str
    before: Level
    after: Level
    outcome: Outcome
    text_before: str
    text_after: str
    reason: str = ""  # why it no longer matters


def finding_moves(
    before: tuple[Finding, ...], after: tuple[Finding, ...], changes: Changes, later_measures: Measures
) -> tuple[FindingMove, ...]:
    """How each finding moved, in the order of a review; ``later_measures`` are those that ``after`` was judged on."""
    earlier = {finding.subject: finding for finding in before}
    later = {finding.subject: finding for finding in after}
    return tuple(
        _move(subject, earlier.get(subject), later.get(subject), changes, later_measures)
        for subject in subjects_of(before, after)
    )


def subjects_of(*reviews: tuple[Finding, ...]) -> list[str]:
    """Every subject that one of the reviews raises, each once and where a review would have it."""
    order: list[str] = []
    for findings in reviews:
        place = 0
        for finding in findings:
            if finding.subject not in order:
                order.insert(place, finding.subject)
            place = order.index(finding.subject) + 1
    return order


def better_and_worse(moves: tuple[FindingMove, ...]) -> list[str]:
    """Sentences such as "Better: halving.", one for each kind of outcome that there was."""
    told = (
        ("Better", subjects(moves, "fixed")),
        ("Better, not yet done", subjects(moves, "better")),
        ("Worse", subjects(moves, "broke", "worse")),
    )
    return [f"{words}: {listed(names)}." for words, names in told if names] + no_longer_matters(moves)


def no_longer_matters(moves: tuple[FindingMove, ...]) -> list[str]:
    """The findings that vanished for lack of anything to judge, with why."""
    reasons = dict.fromkeys(move.reason for move in moves if move.outcome == "no longer matters")
    return [
        f"No longer matters, as {reason}: {listed([move.subject for move in moves if move.reason == reason])}."
        for reason in reasons
    ]


def subjects(moves: tuple[FindingMove, ...], *outcomes: Outcome) -> list[str]:
    """Subjects of the moves that ended so."""
    return [move.subject for move in moves if move.outcome in outcomes]


def _move(
    subject: str, before: Finding | None, after: Finding | None, changes: Changes, later_measures: Measures
) -> FindingMove:
    was: Level = before.level if before else "holds"
    now: Level = after.level if after else "holds"
    step = LEVELS.index(now) - LEVELS.index(was)
    outcome: Outcome
    reason = ""
    if step == 0:
        outcome = "holds" if now == "holds" else "open"
    elif not _moved(subject, changes):
        outcome = "on the edge"
    elif step < 0:
        outcome = "fixed" if now == "holds" else "better"
        reason = _why_no_longer(subject, later_measures) if now == "holds" else ""
        if reason:
            outcome = "no longer matters"
    else:
        outcome = "broke" if was == "holds" else "worse"
    texts = before.text if before else "", after.text if after else ""
    return FindingMove(subject, was, now, outcome, *texts, reason)


def _why_no_longer(subject: str, after: Measures) -> str:
    """Why a finding holds though what it asks for wasn't done: what it is judged on is gone. Empty when it was done."""
    greens = after.greens
    left = f"there is little green left ({percent(greens.area_share)})"
    if subject == "relief for the green":
        return left if greens.area_share < MUCH_GREEN and greens.relief_share < RELIEF_WATCH else ""
    if subject == "distance in the greens":
        return left if greens.area_share < MUCH_GREEN and not after.green_kinds.recedes else ""
    if subject == "evenness of greens":
        return left if greens.area_share < MATTERS and not greens.evenness <= EVEN_WATCH else ""
    if subject == "green strength":
        return left if greens.area_share < MATTERS and greens.median_chroma > CHROMA_WATCH else ""
    if subject == "green against its neighbours":
        return "no green of any size meets a colour of another hue" if after.neighbours.green is None else ""
    return ""


def _moved(subject: str, changes: Changes) -> bool:
    """Whether a figure behind a finding moved by more than a photograph could; any figure for one that isn't known."""
    figures = next((names for start, names in BEHIND.items() if subject.startswith(start)), None)
    return bool(changes.changed) if figures is None else changes.any_of(*figures)
