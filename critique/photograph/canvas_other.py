"""Whether another picture hangs beside the canvas that was found in a photograph."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from critique.perception.srgb import Float, linear_to_srgb8
from critique.photograph.canvas import Canvas, find_canvas
from critique.photograph.canvas_quads import PLAIN
from critique.photograph.corners import Corners
from critique.photograph.reference_places import is_chart, laid_over
from critique.photograph.straighten import straightened

Side = Literal["left", "right", "upper", "lower"]

SIDES: dict[Side, str] = {
    "left": "the left one",
    "right": "the right one",
    "upper": "the upper one",
    "lower": "the lower one",
}
ASIDE = 0.01  # of the photograph: by which two canvases beside each other may seem to overlap, askew
SMALL = (24, 24)  # px at which it is asked whether something is painted there
# Of the range of codes: what varies less over it, in every channel, is a card, a door or a blank canvas.
PAINTED = 0.04


@dataclass(frozen=True, slots=True)
class Other:
    """Another picture: its corners, as those of a canvas, whether they are likely right, and where the first hangs.

    ``first`` is on which side of the two the canvas lies that was found first.
    """

    corners: Corners
    likely: bool
    first: Side


def other_canvas(light: Float, canvas: Canvas) -> Other | None:
    """Another picture in the ``light`` (height, width, 3) of a photograph, beside a ``canvas`` that was found there.

    Looked for only where four plain sides lie apart from it; then as the first was, with that one covered up.
    """
    if canvas.whole or canvas.beside < PLAIN:
        return None
    found = find_canvas(laid_over(light, canvas.corners))
    first = _side(canvas.corners, found.corners)
    if found.whole or "perhaps cut off" in found.reasons or first is None:
        return None
    if is_chart(light, found.corners) or not _painted(light, found.corners):
        return None
    return Other(found.corners, found.likely, first)


def _side(first: Corners, second: Corners) -> Side | None:
    """On which side of a second canvas the first lies; None where neither lies wholly beside the other."""
    (left, upper), (right, lower) = np.min(first, axis=0), np.max(first, axis=0)
    (other_left, other_upper), (other_right, other_lower) = np.min(second, axis=0), np.max(second, axis=0)
    gaps: dict[Side, float] = {
        "left": other_left - right,
        "right": left - other_right,
        "upper": other_upper - lower,
        "lower": upper - other_lower,
    }
    side = max(gaps, key=lambda one: gaps[one])
    return side if gaps[side] > -ASIDE else None


def _painted(light: Float, corners: Corners) -> bool:
    """Whether what lies between four corners is of more than one colour."""
    codes = linear_to_srgb8(np.clip(straightened(light, corners, SMALL), 0, 1))
    return bool(codes.std(axis=(0, 1)).max() >= 255 * PAINTED)
