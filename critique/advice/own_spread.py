"""How far another photograph moves the greens of one picture.

What a cast does to the greens hangs on the picture: quiet greens cross into grey and back, strong ones stay. So it is
measured on the picture itself, small, instead of being looked up among others. So is a crop: it takes more from a
picture that is half green than from one with hardly any.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from critique.advice.figures_compared import FIGURES
from critique.advice.greens_in_other_light import greens_in_other_light, greens_of_light, small_light
from critique.measures.greens import Greens
from critique.measures.measure import Measures
from critique.picture.picture import Picture

CROP = 0.015  # of a side, cut from one edge at a time


@dataclass(frozen=True, slots=True)
class OwnSpread:
    """For each figure of the greens, the largest change that other light makes, and a crop, on its own scale."""

    light: dict[str, float]
    crop: dict[str, float]


def own_spread(picture: Picture, measures: Measures) -> OwnSpread:
    """Measure how far other light and a crop move the greens of a picture."""
    figures = [figure for figure in FIGURES if figure.group == "greens"]
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
