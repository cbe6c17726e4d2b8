"""All figures of a review as rows of a table, each with what it means."""

from dataclasses import dataclass

from critique.measures.figure import Figure, Words
from critique.measures.figures import page_parts
from critique.measures.measure import Measures


@dataclass(frozen=True, slots=True)
class Row:
    """What was measured as text, beside its declaration: label, meaning, definition, source."""

    entry: Figure | Words
    text: str


@dataclass(frozen=True, slots=True)
class Group:
    """The rows of one question."""

    title: str
    rows: tuple[Row, ...]


def figure_groups(measures: Measures) -> tuple[Group, ...]:
    """Every figure of the review, grouped as the page is."""
    return tuple(
        Group(part, tuple(Row(entry, entry.on_paper(measures)) for entry in entries))
        for part, entries in page_parts().items()
    )
