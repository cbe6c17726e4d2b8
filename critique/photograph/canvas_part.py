"""Whether a surround shows beside a canvas that the photograph's borders cut off, or whose sides are faint."""

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Codes, Float
from critique.photograph.canvas_base import (
    LEAST_CLEAR,
    LEAST_LOG,
    MOST_CLEAR,
    MOST_LIVELY,
    MOST_LOG,
    Base,
    by_side,
    spread_of,
)
from critique.photograph.canvas_edge import Sides, meetings, snapped
from critique.photograph.canvas_onward import GOES_ON, onward_beyond
from critique.photograph.canvas_pool import border_line
from critique.photograph.canvas_quads import Quads

Array = NDArray[np.float64]

# What speaks for there being a surround, of the sides that show one, as the log of its odds. Fitted (logistic
# regression) on photographs drawn by tests/benchmarks/photograph_scenes.py, seeds 4000000–4000399, whole and cut so
# that one or two sides lie just outside, and on 330 files and parts that are all painting.
WEIGHTS = {
    "sides": 1.285,  # how many there are
    "clear": 14.209,  # by how much a side's edge is worth more than any other near it
    "least_clear": -1.898,
    "edge_afar": 9.306,  # mean strength of the edge along the sides at the size that is searched
    "weakest_edge_afar": 3.818,
    "onward": -2.984,  # strongest edge beyond the corners
    "onward_afar": -4.888,
    "spread": -4.791,  # of the outside's colour, between the sides
    "lively": 1.209,  # by how much the inside is less even than the outside, in logs
    "lively_afar": 0.292,
    "uneven": -1.106,  # log of the outside's unevenness
    "score": 0.390,
}
BIAS = -22.825
# Log odds from which a surround is there: left out of the fit by their painting, the most that 330 files and parts have
# is 1.0, and 4 of 400 drawn photographs that were taken for all painting have more.
THERE = 1.2
MOST = 4  # candidates of each kind that are looked at closely
MOST_CLOSE = 9.0  # that a close look adds to the log odds: of 10,367 that were found to be canvases, one had more
WHOLE_AREA = 0.92  # of the photograph: what is left around it is a border, and no surround
SIDES = [2, 1, 3, 0]  # upper, right, lower and left among left, right, upper and lower


def part_seen(pixels: Codes, small: Float, quads: Quads) -> Base | None:
    """The likeliest canvas of those with a side missing or faint; None where all is painting."""
    every = [_with_chance(kind.taken(slice(MOST))) for kind in (quads, *quads.cut)]
    corners = np.concatenate([some.corners for some, _ in every])
    if not len(corners):
        return None
    scale = np.array([pixels.shape[1] / small.shape[1], pixels.shape[0] / small.shape[0]])
    border = np.concatenate([some.border[:, SIDES] for some, _ in every])
    snapped_corners, close, nearby = snapped(pixels, (corners + 0.5) * scale)
    odds = np.concatenate([afar for _, afar in every]) + _close(close, ~border)
    odds[onward_beyond(pixels, snapped_corners).max(axis=1) > GOES_ON] = -np.inf
    borders = np.array([border_line(side, pixels.shape[:2]) for side in range(4)])
    own = np.stack([snapped_corners, np.roll(snapped_corners, -1, axis=1)], axis=2)
    own = np.where(border[..., None, None], borders, own)
    order = np.argsort(-odds, kind="stable")
    best = order[0]
    found = meetings(np.roll(own[best], 1, axis=0), own[best])
    if odds[best] < THERE or area_within(found, pixels.shape) > WHOLE_AREA:
        return None
    return Base(found, by_side(own[order], nearby[order]), {}, border[best])


def _with_chance(quads: Quads) -> tuple[Quads, Array]:
    """Those that could still be a canvas when they are looked at closely, and their log odds from afar."""
    seen = ~quads.border[:, SIDES]

    def told(name: str) -> Array:
        return np.asarray(getattr(quads, name)[:, SIDES])

    support = told("support")
    afar = BIAS + _weighed(
        sides=seen.sum(axis=1),
        edge_afar=_mean(support, seen),
        weakest_edge_afar=_least(support, seen),
        onward_afar=_mean(told("onward"), seen),
        spread=spread_of(told("outside"), seen.astype(np.float64)),
        lively_afar=_mean(np.clip(told("lively"), -MOST_LIVELY, MOST_LIVELY), seen),
        score=quads.score,
    )
    chance = np.flatnonzero(afar + MOST_CLOSE >= THERE)
    return quads.taken(chance), afar[chance]


def _close(close: Sides, seen: NDArray[np.bool_]) -> Array:
    """What a close look adds to the log odds."""
    clear = np.clip(close.clear, LEAST_CLEAR, MOST_CLEAR)
    return _weighed(
        clear=_mean(clear, seen),
        least_clear=_least(clear, seen),
        onward=-_least(-close.onward, seen),
        lively=_mean(np.clip(close.lively, -MOST_LIVELY, MOST_LIVELY), seen),
        uneven=_mean(np.clip(close.uneven, LEAST_LOG, MOST_LOG), seen),
    )


def _weighed(**figures: Array) -> Array:
    return np.asarray(sum(WEIGHTS[name] * figure for name, figure in figures.items()))


def _mean(figure: Array, seen: NDArray[np.bool_]) -> Array:
    return np.asarray((figure * seen).sum(axis=1) / seen.sum(axis=1))


def _least(figure: Array, seen: NDArray[np.bool_]) -> Array:
    return np.asarray(np.where(seen, figure, np.inf).min(axis=1))


def area_within(corners: Array, shape: tuple[int, ...]) -> float:
    """The share of a photograph that lies between four corners (4, 2) in px."""
    held = np.clip(corners, 0, [shape[1], shape[0]])
    after = np.roll(held, -1, axis=0)
    return float(abs((held[:, 0] * after[:, 1] - after[:, 0] * held[:, 1]).sum()) / 2 / (shape[0] * shape[1]))
