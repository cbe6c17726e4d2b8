"""A palette as a painter charts it: every pair stepped, with and without white, within the light wheel."""

import unicodedata
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.paints.cards import PaintCard
from critique.paints.chart import MixingChart, Pair, Swatch
from critique.paints.paint import TYPICAL
from critique.perception.cielab import lab_to_lch
from critique.perception.hue import LIGHT_WHEEL
from critique.report.plates.colours import STATION_COLOURS, wheel_angle
from critique.report.plates.lettering import numbers_for
from critique.report.plates.look import FAINT, INK, drawing_area, drawn, grey_hex, sheet
from critique.report.plates.plate import Plate

SIZE = (2300, 1800)  # px: the paints' names stand to the left and right of the wheel
RIM = 775.0  # px from the middle to the paints
DAB = 56.0  # px, radius of a paint's dab on the rim
ARC = 7.0  # degrees of the wheel to each side of a station
SQUARE = 2 * (RIM - DAB - 26) / np.sqrt(2)  # px, side of the grid of pairs: its corners stay clear of the dabs
GAP = 12.0  # px between the cells of the grid
NARROW = 1000  # px wide on a phone, where the wheel stands below the grid: letters there are 12 px high on the glass
NARROW_RIM = 340.0  # px from the wheel's middle to the paints: their Colour Index names have room to either side
NARROW_INSET = 170.0  # as STATION_INSET: letters take more of a smaller wheel
NARROW_WHEEL = 2 * 440  # px, height of the wheel with the names above and below it
WOBBLE = 1.4  # px by which the edge of a dab wanders, as a brush's does
STATION_INSET = 78.0  # px from the rim to the names of the stations
APART = 15.0  # degrees that dabs on the rim keep from one another
SEED = 4
FROM_MEMORY = f", {TYPICAL}"
LINE = 34  # px, height of a line of type
PALE_INK, SWITCH = grey_hex(96), 55.0  # lettering on dabs darker than this L*


def chart_plate(chart: MixingChart) -> Plate:
    """The grid of pairs within the wheel of paints."""
    rng = np.random.default_rng(SEED)
    figure = sheet(*SIZE)
    axes = drawing_area(figure, 0, 0, 1, 1)
    axes.set_xlim(-SIZE[0] / 2, SIZE[0] / 2)
    axes.set_ylim(-SIZE[1] / 2, SIZE[1] / 2)
    _draw_wheel(axes)
    _draw_rim(axes, chart.cards, rng)
    _draw_grid(axes, chart, rng)
    image = drawn(figure)
    names = ", ".join(card.paint for card in chart.cards)
    caption = (
        "Above the diagonal each cell steps from its row’s paint, left, to its column’s, right; below the diagonal are "
        "the same mixtures let down with white. On the light wheel stand the paints: opposite stations are complements."
    )
    if numbers_for([card.paint for card in chart.cards]):
        caption += " Numbers stand for names that this machine has no letters for; they are told under The paints."
    alt = f"Mixing chart of {names}: every pair in five steps, with and without white."
    return Plate("chart", image, alt, caption, photographic=False)


def narrow_chart_plate(chart: MixingChart) -> Plate:
    """The same for a phone: the grid as wide as the glass, and below it the wheel with the paints' short names."""
    rng = np.random.default_rng(SEED)
    figure = sheet(NARROW, NARROW + NARROW_WHEEL)
    above = NARROW / (NARROW + NARROW_WHEEL)
    grid, wheel = drawing_area(figure, 0, 1 - above, 1, above), drawing_area(figure, 0, 0, 1, 1 - above)
    for axes, wide, high in (
        (grid, NARROW, NARROW),
        (wheel, NARROW * RIM / NARROW_RIM, NARROW_WHEEL * RIM / NARROW_RIM),
    ):
        axes.set_xlim(-wide / 2, wide / 2)
        axes.set_ylim(-high / 2, high / 2)
    _draw_grid(grid, chart, rng)
    _draw_wheel(wheel, NARROW_INSET)
    _draw_rim(wheel, chart.cards, rng, short=[_short(card, chart) for card in chart.cards])
    wide_plate = chart_plate(chart)
    return Plate("chart_narrow", drawn(figure), wide_plate.alt, wide_plate.caption, photographic=False)


def _draw_wheel(axes: Any, inset: float = STATION_INSET) -> None:
    from matplotlib.patches import Circle

    axes.add_artist(Circle((0, 0), RIM, facecolor="none", edgecolor=FAINT, linewidth=2))
    for station in LIGHT_WHEEL:
        turn = np.radians(float(wheel_angle(station.hue)) + np.linspace(-ARC, ARC, 30))
        axes.plot(RIM * np.sin(turn), RIM * np.cos(turn), color=STATION_COLOURS[station.name], linewidth=12)
        x, y = (RIM - inset) * np.sin(turn[15]), (RIM - inset) * np.cos(turn[15])
        axes.text(x, y, station.name, fontsize=LINE, ha="center", va="center", color=grey_hex(35))


