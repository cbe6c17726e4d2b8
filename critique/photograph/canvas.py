"""Where the painting lies in a photograph of it, and how sure that is."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Codes, Float, linear_to_srgb8
from critique.photograph.canvas_edge import Pixels, Sides, snapped
from critique.photograph.canvas_quads import DEEPEST, INSET, SHARED, Quads, candidate_quads, insets
from critique.photograph.canvas_strip import is_surround
from critique.photograph.corners import ALL, Corners, as_corners
from critique.photograph.scale import area_average

Array = NDArray[np.float64]

# Why a canvas isn't sure, or why nothing was found.
Reason = Literal[
    "no four sides",
    "perhaps cut off",
    "hardly a surround",
    "weak evidence",
    "another is as likely",
    "another edge beside it",
]

SEARCHED = 400  # px along the long edge: a thin frame is still two px wide
LARGEST = 470  # px: a copy by a whole step may be as large before it is scaled

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
# What speaks for the likeliest being right to 1 %, as the log of its odds; by tests/benchmarks/canvas_sureness.py,
# fitted on seeds 0–299, 100000–100199 and 200000–200199, and on files that are all painting and parts of them.
SURENESS = {
    "odds": 0.227,
    "ahead": 0.155,  # of worth, of any other that isn't its frame
    "lively": 0.490,  # as above
    "least_lively_afar": -0.356,
    "onward": 2.462,  # mean over the sides
    "fold": 1.289,  # how much of an edge is light alone: the painted edge of a canvas that turns to its side
    "spread": -6.374,  # of the colours just outside, between the four sides
    "within": -1.157,  # strength of edges farther inside, on two sides at least
    "moved": -1.509,  # farthest that a side lay from where it was looked for
    "unsteady": -0.517,  # log of how far a corner moves when it is looked for again
}
SURENESS_BIAS = -1.366
SURE = 2.6  # log odds from which a canvas is sure: left out of the fit, 60 % are called so rightly and 0.6 % wrongly
CLEAR = 4.0  # of worth between it and any other that isn't its frame: with less, that one is named as a reason
SECOND_EDGE = 0.63  # strength of an edge inside a side, from which that one is named
MOST_CLEAR_OF = 12.0  # of worth: farther ahead than that is no surer
STILL = 1e-4  # of the long edge: moving by less when it is looked at again is standing still
NONE = 13.0  # score from afar below which a file is all painting: the best of 160 such files and parts has 12.6
CUT_OFF = 12.85  # score from afar of three sides and a border, from which a canvas may be cut off there
AFAR = 2.0  # log odds that a point of that score is worth: it picks a canvas better, the odds tell how sure that is
WHOLE_AREA = 0.92  # of the photograph: what is left around it is a border, and no surround
OTHER = 0.012  # of the long edge: candidates nearer than that are one
LEAST_LOG, MOST_LOG, MOST_AFAR = -4.5, -1.5, -1.0  # unevenness that counts, in logs of the range of codes
MOST_LIVELY = 1.5
LEAST_CLEAR, MOST_CLEAR = -0.2, 0.3


@dataclass(frozen=True, slots=True)
class Canvas:
    """Where the painting lies: corners clockwise from its upper left, fractions of the photograph seen upright.

    ``whole`` says that no surround was found: the corners are the photograph's own. ``sure`` belongs to either.
    ``odds`` is the natural log of the odds that the best candidate is a canvas; 0 where none was looked at closely.
    """

    corners: Corners
    sure: bool
    whole: bool
    odds: float
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Likeliest:
    """The likeliest candidate: ``corners`` (4, 2) in px, its odds as a log, and what tells whether it is right."""

    corners: Array
    odds: float
    ahead: float
    signs: dict[str, float]


def find_canvas(pixels: Pixels) -> Canvas:
    """Find the canvas in a photograph, upright: sRGB codes or linear light; up to 1600 px are of use.

    Long straight edges are looked for in a small copy; every four of them are held to what speaks for the four sides of
    a canvas; the best are laid on the painted edge in the photograph itself, and judged again.
    """
    small = _smaller(pixels)
    quads = candidate_quads(small)
    if not len(quads.score) or quads.score.max() < NONE:
        if quads.cut_off < CUT_OFF:
            return Canvas(ALL, True, True, 0.0, ("no four sides",))
        return Canvas(ALL, False, False, 0.0, ("perhaps cut off",))
    height, width = pixels.shape[:2]
    best = _likeliest(pixels, small, quads)
    if _area(best.corners) > WHOLE_AREA * height * width:
        return Canvas(ALL, True, True, best.odds, ("hardly a surround",))
    sure = sureness(best.signs) >= SURE
    reasons = () if sure else _reasons(best)
    return Canvas(as_corners(best.corners / [width, height]), sure, False, best.odds, reasons)


def likeliest(pixels: Pixels) -> Likeliest | None:
    """The likeliest candidate of a photograph, however unlikely; None where there is none that is looked at closely."""
    small = _smaller(pixels)
    quads = candidate_quads(small)
    return None if not len(quads.score) or quads.score.max() < NONE else _likeliest(pixels, small, quads)


def sureness(signs: dict[str, float]) -> float:
    """The log odds that a candidate is right."""
    return SURENESS_BIAS + sum(weight * signs[name] for name, weight in SURENESS.items())


def _likeliest(pixels: Pixels, small: Float, quads: Quads) -> Likeliest:
    scale = np.array([pixels.shape[1] / small.shape[1], pixels.shape[0] / small.shape[0]])
    corners, sides = snapped(pixels, (quads.corners + 0.5) * scale)
    odds = _odds(quads, sides)
    unit = corners / max(pixels.shape[:2])
    worth = odds + AFAR * (quads.score - NONE)
    best = _innermost(unit, worth, int(worth.argmax()))
    best = _without_surround(small, corners / scale - 0.5, unit, worth, best)
    others = [
        worth[other]
        for other in range(len(worth))
        if np.abs(unit[other] - unit[best]).max() > OTHER and not insets(unit[other], unit[best]).min() > INSET
    ]
    ahead = min(float(worth[best] - max(others)), MOST_CLEAR_OF) if others else MOST_CLEAR_OF
    # Looked at again from where it lies now: a wrong line seldom stays.
    again, _ = snapped(pixels, corners[best : best + 1])
    along = np.roll(corners[best], -1, axis=0) - corners[best]
    moved = float(np.hypot(*(again[0] - corners[best]).T).max() / np.hypot(*along.T).max())
    signs = {
        "odds": float(odds[best]),
        "ahead": ahead,
        "lively": float(np.clip(sides.lively[best], -MOST_LIVELY, MOST_LIVELY).mean()),
        "least_lively_afar": float(np.clip(quads.lively[best], -MOST_LIVELY, MOST_LIVELY).min()),
        "onward": float(sides.onward[best].mean()),
        "fold": float(sides.fold[best].max()),
        "spread": float(_spread(sides.outside[best])),
        "within": float(np.sort(sides.within[best])[-2]),  # of one side alone it is a line in the painting
        "moved": float(sides.moved[best].max()),
        "unsteady": float(np.log(moved + STILL)),
    }
    return Likeliest(corners[best], float(odds[best]), ahead, signs)


def _reasons(best: Likeliest) -> tuple[Reason, ...]:
    reasons: list[Reason] = ["weak evidence"]
    if best.ahead < CLEAR:
        reasons.append("another is as likely")
    if best.signs["within"] > SECOND_EDGE:
        reasons.append("another edge beside it")
    return tuple(reasons)


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
        "spread": _spread(quads.outside),
        "score": quads.score,
        "least_clear": clear.min(1),
        "clear": clear.mean(1),
        "within": close.within.max(1),
    }
    return np.asarray(BIAS + sum(WEIGHTS[name] * figure for name, figure in figures.items()))


def _spread(colours: Array) -> Array:
    """How far the colours (…, 4, 3) of four sides lie from their mean."""
    return np.asarray(np.sqrt(((colours - colours.mean(axis=-2, keepdims=True)) ** 2).sum(-1).mean(-1)))


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


def _area(corners: Array) -> float:
    after = np.roll(corners, -1, axis=0)
    return float(abs((corners[:, 0] * after[:, 1] - after[:, 0] * corners[:, 1]).sum()) / 2)


def _smaller(pixels: Pixels) -> Float:
    """Codes of 0–1 near the size that is searched; averaged as codes, for edges are the eye's."""
    step = max(1, round(max(pixels.shape[:2]) / SEARCHED))
    high, wide = (length // step for length in pixels.shape[:2])
    # Four px of each block are enough against noise.
    places = sorted({0, step // 2})
    parts = [_codes(pixels[i::step, j::step][:high, :wide]) for i in places for j in places]
    small: Float = np.asarray(np.mean(parts, axis=0, dtype=np.float32) / 255, dtype=np.float32)
    return area_average(small, SEARCHED) if max(small.shape) > LARGEST else small


def _codes(pixels: Pixels) -> Codes:
    return pixels.astype(np.uint8, copy=False) if pixels.dtype == np.uint8 else linear_to_srgb8(pixels)
