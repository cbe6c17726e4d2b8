"""Every figure of two reviews as rows of one table: both texts, the change, and what a photograph may do."""

import math
from dataclasses import dataclass

from critique.measures.measure import Measures
from critique.pair.comparison import Changes, FigureChange
from critique.report import glossary, glossary_colour
from critique.report.figures import figure_groups
from critique.report.glossary import Entry
from critique.words.figures import number

STATUS_WORDS = {
    "no change": "no change",
    "more": "more",
    "less": "less",
    "other": "turned",
    "not compared": "not compared",
}
# The figures behind each row, by the row's name in the glossary: where one moved, the row did.
_SELVES = (
    (glossary.GREENS, "greens."),
    (glossary.FAMILY_GREENS, "greens.family."),
    (glossary.VALUES, "values."),
    (glossary.DIVISION, "division."),
    (glossary_colour.HARMONY, "harmony."),
    (glossary_colour.VARIETY, "variety."),
    (glossary_colour.CAST, "cast."),
    (glossary_colour.EYE_PATH, "eyepath."),
)
_OTHERS: dict[str, tuple[str, ...]] = {
    "values.key": ("values.percentiles.p50", "values.range"),
    "values.percentiles": ("values.percentiles.p50", "values.percentiles.p5", "values.percentiles.p95"),
    "values.separation_2": ("values.plans.0.separation",),
    "values.separation_3": ("values.plans.1.separation",),
    "values.separation_5": ("values.plans.2.separation",),
    "division.lights": ("division.lights.light_share",),
    "cast.mean": ("cast.mean.chroma", "cast.mean.a", "cast.mean.b"),
    "cast.lightest": ("cast.lightest.chroma",),
    "cast.most_neutral": ("cast.most_neutral.chroma",),
    "cast.likely": ("cast.most_neutral.chroma", "cast.mean.chroma"),
    "eyepath.focus": ("eyepath.focus.x", "eyepath.focus.y"),
    "eyepath.strongest_pull": ("eyepath.strongest_pull.strength",),
    "eyepath.lines": ("eyepath.lines_toward", "eyepath.lines_out"),
}

_WORDS = (glossary.VALUES["key"], glossary_colour.CAST["likely"])  # rows in words, which have no reach of their own


@dataclass(frozen=True, slots=True)
class ComparedRow:
    """A figure of both as text, whether it changed, how far a photograph may move it, and both brought together."""

    entry: Entry
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
            behind = [known[name] for name in behind_row(row[0].entry) if name in known]
            together_text = f"{row[2].text} → {row[3].text}" if together is not None else ""
            rows.append(
                ComparedRow(
                    row[0].entry,
                    row[0].text,
                    row[1].text,
                    _status(behind),
                    _allowed(row[0].entry, behind, row[0].text),
                    together_text,
                )
            )
        groups.append(ComparedGroup(each[0].title, tuple(rows)))
    return tuple(groups)


def behind_row(entry: Entry) -> tuple[str, ...]:
    """Paths in the record of the figures behind a row."""
    for entries, prefix in _SELVES:
        for name, candidate in entries.items():
            if candidate is entry:
                return _OTHERS.get(prefix + name, (prefix + name,))
    return ()


def _status(behind: list[FigureChange]) -> str:
    """The status of the first figure that changed; else whether there was something to compare."""
    if not behind:
        return "in words only"
    moved = next((change for change in behind if change.changed), None)
    if moved is not None:
        if moved.figure == "division.height":
            return "lower" if moved.status == "more" else "higher"
        return STATUS_WORDS[moved.status] if moved is behind[0] else "moved"
    return STATUS_WORDS[behind[0].status]


def _allowed(entry: Entry, behind: list[FigureChange], text: str) -> str:
    """How far a photograph may move the figure, in its own unit."""
    if not behind or entry in _WORDS:
        return ""
    change = behind[0]
    if change.scale == "ratio":
        return f"± {math.expm1(change.spread) * 100:.0f} % of it"
    if change.scale == "angle":
        return f"± {change.spread:.0f}°"
    if text.rstrip().endswith("%") or "%" in text:
        return f"± {number(100 * change.spread, 0 if change.spread >= 0.03 else 1)} points"
    if change.figure == "greens.median_lightness":
        return f"± {number(change.spread / 10)}"
    return f"± {number(change.spread, 2 if change.spread < 0.1 else 1)}"
