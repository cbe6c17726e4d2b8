"""What is seen along an edge that could be a side of a canvas, and what two such edges have in common."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from critique.perception.channels import over_channels
from critique.perception.srgb import Codes, Float
from critique.photograph.canvas_edge import edge_strength, opponent_at, uneven_strip
from critique.photograph.canvas_pool import Pool
from critique.photograph.canvas_quads import LEDGE

Array = NDArray[np.float64]

OUTWARD, INWARD, STEP = 0.045, 0.02, 0.00125  # of the canvas's long edge: how far beside an edge is looked, how finely
ZERO = round(INWARD / STEP)  # the offset of the edge itself; larger ones lie outside
GROUPS, TOGETHER = 20, 4  # places along a side, and px averaged in each
ENDS = 0.04  # of a side left out at both of its corners, where the neighbours' frames meet
FURTHER, BEYOND = 3, 0.09  # places beyond each corner, and how far they reach, in parts of the side's length
OUTSIDE, INSIDE = slice(ZERO + 2, ZERO + 5), slice(ZERO - 4, ZERO - 1)  # the strips beside an edge
AFAR = slice(ZERO + 12, ZERO + 24)  # a strip that lies beyond a thin frame
DEPTHS = (0.0025, 0.003, 0.007, 0.012, 0.020, 0.032)  # of the long edge: strips farther and farther outside
WEAKEST = GROUPS // 4  # places: a side is as good as its weakest quarter
DARK = 0.15  # of lightness: darker colours are told by their difference, not by their share
LOWER = 2
# What is told of each edge. ``edge``, ``weakest``, ``within``, ``beyond`` and ``onward`` are strengths of edges (0–1):
# its own, that of its weakest quarter, of any farther inside and outside, and of its own line beyond the corners.
FIGURES = (
    "edge",
    "weakest",
    "one_step",  # how much of it is one step of colour all along (0–1)
    "uneven",  # log of the outside's unevenness
    "lively",  # by how much the inside is less even, in logs
    "onward",
    "fold",  # how much of it is light alone (0–1)
    "within",
    "beyond",
    "alike",  # correlation of lightness along both sides of it
    "away",  # distance from where the side was found, in parts of the long edge
    "inside",  # the same where it lies inside that, else 0
    "found",  # whether it is the side that was found
    "tilt",  # difference of that distance between its ends
    "step",  # log of the step of colour
    "lightness",  # of the outside
    "border",  # whether it is the photograph's border
    "uneven_afar",  # log of the unevenness farther outside
    "seen",  # share of it that lies in the photograph
    "gap",  # how far outside the strongest edge lies, 0–1
    "flat",  # log of how much the outside changes across
)
# What is told of each two: how different what lies outside them is, how different the inside of either is from the
# outside of the other, and how differently uneven the outsides are.
COMMON = ("light", "colour", "profile", "deep_colour", "apart", "apart_colour", "roughness")


@dataclass(frozen=True, slots=True, eq=False)
class Told:
    """``figures`` (edges, FIGURES) and, of each two, ``common`` (edges, edges, COMMON)."""

    figures: Array
    common: Array


def told(pixels: Codes, pool: Pool, base: Array) -> Told:
    """Look along each edge of a pool, whose base has its corners (4, 2) in px."""
    start, along = pool.lines[:, 0], pool.lines[:, 1] - pool.lines[:, 0]
    outward = np.stack([along[:, 1], -along[:, 0]], axis=1) / np.maximum(np.hypot(*along.T), 1e-6)[:, None]
    longest = np.hypot(*(np.roll(base, -1, axis=0) - base).T).max()
    offsets: Array = np.arange(-ZERO, round(OUTWARD / STEP) + 1) * np.float64(STEP)
    colour, seen = opponent_at(pixels, start, along, outward * longest, _parts(), offsets, TOGETHER)
    strength = edge_strength(colour) * (seen > 0.9)
    own = slice(FURTHER, -FURTHER)
    return Told(
        _figures(pool, colour[:, own], strength, seen[:, own, ZERO].mean(axis=1)),
        _common(colour[:, own]),
    )


def _parts() -> Array:
    """Places along a side as parts of its length, those beyond its corners too."""
    number, further = GROUPS * TOGETHER, FURTHER * TOGETHER
    own = ENDS + (1 - 2 * ENDS) * (np.arange(number) + 0.5) / number
    beyond = ENDS + (BEYOND - ENDS) * (np.arange(further) + 0.5) / further
    return np.concatenate([-beyond[::-1], own, 1 + beyond])


def _figures(pool: Pool, colour: Float, strength: Float, seen: Float) -> Array:
    support = strength[:, FURTHER:-FURTHER]
    at = support[:, :, ZERO - 1 : ZERO + 2].max(axis=2)  # one offset on either side is the edge's own
    further = np.concatenate([strength[:, :FURTHER], strength[:, -FURTHER:]], axis=1)[:, :, ZERO - 1 : ZERO + 2]
    profile = support.mean(axis=1)
    outer, inner = colour[:, :, OUTSIDE].mean(axis=2), colour[:, :, INSIDE].mean(axis=2)
    step = outer - inner
    mean_step = np.sqrt((step.mean(axis=1) ** 2).sum(-1))
    uneven = uneven_strip(outer)
    light, alike = _light(outer, inner)
    middle = pool.away.mean(axis=1)
    figures = {
        "edge": at.mean(axis=1),
        "weakest": np.sort(at, axis=1)[:, :WEAKEST].mean(axis=1),
        "one_step": mean_step / (np.sqrt(over_channels(step**2)).mean(axis=1) + 0.01),
        "uneven": np.log(uneven),
        "lively": np.clip(np.log(uneven_strip(inner) / uneven), -1.5, 1.5),
        "onward": further.max(axis=2).mean(axis=1) * np.where(pool.side == LOWER, LEDGE, 1.0),
        "fold": light,
        "within": profile[:, : ZERO - 3].max(axis=1),
        "beyond": profile[:, ZERO + 4 :].max(axis=1),
        "alike": alike,
        "away": np.minimum(np.abs(middle), 0.1),
        "inside": np.clip(-middle, 0, 0.1),
        "found": np.abs(pool.away).max(axis=1) < 1e-9,
        "tilt": np.abs(pool.away[:, 0] - pool.away[:, 1]),
        "step": np.log(mean_step + 0.02),
        "lightness": outer[..., 0].mean(axis=1),
        "border": pool.border,
        "uneven_afar": np.log(uneven_strip(colour[:, :, AFAR].mean(axis=2))),
        "seen": seen,
        "gap": profile[:, ZERO + 4 : ZERO + 30].argmax(axis=1) / 26,
        "flat": np.log(np.abs(np.diff(colour[:, :, ZERO + 3 : ZERO + 9], axis=2)).mean(axis=(1, 2, 3)) + 0.002),
    }
    return np.stack([figures[name] for name in FIGURES], axis=1).astype(np.float64)


def _light(outer: Float, inner: Float) -> tuple[Float, Float]:
    """How much of the step is light alone, 0–1, and how alike both sides of it change along it, −1 to 1."""
    out, within = (np.log(np.maximum(strip[..., 0], 0) + np.float32(0.03)) for strip in (outer, inner))
    ratio = within - out
    changing = np.minimum(out.std(axis=1), within.std(axis=1))
    fold = np.clip(np.abs(ratio.mean(axis=1)) / (ratio.std(axis=1) + 0.03) / 3, 0, 1) * np.clip(changing / 0.15, 0, 1)
    a, b = (strip - strip.mean(axis=1, keepdims=True) for strip in (out, within))
    return fold, (a * b).sum(1) / np.sqrt(((a**2).sum(1) + 0.02) * ((b**2).sum(1) + 0.02))


def _common(colour: Float) -> Array:
    ends = [ZERO + max(round(depth / STEP), 1) for depth in DEPTHS]
    depths = [colour[:, :, first : max(last, first + 1)].mean(axis=(1, 2)) for first, last in pairwise(ends)]
    outside = np.stack(depths, axis=1).astype(np.float64)  # (edges, depths, 3)
    inside = colour[:, :, INSIDE].mean(axis=(1, 2)).astype(np.float64)
    light = np.log(np.maximum(outside[..., 0], 0) + 0.05)
    shape = light - light.mean(axis=1, keepdims=True)
    light_inside = np.log(np.maximum(inside[:, 0], 0) + 0.05)
    # Colour for its lightness, so that a moulding's lit and shaded sides are alike.
    tint, tint_inside = (part[..., 1:] / (np.maximum(part[..., :1], 0) + DARK) for part in (outside, inside))
    tints = np.minimum(_distance(tint[:, None], tint[None]), 0.4)
    cross = np.minimum(_distance(tint_inside[:, None], tint[None, :, 0]) / 0.1, 1.0)
    both = cross + np.minimum(np.abs(light_inside[:, None] - light[None, :, 0]) / 0.5, 1.0)
    rough = np.log(uneven_strip(colour[:, :, OUTSIDE].mean(axis=2)))
    common = {
        "light": np.minimum(np.abs(light[:, None, 0] - light[None, :, 0]), 1.5),
        "colour": tints[..., 0],
        "profile": np.minimum(np.abs(shape[:, None] - shape[None]).mean(-1), 1.0),
        "deep_colour": tints.mean(-1),
        "apart": np.minimum(both, both.T),
        "apart_colour": np.minimum(cross, cross.T),
        "roughness": np.minimum(np.abs(rough[:, None] - rough[None]), 2.0),
    }
    return np.stack([common[name] for name in COMMON], axis=-1)


def _distance(one: Array, other: Array) -> Array:
    return np.asarray(np.sqrt(((one - other) ** 2).sum(-1)))
