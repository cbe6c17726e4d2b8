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
# 0–299, 100000–100199, 200000–200199 and 300000–300399, and from there on (--onward) on 4000000–4000487:
# of those, left out in turn, 94.1 % of the choices are right, where it was 93.3 % before.
WEIGHTS = {
    "edge": 6.372,
    "weakest": 0.669,
    "one_step": 0.836,
    "uneven": 0.539,
    "lively": 1.225,
    "onward": -1.190,
    "fold": 0.496,
    "within": -4.148,
    "beyond": 5.503,
    "alike": 0.111,
    "away": -70.041,
    "inside": 86.762,
    "found": 1.266,
    "tilt": -42.134,
    "step": -0.444,
    "lightness": -2.149,
    "border": -0.5,  # lowered by hand: where borders hide sides, 14 of 35 are right, 8 before; elsewhere none changes
    "uneven_afar": -0.807,
    "seen": -11.728,
    "gap": 0.039,
    "flat": -1.416,
}
WEAKEST = {
    "edge": 8.408,
    "weakest": 2.043,
    "one_step": 2.443,
}
ALIKE = {
    "light": -1.081,
    "colour": -0.426,
    "profile": 1.246,
    "deep_colour": -3.125,
    "apart": 0.123,
    "apart_colour": 0.093,
    "roughness": -0.342,
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
    most = np.argpartition(-worth, MOST)[:MOST] if len(worth) > MOST else np.arange(len(worth))
    order = most[np.argsort(-worth[most], kind="stable")]
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
    upper, right, lower, left = own = [np.flatnonzero(pool.side == side) for side in range(4)]
    each = told.figures @ [WEIGHTS[name] for name in FIGURES]
    both = told.common @ [ALIKE[name] for name in COMMON]
    # There are many choices: what is told of two sides or three is added up before it is spread over the others.
    first = each[upper][:, None] + each[right] + both[np.ix_(upper, right)]
    last = each[lower][:, None] + each[left] + both[np.ix_(lower, left)]
    with_lower = first[:, :, None] + both[np.ix_(upper, lower)][:, None] + both[np.ix_(right, lower)]
    with_left = both[np.ix_(upper, left)][:, None] + both[np.ix_(right, left)]
    worth: Array = with_lower[..., None] + with_left[:, :, None]
    worth += last
    least = np.empty_like(worth)
    for name, weight in WEAKEST.items():
        one, two, three, four = (told.figures[edges, FIGURES.index(name)] for edges in own)
        np.minimum(np.minimum(one[:, None], two)[:, :, None, None], np.minimum(three[:, None], four), out=least)
        least *= weight
        worth += least
    return worth


def corners_of(pool: Pool, lines: NDArray[np.intp]) -> Array:
    """Where the edges of choices (number, 4) cross: (number, 4, 2)."""
    edges = pool.lines[lines]
    return meetings(np.roll(edges, 1, axis=1), edges)
