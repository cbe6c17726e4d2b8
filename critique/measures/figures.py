"""Every figure there is, in the order of the page."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any

from critique.measures import (
    bare_sky,
    cast,
    closed_darks,
    crispness,
    detail,
    division,
    edges,
    even_foreground,
    eyepath,
    far_warmth,
    green_kinds,
    greens,
    harmony,
    land_distance,
    like_row,
    loudest,
    masses,
    middle_thing,
    neighbours,
    outlines,
    pale_rims,
    parts,
    ruled,
    symmetry,
    two_lights,
    values,
    variety,
    water_level,
)
from critique.measures.figure import Figure, Words
from critique.measures.measure import Measures
from critique.plain import plain

# The parts of the page's table, each with the measures whose figures stand in it. A measure is added here.
PARTS: dict[str, tuple[tuple[Figure | Words, ...], ...]] = {
    "Greens": (greens.FIGURES, green_kinds.FIGURES),
    "Parts": (parts.FIGURES, land_distance.FIGURES, far_warmth.FIGURES),
    "Values": (values.FIGURES, masses.FIGURES, closed_darks.FIGURES, bare_sky.FIGURES, neighbours.FIGURES),
    "Division": (division.FIGURES, symmetry.FIGURES, water_level.FIGURES),
    "Touch": (
        edges.FIGURES,
        crispness.FIGURES,
        ruled.FIGURES,
        outlines.FIGURES,
        pale_rims.FIGURES,
        detail.FIGURES,
        even_foreground.FIGURES,
    ),
    "Harmony": (harmony.FIGURES, loudest.FIGURES),
    "Variety": (variety.FIGURES,),
    "Cast": (cast.FIGURES,),
    "Eye path": (eyepath.FIGURES, two_lights.FIGURES, middle_thing.FIGURES, like_row.FIGURES),
}
_SHIPPED = tuple((part, entry) for part, tables in PARTS.items() for table in tables for entry in table)
_PART_OF = {entry.page: part for part, entry in reversed(_SHIPPED)}

# A task sees what was added around it, and no other does.
_added: ContextVar[tuple[Figure, ...]] = ContextVar("added figures", default=())


@contextmanager
def with_figure(figure: Figure) -> Iterator[Figure]:
    """Measure one figure more while the block runs: it is in the norms, the record and on every page.

    It counts in this thread only. A portfolio that is reviewed by several processes doesn't know of it.
    """
    if any(figure.name == other.name for other in all_figures()):
        raise ValueError(f"there is a figure {figure.name!r} already")
    token = _added.set((*_added.get(), figure))
    try:
        yield figure
    finally:
        _added.reset(token)


def all_figures() -> tuple[Figure, ...]:
    """Every figure, in the order of the page."""
    return (*(entry for _, entry in _SHIPPED if isinstance(entry, Figure)), *_added.get())


def figure_named(name: str) -> Figure:
    """The figure of that path in the record."""
    return next(figure for figure in all_figures() if figure.name == name)


def compared_figures() -> tuple[Figure, ...]:
    """Those by which two pictures are compared."""
    return tuple(figure for figure in all_figures() if figure.compared)


def page_parts() -> dict[str, tuple[Figure | Words, ...]]:
    """The rows of the page's table by part, in order: figures that have a label, and rows in words."""
    rows: dict[str, list[Figure | Words]] = {part: [] for part in PARTS}
    added = [(_PART_OF.get(figure.page, figure.page.replace("_", " ").capitalize()), figure) for figure in _added.get()]
    for part, entry in (*_SHIPPED, *added):
        if entry.label:
            rows.setdefault(part, []).append(entry)
    return {part: tuple(entries) for part, entries in rows.items()}


def measures_record(measures: Measures) -> dict[str, Any]:
    """What was measured for the record, with every figure at the path that is its name."""
    record: dict[str, Any] = plain(measures)
    for figure in all_figures():
        *folders, last = figure.name.split(".")
        found: Any = record
        for folder in folders:
            found = found[int(folder)] if isinstance(found, list) else found.setdefault(folder, {})
        if isinstance(found, dict) and last not in found:
            found[last] = plain(figure.value(measures))
    return record
