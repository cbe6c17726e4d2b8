"""A mixing chart of just a plan's paints, with the plan's mixtures marked in its cells."""

from collections.abc import Sequence
from dataclasses import dataclass

from critique.paints.box import PaintBox
from critique.paints.chart import MixingChart, Pair, mixing_chart
from critique.perception.difference import delta_e_2000
from critique.report.plan_words import short_name, short_parts
from critique.tasks.passages import Passage

OF_A_PAIR = 0.9  # of a mixture's colour that two paints give for it to stand in their row
NEAR_A_CELL = 12.0  # ΔE00 within which a cell is near enough to be marked


@dataclass(frozen=True, slots=True)
class Cell:
    """A step of a pair, alone and with white; the numbers of passages whose mixtures lie nearest to either."""

    first: int
    second: int
    white: int
    srgb: str
    tint: str
    marks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A pair of paints in steps."""

    title: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Mixed:
    """A mixture of the plan as a cell of its own: its passages, its colour and its parts."""

    numbers: str
    srgb: str
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlanChart:
    """The pairs, and every mixture of the plan in its parts."""

    rows: tuple[Row, ...]
    mixed: tuple[Mixed, ...]
    chart: MixingChart


def plan_chart(box: PaintBox, passages: Sequence[Passage]) -> PlanChart:
    """Chart a plan's box. A mixture that two paints and white give stands in their row; all stand below in parts."""
    chart = mixing_chart([paint.name for paint in box.paints], own=box)
    own = [one for one in passages if one.same_as is None]
    marks: dict[tuple[int, int], list[str]] = {}
    for one in own:
        for row, pair in enumerate(chart.pairs):
            if _within(one, pair, box):
                step, away = _nearest(one, pair)
                if away <= NEAR_A_CELL:
                    marks.setdefault((row, step), []).append(str(one.number))
    rows = tuple(
        Row(
            f"{short_name(pair.first)} and {short_name(pair.second)}",
            tuple(
                Cell(
                    step.first,
                    step.second,
                    tint.white // max(tint.first + tint.second, 1),
                    step.srgb,
                    tint.srgb,
                    tuple(marks.get((row, column), ())),
                )
                for column, (step, tint) in enumerate(zip(pair.steps, pair.tints, strict=True))
            ),
        )
        for row, pair in enumerate(chart.pairs)
    )
    return PlanChart(rows, tuple(_mixed(one, passages) for one in own), chart)


def _within(passage: Passage, pair: Pair, box: PaintBox) -> bool:
    """Whether a mixture is of these two and white, but for a touch."""
    coloured = {part.paint: part.share for part in passage.recipe.parts if part.paint != box.white.name}
    held = coloured.get(pair.first, 0.0) + coloured.get(pair.second, 0.0)
    return pair.first in coloured and pair.second in coloured and held >= OF_A_PAIR * sum(coloured.values())


def _nearest(passage: Passage, pair: Pair) -> tuple[int, float]:
    away = [
        min(float(delta_e_2000(passage.recipe.lab, step.lab)), float(delta_e_2000(passage.recipe.lab, tint.lab)))
        for step, tint in zip(pair.steps, pair.tints, strict=True)
    ]
    best = min(range(len(away)), key=away.__getitem__)
    return best, away[best]


def _mixed(passage: Passage, passages: Sequence[Passage]) -> Mixed:
    sharing = [passage.number, *(one.number for one in passages if one.same_as == passage.number)]
    return Mixed(", ".join(map(str, sharing)), passage.recipe.srgb, short_parts(passage.recipe))
