"""The photograph with the outline of the canvas that was judged, or that may be one."""

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
    points = [(x * image.width, y * image.height) for x, y in view.corners]
    for width, colour in ((UNDER, DARK), (LINE, LIGHT)):
        draw.line([*points, points[0]], fill=colour, width=width, joint="curve")
    what = "what was judged" if view.cropped else "what may be the canvas; nothing was cropped"
    return Plate("photograph", image, f"The photograph; the outline is {what}.", f"The photograph. Outlined: {what}.")
