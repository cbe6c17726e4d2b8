"""The nearest match of each colour in another picture: the families of two with what goes from the one to the other."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from critique.measures.families import Family
from critique.pair.transport import Transport
from critique.report.plates.look import INK, SCREEN_DOTS, drawing_area, drawn, sheet
from critique.report.plates.plate import Plate
from critique.words.figures import percent

SIZE = (1120 * SCREEN_DOTS, 520 * SCREEN_DOTS)  # px
BAR = 0.055  # of the width
TEXT = 0.25  # of the width that the names take on either side
GAP = 0.016  # of the height between two families
TYPE = 14.5 * SCREEN_DOTS  # px
LEAST_TOLD = 0.02  # share of the picture below which a family goes without its name
RIBBON = 0.45  # how solid a ribbon is


def flow_plate(first: tuple[Family, ...], second: tuple[Family, ...], transport: Transport) -> Plate:
    """Families of the first on the left, of the second on the right, joined by what became what."""
    left, right = _by_lightness(first), _by_lightness(second)
    figure = sheet(*SIZE)
    axes = drawing_area(figure, 0, 0.01, 1, 0.98)
    axes.set_xlim(0, 1)
    axes.set_ylim(1, 0)
    tops = [_tops(first, left), _tops(second, right)]
    _draw_ribbons(axes, first, left, right, tops, transport)
    for families, order, top, x, side in (
        (first, left, tops[0], TEXT, "right"),
        (second, right, tops[1], 1 - TEXT - BAR, "left"),
    ):
        _draw_bars(axes, families, order, top, x, side)
    image = drawn(figure)
    return Plate("families", image, _alt(first, second, transport), CAPTION, photographic=False)


CAPTION = (
    "Nearest match by colour and area, light to dark: the original's colours on the left, the repaint's on the right, "
    "each as tall as its share. The ribbons are the cheapest way to repaint the one into the other (optimal transport "
    "on ΔE00)."
)


@dataclass(frozen=True, slots=True)
class Match:
    """A colour that a family of the first picture is matched with: its share of the picture (0–1) and the ΔE00."""

    name: str
    srgb: str
    share: float
    difference: float


def matched(
    first: tuple[Family, ...], second: tuple[Family, ...], transport: Transport
) -> tuple[tuple[Family, tuple[Match, ...]], ...]:
    """Each family of the first, largest first, with what most of it is matched with."""
    rows = []
    for index, family in enumerate(first):
        flows = transport.became(index)
        told = [flow for flow in flows if flow.share >= 0.2 * family.share] or list(flows[:1])
        found = ((second[flow.second], flow) for flow in told)
        rows.append((family, tuple(Match(each.name, each.srgb, flow.share, flow.difference) for each, flow in found)))
    return tuple(rows)


def _by_lightness(families: tuple[Family, ...]) -> list[int]:
    return sorted(range(len(families)), key=lambda index: -families[index].lab[0])


def _tops(families: tuple[Family, ...], order: list[int]) -> dict[int, tuple[float, float]]:
    """Top and bottom of each family's bar, 0–1 down the sheet."""
    room = 1 - GAP * (len(order) - 1)
    shares = np.array([families[index].share for index in order])
    edges = np.concatenate([[0.0], np.cumsum(shares / shares.sum())]) * room
    return {
        index: (top + GAP * place, bottom + GAP * place)
        for place, (index, (top, bottom)) in enumerate(zip(order, pairwise(edges), strict=True))
    }


def _draw_ribbons(
    axes: Any,
    first: tuple[Family, ...],
    left: list[int],
    right: list[int],
    tops: list[dict[int, tuple[float, float]]],
    transport: Transport,
) -> None:
    room = [1 - GAP * (len(order) - 1) for order in (left, right)]
    start = {index: tops[0][index][0] for index in left}
    end = {index: tops[1][index][0] for index in right}
    across = np.linspace(0, 1, 60)
    bend = across * across * (3 - 2 * across)
    x = TEXT + BAR + across * (1 - 2 * TEXT - 2 * BAR)
    flows = sorted(transport.flows, key=lambda flow: (left.index(flow.first), right.index(flow.second)))
    for flow in flows:
        height = [flow.share * each for each in room]
        upper = start[flow.first] + (end[flow.second] - start[flow.first]) * bend
        lower = upper + height[0] + (height[1] - height[0]) * bend
        axes.fill_between(x, upper, lower, color=first[flow.first].srgb, alpha=RIBBON, linewidth=0)
        start[flow.first] += height[0]
        end[flow.second] += height[1]


def _draw_bars(
    axes: Any, families: tuple[Family, ...], order: list[int], tops: dict[int, tuple[float, float]], x: float, side: str
) -> None:
    from matplotlib.patches import Rectangle

    last = -1.0
    for index in order:
        family, (top, bottom) = families[index], tops[index]
        axes.add_artist(Rectangle((x, top), BAR, bottom - top, facecolor=family.srgb, edgecolor="none"))
        if family.share < LEAST_TOLD:
            continue
        y = max((top + bottom) / 2, last + TYPE * 1.25 / SIZE[1])
        last = y
        place = x - 0.012 if side == "right" else x + BAR + 0.012
        axes.text(
            place, y, f"{family.name}  {percent(family.share)}", fontsize=TYPE, ha=side, va="center", color=INK
        )  # fmt: skip


def _alt(first: tuple[Family, ...], second: tuple[Family, ...], transport: Transport) -> str:
    rows = [
        f"{family.name} ({percent(family.share)}) with "
        + ", ".join(f"{match.name} ({percent(match.share)}, ΔE {match.difference:.0f})" for match in matches)
        for family, matches in matched(first, second, transport)
    ]
    return f"Nearest match by colour and area: {'; '.join(rows)}."
