"""How far another photograph moves the greens of one picture, or its line, its focal place and its masses.

What a cast does to the greens hangs on the picture: quiet greens cross into grey and back, strong ones stay. So it is
measured on the picture itself, small, instead of being looked up among others. So is a crop: it takes more from a
picture that is half green than from one with hardly any. And where two lines, or two places, do almost equally well,
a hair's breadth decides which is found.
"""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

import numpy as np

from critique.advice.greens_in_other_light import greens_in_other_light, greens_of_light, small_light
from critique.measures.division import measure_division
from critique.measures.eyepath import measure_eyepath
from critique.measures.figures import compared_figures
from critique.measures.focal_places import FocalPlace
from critique.measures.greens import Greens, measure_greens
from critique.measures.measure import Measures
from critique.measures.values import measure_values
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.picture.picture import Picture, lab_at, picture_from_lab

NEARLY_FIRST = 0.8  # of the strength of the first place, from which a hair may make another the first
CROP = 0.015  # of a side, cut from one edge at a time
JUMPS_LONG_EDGE = 240  # px: lines and places are found as at full size, but for a hair's breadth
SAMPLED = 1.5  # times what a few looks show: another hair may do more
JUMPING = ("greens", "values", "division", "eyepath")  # measures that choose one line, place or mass among several


@dataclass(frozen=True, slots=True)
class OwnSpread:
    """For each figure of the greens, the largest change that other light makes, and a crop, on its own scale."""

    light: dict[str, float]
    crop: dict[str, float]


def own_spread(picture: Picture, measures: Measures) -> OwnSpread:
    """Measure how far other light and a crop move the greens of a picture."""
    figures = [figure for figure in compared_figures() if figure.group == "greens"]
    light = small_light(picture)
    before = replace(measures, greens=greens_of_light(light, picture))

    def largest(others: Iterable[Greens]) -> dict[str, float]:
        moves = {figure.name: 0.0 for figure in figures}
        for other in others:
            after = replace(measures, greens=other)
            for figure in figures:
                change = abs(figure.change(figure.of(before), figure.of(after)))
                if not math.isnan(change):
                    moves[figure.name] = max(moves[figure.name], change)
        return moves

    rows, columns = (max(1, round(CROP * length)) for length in light.shape[:2])
    cut = (light[rows:], light[:-rows], light[:, columns:], light[:, :-columns])
    return OwnSpread(largest(greens_in_other_light(picture)), largest(greens_of_light(part, picture) for part in cut))


def own_jumps(picture: Picture, measures: Measures, groups: Iterable[str]) -> dict[str, float]:
    """How far the figures that jump move when a hair is cut from the picture, for measures named in ``JUMPING``.

    Measuring again takes time: ask for the groups that are in doubt.
    """
    light = lab_to_linear(np.asarray(lab_at(picture, JUMPS_LONG_EDGE)))
    rows, columns = (max(1, round(CROP * length)) for length in light.shape[:2])
    looks = [
        picture_from_lab(linear_to_lab(np.ascontiguousarray(part)), picture)
        for part in (light[rows:, columns:], light[:-rows, :-columns])
    ]
    moves: dict[str, float] = {}
    for group in groups:
        seen = [measures, *(_AGAIN[group](measures, look) for look in looks)]
        if group == "eyepath":
            seen += _on_rivals(measures, picture)
        for figure in compared_figures():
            if figure.group == group and figure.jumps:
                known = [value for each in seen if not math.isnan(value := figure.of(each))]
                moves[figure.name] = SAMPLED * max(
                    (abs(figure.change(known[0], value)) for value in known[1:]), default=0.0
                )
    return moves


def _on_rivals(measures: Measures, picture: Picture) -> list[Measures]:
    """The measures with the eye on each place that holds it nearly as much as the first."""
    first, *others = measures.eyepath.places
    size = np.array([picture.width, picture.height])
    thirds = [(x / 3, y / 3) for x in (1, 2) for y in (1, 2)]

    def away(place: FocalPlace, marks: list[tuple[float, float]]) -> float:
        return float(
            min(np.hypot(*((mark - np.array([place.x, place.y])) * size)) for mark in marks) / np.hypot(*size) * 2
        )

    return [
        replace(
            measures,
            eyepath=replace(
                measures.eyepath, focus=place, from_middle=away(place, [(0.5, 0.5)]), from_thirds=away(place, thirds)
            ),
        )
        for place in others
        if place.strength >= NEARLY_FIRST * first.strength
    ]


_AGAIN: dict[str, Callable[[Measures, Picture], Measures]] = {
    "greens": lambda measures, picture: replace(measures, greens=measure_greens(picture)),
    "values": lambda measures, picture: replace(measures, values=measure_values(picture)),
    "division": lambda measures, picture: replace(measures, division=measure_division(picture)),
    "eyepath": lambda measures, picture: replace(measures, eyepath=measure_eyepath(picture, measures.parts)),
}
