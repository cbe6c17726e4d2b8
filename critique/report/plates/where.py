"""Where a finding lies: the picture in greys but for that place."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.where import Spot, Where
from critique.picture.picture import Picture
from critique.report.plates.greens import gathered, outlined
from critique.report.plates.photograph import greys_of, in_colour, resized
from critique.report.plates.plate import Plate

LONG_EDGE = 760  # px: half the page, a third more than it shows
SPOT = 0.09  # of the long edge: radius of the round place that a spot stands for
MIDDLE, VEIL = 160, 0.45  # sRGB code of the grey that what lies elsewhere goes toward, and how far
LINE = 24  # sRGB code of the outline


def where_plate(picture: Picture, where: Where, name: str, title: str) -> Plate:
    """The picture in pale greys with the place of one finding in its colours, outlined."""
    from PIL import Image

    shown = in_colour(picture, LONG_EDGE)
    inside = _disc(where, shown.shape[:2]) if isinstance(where, Spot) else gathered(where, shown.shape[1::-1])
    mask = inside.astype(np.uint8) * np.uint8(255)
    pale = Image.fromarray(greys_of(shown)).point([round(code + (MIDDLE - code) * VEIL) for code in range(256)])
    soft = Image.fromarray(resized(mask, shown.shape[1::-1]))
    image = Image.composite(Image.fromarray(shown), pale.convert("RGB"), soft)
    image.paste((LINE, LINE, LINE), mask=Image.fromarray(outlined(inside).astype(np.uint8) * np.uint8(255)))
    alt = f"Where it lies, {title}: that place in colour, the rest of the picture in greys."
    return Plate(name, image, alt, "In colour: where it lies.")


def _disc(spot: Spot, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    down, across = np.ogrid[: shape[0], : shape[1]]
    radius = SPOT * max(shape)
    return np.asarray(np.hypot(down - spot.y * shape[0], across - spot.x * shape[1]) < radius)
