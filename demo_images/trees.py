"""How is a tree in leaf painted: a few big forms turned to the light, and leaves only at the end?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from brushwork import Easel, Field
from skies import LIGHT
from studies import jitter, ramp


@dataclass(frozen=True)
class Leaves:
    """The notes of a foliage mass from its shadow side to the sun."""

    dark: Field
    mid: Field
    light: Field
    accent: Field

    def at(self, t: Field) -> Field:
        """Colours (n, 3) for light ``t`` from -1, turned away, to 1, facing the sun."""
        return ramp(t, [(-0.7, self.dark), (0.05, self.mid), (0.55, self.light), (1.0, self.accent)])


def _crown(
    rng: np.random.Generator, half_wide: float, half_tall: float, count: int, upright: float, grounded: bool
) -> tuple[Field, Field, Field, Field, Field, Field]:
    """Clumps of a crown round (0, 0): x, y, radius (count,), and the x, y, radius of the lobe that each belongs to.

    Lobes, then clumps on the lobes: a crown is a few big forms before it is many small ones, with sky between.
    """
    size = np.sqrt(half_wide * half_tall)
    lobes = max(3, round(count / 5)) if upright <= 0.5 else int(1.6 * half_tall / half_wide) + 3
    if upright > 0.5:
        rise = np.linspace(1, -1, lobes)
        ly, lx = -rise * (half_tall - 0.55 * half_wide), rng.normal(0, 0.10, lobes) * half_wide
        lr = half_wide * (0.98 - 0.52 * np.clip(rise, 0, 1) ** 1.8) * rng.uniform(0.88, 1.12, lobes)
    else:
        lr = size * rng.uniform(0.50, 0.70, lobes) * (3 / max(lobes, 2)) ** 0.22
        turn = (
            -np.pi / 2 + rng.normal(0, 0.35) + np.arange(lobes) * 2.39996 + rng.normal(0, 0.25, lobes)
        )  # golden angle
        ring = np.clip(np.sqrt((np.arange(lobes) + 0.5) / lobes) * rng.uniform(0.62, 0.82, lobes), 0.25, 1)
        ring *= 0.72 if lobes == 3 else 1.0  # three lobes set wide would fall apart
        lx, ly = ring * np.cos(turn) * half_wide, ring * np.sin(turn) * half_tall * 0.9
    if grounded:
        lx, ly, lr = np.append(lx, 0), np.append(ly, half_tall * 0.62), np.append(lr, 0.42 * size)
        lobes += 1
    count = max(count, 3 * lobes)
    which = np.concatenate([np.arange(lobes), rng.integers(0, lobes, max(count - lobes, 0))])
    angle, out = rng.uniform(0, 2 * np.pi, len(which)), np.sqrt(rng.random(len(which))) * 0.72
    radius = lr[which] * rng.uniform(0.42, 0.68, len(which))
    x = lx[which] + out * np.cos(angle) * lr[which]
    y = ly[which] + out * np.sin(angle) * lr[which] * 0.85
    return x, y, radius, lx[which], ly[which], lr[which]


def tree(
    easel: Easel,
    x: float,
    base: float,
    height: float,
    width: float,
    leaves: Leaves,
    *,
    trunk: Field,
    seed: int,
    clumps: int = 14,
    dab: float = 1.0,
    rise: float = 0.60,
    holes: float = 0.1,
    upright: float = 0.0,
    light: tuple[float, float, float] = LIGHT,
    limbs: bool = True,
    amount: float = 2.4,
    thin: float = 1.0,
) -> None:
    """Paint a leafy tree: shadow mass, trunk and limbs, then clumps of leaves turned to the light, then sky holes.

    ``rise`` is where the crown's middle sits (share of the height), ``upright`` 0 round-headed to 1 a poplar,
    ``thin`` below 1 leaves gaps between the dabs.
    """
    rng = np.random.default_rng(seed)
    behind = easel.colour.copy() if holes else None
    crown_x, crown_y = width / 2, height * min(rise, 1 - rise) * 1.06
    mid_y = base - height * rise
    dx, dy, radius, lobe_x, lobe_y, lobe_r = _crown(rng, crown_x, crown_y, clumps, upright, not limbs)
    cx, cy = x + dx, mid_y + dy
    mark = float(np.clip(height * 0.036, 3.0, 15)) * dab
    if limbs:
        _trunk(easel, rng, x, base, height, cx, cy, trunk)
    which = np.repeat(np.arange(len(cx)), np.maximum((2.6 * thin * (radius / mark) ** 2).astype(int), 5))
    n = len(which)
    reach = np.sqrt(rng.random(n)) * rng.normal(1.0, 0.16, n)
    turn = rng.uniform(0, 2 * np.pi, n)
    nx, ny = reach * np.cos(turn), reach * np.sin(turn) * 0.85
    nz = np.sqrt(np.clip(1 - np.minimum(nx**2 + ny**2, 1), 0, 1))
    px, py = cx[which] + nx * radius[which], cy[which] + ny * radius[which]
    face = nx * light[0] + ny * light[1] + nz * light[2]
    lobe = ((px - x - lobe_x[which]) * light[0] + (py - mid_y - lobe_y[which]) * light[1]) / lobe_r[which]
    whole = (px - x) / crown_x * light[0] * 0.8 + (py - mid_y) / crown_y * light[1] * 0.9
    t = 0.58 * face + 0.42 * lobe + 0.36 * whole + rng.normal(0, 0.16, n) - 0.24
    front = (
        rng.normal(0, 0.35, len(cx)) - np.hypot(dx / crown_x, dy / crown_y) + 0.4 * dy / crown_y
    )  # later hang in front
    rank = np.argsort(np.argsort(np.argsort(front))[which] * 0.42 + t * 3.2 + rng.normal(0, 0.5, n))
    t, which, turn, px, py = t[rank], which[rank], turn[rank], px[rank], py[rank]
    wide = mark * np.exp(rng.normal(0, 0.33, n)) * (1.15 - 0.35 * np.clip(t, -0.5, 1))
    lie = np.where(
        rng.random(n) < upright, np.pi / 2 + rng.normal(0, 0.25, n), turn + np.pi / 2 + rng.normal(0, 0.7, n)
    )
    _mass(easel, rng, cx, cy, radius, mark, leaves)
    easel.lay(
        px,
        py,
        lie,
        wide * rng.uniform(1.2, 2.4, n),
        wide,
        jitter(easel, leaves.at(t), amount, 1.2),
        bend=rng.normal(0, 0.15, n) / wide,
        load=rng.uniform(0.5, 1.0, n),
        streak=2.6,
        body=0.6,
        brush="filbert",
    )
    _stray_leaves(easel, rng, x, mid_y, cx, cy, radius, mark, leaves)
    if behind is not None:
        _sky_holes(easel, rng, behind, cx, cy, radius, mark, int(holes * 14 * np.sqrt(clumps)))


def _mass(
    easel: Easel, rng: np.random.Generator, cx: Field, cy: Field, radius: Field, mark: float, leaves: Leaves
) -> None:
    """The shadow mass of a crown, scrubbed in with a broad brush before any leaf is thought of."""
    k = np.repeat(np.arange(len(cx)), 5)
    n = len(k)
    px, py = cx[k] + rng.normal(0, 0.34, n) * radius[k], cy[k] + rng.normal(0.1, 0.30, n) * radius[k]
    wide = np.maximum(radius[k] * rng.uniform(0.35, 0.6, n), mark)
    lab = leaves.at(rng.uniform(-0.8, -0.25, n))
    easel.lay(
        px,
        py,
        rng.uniform(0, np.pi, n),
        wide * 1.6,
        wide,
        jitter(easel, lab, 2.0, 1.0),
        load=0.85,
        body=0.3,
        brush="filbert",
    )


def _trunk(
    easel: Easel, rng: np.random.Generator, x: float, base: float, height: float, cx: Field, cy: Field, trunk: Field
) -> None:
    """Trunk and limbs as bent strokes from the foot to some of the clumps."""
    thick = float(np.clip(height * 0.045, 2.0, 34))
    n = 5
    foot_x = x + rng.normal(0, thick * 0.18, n)
    easel.lay(
        foot_x,
        np.full(n, base - height * 0.26),
        np.full(n, -np.pi / 2) + rng.normal(0, 0.05, n),
        np.full(n, height * 0.54),
        thick * rng.uniform(0.4, 0.8, n),
        jitter(easel, np.tile(trunk, (n, 1)), 3.0, 1.5),
        bend=rng.normal(0, 0.05, n) / height,
        brush="filbert",
        body=0.7,
    )
    pick = rng.permutation(len(cx))[: max(4, len(cx) // 2)]
    fx, fy = np.full(len(pick), x), base - height * rng.uniform(0.18, 0.45, len(pick))
    dx, dy = cx[pick] - fx, cy[pick] - fy
    easel.lay(
        fx + dx / 2,
        fy + dy / 2,
        np.arctan2(dy, dx),
        np.hypot(dx, dy),
        thick * rng.uniform(0.18, 0.4, len(pick)),
        jitter(easel, np.tile(trunk, (len(pick), 1)), 3.0, 1.0),
        bend=rng.normal(0, 0.3, len(pick)) / (np.hypot(dx, dy) + 1),
        brush="rigger",
    )


def _stray_leaves(
    easel: Easel,
    rng: np.random.Generator,
    x: float,
    mid_y: float,
    cx: Field,
    cy: Field,
    radius: Field,
    mark: float,
    leaves: Leaves,
) -> None:
    """Small dabs that break the outline, so that the edge of the crown is lost here and there."""
    n = int(22 * np.sqrt(len(cx)))
    k = rng.integers(0, len(cx), n)
    out = np.arctan2(cy[k] - mid_y, cx[k] - x) + rng.normal(0, 0.9, n)
    px = cx[k] + np.cos(out) * radius[k] * rng.normal(1.05, 0.13, n)
    py = cy[k] + np.sin(out) * radius[k] * rng.normal(0.95, 0.13, n)
    t = 0.5 * (np.cos(out) * LIGHT[0] + np.sin(out) * LIGHT[1]) + rng.normal(0, 0.2, n)
    wide = mark * rng.uniform(0.25, 0.6, n)
    easel.lay(
        px,
        py,
        out + rng.normal(np.pi / 2, 0.8, n),
        wide * rng.uniform(1.2, 2.6, n),
        wide,
        jitter(easel, leaves.at(t), 2.5, 1.2),
        load=rng.uniform(0.4, 0.9, n),
        brush="filbert",
        body=0.5,
    )


def _sky_holes(
    easel: Easel, rng: np.random.Generator, behind: Field, cx: Field, cy: Field, radius: Field, mark: float, count: int
) -> None:
    """Touches of what lies behind, cut back into the crown where it is thin."""
    if count == 0:
        return
    k = rng.integers(0, len(cx), count)
    turn = rng.uniform(0, 2 * np.pi, count)
    px, py = cx[k] + np.cos(turn) * radius[k] * 0.85, cy[k] + np.sin(turn) * radius[k] * 0.8
    lab = easel.at(behind, px, py).copy()
    lab[:, 0] -= 3.0  # a hole looks darker than the open sky around the crown
    wide = mark * rng.uniform(0.2, 0.5, count)
    easel.lay(px, py, turn, wide * 1.7, wide, jitter(easel, lab, 1.2), brush="filbert", opacity=0.85)
