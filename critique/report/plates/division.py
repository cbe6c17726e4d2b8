"""Which line divides the picture, and where else it could lie."""

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.measures.division import Division
from critique.measures.division_judging import WATCH_TOLERANCE, halving_fault
from critique.picture.picture import Picture
from critique.report.plates.look import FAINT
from critique.report.plates.marks import letters, stroke
from critique.report.plates.photograph import in_colour
from critique.report.plates.plate import Plate
from critique.words.figures import percent

if TYPE_CHECKING:
    from PIL import Image

LABEL = 34  # px: 12 on a phone, where the plate is as broad as the screen
LABEL_WIDE, LABEL_OFF = 32, 26  # px: half of a label's width; from its middle to a line that it doesn't touch
BESIDE = 0.012  # of the width: from a tick to its label
TICK = 0.045  # of the width: how far the ticks reach into the picture
THIRDS = ((1 / 3, "1/3"), (2 / 3, "2/3"))  # labelled at the left
SECTIONS = ((0.382, ".382"), (0.618, ".618"))  # labelled at the right
TICK_LINE = 2.4  # px
RIM = 3  # px of light round a label, so that it reads on any ground
LINE, LINE_EDGE = 3.6, 7.6  # px: a light line in a dark edge reads on any ground


Line = tuple[NDArray[np.float64], NDArray[np.float64]]


def division_plate(picture: Picture, division: Division) -> Plate:
    """The picture with the line that divides it and ticks where thirds and golden sections lie."""
    from PIL import Image

    photograph = in_colour(picture)
    height, width = photograph.shape[:2]
    image = Image.fromarray(photograph)
    line = _line_drawn(division, width, height)
    if line is not None:
        _draw_line(image, *line)
    if division.vertical.halved:
        _draw_line(image, [division.vertical.position * width] * 2, [0, height], dashes=(4, 3))
    for place, label in THIRDS:
        _draw_tick(image, place, label, line, right=False)
    for place, label in SECTIONS:
        _draw_tick(image, place, label, line, right=True)
    return Plate("division", image, _alt(division), _caption(division))


def _line_drawn(division: Division, width: int, height: int) -> Line | None:
    """The line that divides the picture, in px from the left edge to the right."""
    cut = judged_cut(division)
    if cut is not None:
        return np.array([0.0, width]), np.array([cut * height] * 2)
    if not division.present:
        return None
    heights = np.asarray(division.path, dtype=np.float64) * height
    across = (np.arange(len(heights)) + 0.5) / len(heights) * width
    return np.r_[0, across, width], np.r_[heights[0], heights, heights[-1]]


def _off_the_line(line: Line | None, x: float, y: float) -> float:
    """The height at which a label at ``x`` stands that belongs at ``y``: clear of the line, so that it can be read."""
    if line is None:
        return y
    reach = np.linspace(-LABEL_WIDE, LABEL_WIDE, 9) + x
    crossing = np.interp(reach, *line)
    above, below = y - (crossing.min() - LABEL_OFF), (crossing.max() + LABEL_OFF) - y
    if above <= 0 or below <= 0:
        return y
    return float(y - above if above < below else y + below)


def _draw_tick(image: "Image.Image", place: float, label: str, line: Line | None, *, right: bool) -> None:
    """A dashed line, light and dark in turn, at both edges of the picture, and its label beside one of them."""
    y, width = place * image.height, image.width
    for start in (0, width * (1 - TICK)):
        ends = [(start, y), (start + width * TICK, y)]
        stroke(image, ends, TICK_LINE)
        stroke(image, ends, TICK_LINE, "white", dashes=(3, 3))
    stroke(image, [(0, y), (width, y)], TICK_LINE / 2, FAINT, dashes=(3, 9), opacity=0.8)
    inset = width * (TICK + BESIDE)
    x = width - inset if right else inset
    beside = _off_the_line(line, x + (-LABEL_WIDE if right else LABEL_WIDE), y)
    letters(image, (x, beside), label, LABEL, anchor="rm" if right else "lm", rim=RIM)


def _draw_line(image: "Image.Image", x: ArrayLike, y: ArrayLike, dashes: tuple[float, float] | None = None) -> None:
    points = np.stack([np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)], axis=1)
    stroke(image, points, LINE_EDGE, opacity=0.85)
    stroke(image, points, LINE, "white", dashes=dashes)


def judged_cut(division: Division) -> float | None:
    """The height of the straight edge by which a picture is said to be cut in half; None where its line is judged."""
    return division.cut if halving_fault(division) == "rework" else None


def _caption(division: Division) -> str:
    ticks = "Ticks: thirds at the left, golden sections at the right."
    told = _told(division)
    return f"{told[:1].upper()}{told[1:]}. {ticks}"


def _alt(division: Division) -> str:
    return f"The picture with ticks at 1/3, 0.382, 0.618 and 2/3 of its height: {_told(division)}."


def _told(division: Division) -> str:
    """What the finding of halving says, in a few words: where the line lies, and whether it cuts."""
    fault, cut = halving_fault(division), judged_cut(division)
    if not division.present and cut is None:
        return "no line divides this picture"
    height = percent(division.height)
    line = f"the line that divides the picture lies {height} of the way down"
    if fault == "rework":
        return f"{line} and cuts it in half"
    if fault is None and abs(division.height - 0.5) <= WATCH_TOLERANCE:  # or the finding would seem to deny the plate
        return f"{line}, near the middle, but isn't plain and straight enough to cut it in half"
    return line
