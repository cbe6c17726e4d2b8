"""How does a brush make a sky: clouds as lit forms, and the broad passes that lay it in?"""

from __future__ import annotations

import numpy as np
from brushwork import Easel, Field
from scipy import ndimage
from studies import cover, noise, ramp, step

LIGHT = (-0.62, -0.66, 0.42)  # toward the sun: left, up, and toward the viewer


def clouds(
    easel: Easel,
    sky: Field,
    puffs: list[tuple[float, float, float, float]],
    notes: tuple[Field, Field, Field],
    seed: int,
    soft: float = 1.0,
    fade: float = 1.0,
) -> Field:
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


def paint_sky(
    easel: Easel,
    sky: Field,
    lie: Field,
    horizon: float,
    widths: tuple[float, ...] = (72, 42, 24),
    amount: float = 1.2,
    where: Field | None = None,
    body: float = 0.35,
) -> None:
    """Lay a sky from broad to fine; the later brushes only where the first left the plan unsaid."""
    box = (0.0, 0.0, easel.width, horizon + 20)
    for k, width in enumerate(widths):
        cover(
            easel,
            sky,
            lie,
            width,
            ratio=2.6,
            density=(3.2, 1.9, 1.4)[min(k, 2)],
            differs=0.0 if k == 0 else 2.2 + k,
            amount=amount,
            warm=0.5,
            wobble=0.30 if k == 0 else 0.22,
            box=box,
            load=(0.75, 1.0) if k == 0 else (0.5, 0.95),
            brush=("flat", "filbert", "filbert")[min(k, 2)],
            streak=1.4,
            body=body,
            pickup=0.25,
            where=where,
        )
