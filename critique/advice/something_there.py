"""Whether there is anything to judge a picture by: one part beside another, and colour beside grey."""

import numpy as np

from critique.perception.channels import chroma_of
from critique.perception.ranks import middle_colour, quantiles_of
from critique.perception.srgb import Float
from critique.picture.kept import kept
from critique.picture.picture import Picture

APART = 5.0  # ΔE*ab from the middle colour: what a primed canvas, a wall and their noise stay within
MOST_OF_IT = 99.8  # percentile of a picture that is to stay within: a figure or a signature is more
GREY_CHROMA = 1.5  # C*ab that all of a picture in greys stays below: black ink, pencil, a photograph without colour
EVERY = 3  # px between those that are asked


@kept
def one_colour(picture: Picture) -> bool:
    """Whether it is one colour from edge to edge: a blank canvas, a wall, a lens cap."""
    asked = _asked(picture)
    apart = np.linalg.norm(asked - middle_colour(asked), axis=1)
    return bool(quantiles_of(apart, (MOST_OF_IT / 100,))[0] < APART)


@kept
def in_greys(picture: Picture) -> bool:
    """Whether it has no colour at all, so that nothing of its colour can be praised or blamed."""
    asked = _asked(picture)
    return bool(quantiles_of(chroma_of(asked), (MOST_OF_IT / 100,))[0] < GREY_CHROMA)


def _asked(picture: Picture) -> Float:
    return picture.lab[::EVERY, ::EVERY].reshape(-1, 3)
