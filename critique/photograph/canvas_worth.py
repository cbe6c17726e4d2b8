"""How much speaks for four edges together being the sides of a canvas, in logs of likelihood."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from critique.perception.reference import read_table
from critique.photograph.canvas_pool import Pool
from critique.photograph.canvas_told import COMMON, FIGURES, Told

Array = NDArray[np.float64]

TABLE = "canvas_choice.csv"
SIDE = (*FIGURES, "lower", "upright")  # what is told of an edge, and which side it would be
LEAST = ("edge", "weakest", "one_step")  # of these the least of the four counts too
# How the four lie, as a camera sees a right angle: by how much it is skew at any usual lens and at one, and how far
# that one would be turned, tilted and held askew.
VIEW = ("skew_least", "skew", "turned", "tilted", "askew")
MOST_VIEW = (0.1, 0.15, 0.6, 0.6, 0.3)
NO_SIDE = 1e-9  # of the long edge: a side of no length, of four edges of which two cross the others at one place
LENSES = (0.7, 0.9, 1.2, 1.6, 2.0, 2.5, 3.0)  # focal lengths, in the photograph's long edge
USUAL = 3  # which of them is taken for the one
FARTHEST = 4.0  # spreads from the middle: what lies farther out was hardly ever seen


@dataclass(frozen=True, slots=True, eq=False)
class Net:
    """What is told (…, cues) to one figure (…): weighed straight, and by way of some units that saturate."""

    middle: Array
    spread: Array
    direct: Array
    units: Array  # (cues, units)
    bias: Array
    out: Array

    def __call__(self, cues: Array) -> Array:
        standard = np.clip((cues - self.middle) / self.spread, -FARTHEST, FARTHEST)
        return np.asarray(standard @ self.direct + np.tanh(standard @ self.units + self.bias) @ self.out)


@dataclass(frozen=True, slots=True, eq=False)
class Worth:
    """``side`` tells of each edge, ``pair`` of each two; ``least`` and ``view`` are weights of those figures."""

    side: Net
    pair: Net
    least: Array
    view: Array


@cache
def fitted_worth() -> Worth:
    """As it was fitted. [canvas_choice.csv]"""
    rows = read_table(TABLE)

    def column(of: str, name: str, cues: tuple[str, ...]) -> Array:
        told = {row["cue"]: row[name] for row in rows if row["of"] == of}
        return np.array([float(told[cue]) for cue in cues])

    def net(of: str, cues: tuple[str, ...]) -> Net:
        units = [
            name for name in rows[0] if name.startswith("unit") and any(row[name] for row in rows if row["of"] == of)
        ]
        return Net(
            middle=column(of, "middle", cues),
            spread=column(of, "spread", cues),
            direct=column(of, "direct", cues),
            units=np.stack([column(of, name, cues) for name in units], axis=1),
            bias=np.concatenate([column(of, name, ("bias",)) for name in units]),
            out=np.concatenate([column(of, name, ("out",)) for name in units]),
        )

    return Worth(
        net("side", SIDE), net("pair", COMMON), column("least", "direct", LEAST), column("view", "direct", VIEW)
    )


def sides_told(pool: Pool, told: Told) -> Array:
    """What the worth asks of each edge: (edges, SIDE)."""
    return np.concatenate([told.figures, (pool.side == 2)[:, None], (pool.side % 2 == 1)[:, None]], axis=1)


def choice_worth(pool: Pool, told: Told, worth: Worth) -> Array:
    """What speaks for every choice (upper, right, lower, left), but for how its four lie."""
    upper, right, lower, left = own = [np.flatnonzero(pool.side == side) for side in range(4)]
    each, both = worth.side(sides_told(pool, told)), worth.pair(told.common)
    # There are many choices: what is told of two sides or three is added up before it is spread over the others.
    first = each[upper][:, None] + each[right] + both[np.ix_(upper, right)]
    last = each[lower][:, None] + each[left] + both[np.ix_(lower, left)]
    with_lower = first[:, :, None] + both[np.ix_(upper, lower)][:, None] + both[np.ix_(right, lower)]
    with_left = both[np.ix_(upper, left)][:, None] + both[np.ix_(right, left)]
    total: Array = with_lower[..., None] + with_left[:, :, None]
    total += last
    least = np.empty_like(total)
    for name, weight in zip(LEAST, worth.least, strict=True):
        one, two, three, four = (told.figures[edges, FIGURES.index(name)] for edges in own)
        np.minimum(np.minimum(one[:, None], two)[:, :, None, None], np.minimum(three[:, None], four), out=least)
        least *= weight
        total += least
    return total


def view_told(corners: Array, size: tuple[int, int]) -> Array:
    """How fours of corners (number, 4, 2) lie in a photograph of that height and width in px: (number, VIEW).

    A flat right angle is seen through the columns of the homography that takes a square to the corners: divided by the
    focal length they are at right angles to each other, if the corners are a canvas's and the lens is that one.
    """
    at = (corners - np.array([size[1], size[0]]) / 2) / max(size)
    first, second = at[:, 1] - at[:, 2], at[:, 3] - at[:, 2]
    off = at[:, 0] - at[:, 1] + at[:, 2] - at[:, 3]
    across = _cross(first, second)
    across = np.where(np.abs(across) > 1e-12, across, 1e-12)
    g, h = _cross(off, second) / across, _cross(first, off) / across
    level = at[:, 1] - at[:, 0] + g[:, None] * at[:, 1]
    upright = at[:, 3] - at[:, 0] + h[:, None] * at[:, 3]
    square = np.array(LENSES)[:, None] ** 2
    long_level = np.sqrt((level**2).sum(axis=1) + square * g**2)
    long_upright = np.sqrt((upright**2).sum(axis=1) + square * h**2)
    none = ((long_level <= NO_SIDE) | (long_upright <= NO_SIDE)).any(axis=0)  # two corners are one
    long_level, long_upright = np.maximum(long_level, NO_SIDE), np.maximum(long_upright, NO_SIDE)
    skew = ((level * upright).sum(axis=1) + square * g * h) / (long_level * long_upright)
    low, high = skew.min(axis=0), skew.max(axis=0)
    focal = LENSES[USUAL]
    told = (
        np.where((low < 0) & (high > 0), 0, np.minimum(np.abs(low), np.abs(high))),
        skew[USUAL],
        focal * g / long_level[USUAL],
        focal * h / long_upright[USUAL],
        (np.arctan2(level[:, 1], level[:, 0]) - np.arctan2(upright[:, 0], upright[:, 1])) / 2,
    )
    return np.where(none[:, None], MOST_VIEW, np.minimum(np.abs(np.stack(told, axis=1)), MOST_VIEW))


def _cross(one: Array, other: Array) -> Array:
    return np.asarray(one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0])
