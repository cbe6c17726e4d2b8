"""The lightness of a picture at the viewing size, without the finest detail that every saving of a file changes."""

from critique.measures.smoothing import Float, without_finest
from critique.picture.kept import kept
from critique.picture.picture import Picture


@kept
def finely_seen(picture: Picture) -> Float:
    """L* (height, width), read-only: asked of a picture by what counts single px beyond a limit."""
    light = without_finest(picture.lab[..., 0])
    light.setflags(write=False)
    return light
