"""Which four edges near a canvas that was found are its sides: those that tell the same of what lies around it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.photograph.canvas_edge import meetings
from critique.photograph.canvas_pool import Pool
from critique.photograph.canvas_told import COMMON, FIGURES, Told

Array = NDArray[np.float64]

# What speaks for four edges together, in logs of likelihood: the sum of what is told of each, of the least of some
# of it, and of what is told of each two. Fitted by tests/benchmarks/canvas_choice.py on seeds
# 0–299, 100000–100199, 200000–200199 and 300000–300399.
WEIGHTS = {
    "edge": 6.217,
    "weakest": 0.428,
    "one_step": 0.747,
    "uneven": 0.597,
    "lively": 1.279,
    "onward": -1.023,
    "fold": 0.721,
    "within": -4.309,
    "beyond": 5.380,
    "alike": 0.402,
    "away": -66.315,
    "inside": 86.138,
    "found": 1.101,
    "tilt": -51.357,
    "step": -0.501,
    "lightness": -2.010,
    "border": -0.819,
    "uneven_afar": -0.861,
    "seen": -10.261,
    "gap": -0.112,
    "flat": -1.481,
}
WEAKEST = {
    "edge": 9.859,
    "weakest": 2.155,
    "one_step": 1.300,
}
ALIKE = {
    "light": -1.096,
    "colour": 0.107,
    "profile": 1.012,
    "deep_colour": -3.918,
    "apart": -0.001,
    "apart_colour": 0.373,
    "roughness": -0.337,
}
MOST = 400  # of the worthiest choices that are told apart
MOST_AHEAD = 12.0  # of worth: farther ahead than that is no surer
SAME = 0.01  # of the long edge: choices nearer than that are one


@dataclass(frozen=True, slots=True, eq=False)
class Chosen:
    """Four edges: ``corners`` (4, 2) in px, ``lines`` their numbers in the pool.

    ``share`` is how likely they, or others within 1 %, are against all other choices; ``ahead`` by how much they are
    worth more than any of those, in logs.
    """

    corners: Array
    lines: NDArray[np.intp]
    share: float
    ahead: float


def chosen(pool: Pool, told: Told) -> Chosen:
    """The worthiest choice of one edge for each side."""
    own = [np.flatnonzero(pool.side == side) for side in range(4)]
    worth = choice_worth(pool, told).ravel()
    order = np.argsort(-worth, kind="stable")[:MOST]
    lines = np.stack(
        [edges[place] for edges, place in zip(own, np.unravel_index(order, [len(o) for o in own]), strict=True)], axis=1
    )
    corners = corners_of(pool, lines)
    longest = np.hypot(*(np.roll(corners[0], -1, axis=0) - corners[0]).T).max()
    same = np.hypot(*np.moveaxis(corners - corners[0], -1, 0)).max(axis=1) <= SAME * longest
    likely = np.exp(worth[order] - worth[order[0]])
    others = worth[order][~same]
    ahead = float(worth[order[0]] - others[0]) if len(others) else MOST_AHEAD
    return Chosen(corners[0], lines[0], float(likely[same].sum() / likely.sum()), min(ahead, MOST_AHEAD))


def choice_worth(pool: Pool, told: Told) -> Array:
    """What speaks for every choice (upper, right, lower, left)."""
    own = [np.flatnonzero(pool.side == side) for side in range(4)]
    each = told.figures @ [WEIGHTS[name] for name in FIGURES]
    both = told.common @ [ALIKE[name] for name in COMMON]
    worth = np.zeros([len(edges) for edges in own])
    for side in range(4):
        worth += _along(each[own[side]], side)
        for other in range(side):
            worth += _along(both[np.ix_(own[other], own[side])], other, side)
    for name, weight in WEAKEST.items():
        column = told.figures[:, FIGURES.index(name)]
        worth += weight * np.minimum.reduce(
            np.broadcast_arrays(*(_along(column[own[side]], side) for side in range(4)))
        )
    return worth


def _along(values: Array, *axes: int) -> Array:
    shape = [1, 1, 1, 1]
    for axis, length in zip(axes, values.shape, strict=True):
        shape[axis] = length
    return values.reshape(shape)


def corners_of(pool: Pool, lines: NDArray[np.intp]) -> Array:
    """Where the edges of choices (number, 4) cross: (number, 4, 2)."""
    edges = pool.lines[lines]
    return meetings(np.roll(edges, 1, axis=1), edges)
