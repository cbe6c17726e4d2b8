"""The columns of portfolio.csv and portfolio.json, each with what it means."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from critique.portfolio.ledger import File
from critique.portfolio.ranking import Standing

FIGURES = {
    "greens.area_share": "yellow-green, share of the picture's area, 0–1",
    "greens.chroma_share": "yellow-green, share of all the chroma, 0–1",
    "greens.beyond_leaf_share": "green beyond the leaf limit, share of the area, 0–1",
    "greens.median_chroma": "middle chroma C*ab of the yellow-green; empty without any",
    "greens.evenness": "share of the green within ΔE00 5 of its commonest colour, 0–1; empty without any",
    "values.median": "middle value, 0 black to 10 white",
    "values.range": "values from the 5th to the 95th percentile",
    "values.separation_3": "how far three masses carry the values, 0–1",
    "division.height": "height of the dividing line from the top, 0–1, whether or not it counts as one",
    "division.strength": "strength of that line, 0–1",
    "eyepath.strongest_pull": "strongest pull at an edge, 1 is as strong as the focal place",
    "harmony.warm_share": "share of the chroma that is warm, 0–1",
    "variety.effective_hues": "effective number of hues",
    "variety.colourfulness": "colourfulness by Hasler and Süsstrunk (2003)",
    "cast.chroma": "chroma of the mean colour: how far the whole leans",
}


@dataclass(frozen=True, slots=True)
class Column:
    """A column's name and what it holds."""

    name: str
    meaning: str


FIRST = (
    Column("rank", "1 is the readiest for a show: fewest to rework, then fewest to watch, then least unusual"),
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
LAST = (
    *(Column(name, meaning) for name, meaning in FIGURES.items()),
    Column("content", "SHA-256 of the file, by which the ledger knows it"),
)
LEVEL_MEANING = "level of this finding; empty when it is not made or does not matter"


def columns_of(subjects: Mapping[str, str]) -> tuple[Column, ...]:
    """Every column, with a level for each kind of finding; ``subjects`` are their titles by id."""
    return (*FIRST, *(Column(f"level: {title}", LEVEL_MEANING) for title in subjects.values()), *LAST)


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
        **{name: row["figures"][name] for name in FIGURES},
        "content": file.content,
    }
