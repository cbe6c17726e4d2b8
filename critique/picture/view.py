"""What part of a photograph is judged as the picture, and what else the photograph shows."""

from dataclasses import dataclass, field

import numpy as np

from critique.perception.srgb import Codes, linear_to_srgb8
from critique.photograph.canvas_other import Other
from critique.photograph.corners import Corners
from critique.photograph.fitness import Fitness
from critique.photograph.painting import How, Painting
from critique.photograph.photograph import Photograph
from critique.photograph.righting import Lighting
from critique.photograph.scale import area_average

SHOWN_LONG_EDGE = 640  # px of the photograph that is kept to be shown beside the crop


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """How the painting was found in its photograph.

    ``how`` is "whole" (the file is all painting), "found", "given", "unsure" (nothing cropped) or "asked whole";
    ``corners`` those of the canvas that was taken, or of the likeliest where it was unsure, clockwise from the
    painting's upper left, as fractions of the photograph seen upright. ``shown`` is the photograph itself, sRGB codes,
    where it shows more than the painting may be. ``likely`` says of unsure corners whether they are likely right.
    """

    how: How
    corners: Corners
    light: Lighting | None = None  # what was done about its light
    fitness: tuple[Fitness, ...] = ()  # what the camera did to the painting
    shown: Codes | None = field(default=None, metadata={"record": False}, repr=False)
    likely: bool = field(default=True, metadata={"record": False})
    other: Other | None = None  # a picture that hangs beside this one, and isn't judged

    @property
    def cropped(self) -> bool:
        """Whether what is judged is not the whole file."""
        return self.how in ("found", "given")

    @property
    def photographed(self) -> bool:
        """Whether the file shows more than the painting, or may do so."""
        return self.cropped or self.how == "unsure"


def view_of(photograph: Photograph, painting: Painting) -> View:
    """What is told of a photograph in which a painting was looked for."""
    unsure = painting.how == "unsure" and painting.canvas is not None
    corners = painting.canvas.corners if unsure and painting.canvas is not None else painting.corners
    marked = painting.lighting is not None and bool(painting.lighting.places)
    if not (unsure or painting.cropped or marked):
        return View(painting.how, corners, painting.lighting, painting.fitness)
    codes = linear_to_srgb8(area_average(photograph.light, SHOWN_LONG_EDGE))
    likely = not unsure or (painting.canvas is not None and painting.canvas.likely)
    shown = np.ascontiguousarray(codes)
    return View(painting.how, corners, painting.lighting, painting.fitness, shown, likely, painting.other)
