"""Does a ridge in warm colour run along the horizon, warmer than what lies over it and below it?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.parts import SKY, WATER
from critique.perception.ranks import median_of

Float = NDArray[np.float32]

# Of 112 untouched pictures and 59 photographs none has such a ridge along half of its width, nor has another photograph
# of one, cropped, turned or in other light.
WARM = 30.5  # C* toward orange that a ridge has
OVER_IT = 12.5  # C*: how much warmer it is than something over it, up to where hills end
BELOW_IT = 10.5  # C*: than what lies right below it: a wood, a bank and a field go on downward
LESS_THAN_NEAR = 3.5  # C*: by how much the ground at one's feet may be warmer still; hills as warm as that are near
LIGHT = 56.0  # L*: what is lighter is lit, or lies in haze
RUN, BAND = 0.12, 0.05  # of the width and of the height: the pieces that are looked at
REACH = (-0.13, 0.03)  # of the height, from the horizon: where a ridge stands
OVER = (0.06, 0.09, 0.13, 0.18)  # of the height above its middle
UNDER = (0.07, 0.11)  # of the height below its middle
STEP = 3  # px between the columns that are looked at
NOWHERE = -100.0


@dataclass(frozen=True, slots=True)
class Ridge:
    """``forward`` is by how many C* the middle one of its columns exceeds the limits, below 0 where half of them don't.

    ``far``, ``beyond`` and ``lightness`` are medians of the columns that do: warmth, warmth over it, L*; ``x``, ``y``
    their middle, 0–1 from the left and the top.
    """

    forward: float
    far: float
    beyond: float
    lightness: float
    x: float
    y: float


def warm_ridge(
    warmth: Float, lightness: Float, part: NDArray[np.uint8], *, horizon: float, near: float
) -> Ridge | None:
    """The ridge at the horizon (0–1 from the top) of maps (height, width), where some column of it is warm enough.

    ``near`` is the warmth of the ground in front.
    """
    from scipy.ndimage import uniform_filter

    height, width = warmth.shape
    run, band = max(3, round(RUN * width)), max(2, round(BAND * height))
    columns = np.arange(run // 2, width - run // 2, STEP)
    rows = np.arange(max(round((horizon + REACH[0]) * height), band), round((horizon + REACH[1]) * height))
    rows = rows[rows < height - band]
    if not len(rows) or not len(columns):
        return None

    def pieces(field: Float) -> Float:
        return np.asarray(uniform_filter(field, (band, run), mode="nearest"), dtype=np.float32)[:, columns]

    warm, light = pieces(warmth), pieces(lightness)
    land = pieces(((part != SKY) & (part != WATER)).astype(np.float32))[rows] > 0.5
    over = np.min([warm[np.maximum(rows - round(far * height), 0)] for far in OVER], axis=0)
    under = np.min([warm[np.minimum(rows + round(far * height), height - 1)] for far in UNDER], axis=0)
    there = warm[rows]
    margins = np.minimum(
        np.minimum(there - WARM, there - near + LESS_THAN_NEAR),
        np.minimum(there - over - OVER_IT, there - under - BELOW_IT),
    )
    margins = np.where(land & (light[rows] <= LIGHT), margins, NOWHERE)
    best = margins.argmax(axis=0)
    along = np.arange(len(columns))
    strongest = margins[best, along]
    seen = strongest > 0
    if not seen.any():
        return None
    best, along = best[seen], along[seen]
    return Ridge(
        forward=median_of(strongest),
        far=median_of(there[best, along]),
        beyond=median_of(over[best, along]),
        lightness=median_of(light[rows][best, along]),
        x=float((np.median(columns[along]) + 0.5) / width),
        y=float((np.median(rows[best]) + 0.5) / height),
    )
