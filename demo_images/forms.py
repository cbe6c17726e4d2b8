"""How are the things of a landscape drawn with a brush: clouds, trees, grass, houses, water?

Every function paints on an easel at a place given in design units; colours are CIELAB. Light falls from the upper left
unless a scene says otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from brushwork import Easel, Field
from scipy import ndimage
from studies import cover, jitter, mix, noise, polygon, ramp, step

LIGHT = (-0.62, -0.66, 0.42)  # toward the sun: left, up, and toward the viewer


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


@dataclass(frozen=True)
class Ground:
    """A plane seen in perspective: ``depth`` 0 far to 1 near, world coordinates ``wx`` and ``wz``, and mark ``size``."""

    depth: Field
    wx: Field
    wz: Field
    size: Field
    mask: Field


def ground_plane(easel: Easel, horizon: Field | float, vanishing: float) -> Ground:
    """Perspective of level ground below a horizon, seen toward ``vanishing`` (x)."""
    below = easel.y - horizon
    depth = np.clip(below / (easel.height - np.mean(horizon)), 0, 1).astype(np.float32)
    wx = (easel.x - vanishing) / (depth + 0.07) / 300
    wz = np.log(depth + 0.05) * 2.6
    return Ground(depth, wx, wz, (0.22 + 0.95 * depth).astype(np.float32), (below > 0).astype(np.float32))


def clouds(easel: Easel, sky: Field, puffs: list[tuple[float, float, float, float]], notes: tuple[Field, Field, Field],
           seed: int, soft: float = 1.0, fade: float = 1.0) -> Field:  # fmt: skip
    """Set cumulus into a sky plan: each of ``puffs`` is a bank (x, base y, width, height); notes are lit, half, base.

    Returns the share of cloud (h, w); the plan is changed in place.
    """
    rng = np.random.default_rng(seed)
    warp_x = easel.x + 26 * noise(seed + 1, easel.x / 130, easel.y / 90, 4, 0.6)
    warp_y = easel.y + 15 * noise(seed + 2, easel.x / 110, easel.y / 80, 4, 0.6)
    share = np.zeros_like(easel.x)
    for x, base, width, height in puffs:
        count = 5 + int(width / 45)
        px = np.clip(rng.normal(0, 0.24, count), -0.5, 0.5)
        tall = (1 - (2 * px) ** 2) * rng.uniform(0.45, 1.0, count)
        relief, lit = np.zeros_like(easel.x), np.zeros_like(easel.x)
        order = np.argsort(-tall)
        for k in order:
            r = height * (0.20 + 0.32 * tall[k])
            cx, cy = x + px[k] * width, base - height * 0.62 * tall[k] - r * 0.1
            nx, ny = (warp_x - cx) / (r * 1.45), (warp_y - cy) / r
            inside = nx**2 + ny**2
            nz = np.sqrt(np.clip(1 - inside, 0, 1))
            top = nz * r
            face = LIGHT[0] * nx + LIGHT[1] * ny + LIGHT[2] * nz
            lit = np.where(top > relief, face, lit)
            relief = np.maximum(relief, top)
        floor = base + 0.06 * height * noise(seed + 3, easel.x / 90, easel.y / 900)
        body = step(0, 0.28 * height * soft, relief) * step(floor + 0.20 * height, floor - 0.10 * height, warp_y)
        low = np.clip((warp_y - (base - height * 0.8)) / (height * 0.9), 0, 1)
        lit = ndimage.gaussian_filter(lit, 5 * easel.scale) - 0.55 * low
        tone = ramp(lit, [(-0.75, notes[2]), (0.0, notes[1]), (0.55, notes[0])])
        amount = body * fade
        sky += (tone - sky) * amount[..., None]
        share = np.maximum(share, amount)
    return share


def around(values: Field, blur: float, tilt: float = 0.0) -> Field:
    """Angles (h, w) that follow the contours of a field: how a brush goes round a form."""
    soft = ndimage.gaussian_filter(values, blur)
    slope_y, slope_x = np.gradient(soft)
    strength = np.hypot(slope_x, slope_y)
    angle = np.arctan2(slope_x, -slope_y)  # across the gradient
    angle = (angle + np.pi / 2) % np.pi - np.pi / 2
    trust = strength / (strength + np.percentile(strength, 60) + 1e-6)
    return (angle * trust + tilt * (1 - trust)).astype(np.float32)


def paint_sky(easel: Easel, sky: Field, lie: Field, horizon: float, widths: tuple[float, ...] = (72, 42, 24),
              amount: float = 1.2, where: Field | None = None, body: float = 0.35) -> None:  # fmt: skip
    """Lay a sky from broad to fine; the later brushes only where the first left the plan unsaid."""
    box = (0.0, 0.0, easel.width, horizon + 20)
    for k, width in enumerate(widths):
        cover(easel, sky, lie, width, ratio=2.6, density=(3.2, 1.9, 1.4)[min(k, 2)], differs=0.0 if k == 0 else 2.2 + k,
              amount=amount, warm=0.5, wobble=0.30 if k == 0 else 0.22, box=box, load=(0.75, 1.0) if k == 0 else (0.5, 0.95),
              brush=("flat", "filbert", "filbert")[min(k, 2)], streak=1.4, body=body, pickup=0.25, where=where)  # fmt: skip


def _crown(rng: np.random.Generator, half_wide: float, half_tall: float, count: int,
           upright: float, grounded: bool) -> tuple[Field, Field, Field, Field, Field, Field]:  # fmt: skip
    """Clumps of a crown round (0, 0): x, y, radius (count,), and the x, y, radius of the lobe that each belongs to.

    Lobes, then clumps on the lobes: a crown is a few big forms before it is many small ones, and sky shows between them.
    """
    size = np.sqrt(half_wide * half_tall)
    lobes = max(3, round(count / 5)) if upright <= 0.5 else int(1.6 * half_tall / half_wide) + 3
    if upright > 0.5:
        rise = np.linspace(1, -1, lobes)
        ly, lx = -rise * (half_tall - 0.55 * half_wide), rng.normal(0, 0.10, lobes) * half_wide
        lr = half_wide * (0.98 - 0.52 * np.clip(rise, 0, 1) ** 1.8) * rng.uniform(0.88, 1.12, lobes)
    else:
        lr = size * rng.uniform(0.50, 0.70, lobes) * (3 / max(lobes, 2)) ** 0.22
        turn = -np.pi / 2 + rng.normal(0, 0.35) + np.arange(lobes) * 2.39996 + rng.normal(0, 0.25, lobes)  # golden angle
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


def tree(easel: Easel, x: float, base: float, height: float, width: float, leaves: Leaves, *, trunk: Field,
         seed: int, clumps: int = 14, dab: float = 1.0, rise: float = 0.60, holes: float = 0.1, upright: float = 0.0,
         light: tuple[float, float, float] = LIGHT, limbs: bool = True, amount: float = 2.4, thin: float = 1.0) -> None:  # fmt: skip
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
        _trunk(easel, rng, x, base, height, width, cx, cy, trunk)
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
    front = rng.normal(0, 0.35, len(cx)) - np.hypot(dx / crown_x, dy / crown_y) + 0.4 * dy / crown_y  # later hang in front
    rank = np.argsort(np.argsort(np.argsort(front))[which] * 0.42 + t * 3.2 + rng.normal(0, 0.5, n))
    t, which, turn, px, py = t[rank], which[rank], turn[rank], px[rank], py[rank]
    wide = mark * np.exp(rng.normal(0, 0.33, n)) * (1.15 - 0.35 * np.clip(t, -0.5, 1))
    lie = np.where(rng.random(n) < upright, np.pi / 2 + rng.normal(0, 0.25, n), turn + np.pi / 2 + rng.normal(0, 0.7, n))
    _mass(easel, rng, cx, cy, radius, mark, leaves)
    easel.lay(px, py, lie, wide * rng.uniform(1.2, 2.4, n), wide, jitter(easel, leaves.at(t), amount, 1.2),
              bend=rng.normal(0, 0.15, n) / wide, load=rng.uniform(0.5, 1.0, n), streak=2.6, body=0.6, brush="filbert")  # fmt: skip
    _stray_leaves(easel, rng, x, mid_y, cx, cy, radius, mark, leaves)
    if behind is not None:
        _sky_holes(easel, rng, behind, cx, cy, radius, mark, int(holes * 14 * np.sqrt(clumps)))


def _mass(easel, rng, cx, cy, radius, mark, leaves) -> None:  # type: ignore[no-untyped-def]
    """The shadow mass of a crown, scrubbed in with a broad brush before any leaf is thought of."""
    k = np.repeat(np.arange(len(cx)), 5)
    n = len(k)
    px, py = cx[k] + rng.normal(0, 0.34, n) * radius[k], cy[k] + rng.normal(0.1, 0.30, n) * radius[k]
    wide = np.maximum(radius[k] * rng.uniform(0.35, 0.6, n), mark)
    lab = leaves.at(rng.uniform(-0.8, -0.25, n))
    easel.lay(px, py, rng.uniform(0, np.pi, n), wide * 1.6, wide, jitter(easel, lab, 2.0, 1.0), load=0.85, body=0.3, brush="filbert")


def shadow(easel: Easel, x: float, y: float, wide: float, deep: float, note: Field, strength: float = 0.8) -> None:
    """A cast shadow on the ground: broken strokes, dense in the middle, letting the light between the leaves through."""
    rng = easel.rng
    n = int(34 + wide / 5)
    px, py = rng.normal(0, 0.36, n) * wide, rng.normal(0, 0.36, n) * deep
    order = np.argsort(py)
    px, py = px[order], py[order]
    under = easel.at(easel.colour, x + px, y + py)
    lab = mix(under, note, np.clip(rng.normal(strength, 0.12, n), 0.3, 1) * np.exp(-0.4 * (px / wide) ** 2))
    thick = deep * rng.uniform(0.10, 0.26, n)
    easel.lay(x + px, y + py, rng.normal(0.02, 0.07, n), thick * rng.uniform(3, 7, n), thick, jitter(easel, lab, 1.5, 1.0),
              load=rng.uniform(0.55, 0.95, n), opacity=0.9, brush="filbert", body=0.35)  # fmt: skip


def _trunk(easel, rng, x, base, height, width, cx, cy, trunk) -> None:  # type: ignore[no-untyped-def]
    """Trunk and limbs as bent strokes from the foot to some of the clumps."""
    thick = float(np.clip(height * 0.045, 2.0, 34))
    n = 5
    foot_x = x + rng.normal(0, thick * 0.18, n)
    easel.lay(foot_x, np.full(n, base - height * 0.26), np.full(n, -np.pi / 2) + rng.normal(0, 0.05, n),
              np.full(n, height * 0.54), thick * rng.uniform(0.4, 0.8, n), jitter(easel, np.tile(trunk, (n, 1)), 3.0, 1.5),
              bend=rng.normal(0, 0.05, n) / height, brush="filbert", body=0.7)  # fmt: skip
    pick = rng.permutation(len(cx))[: max(4, len(cx) // 2)]
    fx, fy = np.full(len(pick), x), base - height * rng.uniform(0.18, 0.45, len(pick))
    dx, dy = cx[pick] - fx, cy[pick] - fy
    easel.lay(fx + dx / 2, fy + dy / 2, np.arctan2(dy, dx), np.hypot(dx, dy), thick * rng.uniform(0.18, 0.4, len(pick)),
              jitter(easel, np.tile(trunk, (len(pick), 1)), 3.0, 1.0), bend=rng.normal(0, 0.3, len(pick)) / (np.hypot(dx, dy) + 1),
              brush="rigger")  # fmt: skip


def _stray_leaves(easel, rng, x, mid_y, cx, cy, radius, mark, leaves) -> None:  # type: ignore[no-untyped-def]
    """Small dabs that break the outline, so that the edge of the crown is lost here and there."""
    n = int(22 * np.sqrt(len(cx)))
    k = rng.integers(0, len(cx), n)
    out = np.arctan2(cy[k] - mid_y, cx[k] - x) + rng.normal(0, 0.9, n)
    px = cx[k] + np.cos(out) * radius[k] * rng.normal(1.05, 0.13, n)
    py = cy[k] + np.sin(out) * radius[k] * rng.normal(0.95, 0.13, n)
    t = 0.5 * (np.cos(out) * LIGHT[0] + np.sin(out) * LIGHT[1]) + rng.normal(0, 0.2, n)
    wide = mark * rng.uniform(0.25, 0.6, n)
    easel.lay(px, py, out + rng.normal(np.pi / 2, 0.8, n), wide * rng.uniform(1.2, 2.6, n), wide,
              jitter(easel, leaves.at(t), 2.5, 1.2), load=rng.uniform(0.4, 0.9, n), brush="filbert", body=0.5)  # fmt: skip


def _sky_holes(easel, rng, behind, cx, cy, radius, mark, count) -> None:  # type: ignore[no-untyped-def]
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


def grass(easel: Easel, x: Field, y: Field, tall: Field, *, lift: tuple[float, float] = (-8, 12), hue: Field | None = None,
          lean: float = 0.1, blades: int = 14, fan: float = 0.35, share: float = 0.35, width: float = 3.0) -> None:  # fmt: skip
    """Tufts at (x, y), ``tall`` units high; their colour is the ground's own, darker at some blades and lighter at others."""
    rng = easel.rng
    k = np.repeat(np.arange(len(x)), blades)
    n = len(k)
    off = rng.normal(0, 0.32, n)
    h = tall[k] * np.exp(rng.normal(-0.15, 0.35, n))
    bx, by = x[k] + off * tall[k], y[k] + rng.normal(0, 0.06, n) * tall[k]
    lie = -np.pi / 2 + lean + off * fan * 1.4 + rng.normal(0, fan * 0.5, n)
    base = easel.at(easel.colour, bx, by).copy()
    if hue is not None:
        base += (hue - base) * share
    base[:, 0] += rng.uniform(*lift, n)
    order = np.argsort(by + rng.normal(0, 2, n))
    cx, cy = bx + np.cos(lie) * h / 2, by + np.sin(lie) * h / 2
    wide = width * np.exp(rng.normal(0, 0.3, n))
    easel.lay(cx[order], cy[order], lie[order], h[order], wide[order], jitter(easel, base, 1.6, 0.9)[order],
              bend=(rng.normal(0.15, 0.35, n) / h)[order], brush="rigger", load=rng.uniform(0.6, 1, n), body=0.5)  # fmt: skip


