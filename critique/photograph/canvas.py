"""Where the painting lies in a photograph of it, and how sure that is."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Codes, Float, linear_to_srgb8
from critique.photograph.canvas_edge import Pixels, snapped
from critique.photograph.canvas_quads import Quads, candidate_quads
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
INSET = 0.008  # of the photograph's long edge that it lies inside on every side, at least
DEEPEST = 0.2  # of the same: a frame or a mat is no wider
SURE = 1.0  # log odds from which a canvas is sure: cross-validated on the same seeds, 2 % called so are wrong
CLEAR = 4.0  # of worth between it and any other that isn't its frame
SECOND_EDGE = 0.63  # strength of an edge inside a side, from which that one may be the painted edge
LESS_WORTH = -0.12  # of a side's worth: where an edge near it is worth more by this, it may be that one
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
    scale = np.array([width / small.shape[1], height / small.shape[0]])
    corners, figures = snapped(pixels, (quads.corners + 0.5) * scale)
    odds = _odds(quads, figures)
    unit = corners / max(width, height)
    worth = odds + AFAR * (quads.score - NONE)
    best = _innermost(unit, worth, int(worth.argmax()))
    clear, within = figures[best, :, -2], figures[best, :, -1]
    doubtful = bool(within.max() > SECOND_EDGE or clear.min() < LESS_WORTH)
    return _judged(best, corners, unit, odds, worth, doubtful, (height, width))


def _judged(
    best: int, corners: Array, unit: Array, odds: Array, worth: Array, doubtful: bool, size: tuple[int, int]
) -> Canvas:
    height, width = size
    own = float(odds[best])
    if _area(corners[best]) > WHOLE_AREA * height * width:
        return Canvas(ALL, True, True, own, ("hardly a surround",))
    others = [
        worth[other]
        for other in range(len(worth))
        if np.abs(unit[other] - unit[best]).max() > OTHER and not _insets(unit[other], unit[best]).min() > INSET
    ]
    reasons: list[Reason] = []
    if own < SURE:
        reasons.append("weak evidence")
    if others and worth[best] - max(others) < CLEAR:
        reasons.append("another is as likely")
    if doubtful:
        reasons.append("another edge beside it")
    return Canvas(as_corners(corners[best] / [width, height]), not reasons, False, own, tuple(reasons))


def _odds(quads: Quads, close: Array) -> Array:
    """Log odds of each candidate; ``close`` (number, 4 sides, 6) are the figures of ``snapped``."""
    edge, uneven, lively, onward, clear, within = np.moveaxis(close, 2, 0)
    lively = np.clip(lively, -MOST_LIVELY, MOST_LIVELY)
    clear = np.clip(clear, LEAST_CLEAR, MOST_CLEAR)
    spread = np.sqrt(((quads.outside - quads.outside.mean(axis=1, keepdims=True)) ** 2).sum(-1).mean(-1))
    figures = {
        "edge": edge.mean(1),
        "weakest_edge": edge.min(1),
        "lively": lively.mean(1),
        "least_lively": lively.min(1),
        "uneven": np.clip(uneven, LEAST_LOG, MOST_LOG).mean(1),
        "uneven_afar": np.minimum(quads.even, MOST_AFAR).mean(1),
        "onward": onward.max(1),
        "onward_afar": quads.onward.mean(1),
        "edge_afar": quads.support.mean(1),
        "weakest_edge_afar": quads.support.min(1),
        "spread": spread,
        "score": quads.score,
        "least_clear": clear.min(1),
        "clear": clear.mean(1),
        "within": within.max(1),
    }
    return np.asarray(BIAS + sum(WEIGHTS[name] * figure for name, figure in figures.items()))


def _innermost(unit: Array, worth: Array, best: int) -> int:
    """The worthiest candidate inside the best, and so on: of a frame's edges, the painted one."""
    for _ in range(3):  # moulding, mat, painting
        inner = [
            other
            for other in range(len(worth))
            if worth[other] > worth[best] - NESTED
            and other != best
            and INSET < (inset := _insets(unit[best], unit[other])).min()
            and inset.max() < DEEPEST
        ]
        if not inner:
            break
        best = max(inner, key=lambda other: float(worth[other]))
    return best


def _insets(outer: Array, inner: Array) -> Array:
    """How far the corners of ``inner`` lie inside each side of ``outer``: the nearest of two for each side."""
    along = np.roll(outer, -1, axis=0) - outer
    inward = np.stack([-along[:, 1], along[:, 0]], axis=1) / np.maximum(np.hypot(*along.T), 1e-9)[:, None]
    ends = np.stack([inner, np.roll(inner, -1, axis=0)])
    return np.asarray(((ends - outer) * inward).sum(axis=2).min(axis=0))


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
