"""Which four edges near a canvas that was found are its sides: those that tell the same of what lies around it."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.photograph.canvas_edge import meetings
from critique.photograph.canvas_pool import Pool
from critique.photograph.canvas_told import Told
from critique.photograph.canvas_worth import choice_worth, fitted_worth, view_told

Array = NDArray[np.float64]

MOST = 400  # of the worthiest choices that are told apart
MOST_ASKED = 100  # of those that are asked whether they can be
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


def chosen(
    pool: Pool, told: Told, size: tuple[int, int], barred: Callable[[Array], NDArray[np.bool_]] | None = None
) -> Chosen:
    """The worthiest choice of one edge for each side, in a photograph of that height and width in px.

    ``barred`` tells of corners (number, 4, 2) which can't be; asked of the worthiest only, where it is given.
    """
    own = [np.flatnonzero(pool.side == side) for side in range(4)]
    fitted = fitted_worth()
    every = choice_worth(pool, told, fitted).ravel()
    most = np.argpartition(-every, MOST)[:MOST] if len(every) > MOST else np.arange(len(every))
    places = np.unravel_index(most, [len(edges) for edges in own])
    lines = np.stack([edges[place] for edges, place in zip(own, places, strict=True)], axis=1)
    corners = corners_of(pool, lines)
    worth = every[most] + view_told(corners, size) @ fitted.view
    order = np.argsort(-worth, kind="stable")
    worth, lines, corners = worth[order], lines[order], corners[order]
    if barred is not None:
        first = int(barred(corners[:MOST_ASKED]).argmin())
        worth, lines, corners = worth[first:], lines[first:], corners[first:]
    longest = np.hypot(*(np.roll(corners[0], -1, axis=0) - corners[0]).T).max()
    same = np.hypot(*np.moveaxis(corners - corners[0], -1, 0)).max(axis=1) <= SAME * longest
    likely = np.exp(worth - worth[0])
    others = worth[~same]
    ahead = float(worth[0] - others[0]) if len(others) else MOST_AHEAD
    return Chosen(corners[0], lines[0], float(likely[same].sum() / likely.sum()), min(ahead, MOST_AHEAD))


def corners_of(pool: Pool, lines: NDArray[np.intp]) -> Array:
    """Where the edges of choices (number, 4) cross: (number, 4, 2)."""
    edges = pool.lines[lines]
    return meetings(np.roll(edges, 1, axis=1), edges)
