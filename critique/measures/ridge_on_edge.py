"""Do hills that stand on a level edge, before the sky or paler hills, keep the warm colour of near ground?"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from critique.measures.far_ridge import LIGHT, NOWHERE, Pieces, Ridge
from critique.measures.level_lines import LevelLine
from critique.measures.parts import SKY, WATER

Float = NDArray[np.float32]

# The edge that parts far hills from nearer land, and the sky or paler hills over them, tell what they are; so they need
# less width and less warmth than a ridge that stands nowhere. Of 200 untouched pictures the most has 0.36 of its width
# so; of 22 with warm hills painted in, twelve have 0.45 and more.
EDGE, EDGE_LENGTH = 0.65, 0.65  # agreement, and part of the width, of the edge that they stand on
HIGH = (0.005, 0.11)  # of the height: how far their middle lies above it
BELOW_HORIZON = (-0.05, 0.2)  # of the height: where such an edge lies from the sky's end
RUN, BAND = 0.06, 0.035  # of the width and of the height: the pieces that are looked at
WARM = 26.0  # C* toward orange that hills have: as much as land along a line needs
OVER_IT = 12.5  # C*: how much warmer than the sky, or than paler hills, over them
OVER = (0.05, 0.08, 0.11)  # of the height above their middle
UNDER = (0.07, 0.11)  # of the height below their middle
BELOW_IT, OTHER_BELOW = 10.5, 20.0  # C* warmer than what lies below them, or ΔE*ab from it: another colour begins there
LESS_THAN_NEAR = 3.0  # C*: by how much the ground at one's feet may be warmer still
WIDE = 0.45  # of the width that is so: in the middle between 0.36 and what is seen of painted hills


def ridge_on_edge(
    lab: Float,
    warmth: Float,
    part: NDArray[np.uint8],
    *,
    levels: Sequence[float],
    near: float,
    lines: Sequence[LevelLine],
) -> Ridge | None:
    """The hills that come farthest forward over a level edge; None where none do.

    ``lab`` (height, width, 3), ``warmth`` and ``part`` (height, width) are maps of one picture, ``levels`` the heights
    (0–1 from the top) at which land may end, ``near`` the warmth of the ground in front.
    """
    top = min(levels, default=0.0)
    plain = [line for line in lines if line.agreement >= EDGE and line.length >= EDGE_LENGTH]
    feet = [line.y for line in plain if BELOW_HORIZON[0] < line.y - top < BELOW_HORIZON[1]]
    if not feet:
        return None
    asked = [Pieces.about(warmth.shape, level, run=RUN, band=BAND) for level in (*levels, *feet)]
    pieces = [one for one in asked if one is not None]
    if not pieces:
        return None
    warm = pieces[0].means(warmth)  # those of all: they differ by the rows that are looked at, and not by their means
    found = [_ridge(lab, warm, part, one, near) for one in pieces]
    stand = [ridge for ridge in found if ridge is not None and _on_one(ridge, plain)]
    return max(stand, key=lambda ridge: ridge.forward, default=None)


def _on_one(ridge: Ridge, plain: Sequence[LevelLine]) -> bool:
    """Whether an edge runs right below it."""
    return any(HIGH[0] <= line.y - ridge.y <= HIGH[1] for line in plain)


def _ridge(lab: Float, warm: Float, part: NDArray[np.uint8], pieces: Pieces, near: float) -> Ridge | None:
    """Hills in some pieces, wherever they stand, by their warmth (height, columns); None where too little has them."""
    there = warm[pieces.rows]
    warmer = np.minimum(there - WARM, there - near + LESS_THAN_NEAR)
    if not (warmer > 0).any():  # so it is of most pictures, and the rest need not be asked
        return None
    colours = np.stack([pieces.means(lab[..., channel]) for channel in range(3)], -1)
    light = colours[..., 0]
    sky, land = (
        pieces.means(which.astype(np.float32)) > 0.5 for which in (part == SKY, (part != SKY) & (part != WATER))
    )
    there_light = light[pieces.rows]
    over = np.full(there.shape, NOWHERE, dtype=np.float32)
    for far in OVER:
        at = pieces.above(far)
        behind = sky[at] | (light[at] > there_light)
        over = np.maximum(over, np.where(behind, there - warm[at] - OVER_IT, NOWHERE))
    under = np.full(there.shape, NOWHERE, dtype=np.float32)
    for far in UNDER:
        at = pieces.below(far)
        apart = np.linalg.norm(colours[pieces.rows] - colours[at], axis=-1) - OTHER_BELOW
        under = np.maximum(under, np.maximum(there - warm[at] - BELOW_IT, apart))
    margins = np.minimum(warmer, np.minimum(over, under))
    margins = np.where(land[pieces.rows] & (there_light <= LIGHT), margins, NOWHERE)
    ridge = pieces.ridge(margins, there, there - over - OVER_IT, there_light, counted=WIDE)
    return ridge if ridge is not None and ridge.forward > 0 else None
