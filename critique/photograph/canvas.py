"""Where the painting lies in a photograph of it, and how sure that is."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Codes, Float
from critique.photograph.canvas_edge import snapped
from critique.photograph.canvas_quads import Quads, candidate_quads
from critique.photograph.corners import ALL, Corners, as_corners
from critique.photograph.scale import area_average

Array = NDArray[np.float64]

# Why a canvas isn't sure, or why nothing was found.
Reason = Literal["no four sides", "hardly a surround", "weak evidence", "another is as likely"]

SEARCHED = 480  # px along the long edge: a thin frame is still two px wide
LARGEST = 560  # px: a copy by a whole step may be as large before it is scaled

# What speaks for a candidate, as the log of its odds. Fitted (logistic regression) on photographs drawn by
# tests/benchmarks/photograph_scenes.py, seeds 0–239, and on files that are all painting.
WEIGHTS = {
    "edge": -3.02,  # mean strength of the edge along the sides, looked at closely
    "weakest_edge": 7.17,
    "lively": 1.05,  # by how much the inside is less even than the outside, in logs
    "least_lively": 2.30,
    "uneven": 1.10,  # log of the outside's unevenness
    "onward": -1.41,  # strongest edge beyond the corners
    "onward_afar": -5.36,  # the same at the size that is searched
    "edge_afar": 10.66,
    "weakest_edge_afar": 9.15,
    "spread": -16.49,  # of the outside's colour, between the four sides
    "score": 0.021,
}
BIAS = -15.49
NESTED = 20.0  # of worth: an inner candidate less worthy by this is still the painted edge, the outer one the frame's
INSET = 0.008  # of the photograph's long edge that it lies inside on every side, at least
DEEPEST = 0.2  # of the same: a frame or a mat is no wider
SURE = 0.5  # log odds from which a canvas is sure: see tests/benchmarks/photographs.py
CLEAR = 2.5  # of worth between it and any other that isn't its frame
NONE = 12.9  # score from afar below which a file is all painting: the best of 160 such files and parts has 12.6
AFAR = 4.0  # log odds that a point of that score is worth: it picks a canvas better, the odds tell how sure that is
WHOLE_AREA = 0.92  # of the photograph: what is left around it is a border, and no surround
OTHER = 0.03  # of the long edge: candidates nearer than that are one
LEAST_LOG, MOST_LOG = -4.5, -1.5  # unevenness that counts, in logs of the range of codes
MOST_LIVELY = 1.5


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


def find_canvas(codes: Codes) -> Canvas:
    """Find the canvas in a photograph: (height, width, 3) sRGB codes, upright; up to 1600 px are of use.

    Long straight edges are looked for in a small copy; every four of them are held to what speaks for the four sides of
    a canvas; the best are laid on the painted edge in the photograph itself, and judged again.
    """
    small = _smaller(codes)
    quads = candidate_quads(small)
    if not len(quads.score) or quads.score.max() < NONE:
        return Canvas(ALL, True, True, 0.0, ("no four sides",))
    height, width = codes.shape[:2]
    scale = np.array([width / small.shape[1], height / small.shape[0]])
    tried = [snapped(codes, (corners + 0.5) * scale) for corners in quads.corners]
    corners = np.array([moved for moved, _ in tried])
    odds = _odds(quads, np.array([figures for _, figures in tried]))
    unit = corners / max(width, height)
    worth = odds + AFAR * (quads.score - NONE)
    return _judged(_innermost(unit, worth, int(worth.argmax())), corners, unit, odds, worth, (height, width))


def _judged(best: int, corners: Array, unit: Array, odds: Array, worth: Array, size: tuple[int, int]) -> Canvas:
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
    return Canvas(as_corners(corners[best] / [width, height]), not reasons, False, own, tuple(reasons))


def _odds(quads: Quads, close: Array) -> Array:
    """Log odds of each candidate; ``close`` (number, 4 sides, 4) are the figures of ``snapped``."""
    edge, uneven, lively, onward = np.moveaxis(close, 2, 0)
    lively = np.clip(lively, -MOST_LIVELY, MOST_LIVELY)
    spread = np.sqrt(((quads.outside - quads.outside.mean(axis=1, keepdims=True)) ** 2).sum(-1).mean(-1))
    figures = {
        "edge": edge.mean(1),
        "weakest_edge": edge.min(1),
        "lively": lively.mean(1),
        "least_lively": lively.min(1),
        "uneven": np.clip(uneven, LEAST_LOG, MOST_LOG).mean(1),
        "onward": onward.max(1),
        "onward_afar": quads.onward.mean(1),
        "edge_afar": quads.support.mean(1),
        "weakest_edge_afar": quads.support.min(1),
        "spread": spread,
        "score": quads.score,
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


def _smaller(codes: Codes) -> Float:
    """Codes of 0–1 near the size that is searched; averaged as codes, for edges are the eye's."""
    step = max(1, round(max(codes.shape[:2]) / SEARCHED))
    small = codes[::step, ::step].astype(np.float32)
    if step > 1:  # four px of each block are enough against noise
        high, wide = (length // step for length in codes.shape[:2])
        parts = [codes[i::step, j::step][:high, :wide] for i in (0, step // 2) for j in (0, step // 2)]
        small = sum(part.astype(np.float32) for part in parts) / 4  # type: ignore[assignment]
    small /= 255
    return area_average(small, SEARCHED) if max(small.shape) > LARGEST else small
