"""How whatever a person has becomes a Picture."""

from critique.photograph.read import Given, read_photograph
from critique.picture.picture import Picture, picture_of


def read_picture(given: Given, name: str = "picture") -> Picture:
    """Read a picture from a path, the bytes of a file, a Pillow image or an array.

    See :func:`~critique.photograph.read.read_photograph` for what may be given. Raises ``UnreadablePicture``, one line,
    when there is no such picture or it is outside the limits of size.
    """
    return picture_of(read_photograph(given, name))
