"""Where the ground at one's feet lies."""

import numpy as np
from numpy.typing import NDArray

from critique.measures.parts import SKY, WATER

GROUND = 0.15  # of the height below the horizon, from which on the land is near
LOWER = 0.6  # of the height: what lies above is never near
LEAST_GROUND = 0.04  # of the picture that the near ground needs


def near_ground(
    part: NDArray[np.uint8], level: float, *, apart_from: NDArray[np.bool_] | None = None
) -> NDArray[np.bool_] | None:
    """Where it lies in a map of parts (height, width), below a horizon at ``level`` (0–1 from the top).

    It is land, or water where there is next to none; None where there is too little of either. What it is compared
    with, and so is ``apart_from`` it, is no part of it.
    """
    lower = np.arange(len(part)) >= round(max(level + GROUND, LOWER) * len(part))
    below = np.asarray((part != SKY) & lower[:, None])
    if apart_from is not None:
        below &= ~apart_from
    for ground in (below & (part != WATER), below):
        if ground.mean() >= LEAST_GROUND:
            return np.asarray(ground)
    return None