def cottage(easel: Easel, x: float, base: float, width: float, walls: tuple[Field, Field], roofs: tuple[Field, Field],
            openings: Field) -> None:  # fmt: skip
    """A low farmhouse: gable end in the light on the left, the long side in half shade, a chimney, a door, windows."""
    w = width
    gable, eave, ridge, side = 0.30 * w, 0.27 * w, 0.50 * w, w
    left, mid = x - w / 2, x - w / 2 + gable
    right = left + side
    parts = [
        ([(left, base), (left, base - eave), (left + gable / 2, base - ridge), (mid, base - eave), (mid, base + 0.02 * w)],
         walls[0], np.pi / 2),
        ([(mid, base + 0.02 * w), (mid, base - eave), (right, base - eave * 0.97), (right, base)], walls[1], 0.05),
        ([(left + gable / 2 - 0.01 * w, base - ridge - 0.015 * w), (right - 0.10 * w, base - ridge + 0.01 * w),
          (right + 0.02 * w, base - eave * 0.93), (mid - 0.01 * w, base - eave * 0.93)], roofs[0], 1.0),
        ([(left - 0.02 * w, base - eave * 0.9), (left + gable / 2 - 0.01 * w, base - ridge - 0.02 * w),
          (left + gable / 2 + 0.03 * w, base - ridge), (left + 0.012 * w, base - eave * 0.86)], roofs[1], -0.9),
        ([(left + 0.62 * w, base - ridge - 0.11 * w), (left + 0.69 * w, base - ridge - 0.11 * w),
          (left + 0.69 * w, base - ridge + 0.03 * w), (left + 0.62 * w, base - ridge + 0.03 * w)], mix(walls[1], roofs[0], 0.45), 1.5),
    ]  # fmt: skip
    for corners, note, lie in parts:
        easel.limit = polygon(easel, corners, 0.9)
        plan = np.broadcast_to(note, easel.colour.shape)
        xs, ys = zip(*corners, strict=True)
        box = (min(xs) - 4, min(ys) - 4, max(xs) + 4, max(ys) + 4)
        cover(easel, plan, lie, w * 0.07, ratio=2.2, density=6, amount=2.2, warm=1.0, box=box, load=(0.8, 1.0), body=0.7, pickup=0.05)
    easel.limit = None
    spots = [(0.42, 0.12, 0.055, 0.09), (0.62, 0.10, 0.07, 0.20), (0.82, 0.12, 0.055, 0.09), (0.13, 0.15, 0.05, 0.09)]
    for sx, sy, sw, sh in spots:
        easel.lay(np.array([left + sx * w]), np.array([base - sy * w]), np.array([np.pi / 2]), np.array([sh * w]),
                  np.array([sw * w]), openings[None, :], brush="flat", load=1.0, body=0.2)  # fmt: skip
