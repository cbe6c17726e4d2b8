"""Which line divides the picture, and where else it could lie."""

from typing import Any

import numpy as np

from critique.measures.division import Division
from critique.picture.picture import Picture
from critique.report.plates.look import FAINT, INK, drawing_area, drawn_over, sheet
from critique.report.plates.photograph import in_colour
from critique.report.plates.plate import Plate
from critique.words.figures import number

MARGIN = 112  # px left and right, for the labels
LABEL = 39  # px
TICK = 0.045  # of the width: how far the ticks reach into the picture
THIRDS = ((1 / 3, "1/3"), (2 / 3, "2/3"))  # labelled to the left
SECTIONS = ((0.382, ".382"), (0.618, ".618"))  # labelled to the right
LINE, LINE_EDGE = 3.6, 7.6  # px: a light line in a dark edge reads on any ground


def division_plate(picture: Picture, division: Division) -> Plate:
    """The picture with the line that divides it and ticks where thirds and golden sections lie."""
    photograph = in_colour(picture)
    height, width = photograph.shape[:2]
    figure = sheet(width + 2 * MARGIN, height)
    axes = drawing_area(figure, 0, 0, 1, 1)
    axes.set_xlim(-MARGIN, width + MARGIN)
    axes.set_ylim(height, 0)
    for place, label in THIRDS:
        _draw_tick(axes, place, label, width, height, right=False)
    for place, label in SECTIONS:
        _draw_tick(axes, place, label, width, height, right=True)
    if division.present:
        heights = np.asarray(division.path, dtype=np.float64) * height
        across = (np.arange(len(heights)) + 0.5) / len(heights) * width
        _draw_line(axes, np.r_[0, across, width], np.r_[heights[0], heights, heights[-1]])
    if division.vertical.halved:
        _draw_line(axes, [division.vertical.position * width] * 2, [0, height], dashes=(4, 3))
    image = drawn_over(figure, photograph, MARGIN)
    return Plate("division", image, _alt(division), _caption(division))


def _draw_tick(axes: Any, place: float, label: str, width: int, height: int, *, right: bool) -> None:
    """A dashed line, light and dark in turn, at both edges of the picture, and its label outside."""
    y = place * height
    for start in (0, width * (1 - TICK)):
        ends = [start, start + width * TICK]
        axes.plot(ends, [y, y], color=INK, linewidth=2.4)
        axes.plot(ends, [y, y], color="white", linewidth=2.4, dashes=(3, 3))
    axes.plot([0, width], [y, y], color=FAINT, linewidth=1.2, dashes=(3, 9), alpha=0.8)
    x = width + 14 if right else -14
    axes.text(x, y, label, fontsize=LABEL, ha="left" if right else "right", va="center_baseline")


def _draw_line(axes: Any, x: Any, y: Any, dashes: tuple[float, float] | None = None) -> None:
    style = {"dashes": dashes} if dashes else {}
    axes.plot(x, y, color=INK, linewidth=LINE_EDGE, solid_joinstyle="round", alpha=0.85)
    axes.plot(x, y, color="white", linewidth=LINE, solid_joinstyle="round", **style)


def _caption(division: Division) -> str:
    ticks = "Ticks: thirds to the left, golden sections to the right."
    if not division.present:
        return f"No line divides this picture. {ticks}"
    height = f"The line that divides the picture, at {number(division.height, 2)} of its height from the top"
    if division.halved:
        return f"{height}: it cuts the picture in half. {ticks}"
    if division.nearly_halved:
        return f"{height}: it nearly halves it. {ticks}"
    return f"{height}. {ticks}"


def _alt(division: Division) -> str:
    if not division.present:
        return "The picture with ticks at thirds and golden sections; no line divides it."
    halved = "and cuts it in half" if division.halved else "and does not halve it"
    return (
        f"The picture with the line that divides it: it runs at {number(division.height, 2)} of the height from the "
        f"top {halved}. Ticks mark 1/3, 0.382, 0.618 and 2/3."
    )
