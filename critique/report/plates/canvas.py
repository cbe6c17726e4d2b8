"""The photograph with the outline of the canvas that was judged, or that may be one."""

from collections.abc import Sequence
from typing import Any

from critique.photograph.balance import SPOT
from critique.photograph.corners import ALL, Corner
from critique.picture.view import View
from critique.report.plates.plate import Plate, image_of

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
        _outline(draw, view.corners, image.size)
        told.append(f"outlined is {'what was judged' if view.cropped else 'what may be the canvas'}")
    places = view.light.places if view.light is not None else ()
    if len(places) == 1:
        _ring(draw, places[0], image.size)
        told.append("ringed what it was made neutral by")
    elif places:
        _outline(draw, places, image.size)
        told.append("outlined too what its light was put right by")
    text = f"The photograph{'; ' if told else ''}{', '.join(told)}."
    return Plate("photograph", image, text, text)


def _outline(draw: Any, corners: Sequence[Corner], size: tuple[int, int]) -> None:
    points = [(x * size[0], y * size[1]) for x, y in corners]
    for width, colour in ((UNDER, DARK), (LINE, LIGHT)):
        draw.line([*points, points[0]], fill=colour, width=width, joint="curve")


def _ring(draw: Any, place: Corner, size: tuple[int, int]) -> None:
    x, y, reach = place[0] * size[0], place[1] * size[1], SPOT * max(size) + UNDER
    for more, width, colour in ((2, UNDER, DARK), (0, LINE, LIGHT)):
        draw.ellipse(
            [x - reach - more, y - reach - more, x + reach + more, y + reach + more], outline=colour, width=width
        )
