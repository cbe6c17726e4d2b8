"""The page of a painting's passes: a strip of its states, what each did, and a small chart of every figure."""

import math
from dataclasses import dataclass
from typing import Any

from critique.measures.figure import Figure
from critique.measures.figures import compared_figures
from critique.pair.compare import Passes
from critique.pair.comparison_words import asks_for_a_grey
from critique.pair.finding_moves import subjects_of
from critique.pair.hold import MAPS_LONG_EDGE
from critique.pair.overlay import overlaid
from critique.report.commands import PLACE_IT, with_greys
from critique.report.comparison_page import beside_plate, level_said, measured_on
from critique.report.figures import figure_groups
from critique.report.page import title_of
from critique.report.plates.change import change_plates
from critique.report.plates.plate import Plate
from critique.report.templating import rendered
from critique.report.view_words import crops_told
from critique.words.figures import number

STRIP_LONG_EDGE = 560  # px of each state
MAP_LONG_EDGE = 480  # px of each map of change
WIDTH, HEIGHT, MARGIN = 236.0, 64.0, 9.0  # px of a chart


@dataclass(frozen=True, slots=True)
class Chart:
    """A figure over the passes: an SVG path, dots (x, y, moved), and a bar as tall as a photograph may move it."""

    label: str
    values: str  # of every state, in order
    path: str
    dots: tuple[tuple[float, float, bool], ...]
    reach: str
    alt: str


def passes_html(passes: Passes, again: str = "") -> str:
    """The page as one HTML document; ``again`` is the command that makes it."""
    names = tuple(title_of(state.picture) for state in passes.states)
    return rendered(
        "passes.html.j2",
        passes=passes,
        grey_command=_by_greys(passes, again),
        place_it=PLACE_IT,
        names=names,
        crops=crops_told(state.picture for state in passes.states),
        strip=passes_plates(passes),
        aim=beside_plate(passes.toward.plan.aim, STRIP_LONG_EDGE) if passes.toward is not None else None,
        steps=list(zip(names[1:], passes.texts, passes.lights, passes.steps, _maps(passes), strict=True)),
        groups=_charts(passes),
        table=_levels(passes),
        level_said=level_said,
        open_now=_open_now(passes),
        measured_on=measured_on(),
    )


def _by_greys(passes: Passes, again: str) -> str:
    """The command that balances the states by a grey, where the page asks for one; empty elsewhere."""
    if not again or not any(asks_for_a_grey(step.balance, step.unrelated) for step in passes.steps):
        return ""
    return with_greys(again, ["--grey"] * len(passes.states), [state.picture for state in passes.states])


def passes_plates(passes: Passes) -> tuple[Plate, ...]:
    """The states, in order."""
    return tuple(beside_plate(state.picture, STRIP_LONG_EDGE) for state in passes.states)


def _maps(passes: Passes) -> list[tuple[Plate, ...]]:
    """For each step the maps on which something changed; none where the drawing doesn't follow."""
    drawn: list[tuple[Plate, ...]] = []
    for step in passes.steps:
        kinds = {place.kind for place in step.maps.places} if step.maps is not None else set()
        if step.maps is None or not kinds:
            drawn.append(())
            continue
        both = overlaid(step.first, step.second, step.registration, MAPS_LONG_EDGE)
        plates = change_plates(both, step.maps, MAP_LONG_EDGE)
        drawn.append(tuple(plate for plate in plates if plate.name.removeprefix("change_of_") in kinds))
    return drawn


def _levels(passes: Passes) -> list[dict[str, Any]]:
    """Each finding's level in every state."""
    titles = subjects_of(*(state.findings for state in passes.states))
    found = [{finding.kind: finding.level for finding in state.findings} for state in passes.states]
    return [
        {"kind": kind, "subject": title, "levels": [levels.get(kind, "holds") for levels in found]}
        for kind, title in titles.items()
    ]


def _open_now(passes: Passes) -> list[tuple[str, str]]:
    """What is open in the last state, by the name that it has on this page: where it lies and what it is."""
    titles = subjects_of(*(state.findings for state in passes.states))
    return [(titles[one.kind], one.text) for one in passes.states[-1].findings if one.level != "holds"]


def _charts(passes: Passes) -> list[tuple[str, list[Chart]]]:
    named = {figure.name: figure for figure in compared_figures()}
    sides = [figure_groups(state.measures) for state in passes.states]
    charts = []
    for each in zip(*sides, strict=True):
        drawn = []
        for row in zip(*(group.rows for group in each), strict=True):
            figure = next((named[name] for name in row[0].entry.stands_on if name in named), None)
            texts = [state.text for state in row]
            chart = _chart(passes, figure, row[0].entry.label, texts) if figure is not None else None
            if chart is not None:
                drawn.append(chart)
        charts.append((each[0].title, drawn))
    return charts


def _chart(passes: Passes, figure: Figure, label: str, texts: list[str]) -> Chart | None:
    """None when no state has the figure."""
    values = [figure.of(state.measures) for state in passes.states]
    known = [value for value in values if math.isfinite(value)]
    if not known:
        return None
    spread = passes.steps[0].changes[figure.name].spread if passes.steps else math.nan
    reach = _in_units(figure, spread, sum(known) / len(known)) if math.isfinite(spread) else 0.0
    low, high = min(known), max(known)
    span = max(high - low, 2.2 * reach, 1e-9)  # a figure that holds still lies still
    bottom = (low + high) / 2 - span / 2

    def x(index: int) -> float:
        return 26 + (WIDTH - 34) * (index / max(len(values) - 1, 1))

    def y(value: float) -> float:
        return MARGIN + (HEIGHT - 2 * MARGIN) * (1 - (value - bottom) / span)

    moved = [True, *(step.changes[figure.name].changed for step in passes.steps)]
    places = [
        (round(x(index), 1), round(y(value), 1), moved[index])
        for index, value in enumerate(values)
        if math.isfinite(value)
    ]
    path = "M" + "L".join(f"{left} {top}" for left, top, _ in places)
    half = (HEIGHT - 2 * MARGIN) * reach / span / 2
    middle = HEIGHT / 2
    told = ", ".join(number(value, 2) for value in values)
    alt = f"{label} over the passes: {told}. A photograph may move it by {number(reach, 2)}."
    return Chart(label, " → ".join(texts), path, tuple(places), f"M6 {middle - half:.1f}V{middle + half:.1f}", alt)


def _in_units(figure: Figure, spread: float, level: float) -> float:
    return math.expm1(spread) * max(abs(level), 1.0) if figure.scale == "ratio" else spread
