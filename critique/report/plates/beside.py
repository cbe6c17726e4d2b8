"""The picture with its changes made, to lie beside the picture as it is."""

from itertools import pairwise

import numpy as np

from critique.advice.change import Composed
from critique.advice.frame import Frame
from critique.picture.picture import Picture
from critique.report.plates.photograph import in_colour, plate_size
from critique.report.plates.plate import Plate, image_of
from critique.report.quick_change import QuickChange

STRIPS = 8  # one after another, so that a million px never lie in memory as floats
PREVIEW_LONG_EDGE = 640  # px of a change tried alone


def aim_plate(picture: Picture, composed: Composed, alt: str) -> Plate:
    """The aim as large as the picture that lies beside it, made from what is drawn, so that both are as sharp."""
    codes = in_colour(picture)
    height, width = codes.shape[:2]
    quick = QuickChange(composed)
    edges = [round(height * strip / STRIPS) for strip in range(STRIPS + 1)]
    made = [
        quick.on(codes[top:bottom], Frame(bottom - top, width, (top / height, 0.0, bottom / height, 1.0)))
        for top, bottom in pairwise(edges)
    ]
    # A crop may leave nothing of a strip.
    return Plate("aim", image_of(np.concatenate([strip for strip in made if strip.size])), alt, "")


def preview_plate(preview: Picture, name: str, alt: str, caption: str) -> Plate:
    """One change tried on the picture, at most as large as it was measured."""
    edge = min(PREVIEW_LONG_EDGE, max(plate_size(preview, PREVIEW_LONG_EDGE)))
    return Plate(name, image_of(in_colour(preview, edge)), alt, caption)
