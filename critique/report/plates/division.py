"""Which line divides the picture, and where else it could lie."""

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from critique.measures.division import Division
from critique.picture.picture import Picture
from critique.report.plates.look import FAINT, SURROUND
from critique.report.plates.marks import letters, stroke
from critique.report.plates.photograph import in_colour
from critique.report.plates.plate import Plate
from critique.words.figures import number

if TYPE_CHECKING:
    from PIL import Image

MARGIN = 112  # px left and right, for the labels
LABEL = 39  # px
TICK = 0.045  # of the width: how far the ticks reach into the picture
THIRDS = ((1 / 3, "1/3"), (2 / 3, "2/3"))  # labelled to the left
SECTIONS = ((0.382, ".382"), (0.618, ".618"))  # labelled to the right
TICK_LINE = 2.4  # px
LINE, LINE_EDGE = 3.6, 7.6  # px: a light line in a dark edge reads on any ground


def division_plate(picture: Picture, division: Division) -> Plate:
    """The picture with the line that divides it and ticks where thirds and golden sections lie."""
    from PIL import Image

    photograph = in_colour(picture)
    height, width = photograph.shape[:2]
    image = Image.new("RGB", (width + 2 * MARGIN, height), SURROUND)
    image.paste(Image.fromarray(photograph), (MARGIN, 0))
    for place, label in THIRDS:
        _draw_tick(image, place, label, right=False)
    for place, label in SECTIONS:
        _draw_tick(image, place, label, right=True)
    if division.present:
        heights = np.asarray(division.path, dtype=np.float64) * height
        across = (np.arange(len(heights)) + 0.5) / len(heights) * width
        _draw_line(image, np.r_[0, across, width], np.r_[heights[0], heights, heights[-1]])
    if division.vertical.halved:
        _draw_line(image, [division.vertical.position * width] * 2, [0, height], dashes=(4, 3))
    return Plate("division", image, _alt(division), _caption(division))


def _draw_tick(image: "Image.Image", place: float, label: str, *, right: bool) -> None:
    """A dashed line, light and dark in turn, at both edges of the picture, and its label outside."""
    y, width = place * image.height, image.width - 2 * MARGIN
    for start in (MARGIN, MARGIN + width * (1 - TICK)):
        ends = [(start, y), (start + width * TICK, y)]
        stroke(image, ends, TICK_LINE)
        stroke(image, ends, TICK_LINE, "white", dashes=(3, 3))
    stroke(image, [(MARGIN, y), (MARGIN + width, y)], TICK_LINE / 2, FAINT, dashes=(3, 9), opacity=0.8)
    x = MARGIN + (width + 14 if right else -14)
    letters(image, (x, y), label, LABEL, anchor="lm" if right else "rm")


def _draw_line(image: "Image.Image", x: ArrayLike, y: ArrayLike, dashes: tuple[float, float] | None = None) -> None:
    """On the picture, from places in px of it: a line that runs over its edges is cut off there."""
    inside = (MARGIN, 0, image.width - MARGIN, image.height)
    picture = image.crop(inside)
    points = np.stack([np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)], axis=1)
    stroke(picture, points, LINE_EDGE, opacity=0.85)
    stroke(picture, points, LINE, "white", dashes=dashes)
    image.paste(picture, inside[:2])


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
