"""What a repaint or a pass fixed, what it broke and what is still open, by the findings of both pictures."""

from dataclasses import dataclass
from math import isclose
from typing import Literal

from critique.advice.finding import LEVELS, Finding, Level
from critique.advice.kind import Kind
from critique.advice.kind_order import in_order
from critique.advice.kinds import kind_of
from critique.advice.standing_still import level_reached, moved_otherwise
from critique.measures.figures import figure_named
from critique.measures.measure import Measures
from critique.pair.comparison import Changes, FigureChange
from critique.words.aloud import sentence
from critique.words.lists import listed

Outcome = Literal["fixed", "better", "broke", "worse", "open", "holds", "as it was", "on the edge", "no longer matters"]
# How outcomes are called, in the verdict, the table and the passes alike. "Gained: green area" would read as more green.
OUTCOME_WORDS: dict[Outcome, str] = {
    "fixed": "better",
    "better": "better, not yet done",
    "broke": "worse",
    "worse": "worse",
    "open": "still open",
    "holds": "",
    "as it was": "as it was",
    "on the edge": "on the edge",
    "no longer matters": "no longer matters",
}


@dataclass(frozen=True, slots=True)
class FindingMove:
    """One finding in both pictures. A finding that one of them doesn't have counts as ``holds`` there."""

    kind: str
    subject: str
    before: Level
    after: Level
    outcome: Outcome
    text_before: str
    text_after: str
    reason: str = ""  # why it no longer matters
    otherwise: str = ""  # by what else than its own figure it stands better or worse

    @property
    def told(self) -> str:
        """What is said of it beside its outcome: what holds of the later picture, or else what the earlier one had."""
        if self.reason:
            return sentence(self.reason)
        if self.outcome == "as it was":
            return " ".join(["What it is judged by didn't move; what lies around it did.", self.text_after]).strip()
        if not self.text_after:
            return f"Found in the original alone: {self.text_before}"
        return f"{sentence(self.otherwise)} {self.text_after}" if self.otherwise else self.text_after

    @property
    def named(self) -> str:
        """What it is called in a verdict, with what of it moved where that isn't what its name says."""
        return f"{self.subject} ({self.otherwise})" if self.otherwise else self.subject


def finding_moves(
    before: tuple[Finding, ...],
    after: tuple[Finding, ...],
    changes: Changes,
    measures: tuple[Measures, Measures],
    *,
    unchanged: bool = False,
    repainted: float = 1.0,
) -> tuple[FindingMove, ...]:
    """How each finding moved, in the order of a review; ``measures`` are those that both were judged on.

    ``unchanged`` says that nothing of the painting changed: then a level that moved is the photograph's. ``repainted`` is
    the part of the picture that surely changed, 1 where that isn't known.
    """
    earlier = {finding.kind: finding for finding in before}
    later = {finding.kind: finding for finding in after}
    return tuple(
        _move(earlier.get(kind), later.get(kind), changes, measures, unchanged, 0.0 if unchanged else repainted)
        for kind in in_order([*earlier, *later])
    )


def subjects_of(*reviews: tuple[Finding, ...]) -> dict[str, str]:
    """What one of the reviews raises, each kind once and in the order of a review: names by id.

    By its virtue where it holds in all of them, by its fault where it is open in one: the name that a sentence on it has.
    """
    raised = {finding.kind: finding for findings in reviews for finding in findings}
    faults = {finding.kind for findings in reviews for finding in findings if finding.level != "holds"}
    return {kind: kind_of(raised[kind]).called("watch" if kind in faults else "holds") for kind in in_order(raised)}


def better_and_worse(moves: tuple[FindingMove, ...]) -> list[str]:
    """Sentences such as "Better: halving.", one for each kind of outcome that there was."""
    told = (
        ("Better", _named(moves, "fixed")),
        ("Better, not yet done", _named(moves, "better")),
        ("Worse", _named(tuple(sorted(moves, key=_gravest_first)), "broke", "worse")),
    )
    return [f"{words}: {listed(names)}." for words, names in told if names] + no_longer_matters(moves)


def _named(moves: tuple[FindingMove, ...], *outcomes: Outcome) -> list[str]:
    """The moves that ended so, as a verdict names them."""
    return [move.named for move in moves if move.outcome in outcomes]


def any_better_or_worse(moves: tuple[FindingMove, ...]) -> bool:
    """Whether ``better_and_worse`` has anything to tell of them."""
    return bool(subjects(moves, "fixed", "better", "broke", "worse", "no longer matters"))


def _gravest_first(move: FindingMove) -> tuple[int, int]:
    """What is to be reworked first, and of equals what is too loud."""
    return -LEVELS.index(move.after), TOO_LOUD.index(move.kind) if move.kind in TOO_LOUD[:2] else len(TOO_LOUD)


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


TWICE = 2.0  # times as far beyond the limit as it was, or half: then a fault grew, or shrank, whatever its level
WIDELY = 0.05  # of the picture: so much repainted may have moved what no figure tells of both; less may not
TOO_LOUD = ("loudest_colour", "edge_pull", "green_strength")  # held to what landscapes have, and leaves


