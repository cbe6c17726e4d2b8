"""The columns of portfolio.csv and portfolio.json, each with what it means."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from critique.measures.figure import Figure
from critique.measures.figures import all_figures
from critique.portfolio.ledger import File
from critique.portfolio.ranking import Standing


@dataclass(frozen=True, slots=True)
class Column:
    """A column's name and what it holds."""

    name: str
    meaning: str


FIRST = (
    Column("rank", "1 is the readiest for a show: fewest findings to rework, then fewest to watch, equals by name"),
    Column("path", "the picture's file, below the folder that was reviewed"),
    Column("review", "its page, beside this file"),
    Column("level", "the gravest of its findings: holds, watch or rework"),
    Column("rework", "number of findings that need rework"),
    Column("watch", "number of findings to watch"),
    Column("holds", "number of findings that hold"),
    Column(
        "unusual", "how far its figures lie outside the middle half of the reference landscapes, 0–25, in percentiles"
    ),
    Column("width", "of the file, in px"),
    Column("height", "of the file, in px"),
    Column("key", "high, middle or low"),
    Column("colours", "its main colours as sRGB, largest first"),
)
LAST = (Column("content", "SHA-256 of the file (and of what is remembered of it), by which the ledger knows it"),)
LEVEL_MEANING = "level of this finding; empty when it is not made or does not matter"


def columns_of(subjects: Mapping[str, str]) -> tuple[Column, ...]:
    """Every column, with a level for each kind of finding; ``subjects`` are their titles by id."""
    levels = (Column(f"level: {title}", LEVEL_MEANING) for title in subjects.values())
    return (*FIRST, *levels, *(Column(figure.name, figure.column) for figure in figures_in_table()), *LAST)


def figures_in_table() -> tuple[Figure, ...]:
    """The figures that have a column."""
    return tuple(figure for figure in all_figures() if figure.column)


def record_of(
    rank: int,
    file: File,
    path: str,
    review: str,
    standing: Standing,
    row: Mapping[str, Any],
    subjects: Mapping[str, str],
) -> dict[str, Any]:
    """One picture as its columns, in their order; what a picture has not is None."""
    return {
        "rank": rank,
        "path": path,
        "review": review,
        "level": standing.level,
        "rework": standing.rework,
        "watch": standing.watch,
        "holds": standing.holds,
        "unusual": standing.unusual,
        "width": row["width"],
        "height": row["height"],
        "key": row["key"],
        "colours": [family["srgb"] for family in row["families"]],
        **{f"level: {title}": standing.levels.get(kind) for kind, title in subjects.items()},
        **{figure.name: row["figures"].get(figure.name) for figure in figures_in_table()},
        "content": file.content,
    }
