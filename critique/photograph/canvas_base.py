"""Which candidate is the likeliest canvas, before its sides are chosen one by one."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Codes, Float
from critique.photograph.canvas_edge import Sides, snapped
from critique.photograph.canvas_quads import DEEPEST, INSET, PLAIN, SHARED, Quads, insets
from critique.photograph.canvas_strip import is_surround

Array = NDArray[np.float64]

# What speaks for a candidate, as the log of its odds. Fitted (logistic regression) on photographs drawn by
# tests/benchmarks/photograph_scenes.py, seeds 0–299 and 100000–100199, and on files that are all painting.
WEIGHTS = {
    "edge": -7.447,  # mean strength of the edge along the sides, looked at closely
    "weakest_edge": 11.171,
    "lively": 2.498,  # by how much the inside is less even than the outside, in logs
    "least_lively": 1.572,
    "uneven": 0.517,  # log of the outside's unevenness
    "uneven_afar": 1.337,  # the same at the size that is searched
    "onward": -1.359,  # strongest edge beyond the corners
    "onward_afar": -6.139,
    "edge_afar": 16.617,
    "weakest_edge_afar": 5.313,
    "spread": -15.510,  # of the outside's colour, between the four sides
    "score": 0.035,
    "least_clear": -4.973,  # by how much a side's edge is worth more than any other near it
    "clear": 6.431,
    "within": -2.933,  # strongest edge that lies farther inside
}
BIAS = -14.886
NESTED = 9.0  # of worth: an inner candidate less worthy by this is still the painted edge, the outer one the frame's
STRIPPED = 4.0  # of worth: the same, where all that the outer one has more is surround
MOST_CLEAR_OF = 12.0  # of worth: farther ahead than that is no surer
AFAR = 2.0  # log odds that a point of that score is worth: it picks a canvas better, the odds tell how sure that is
OTHER = 0.012  # of the long edge: candidates nearer than that are one
LEAST_LOG, MOST_LOG, MOST_AFAR = -4.5, -1.5, -1.0  # unevenness that counts, in logs of the range of codes
MOST_LIVELY = 1.5
LEAST_CLEAR, MOST_CLEAR = -0.2, 0.3


@dataclass(frozen=True, slots=True, eq=False)
class Base:
    """A canvas roughly.

    ``corners`` (4, 2) in px, ``candidates`` (4, edges, 2, 2) what other edges its sides could be, the worthiest first,
    ``signs`` what tells whether it is right, nothing where that was too faint to tell; ``border`` (4,) which sides are
    the photograph's borders.
    """

    corners: Array
    candidates: Array
    signs: dict[str, float]
    border: NDArray[np.bool_]


def by_side(own: Array, nearby: Array) -> Array:
    """(4, edges, 2, 2) of candidates' own sides (candidates, 4, 2, 2) and, after them, those near."""
    every = np.concatenate([own[:, :, None], nearby], axis=2)
    return every.transpose(1, 2, 0, 3, 4).reshape(4, -1, 2, 2)


def best_candidate(pixels: Codes, small: Float, quads: Quads) -> Base:
    """The likeliest of candidates with four plain sides."""
    scale = np.array([pixels.shape[1] / small.shape[1], pixels.shape[0] / small.shape[0]])
    corners, sides, nearby = snapped(pixels, (quads.corners + 0.5) * scale)
    odds = _odds(quads, sides)
    unit = corners / max(pixels.shape[:2])
    worth = odds + AFAR * (quads.score - PLAIN)
    best = _innermost(unit, worth, int(worth.argmax()))
    best = _without_surround(small, corners / scale - 0.5, unit, worth, best)
    others = [
        worth[other]
        for other in range(len(worth))
        if np.abs(unit[other] - unit[best]).max() > OTHER and not insets(unit[other], unit[best]).min() > INSET
    ]
    ahead = min(float(worth[best] - max(others)), MOST_CLEAR_OF) if others else MOST_CLEAR_OF
    signs = {
        "odds": float(odds[best]),
        "ahead": ahead,
        "moved": float(sides.moved[best].max()),
        "within": float(np.sort(sides.within[best])[-2]),  # of one side alone it is a line in the painting
    }
    order = np.argsort(-worth, kind="stable")
    own = np.stack([corners, np.roll(corners, -1, axis=1)], axis=2)[order]
    return Base(corners[best], by_side(own, nearby[order]), signs, np.zeros(4, dtype=np.bool_))


def _odds(quads: Quads, close: Sides) -> Array:
    """Log odds of each candidate, from afar and from close by."""
    lively = np.clip(close.lively, -MOST_LIVELY, MOST_LIVELY)
    clear = np.clip(close.clear, LEAST_CLEAR, MOST_CLEAR)
    figures = {
        "edge": close.edge.mean(1),
        "weakest_edge": close.edge.min(1),
        "lively": lively.mean(1),
        "least_lively": lively.min(1),
        "uneven": np.clip(close.uneven, LEAST_LOG, MOST_LOG).mean(1),
        "uneven_afar": np.minimum(quads.even, MOST_AFAR).mean(1),
        "onward": close.onward.max(1),
        "onward_afar": quads.onward.mean(1),
        "edge_afar": quads.support.mean(1),
        "weakest_edge_afar": quads.support.min(1),
        "spread": spread_of(quads.outside),
        "score": quads.score,
        "least_clear": clear.min(1),
        "clear": clear.mean(1),
        "within": close.within.max(1),
    }
    return np.asarray(BIAS + sum(WEIGHTS[name] * figure for name, figure in figures.items()))


def spread_of(colours: Array, weight: Array | float = 1.0) -> Array:
    """How far the colours (…, 4, 3) of four sides lie from their mean; ``weight`` (…, 4) is 0 for sides left out."""
    part = np.broadcast_to(np.asarray(weight, np.float64), colours.shape[:-1])
    part = part / part.sum(axis=-1, keepdims=True)
    middle = (colours * part[..., None]).sum(axis=-2, keepdims=True)
    return np.asarray(np.sqrt((((colours - middle) ** 2).sum(-1) * part).sum(-1)))


def _innermost(unit: Array, worth: Array, best: int) -> int:
    """The worthiest candidate inside the best, and so on: of a frame's edges, the painted one."""
    for _ in range(3):  # moulding, mat, painting
        inner = [
            other
            for other in range(len(worth))
            if worth[other] > worth[best] - NESTED
            and other != best
            and INSET < (inset := insets(unit[best], unit[other])).min()
            and inset.max() < DEEPEST
        ]
        if not inner:
            break
        best = max(inner, key=lambda other: float(worth[other]))
    return best


def _without_surround(small: Float, corners: Array, unit: Array, worth: Array, best: int) -> int:
    """The worthiest candidate inside the best that leaves out nothing but surround; the best where there is none."""
    for other in np.argsort(-worth, kind="stable"):
        apart = np.abs(unit[other] - unit[best]).max()
        if worth[best] - worth[other] > STRIPPED or other == best or apart < OTHER:
            continue
        if insets(unit[best], unit[other]).min() > -SHARED and is_surround(small, corners[best], corners[other]):
            return int(other)
    return best
