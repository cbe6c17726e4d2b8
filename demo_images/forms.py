"""How are the things that stand on the ground painted: its plane, shadows, grass, a farmhouse?

Places are given in design units; colours are CIELAB. Light falls from the upper left unless a scene says otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from brushwork import Easel, Field
from studies import cover, jitter, mix, polygon


@dataclass(frozen=True)
class Ground:
    """A plane seen in perspective: ``depth`` 0 far to 1 near, world ``wx`` and ``wz``, and mark ``size``."""

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


def shadow(easel: Easel, x: float, y: float, wide: float, deep: float, note: Field, strength: float = 0.8) -> None:
    """A cast shadow on the ground: broken strokes, dense in the middle, with light between the leaves."""
    rng = easel.rng
    n = int(34 + wide / 5)
    px, py = rng.normal(0, 0.36, n) * wide, rng.normal(0, 0.36, n) * deep
    order = np.argsort(py)
    px, py = px[order], py[order]
    under = easel.at(easel.colour, x + px, y + py)
    out = (px / wide) ** 2 + (py / deep) ** 2
    lab = jitter(easel, mix(under, note, np.clip(rng.normal(strength, 0.12, n), 0.3, 1) * np.exp(-1.3 * out)), 1.5, 1.0)
    thick = deep * rng.uniform(0.08, 0.22, n)
    long, lie = thick * rng.uniform(3, 9, n), rng.normal(0.02, 0.08, n)
    for rim, brush in ((out < 0.12, "filbert"), (out >= 0.12, "dry")):  # the edge of a shadow is softer than its middle
        m = int(rim.sum())
        load = rng.uniform(0.6, 0.95, m)
        place = (x + px[rim], y + py[rim], lie[rim], long[rim], thick[rim], lab[rim])
        easel.lay(*place, bend=rng.normal(0, 0.15, m) / long[rim], load=load, opacity=0.9, brush=brush, body=0.35)


def grass(
    easel: Easel,
    x: Field,
    y: Field,
    tall: Field,
    *,
    lift: tuple[float, float] = (-8, 12),
    hue: Field | None = None,
    lean: float = 0.1,
    blades: int = 14,
    fan: float = 0.35,
    share: float = 0.35,
    width: float = 3.0,
) -> None:
    """Tufts at (x, y), ``tall`` units high; the ground's own colour, here darker, there lighter."""
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
    easel.lay(
        cx[order],
        cy[order],
        lie[order],
        h[order],
        wide[order],
        jitter(easel, base, 1.6, 0.9)[order],
        bend=(rng.normal(0.15, 0.35, n) / h)[order],
        brush="rigger",
        load=rng.uniform(0.6, 1, n),
        body=0.5,
    )


def cottage(
    easel: Easel,
    x: float,
    base: float,
    width: float,
    walls: tuple[Field, Field],
    roofs: tuple[Field, Field],
    openings: Field,
) -> None:
    """A low farmhouse: gable end in the light on the left, the long side in half shade, a chimney, a door, windows."""
    w = width
    gable, eave, ridge, side = 0.30 * w, 0.27 * w, 0.50 * w, w
    left, mid = x - w / 2, x - w / 2 + gable
    right = left + side
    parts = [
        (
            [
                (left, base),
                (left, base - eave),
                (left + gable / 2, base - ridge),
                (mid, base - eave),
                (mid, base + 0.02 * w),
            ],
            walls[0],
            np.pi / 2,
        ),
        ([(mid, base + 0.02 * w), (mid, base - eave), (right, base - eave * 0.97), (right, base)], walls[1], 0.05),
        (
            [
                (left + gable / 2 - 0.01 * w, base - ridge - 0.015 * w),
                (right - 0.10 * w, base - ridge + 0.01 * w),
                (right + 0.02 * w, base - eave * 0.93),
                (mid - 0.01 * w, base - eave * 0.93),
            ],
            roofs[0],
            1.0,
        ),
        (
            [
                (left - 0.02 * w, base - eave * 0.9),
                (left + gable / 2 - 0.01 * w, base - ridge - 0.02 * w),
                (left + gable / 2 + 0.03 * w, base - ridge),
                (left + 0.012 * w, base - eave * 0.86),
            ],
            roofs[1],
            -0.9,
        ),
        (
            [
                (left + 0.62 * w, base - ridge - 0.11 * w),
                (left + 0.69 * w, base - ridge - 0.11 * w),
                (left + 0.69 * w, base - ridge + 0.03 * w),
                (left + 0.62 * w, base - ridge + 0.03 * w),
            ],
            mix(walls[1], roofs[0], 0.45),
            1.5,
        ),
    ]
    for corners, note, lie in parts:
        easel.limit = polygon(easel, corners, 0.9)
        plan = np.broadcast_to(note, easel.colour.shape)
        xs, ys = zip(*corners, strict=True)
        box = (min(xs) - 4, min(ys) - 4, max(xs) + 4, max(ys) + 4)
        cover(
            easel,
            plan,
            lie,
            w * 0.07,
            ratio=2.2,
            density=6,
            amount=2.2,
            warm=1.0,
            box=box,
            load=(0.8, 1.0),
            body=0.7,
            pickup=0.05,
        )
    easel.limit = None
    spots = [(0.42, 0.12, 0.055, 0.09), (0.62, 0.10, 0.07, 0.20), (0.82, 0.12, 0.055, 0.09), (0.13, 0.15, 0.05, 0.09)]
    for sx, sy, sw, sh in spots:
        easel.lay(
            np.array([left + sx * w]),
            np.array([base - sy * w]),
            np.array([np.pi / 2]),
            np.array([sh * w]),
            np.array([sw * w]),
            openings[None, :],
            brush="flat",
            load=1.0,
            body=0.2,
        )
