"""A picture at the viewing size without its finest detail, which every saving changes: blurred once for all."""

from critique.measures.histogram import COLOURS_LONG_EDGE
from critique.measures.smoothing import FINEST, FINEST_COLOUR, Float, gaussian_planes, planes_of, without_finest
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at


@kept
def finely_seen(picture: Picture) -> Float:
    """L* (height, width), read-only: asked of a picture by what counts single px beyond a limit."""
    light = without_finest(picture.lab[..., 0])
    light.setflags(write=False)
    return light


@kept
def fine_planes(picture: Picture) -> Float:
    """L*, a* and b*, (3, height, width), read-only: asked by what looks at touch and at thin lines."""
    planes = gaussian_planes(planes_of(picture.lab), FINEST * max(picture.height, picture.width), truncate=3)
    planes.setflags(write=False)
    return planes


@kept
def finely_coloured(picture: Picture) -> Float:
    """CIELAB (height, width, 3), read-only, from twice as far as the picture is viewed: asked by what counts hues."""
    lab = without_finest(lab_at(picture, COLOURS_LONG_EDGE), FINEST_COLOUR)
    lab.setflags(write=False)
    return lab