def beyond_landscapes(moves: tuple[FindingMove, ...]) -> bool:
    """Whether the later picture is louder somewhere than landscapes are, or than its own focal place, and wasn't."""
    return any(move.kind in TOO_LOUD and move.outcome in ("broke", "worse") for move in moves)


def still_open(moves: tuple[FindingMove, ...]) -> list[str]:
    """Subjects that were open before and are."""
    return [
        move.subject
        for move in moves
        if move.outcome == "open"
        or (move.outcome in ("as it was", "on the edge") and "holds" not in (move.before, move.after))
    ]


def on_the_edge(moves: tuple[FindingMove, ...]) -> list[str]:
    """Subjects that are open in the later one alone, by so little that another photograph could decide.

    Those that were open in the earlier one alone ask for nothing now: the table of findings has them.
    """
    return [
        move.subject
        for move in moves
        if move.outcome == "on the edge" and move.before == "holds" and move.after != "holds"
    ]


def open_beside_others(moves: tuple[FindingMove, ...]) -> list[str]:
    """A sentence on what is open in the later one alone, and as it was: what lies around it changed. None for nothing."""
    named = [move.subject for move in moves if move.outcome == "as it was" and move.before == "holds"]
    return [f"Open now, though as it was, by what changed around it: {listed(named)}."] if named else []


def _moved(kind: Kind, changes: Changes, repainted: float) -> bool:
    """Whether what a kind of finding stands on moved; where none of that can be compared, whether much was repainted."""
    return changes.any_of(*kind.figures) if changes.knows(*kind.figures) else repainted >= WIDELY


def _moved_otherwise(kind: Kind, finding: Finding, changes: Changes, *, better: bool) -> bool:
    """Whether the one figure that a finding stands on moved the other way: what else it is held to made its level.

    A foreground is no longer named as even in a picture whose values were pressed together, and is more even than it was.
    """
    if kind.limits is None or len(kind.figures) != 1 or not changes.any_of(*kind.figures):
        return False
    change = changes[kind.figures[0]]
    if not any(isclose(finding.figure, end, rel_tol=1e-3) for end in (change.before, change.after)):
        return False  # its limits are of another scale
    return ((change.status == "less") == (kind.limits.direction == "above")) != better


def _what_is_around_moved(kind: Kind, changes: Changes) -> bool:
    """Whether the one figure that a finding stands on is as it was, on its side of the limits, and its measure isn't.

    A blue that is as strong as ever is no longer the loudest colour among greens that were made stronger.
    """
    if kind.limits is None or len(kind.figures) != 1 or not changes.knows(*kind.figures):
        return False
    change = changes[kind.figures[0]]
    was, now = (kind.by_limits(end) for end in change.ends)
    measure = figure_named(change.figure).group
    return was == now and not change.changed and any(other.changed for other in changes.group(measure))


def _grown(kind: Kind, before: Finding | None, after: Finding | None, changes: Changes) -> FigureChange | None:
    """How much more of the picture a fault takes at the same level, or how much less; None where not much of either.

    A sky that a pass left bare was called "still open", since a cloud in it had been white before.
    """
    if before is None or after is None or kind.limits is None or kind.limits.watch is None or len(kind.figures) != 1:
        return None
    if figure_named(kind.figures[0]).unit != "share" or not changes.any_of(*kind.figures):
        return None
    change = changes[kind.figures[0]]
    was, now = (end - kind.limits.watch for end in (change.before, change.after))
    return change if now >= TWICE * was or was >= TWICE * now else None


def _move(
    before: Finding | None,
    after: Finding | None,
    changes: Changes,
    measures: tuple[Measures, Measures],
    unchanged: bool,
    repainted: float,
) -> FindingMove:
    finding = after or before
    assert finding is not None
    kind = kind_of(finding)
    was: Level = before.level if before else "holds"
    now = level_reached(before, after)
    step = LEVELS.index(now) - LEVELS.index(was)
    outcome: Outcome
    reason = ""
    grown = _grown(kind, before, after, changes) if step == 0 and now != "holds" else None
    if grown is not None:
        outcome = "worse" if grown.change > 0 else "better"
    elif step == 0:
        outcome = "holds" if now == "holds" else "open"
    elif not _moved(kind, changes, repainted) and (unchanged or now != "rework"):
        outcome = "as it was" if not unchanged and _what_is_around_moved(kind, changes) else "on the edge"
    elif _moved_otherwise(kind, finding, changes, better=step < 0):
        outcome = "on the edge"
    elif step < 0:
        outcome = "fixed" if now == "holds" else "better"
        reason = kind.gone(measures[1]) if now == "holds" else ""
        if reason:
            outcome = "no longer matters"
    else:
        outcome = "broke" if was == "holds" else "worse"
    texts = before.text if before else "", after.text if after else ""
    name = kind.called("holds" if was == now == "holds" else "watch")
    moved = outcome in ("fixed", "better", "broke", "worse")
    otherwise = moved_otherwise(before, after, *measures) if moved and grown is None else ""
    if grown is not None:
        shown = [figure_named(grown.figure).show(end) for end in (grown.before, grown.after)]
        otherwise = f"{shown[0]} of the picture, now {shown[1]}"
    return FindingMove(kind.id, name, was, now, outcome, *texts, reason, otherwise)
