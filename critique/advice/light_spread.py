"""How far other light moves the greens of one picture.

What a cast does to the greens hangs on the picture: quiet greens cross into grey and back, strong ones stay. So it is
measured on the picture itself, small, instead of being looked up among others.
"""

import math
from dataclasses import replace

import numpy as np

from critique.advice.figures_compared import FIGURES
from critique.measures.greens import measure_greens
from critique.measures.measure import Measures
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.picture.other_light import other_lights
from critique.picture.picture import Picture, lab_at, picture_from_lab

LONG_EDGE = 160  # px: shares of the picture within a hundredth of what the full size gives


def light_spread(picture: Picture, measures: Measures) -> dict[str, float]:
    """For each figure of the greens, the largest change that another exposure or a cast makes, on its own scale."""
    figures = [figure for figure in FIGURES if figure.group == "greens"]
    light = lab_to_linear(np.asarray(lab_at(picture, LONG_EDGE)))

    def measured(gains: tuple[float, float, float]) -> Measures:
        seen = picture_from_lab(linear_to_lab(light * np.asarray(gains, dtype=np.float32)), picture)
        return replace(measures, greens=measure_greens(seen))

    before = measured((1.0, 1.0, 1.0))
    moves = {figure.name: 0.0 for figure in figures}
    for _, gains in other_lights():
        after = measured(gains)
        for figure in figures:
            change = abs(figure.change(figure.of(before), figure.of(after)))
            if not math.isnan(change):
                moves[figure.name] = max(moves[figure.name], change)
    return moves
