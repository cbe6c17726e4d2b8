"""Every pair of a few paints, stepped from one to the other, with and without white."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.errors import PaintError
from critique.one_thread import in_one_thread
from critique.paints.box import PaintBox, Taken, find_paint, taken_among
from critique.paints.cards import PaintCard, paint_card
from critique.paints.catalogue import titanium_white
from critique.paints.cautions import cautions_for
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.naming import each_found
from critique.paints.neutral import COUNTED_RATIOS, Grey, greyest_between
from critique.paints.paint import Paint
from critique.paints.slices import GamutSlice, gamut_slices
from critique.perception.cielab import as_three, lab_to_srgb8
from critique.perception.names import colour_name
from critique.perception.spectra import light as light_table
from critique.perception.srgb import hex_of
from critique.plain import json_line, plain
from critique.records import heading

FEWEST, MOST = 2, 8  # paints: eight make twenty-eight pairs, a day's work by hand
STEPS = 5  # between the two paints of a pair; common practice, no source
# Ratios that a knife measures; the step is the nearest of them to an even step for the eye.
RATIOS = sorted(
    {one / other for one in (1, 2, 3) for other in (1, 2, 3)}
    | {float(n) for n in COUNTED_RATIOS}
    | {1 / n for n in COUNTED_RATIOS}
)
TINT_LIGHTNESS = 62.0  # L* to which white is added: there the hue of a dark paint is seen
TINTS = (1, 2, 4, 8, 16, 32)  # parts of white to one of the mixture
# How the steps of a pair are read, wherever they are drawn.
STEPS_TOLD = (
    "Under each step its parts, first paint to second. For the lower dab mix that first, and take white to it: + 8 "
    "white is one part of the mixture and eight of white."
)


@dataclass(frozen=True, slots=True)
class Swatch:
    """One dab of the chart: its parts, its colour under the chart's light, and its ISCC–NBS name."""

    first: int
    second: int
    white: int
    lab: tuple[float, float, float]
    srgb: str
    name: str


@dataclass(frozen=True, slots=True)
class Pair:
    """Two paints with the steps between them, without white and with it, and the greyest place on the way."""

    first: str
    second: str
    steps: tuple[Swatch, ...]
    tints: tuple[Swatch, ...]
    greyest: Grey


@dataclass(frozen=True, slots=True)
class MixingChart:
    """A palette's chart: its paints, its pairs and its reach at three values."""

    light: str
    white: str
    cards: tuple[PaintCard, ...]
    pairs: tuple[Pair, ...]
    slices: tuple[GamutSlice, ...]
    cautions: tuple[str, ...]
    taken: tuple[Taken, ...] = ()  # names that were guessed

    def as_dict(self) -> dict[str, Any]:
        """The record: what ``chart.json`` holds."""
        return {**heading(), **plain(self)}

    def as_line(self) -> str:
        """The record as one line of JSON."""
        return json_line(self.as_dict())


@in_one_thread
def mixing_chart(names: Sequence[str], light: str = "D65", own: PaintBox | None = None) -> MixingChart:
    """Chart 2 to 8 paints, named as a painter names them, under a light.

    ``own`` is a box in which names are looked up first, so that a painter's own paints can be charted.

    Raises
    ------
    PaintError
        When names are unknown, each of them told, or the paints are too few or too many.
    ReferenceDataError
        When there is no such light.
    """
    light_table(light)
    box = _box(names, own)
    pairs = tuple(_pair(one, other, box.white, light) for one, other in combinations(box.paints, 2))
    return MixingChart(
        light,
        box.white.name,
        tuple(paint_card(paint, box.white, (), light) for paint in box.paints),
        pairs,
        gamut_slices(box, light),
        tuple(caution.text for caution in cautions_for(box.with_white)),
        taken_among(names, own),
    )


def _box(names: Sequence[str], own: PaintBox | None) -> PaintBox:
    white = titanium_white() if own is None else own.white
    find = find_paint if own is None else own.find
    named = each_found(names, find) if names or own is None else list(own.paints)
    paints = tuple(dict.fromkeys(paint for paint in named if paint is not white))  # named twice is charted once
    if named and not paints:
        raise PaintError(f"{white.name} is in every mixing chart: name {FEWEST} to {MOST} paints beside it")
    if not FEWEST <= len(paints) <= MOST:
        raise PaintError(
            f"a mixing chart takes {FEWEST} to {MOST} paints beside white, and "
            f"{len(paints)} {'was' if len(paints) == 1 else 'were'} named"
        )
    return PaintBox("chart", paints, white)


def _pair(one: Paint, other: Paint, white: Paint, light: str) -> Pair:
    ratios = _even_ratios(one, other, white)
    dabs = [_swatch(one, other, white, *_whole(ratio), 0, light) for ratio in ratios]
    tints = [_swatch(one, other, white, *_let_down(one, other, white, *_whole(ratio)), light) for ratio in ratios]
    return Pair(one.name, other.name, tuple(dabs), tuple(tints), greyest_between(one, other, white, light))


def _even_ratios(one: Paint, other: Paint, white: Paint) -> list[float]:
    """Ratios of the second paint to the first that divide the way between the two evenly for the eye.

    Judged in the tints: dark paints look alike alone. Every ratio is used once, in rising order.
    """
    choices = np.array(RATIOS)
    lab = mixture_lab(np.stack([np.ones_like(choices), choices, 2 * (1 + choices)], axis=1), [one, other, white])
    ends = mixture_lab([[1, 0, 2], [0, 1, 2]], [one, other, white])
    path = np.concatenate([ends[:1], lab, ends[1:]])
    length = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
    places = length[1:-1] / length[-1]
    found: list[int] = []
    for step in range(1, STEPS + 1):
        free = [index for index in range(len(choices)) if not found or index > found[-1]]
        free = free[: len(free) - (STEPS - step)]
        found.append(min(free, key=lambda index: abs(places[index] - step / (STEPS + 1))))
    return [float(choices[index]) for index in found]


def _whole(ratio: float) -> tuple[int, int]:
    """Whole parts of the first and the second paint."""
    for first in (1, 2, 3):
        if abs(ratio * first - round(ratio * first)) < 1e-9:
            return first, round(ratio * first)
    return round(1 / ratio), 1


def _let_down(one: Paint, other: Paint, white: Paint, first: int, second: int) -> tuple[int, int, int]:
    """With the least white, of doubling amounts, that brings the mixture up to the value at which hues are seen."""
    for amount in TINTS:
        parts = (first, second, amount * (first + second))
        if float(mixture_lab(parts, [one, other, white])[0]) >= TINT_LIGHTNESS:
            break
    return parts


def _swatch(one: Paint, other: Paint, white: Paint, first: int, second: int, pale: int, light: str) -> Swatch:
    lab: NDArray[np.floating] = mixture_lab([first, second, pale], [one, other, white], light)
    return Swatch(first, second, pale, as_three(lab), hex_of(lab_to_srgb8(lab)), colour_name(lab))
