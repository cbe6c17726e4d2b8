"""Where a finding lies: the picture in greys but for that place."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.where import Spot, Where
from critique.perception.cielab import srgb8_to_lab
from critique.picture.picture import Picture
from critique.report.plates.greens import gathered, outlined
from critique.report.plates.photograph import in_colour, in_greys, resized
from critique.report.plates.plate import Plate, image_of

LONG_EDGE = 760  # px: half the page, a third more than it shows
SPOT = 0.09  # of the long edge: radius of the round place that a spot stands for
VEIL = 0.45  # how far what lies elsewhere goes toward its own middle grey
LINE = 24  # sRGB code of the outline


def where_plate(picture: Picture, where: Where, name: str, title: str) -> Plate:
    """The picture in pale greys with the place of one finding in its colours, outlined."""
    shown = in_colour(picture, LONG_EDGE)
    inside = _disc(where, shown.shape[:2]) if isinstance(where, Spot) else gathered(where, shown.shape[1::-1])
    greys = in_greys(srgb8_to_lab(shown)[..., 0]).astype(np.float32)
    pale = greys + (160 - greys) * np.float32(VEIL)
    soft = resized(inside.astype(np.uint8) * 255, shown.shape[1::-1]).astype(np.float32)[..., None] / 255
    codes = pale + (shown - pale) * soft
    codes[outlined(inside)] = LINE
    alt = f"Where it lies, {title}: that place in colour, the rest of the picture in greys."
    return Plate(name, image_of(np.asarray(np.rint(codes), dtype=np.uint8)), alt, "In colour: where it lies.")


def _disc(spot: Spot, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    down, across = np.ogrid[: shape[0], : shape[1]]
    radius = SPOT * max(shape)
    return np.asarray(np.hypot(down - spot.y * shape[0], across - spot.x * shape[1]) < radius)
