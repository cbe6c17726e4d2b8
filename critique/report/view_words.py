"""What the page says of the photograph that a painting was found in."""

import shlex
from dataclasses import dataclass

from critique.picture.picture import Picture
from critique.report.plates.canvas import canvas_plate
from critique.report.plates.plate import Plate

LIGHT = (
    "No grey was at hand to tell the light by, so colours are as photographed: a warmer or a cooler lamp would change "
    "what is said of greens and casts. A grey card beside the canvas settles it."
)


@dataclass(frozen=True, slots=True)
class ViewTold:
    """The photograph with its outline, what is said beside it, and the command that says otherwise."""

    plate: Plate
    unsure: bool
    text: str
    command: str


def view_told(picture: Picture) -> ViewTold | None:
    """What to tell of the photograph; None where the file is all painting."""
    view = picture.view
    plate = canvas_plate(view) if view is not None else None
    if view is None or plate is None:
        return None
    places = " ".join(f"{x:.3f},{y:.3f}" for x, y in view.corners)
    command = f'critique review {shlex.quote(picture.file)} --corners "{places}"'
    if view.cropped:
        found = "at the corners that you gave" if view.how == "given" else "as it was found"
        return ViewTold(
            plate,
            False,
            f"Judged is the painting alone, cropped out of the photograph {found} and seen square on. {LIGHT} If the "
            "outline is wrong, give its corners; if the whole file is the painting, say --whole.",
            command,
        )
    return ViewTold(
        plate,
        True,
        "This photograph may show more than the painting, but where the canvas ends isn't sure. Nothing was cropped, "
        "so wall and frame may have been judged with it. If the outline is the canvas, run the command; else change "
        "its corners, or say --whole.",
        command,
    )