def _draw_rim(
    axes: Any, cards: tuple[PaintCard, ...], rng: np.random.Generator, short: Sequence[str] | None = None
) -> None:
    """A dab of each paint at its hue, half alone and half let down, with its name outside, or its ``short`` one."""
    angles = _spread(np.array([float(wheel_angle(lab_to_lch(np.array(card.tint_lab))[2])) for card in cards]))
    numbers = numbers_for([card.paint for card in cards])
    labels = short or [_label(card, numbers) for card in cards]
    for card, angle, label in zip(cards, angles, labels, strict=True):
        x, y = RIM * np.sin(np.radians(angle)), RIM * np.cos(np.radians(angle))
        _round_dab(axes, x, y, DAB, card.tint, rng)
        _round_dab(axes, x, y, DAB * 0.62, card.masstone, rng)
        side, steep = (1 if x >= 0 else -1), abs(x) < RIM / 2
        out = (RIM + DAB + 14) / RIM if steep else 1
        axes.text(
            x * out + side * (0 if steep else DAB + 18), y * out,
            label.replace(FROM_MEMORY, " (typical)") if steep else _in_lines(label),
            fontsize=LINE, ha="left" if side > 0 else "right",
            va="center" if not steep else "bottom" if y > 0 else "top", linespacing=1.15,
        )  # fmt: skip


def _label(card: PaintCard, numbers: Mapping[str, str]) -> str:
    """The paint's label, its name as letters are set one by one; a number for a name that can't be lettered."""
    return unicodedata.normalize("NFC", card.label.replace(card.paint, numbers.get(card.paint, card.paint), 1))


def _in_lines(label: str) -> str:
    """The label broken before its brackets, so that it fits beside the wheel."""
    label = label.replace(FROM_MEMORY, "\n(typical)").replace(", own dabs", "\n(own dabs)")
    return label.replace(" (", "\n(", 1) if len(label) > 16 and "\n" not in label else label


def _spread(angles: NDArray[np.float64]) -> NDArray[np.float64]:
    """Angles moved apart as little as needed for the dabs not to overlap."""
    moved = angles.copy()
    for _ in range(200):
        order = np.argsort(moved)
        after = np.roll(order, -1)
        gap = (moved[after] - moved[order]) % 360
        close = (gap < APART) & (order != after)
        if not close.any():
            break
        push = np.where(close, (APART - gap) / 2 + 0.05, 0)
        np.subtract.at(moved, order, push)
        np.add.at(moved, after, push)
        moved %= 360
    return moved


def _draw_grid(axes: Any, chart: MixingChart, rng: np.random.Generator) -> None:
    count = len(chart.cards)
    cell = (SQUARE - GAP * (count - 1)) / count
    number = {card.paint: index for index, card in enumerate(chart.cards)}

    def corner(row: int, column: int) -> tuple[float, float]:
        return -SQUARE / 2 + column * (cell + GAP), SQUARE / 2 - row * (cell + GAP) - cell

    for index, card in enumerate(chart.cards):
        x, y = corner(index, index)
        _flat_dab(axes, x, y, cell, cell, card.masstone, rng)
        ink = PALE_INK if card.masstone_lab[0] < SWITCH else INK
        axes.text(
            x + cell / 2, y + cell / 2, _short(card, chart), fontsize=min(40.0, cell / 4.4), ha="center", va="center",
            color=ink,
        )  # fmt: skip
    for pair in chart.pairs:
        first, second = number[pair.first], number[pair.second]
        _draw_steps(axes, pair.steps, *corner(first, second), cell, rng)
        _draw_steps(axes, _reversed(pair), *corner(second, first), cell, rng)


def _reversed(pair: Pair) -> tuple[Swatch, ...]:
    """The tints from the second paint, whose row they lie in, to the first."""
    return pair.tints[::-1]


def _draw_steps(
    axes: Any, steps: tuple[Swatch, ...], x: float, y: float, cell: float, rng: np.random.Generator
) -> None:
    width = cell / len(steps)
    for index, step in enumerate(steps):
        _flat_dab(axes, x + index * width, y, width - 3, cell, step.srgb, rng)


def _short(card: PaintCard, chart: MixingChart) -> str:
    """The Colour Index name where it tells the paint from the others; its first words otherwise."""
    named = card.label.split("(")[-1].split(")")[0] if "(" in card.label else ""
    labels = [other.label for other in chart.cards]
    if named.startswith("P") and sum(f"({named})" in label for label in labels) == 1:
        return named
    numbers = numbers_for([other.paint for other in chart.cards])
    return numbers.get(card.paint, unicodedata.normalize("NFC", "\n".join(card.paint.split()[:2])))


def _flat_dab(
    axes: Any, x: float, y: float, width: float, height: float, colour: str, rng: np.random.Generator
) -> None:
    """A stroke of a flat brush: a rectangle whose edges wander a little."""
    along = np.linspace(0, 1, 9)
    bottom = np.stack([x + along * width, y + _wander(9, rng)], axis=1)
    right = np.stack([x + width + _wander(9, rng), y + along * height], axis=1)
    top = np.stack([x + along[::-1] * width, y + height + _wander(9, rng)], axis=1)
    left = np.stack([x + _wander(9, rng), y + along[::-1] * height], axis=1)
    outline = np.concatenate([bottom[:-1], right[:-1], top[:-1], left[:-1]])
    axes.fill(outline[:, 0], outline[:, 1], color=colour, linewidth=0)


def _round_dab(axes: Any, x: float, y: float, radius: float, colour: str, rng: np.random.Generator) -> None:
    turn = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    edge = radius + WOBBLE * sum(rng.normal() * np.cos(k * turn + rng.uniform(0, 6)) for k in (2, 3, 5))
    axes.fill(x + edge * np.cos(turn), y + edge * np.sin(turn), color=colour, linewidth=0, zorder=4)


def _wander(count: int, rng: np.random.Generator) -> NDArray[np.float64]:
    return np.asarray(np.clip(rng.normal(0, WOBBLE / 2, count), -WOBBLE, WOBBLE))
