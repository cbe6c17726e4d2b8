"""A picture at the viewing size without its finest detail, which every saving changes: blurred once for all."""

from critique.measures.smoothing import FINEST, Float, gaussian_planes, planes_of, without_finest
from critique.picture.kept import kept
from critique.picture.picture import Picture


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
