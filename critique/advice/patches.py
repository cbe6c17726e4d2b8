"""A picture as its patches of colour: what several look for small colours in."""

from critique.measures.smoothing import Float, gaussian
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at

VIEW, PATCH = 320, 0.004  # px along the long edge; of it, the spread of a Gaussian: a patch, and no brush mark


@kept
def in_patches(picture: Picture) -> Float:
    """CIELAB (height, width, 3), read-only, blurred until no brush mark is a colour of its own."""
    lab = lab_at(picture, VIEW)
    patches = gaussian(lab, PATCH * max(lab.shape[:2]), truncate=3)
    patches.setflags(write=False)
    return patches
