"""What a repaint or a pass fixed, what it broke and what is still open, by the findings of both pictures."""

from dataclasses import dataclass
from typing import Literal

from critique.advice.comparison import Changes
from critique.advice.finding import LEVELS, Finding, Level

Outcome = Literal["fixed", "better", "broke", "worse", "open", "holds", "on the edge"]

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


def finding_moves(before: tuple[Finding, ...], after: tuple[Finding, ...], changes: Changes) -> tuple[FindingMove, ...]:
    """How each finding moved, in the order of the later picture's."""
    earlier = {finding.subject: finding for finding in before}
    later = {finding.subject: finding for finding in after}
    return tuple(
        _move(subject, earlier.get(subject), later.get(subject), changes)
        for subject in dict.fromkeys([*later, *earlier])
    )


def subjects(moves: tuple[FindingMove, ...], *outcomes: Outcome) -> list[str]:
    """Subjects of the moves that ended so."""
    return [move.subject for move in moves if move.outcome in outcomes]


def _move(subject: str, before: Finding | None, after: Finding | None, changes: Changes) -> FindingMove:
    was: Level = before.level if before else "holds"
    now: Level = after.level if after else "holds"
    step = LEVELS.index(now) - LEVELS.index(was)
    outcome: Outcome
    if step == 0:
        outcome = "holds" if now == "holds" else "open"
    elif not _moved(subject, changes):
        outcome = "on the edge"
    elif step < 0:
        outcome = "fixed" if now == "holds" else "better"
    else:
        outcome = "broke" if was == "holds" else "worse"
    return FindingMove(subject, was, now, outcome, before.text if before else "", after.text if after else "")


def _moved(subject: str, changes: Changes) -> bool:
    """Whether a figure behind a finding moved by more than a photograph could; any figure for one that isn't known."""
    figures = next((names for start, names in BEHIND.items() if subject.startswith(start)), None)
    return bool(changes.changed) if figures is None else changes.any_of(*figures)
