"""Does a ridge in warm colour run along the horizon, warmer than what lies over it and below it?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.parts import SKY, WATER
from critique.perception.ranks import median_of, quantiles_of

Float = NDArray[np.float32]

# Of 112 untouched pictures and 59 photographs none has such a ridge along half of its width, nor has another photograph
# of one, cropped, turned or in other light.
WARM = 30.5  # C* toward orange that a ridge has
OVER_IT = 12.5  # C*: how much warmer it is than something over it, up to where hills end
BELOW_IT = 10.5  # C*: than what lies right below it: a wood, a bank and a field go on downward
LESS_THAN_NEAR = 3.5  # C*: by how much the ground at one's feet may be warmer still; hills as warm as that are near
LIGHT = 56.0  # L*: what is lighter is lit, or lies in haze
RUN, BAND = 0.12, 0.05  # of the width and of the height: the pieces that are looked at
REACH = (-0.13, 0.03)  # of the height, from the horizon, or from the edge that it stands on: where a ridge is
OVER = (0.06, 0.09, 0.13, 0.18)  # of the height above its middle
UNDER = (0.07, 0.11)  # of the height below its middle
STEP = 3  # px between the columns that are looked at
NOWHERE = -100.0


@dataclass(frozen=True, slots=True)
class Ridge:
    """``forward`` is by how many C* the columns that are counted exceed the limits, below 0 where they don't.

    ``far``, ``beyond`` and ``lightness`` are medians of the columns that do: warmth, warmth over it, L*; ``x``, ``y``
    their middle, 0–1 from the left and the top.
    """

    forward: float
    far: float
    beyond: float
    lightness: float
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Pieces:
    """The pieces of a picture about a height of it: means of ``band`` by ``run`` px, in some of its columns."""

    height: int
    width: int
    run: int
    band: int
    columns: NDArray[np.intp]
    rows: NDArray[np.intp]

    @classmethod
    def about(cls, size: tuple[int, int], level: float, *, run: float, band: float) -> "Pieces | None":
        """Those about ``level`` (0–1 from the top), by parts of the width and of the height; None where none fits."""
        height, width = size
        wide, high = max(3, round(run * width)), max(2, round(band * height))
        columns = np.arange(wide // 2, width - wide // 2, STEP)
        rows = np.arange(max(round((level + REACH[0]) * height), high), round((level + REACH[1]) * height))
        rows = rows[rows < height - high]
        return cls(height, width, wide, high, columns, rows) if len(rows) and len(columns) else None

    def means(self, field: Float) -> Float:
        """Means of a map (height, width) about each place of the columns (height, columns)."""
        from scipy.ndimage import uniform_filter

        means = uniform_filter(field, (self.band, self.run), mode="nearest")
        return np.asarray(means, dtype=np.float32)[:, self.columns]

    def above(self, away: float) -> NDArray[np.intp]:
        """The rows so much of the height above theirs."""
        return np.maximum(self.rows - round(away * self.height), 0)

    def below(self, away: float) -> NDArray[np.intp]:
        """The rows so much of the height below theirs."""
        return np.minimum(self.rows + round(away * self.height), self.height - 1)

    def ridge(self, margins: Float, warm: Float, over: Float, light: Float, *, counted: float) -> Ridge | None:
        """The ridge of the columns that exceed the limits anywhere; None where none does.

        ``margins`` (rows, columns) say by how much, beside the warmth there, the warmth over it and L*; ``forward`` is
        the least of the best columns, ``counted`` (0–1) of all.
        """
        best, along = margins.argmax(axis=0), np.arange(len(self.columns))
        strongest = margins[best, along]
        seen = strongest > 0
        if not seen.any():
            return None
        best, along = best[seen], along[seen]
        return Ridge(
            forward=quantiles_of(strongest, (1 - counted,))[0],
            far=median_of(warm[best, along]),
            beyond=median_of(over[best, along]),
            lightness=median_of(light[best, along]),
            x=float((np.median(self.columns[along]) + 0.5) / self.width),
            y=float((np.median(self.rows[best]) + 0.5) / self.height),
        )


def warm_ridge(
    warmth: Float, lightness: Float, part: NDArray[np.uint8], *, horizon: float, near: float
) -> Ridge | None:
    """The ridge at the horizon (0–1 from the top) of maps (height, width), where some column of it is warm enough.

    ``near`` is the warmth of the ground in front.
    """
    pieces = Pieces.about(warmth.shape, horizon, run=RUN, band=BAND)
    if pieces is None:
        return None
    warm = pieces.means(warmth)
    there = warm[pieces.rows]
    warmer = np.minimum(there - WARM, there - near + LESS_THAN_NEAR)
    if not (warmer > 0).any():  # so it is of most pictures, and the rest need not be asked
        return None
    light = pieces.means(lightness)[pieces.rows]
    land = pieces.means(((part != SKY) & (part != WATER)).astype(np.float32))[pieces.rows] > 0.5
    over = np.min([warm[pieces.above(far)] for far in OVER], axis=0)
    under = np.min([warm[pieces.below(far)] for far in UNDER], axis=0)
    margins = np.minimum(
        warmer,
        np.minimum(there - over - OVER_IT, there - under - BELOW_IT),
    )
    margins = np.where(land & (light <= LIGHT), margins, NOWHERE)
    return pieces.ridge(margins, there, over, light, counted=0.5)
