"""Which further straight edges lie close to a canvas that was found: a fold, a frame's lip, a side that leans more."""

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Codes
from critique.photograph.canvas_edge import edge_strength, opponent_at
from critique.photograph.canvas_pool import Pool, between, passing

Array = NDArray[np.float64]

REACH, STEP = 0.05, 0.00125  # of the canvas's long edge: how far on both sides of a side is looked, how finely
STEPS = round(REACH / STEP)
LEAN, LEAN_STEP = 14, 2  # steps by which a line's two ends may lie farther out than each other, and what is tried
GROUPS, TOGETHER = 20, 4  # places along a side, and px averaged in each
ENDS = 0.04  # of a side left out at both of its corners
MOST = 5  # further edges of a side
APART = 0.0035  # of the long edge: nearer ones are one
LEAST = 0.25  # mean strength (0–1) of an edge along the side


def with_near(pixels: Codes, pool: Pool, base: Array) -> Pool:
    """A pool and, of every line near the sides of its ``base`` (4, 2) px, the strongest that it doesn't hold yet."""
    after = np.roll(base, -1, axis=0)
    along = after - base
    outward = np.stack([along[:, 1], -along[:, 0]], axis=1) / np.hypot(*along.T)[:, None]
    longest = np.hypot(*along.T).max()
    leans = np.arange(-LEAN, LEAN + 1, LEAN_STEP)
    support = _support(pixels, base, along, outward * longest, leans)
    first = np.broadcast_to((np.arange(-STEPS, STEPS + 1) * STEP)[:, None], support.shape[1:])
    offsets = np.stack([first, first + leans * STEP], axis=-1)  # of both ends, (offsets, leans, 2)
    lines, side, away = [pool.lines], [pool.side], [pool.away]
    for one in range(4):
        chosen = _strongest(support[one], offsets, pool.away[pool.side == one])
        ends = np.stack([base[one], after[one]])
        found = between(ends + chosen[..., None] * longest * outward[one], base, one)
        passed = passing(found, ends, outward[one]) / longest
        facing = np.isfinite(passed).all(axis=1)  # along a side that is short, a little lean is another way altogether
        lines.append(found[facing])
        side.append(np.full(facing.sum(), one))
        away.append(passed[facing])
    border = np.concatenate([pool.border, np.zeros(sum(map(len, side)) - len(pool.side), dtype=np.bool_)])
    every = np.concatenate(side)
    order = np.argsort(every, kind="stable")
    return Pool(np.concatenate(lines)[order], every[order], np.concatenate(away)[order], border[order])


def _support(pixels: Codes, base: Array, along: Array, across: Array, leans: NDArray[np.intp]) -> Array:
    """Mean strength of the edge along every line near each side: (4, offsets of its first end, leans)."""
    parts = ENDS + (1 - 2 * ENDS) * (np.arange(GROUPS * TOGETHER) + 0.5) / (GROUPS * TOGETHER)
    steps: Array = np.arange(-STEPS, STEPS + 1) * np.float64(STEP)
    colour, seen = opponent_at(pixels, base, along, across, parts, steps, TOGETHER)
    strength = edge_strength(colour) * (seen > 0.9)
    number = strength.shape[2]
    first = np.arange(number)[:, None]
    places = (np.arange(GROUPS) + 0.5) / GROUPS
    at = np.rint(first[..., None] + leans[:, None] * places).astype(np.intp)
    support = strength[:, np.arange(GROUPS), np.clip(at, 0, number - 1)].mean(axis=-1)
    return np.asarray(np.where((first + leans >= 0) & (first + leans < number), support, 0), dtype=np.float64)


def _strongest(support: Array, offsets: Array, there: Array) -> Array:
    """Offsets of both ends (number, 2) of the strongest lines that are apart from those there (lines, 2)."""
    first, last = offsets[..., 0], offsets[..., 1]

    def apart(one: Array, other: Array) -> NDArray[np.bool_]:
        return (np.abs(first - one) >= APART) | (np.abs(last - other) >= APART)

    left = np.where(apart(*there.T[..., None, None]).all(axis=0), support, 0)
    chosen: list[Array] = []
    while len(chosen) < MOST and left.max() >= LEAST:
        row, column = np.unravel_index(left.argmax(), left.shape)
        chosen.append(offsets[row, column])
        left = np.where(apart(*chosen[-1]), left, 0)
    return np.array(chosen).reshape(-1, 2)
