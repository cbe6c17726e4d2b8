"""How a file becomes a Picture."""

from pathlib import Path

from critique.photograph.read import read_photograph
from critique.picture.picture import Picture, picture_of


def read_picture(path: str | Path) -> Picture:
    """Read the picture in a file.

    JPEG, PNG, WebP, TIFF (8 and 16 bits, floating point), BMP, GIF (first frame) and HEIC. Raises
    ``UnreadablePicture``, one line, when there is no such picture or it is outside the limits of size.
    """
    return picture_of(read_photograph(path))
