"""How whatever a person has becomes a Picture: read, the painting found in it, brought to the viewing size."""

import numpy as np

from critique.photograph.corners import Corners
from critique.photograph.light_asked import NOTHING_ASKED, LightAsked
from critique.photograph.painting import painting_of
from critique.photograph.read import Given, read_photograph
from critique.picture.picture import Picture, picture_of
from critique.picture.view import view_of


def read_picture(
    given: Given,
    name: str = "picture",
    *,
    corners: Corners | None = None,
    whole: bool = False,
    light: LightAsked = NOTHING_ASKED,
) -> Picture:
    """Read a picture from a path, the bytes of a file, a Pillow image or an array.

    A photograph of a painting on a wall or an easel is cropped to the canvas and straightened where that is sure; a
    file that is all painting stays as it is. An array is taken whole, unless corners are given.

    Parameters
    ----------
    given, name : see :func:`~critique.photograph.read.read_photograph`.
    corners : of the canvas, clockwise from the painting's upper left, as fractions of the photograph seen upright.
    whole : judge the whole file.
    light : by what the photograph's light is put right: a grey spot, a card, a chart, its wall.

    Raises
    ------
    CritiqueError
        One line, when there is no such picture, it is outside the limits of size, or the corners can't be a canvas's.
    """
    photograph = read_photograph(given, name)
    whole = whole or (isinstance(given, np.ndarray) and corners is None)
    painting = painting_of(photograph, corners=corners, whole=whole, light=light)
    return picture_of(painting.photograph, view_of(photograph, painting))
