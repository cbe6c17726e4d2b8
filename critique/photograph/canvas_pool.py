"""Which edges near a canvas that was found could be its sides: those of other candidates, and any straight one near."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.photograph.canvas_edge import meetings

Array = NDArray[np.float64]

MOST, MORE = 8, 4  # edges looked at for a side: of candidates, and further straight ones
FARTHEST, NEAR_STRAIGHT = 0.22, 0.09  # of the canvas's long edge from where it was found: of candidates, of any
APART, APART_STRAIGHT = 0.0035, 0.006  # of the same: nearer ones are one
STEEPEST = 0.4  # sine of the angle that an edge may have with the side
NEAR_BORDER = 0.025  # of the same: from where a border of the photograph may be what cuts a side off
CUT_BY = 0.004  # of the photograph's long edge that a side lies beyond the border that hides it


@dataclass(frozen=True, slots=True, eq=False)
class Pool:
    """Edges that could be sides, those of one side after those of another.

    ``lines`` (number, 2, 2) are the two points where they meet the base's neighbouring sides, in px, ``side`` 0–3 is
    whose they could be (upper, right, lower, left), ``away`` (number, 2) how far outside the base's corners they pass,
    in parts of its long edge, ``border`` whether it is the photograph's.
    """

    lines: Array
    side: NDArray[np.intp]
    away: Array
    border: NDArray[np.bool_]


def pooled(base: Array, candidates: Array, straight: Array, size: tuple[int, int], cut: NDArray[np.bool_]) -> Pool:
    """The edges that lie near the sides of ``base`` (4, 2).

    Parameters
    ----------
    candidates : (4, number, 2, 2), for each side, the worthiest first.
    straight : (number, 2, 2), any others.
    size : height and width of the photograph in px.
    cut : (4,) which sides are taken for the photograph's borders. Other edges near them are looked at all the same:
        of a canvas that nearly touches a border, that is taken for a side too.
    """
    after = np.roll(base, -1, axis=0)
    along = after - base
    length = np.hypot(*along.T)
    outward = np.stack([along[:, 1], -along[:, 0]], axis=1) / length[:, None]
    lines, side, away, border = [], [], [], []
    for one in range(4):
        ends = np.stack([base[one], after[one]])
        edge = border_line(one, size)
        every = np.concatenate([ends[None], candidates[one], straight, edge[None]])
        across = passing(every, ends, outward[one]) / length.max()
        first = len(candidates[one]) + 1
        chosen = _chosen(across, first)
        if not cut[one] and np.abs(across[-1]).min() < NEAR_BORDER:
            chosen.append(len(every) - 1)
        lines.append(between(every[chosen], base, one))
        side += [one] * len(chosen)
        away.append(across[chosen])
        border += [number == len(every) - 1 or (bool(cut[one]) and number == 0) for number in chosen]
    return Pool(np.concatenate(lines), np.array(side), np.concatenate(away), np.array(border))


def border_line(side: int, size: tuple[int, int]) -> Array:
    """Where a side (0–3) is taken to lie that a border of the photograph hides: two points in px."""
    height, width = size
    by = CUT_BY * max(size)
    corners = np.array([[-by, -by], [width + by, -by], [width + by, height + by], [-by, height + by]])
    return corners[[side, (side + 1) % 4]]


def passing(lines: Array, ends: Array, way: Array) -> Array:
    """How far along ``way`` from both ends lines pass them (lines, 2); endless for those that run another way."""
    direction = lines[:, 1] - lines[:, 0]
    normal = np.stack([-direction[:, 1], direction[:, 0]], axis=1)
    steep = np.abs(direction @ way) > STEEPEST * np.hypot(*direction.T)
    facing = np.where(steep, 1, normal @ way)
    off = np.einsum("ld,led->le", normal, lines[:, :1] - ends)
    return np.asarray(np.where(steep[:, None], np.inf, off / facing[:, None]))


def _chosen(across: Array, straight: int) -> list[int]:
    """Numbers of the edges that are near enough and not yet there; the base's own first."""
    chosen = [0]
    for first, last, farthest, apart, most in (
        (1, straight, FARTHEST, APART, MOST),
        (straight, len(across) - 1, NEAR_STRAIGHT, APART_STRAIGHT, MOST + MORE),
    ):
        for number in first + np.flatnonzero(np.abs(across[first:last]).max(axis=1) < farthest):
            if len(chosen) >= most:
                break
            if np.abs(across[chosen] - across[number]).max(axis=1).min() >= apart:
                chosen.append(int(number))
    return chosen


def between(lines: Array, base: Array, side: int) -> Array:
    """The part of each line between the base's two neighbouring sides."""
    before, after = base[[side - 1, side]], base[[(side + 1) % 4, (side + 2) % 4]]
    return np.stack([meetings(lines, before[None]), meetings(lines, after[None])], axis=1)
