"""Every figure of two reviews as rows of one table: both texts, the change, and what a photograph may do."""

import math
from dataclasses import dataclass

from critique.measures.figure import Figure, Words
from critique.measures.figures import figure_named
from critique.measures.measure import Measures
from critique.pair.comparison import SURENESS, Changes, FigureChange
from critique.report.figures import figure_groups
from critique.words.figures import number

STATUS_WORDS = {
    "no change": "no change",
    "more": "more",
    "less": "less",
    "other": "turned",
    "not compared": "not compared",
}


@dataclass(frozen=True, slots=True)
class ComparedRow:
    """A figure of both as text, whether it changed, how far a photograph may move it, and both brought together."""

    entry: Figure | Words
    before: str
    after: str
    status: str
    allowed: str
    together_text: str  # empty without a correction

    @property
    def changed(self) -> bool:
        """Whether it moved by more than a photograph could move it."""
        return self.status not in ("no change", "not compared", "in words only")


@dataclass(frozen=True, slots=True)
class ComparedGroup:
    """The rows of one question."""

    title: str
    rows: tuple[ComparedRow, ...]


def compared_groups(
    before: Measures, after: Measures, together: tuple[Measures, Measures] | None, changes: Changes
) -> tuple[ComparedGroup, ...]:
    """Every row of the review's table for both pictures."""
    known = {change.figure: change for change in changes.figures}
    sides = [figure_groups(measures) for measures in (before, after, *(together or ()))]
    groups = []
    for each in zip(*sides, strict=True):
        rows = []
        for row in zip(*(group.rows for group in each), strict=True):
            behind = [known[name] for name in row[0].entry.stands_on if name in known]
            unsure = [
                name for name in row[0].entry.stands_on if name in SURENESS and known[name].status == "not compared"
            ]
            together_text = f"{row[2].text} → {row[3].text}" if together is not None and not unsure else ""
            rows.append(
                ComparedRow(
                    row[0].entry,
                    "unsure" if unsure else row[0].text,
                    "unsure" if unsure else row[1].text,
                    _status(behind, in_words=row[0].entry.in_words),
                    _allowed(row[0].entry, behind),
                    together_text,
                )
            )
        groups.append(ComparedGroup(each[0].title, tuple(rows)))
    return tuple(groups)


def _status(behind: list[FigureChange], *, in_words: bool) -> str:
    """The status of the first figure that changed; else whether there was something to compare.

    Where several stand in a row and went different ways, or words stand for them, it only moved.
    """
    if not behind:
        return "in words only"
    moved = next((change for change in behind if change.changed), None)
    if moved is not None:
        if in_words or len({change.status for change in behind if change.changed}) > 1:
            return "moved"
        if moved.figure == "division.height":
            return "lower" if moved.status == "more" else "higher"
        return STATUS_WORDS[moved.status] if moved is behind[0] else "moved"
    return STATUS_WORDS[behind[0].status]


def _allowed(entry: Figure | Words, behind: list[FigureChange]) -> str:
    """How far a photograph may move the figure, in its own unit; empty where nobody knows."""
    if not behind or entry.in_words or not math.isfinite(behind[0].spread):
        return ""
    spread, unit = behind[0].spread, figure_named(behind[0].figure).unit
    if behind[0].scale == "ratio":
        return f"± {math.expm1(spread) * 100:.0f} % of it"
    if behind[0].scale == "angle":
        return f"± {spread:.0f}°"
    if unit == "share":
        return f"± {number(100 * spread, 0 if spread >= 0.03 else 1)} points"
    if unit == "L*":  # read as a value on the page
        return f"± {number(spread / 10)}"
    return f"± {number(spread, 2 if spread < 0.1 else 1)}"
