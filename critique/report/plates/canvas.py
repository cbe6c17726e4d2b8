"""The photograph with the outline of the canvas that was judged, or that may be one."""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from critique.photograph.balance import SPOT
from critique.photograph.corners import ALL, Corner
from critique.picture.view import View
from critique.report.plates.plate import Plate, image_of

DASH = 9  # px of the dashes of a guess, and of the gaps between them
LINE, UNDER = 3, 7  # px of the light line, and of the dark one that it lies on
LIGHT, DARK = (250, 250, 250), (30, 30, 30)


def canvas_plate(view: View) -> Plate | None:
    """The photograph with the outline; None where nothing but painting was found."""
    if view.shown is None:
        return None
    from PIL import ImageDraw

    image = image_of(view.shown)
    draw = ImageDraw.Draw(image)
    told = []
    if view.corners != ALL:
        _outline(draw, view.corners, image.size, broken=not view.likely)
        told.append(f"outlined is {_outlined(view)}")
    places = view.light.places if view.light is not None else ()
    if len(places) == 1:
        _ring(draw, places[0], image.size)
        told.append("ringed what it was made neutral by")
    elif places:
        _outline(draw, places, image.size)
        told.append("outlined too what its light was put right by")
    text = f"The photograph{'; ' if told else ''}{', '.join(told)}."
    return Plate("photograph", image, text, text)


def _outlined(view: View) -> str:
    if view.cropped:
        return "what was judged"
    return "what may be the canvas" if view.likely else "a mere guess at the canvas, with a broken line"


def _outline(draw: Any, corners: Sequence[Corner], size: tuple[int, int], *, broken: bool = False) -> None:
    points = [(x * size[0], y * size[1]) for x, y in corners]
    around = [*points, points[0]]
    lines = [dash for side in pairwise(around) for dash in _dashes(*side)] if broken else [around]
    for width, colour in ((UNDER, DARK), (LINE, LIGHT)):
        for line in lines:
            draw.line(line, fill=colour, width=width, joint="curve")


def _dashes(start: Corner, end: Corner) -> list[list[Corner]]:
    """A line in dashes, from corner to corner."""
    number = 2 * round(math.dist(start, end) / (2 * DASH)) + 1
    along = [
        (start[0] + (end[0] - start[0]) * part / number, start[1] + (end[1] - start[1]) * part / number)
        for part in range(number + 1)
    ]
    return [along[part : part + 2] for part in range(0, number, 2)]


def _ring(draw: Any, place: Corner, size: tuple[int, int]) -> None:
    x, y, reach = place[0] * size[0], place[1] * size[1], SPOT * max(size) + UNDER
    for more, width, colour in ((2, UNDER, DARK), (0, LINE, LIGHT)):
        draw.ellipse(
            [x - reach - more, y - reach - more, x + reach + more, y + reach + more], outline=colour, width=width
        )
