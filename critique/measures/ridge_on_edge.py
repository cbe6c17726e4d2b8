"""Do hills that stand on a level edge, before the sky or paler hills, keep the warm colour of near ground?"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.level_lines import LevelLine
from critique.measures.parts import SKY, WATER
from critique.perception.ranks import median_of, quantiles_of

Float = NDArray[np.float32]

# The edge that parts far hills from nearer land, and the sky or paler hills over them, tell what they are; so they need
# less width and less warmth than a ridge that stands nowhere. Of 200 untouched pictures the most has 0.36 of its width
# so; of 22 with warm hills painted in, twelve have 0.45 and more.
EDGE, EDGE_LENGTH = 0.65, 0.65  # agreement, and part of the width, of the edge that they stand on
HIGH = (0.005, 0.11)  # of the height: how far their middle lies above it
BELOW_HORIZON = (-0.05, 0.2)  # of the height: where such an edge lies from the sky's end
RUN, BAND = 0.06, 0.035  # of the width and of the height: the pieces that are looked at
REACH = (-0.13, 0.03)  # of the height, from the edge or the horizon
WARM = 26.0  # C* toward orange that hills have: as much as land along a line needs
OVER_IT = 12.5  # C*: how much warmer than the sky, or than paler hills, over them
OVER = (0.05, 0.08, 0.11)  # of the height above their middle
UNDER = (0.07, 0.11)  # of the height below their middle
BELOW_IT, OTHER_BELOW = 10.5, 20.0  # C* warmer than what lies below them, or ΔE*ab from it: another colour begins there
LESS_THAN_NEAR = 3.0  # C*: by how much the ground at one's feet may be warmer still
LIGHT = 56.0  # L*: what is lighter is lit, or lies in haze
WIDE = 0.45  # of the width that is so: in the middle between 0.36 and what is seen of painted hills
STEP = 3  # px between the columns that are looked at
NOWHERE = -100.0


@dataclass(frozen=True, slots=True)
class RidgeOnEdge:
    """``forward`` is by how many C* the columns that count, `WIDE` of them, exceed the limits, at least.

    ``far`` and ``lightness`` are medians of the columns that do; ``x``, ``y`` their middle, 0–1 from left and top.
    """

    forward: float
    far: float
    beyond: float
    lightness: float
    x: float
    y: float


def ridge_on_edge(
    lab: Float,
    warmth: Float,
    part: NDArray[np.uint8],
    *,
    levels: Sequence[float],
    near: float,
    lines: Sequence[LevelLine],
) -> RidgeOnEdge | None:
    """The hills that come farthest forward over a level edge; None where none do.

    ``lab`` (height, width, 3), ``warmth`` and ``part`` (height, width) are maps of one picture, ``levels`` the heights
    (0–1 from the top) at which land may end, ``near`` the warmth of the ground in front.
    """
    top = min(levels, default=0.0)
    plain = [line for line in lines if line.agreement >= EDGE and line.length >= EDGE_LENGTH]
    feet = [line.y for line in plain if BELOW_HORIZON[0] < line.y - top < BELOW_HORIZON[1]]
    if not feet:
        return None
    found = [_ridge(lab, warmth, part, level, near) for level in (*levels, *feet)]
    stand = [ridge for ridge in found if ridge is not None and _on_one(ridge, plain)]
    return max(stand, key=lambda ridge: ridge.forward, default=None)


def _on_one(ridge: RidgeOnEdge, plain: Sequence[LevelLine]) -> bool:
    """Whether an edge runs right below it."""
    return any(HIGH[0] <= line.y - ridge.y <= HIGH[1] for line in plain)


def _ridge(lab: Float, warmth: Float, part: NDArray[np.uint8], level: float, near: float) -> RidgeOnEdge | None:
    """Hills about a height, wherever they stand; None where too little of the width has them."""
    from scipy.ndimage import uniform_filter

    height, width = warmth.shape
    run, band = max(3, round(RUN * width)), max(2, round(BAND * height))
    columns = np.arange(run // 2, width - run // 2, STEP)
    rows = np.arange(max(round((level + REACH[0]) * height), band), round((level + REACH[1]) * height))
    rows = rows[rows < height - band]
    if not len(rows) or not len(columns):
        return None

    def pieces(field: Float) -> Float:
        return np.asarray(uniform_filter(field, (band, run), mode="nearest"), dtype=np.float32)[:, columns]

    warm, colours = pieces(warmth), np.stack([pieces(lab[..., channel]) for channel in range(3)], -1)
    light = colours[..., 0]
    sky, land = (pieces(which.astype(np.float32)) > 0.5 for which in (part == SKY, (part != SKY) & (part != WATER)))
    there = warm[rows]
    over = np.full(there.shape, NOWHERE, dtype=np.float32)
    for far in OVER:
        at = np.maximum(rows - round(far * height), 0)
        behind = sky[at] | (light[at] > light[rows])
        over = np.maximum(over, np.where(behind, there - warm[at] - OVER_IT, NOWHERE))
    under = np.full(there.shape, NOWHERE, dtype=np.float32)
    for far in UNDER:
        at = np.minimum(rows + round(far * height), height - 1)
        apart = np.linalg.norm(colours[rows] - colours[at], axis=-1) - OTHER_BELOW
        under = np.maximum(under, np.maximum(there - warm[at] - BELOW_IT, apart))
    margins = np.minimum(np.minimum(there - WARM, there - near + LESS_THAN_NEAR), np.minimum(over, under))
    margins = np.where(land[rows] & (light[rows] <= LIGHT), margins, NOWHERE)
    best, along = margins.argmax(axis=0), np.arange(len(columns))
    strongest = margins[best, along]
    forward = quantiles_of(strongest, (1 - WIDE,))[0]
    if forward <= 0:
        return None
    best, along = best[strongest > 0], along[strongest > 0]
    return RidgeOnEdge(
        forward=forward,
        far=median_of(there[best, along]),
        beyond=median_of((there - over - OVER_IT)[best, along]),
        lightness=median_of(light[rows][best, along]),
        x=float((np.median(columns[along]) + 0.5) / width),
        y=float((np.median(rows[best]) + 0.5) / height),
    )
