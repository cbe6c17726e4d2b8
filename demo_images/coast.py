"""Skarrvind Ness: a headland in clearing weather, surf on a wet beach."""

from __future__ import annotations

import numpy as np
from brushwork import Easel, Field
from scipy import ndimage
from skies import around, clouds, paint_sky
from studies import cover, jitter, lch, mix, noise, outline, ramp, spread, step
from surf import surf
from waters import glints

WIDTH, HEIGHT, SEA = 1600.0, 900.0, 352.0


def coast(easel: Easel) -> None:
    """Paint it: sky, headlands from far to near, sea, surf, beach, rocks."""
    _sky(easel)
    _far_head(easel)
    beach = _sea(easel)
    _beach(easel, beach)
    _near_head(easel)
    surf(easel, beach, SEA)
    _rocks(easel)


def _sky(easel: Easel) -> None:
    sky = ramp(
        easel.y / SEA, [(0, lch(58, 21, 258)), (0.45, lch(71, 15, 250)), (0.85, lch(84, 8, 225)), (1, lch(88, 7, 110))]
    )
    notes = (lch(95, 6, 85), lch(82, 5, 280), lch(66, 9, 275))
    clouds(
        easel, sky, [(1180, 300, 980, 250), (1560, 180, 520, 170), (560, 150, 480, 110), (800, 335, 760, 80)], notes, 12
    )
    rain = (
        step(0.1, 0.9, noise(8, (easel.x + 0.35 * easel.y) / 120, easel.y / 900, 2))
        * np.exp(-(((easel.x - 1330) / 170) ** 2))
        * step(160, 300, easel.y)
    )
    sky = mix(sky, np.broadcast_to(lch(69, 9, 268), sky.shape), 0.5 * rain)
    paint_sky(easel, sky, around(sky[..., 0], 13 * easel.scale, -0.15), SEA, widths=(62, 36, 20), amount=1.2)


def _cliff(
    easel: Easel,
    top: Field,
    foot: Field,
    notes: tuple[Field, Field, Field],
    turf: tuple[Field, Field],
    width: float,
    seed: int,
    relief: float,
    box: tuple[float, float, float, float],
) -> None:
    """A rock face: planes lit from the left or turned away, turf on the shoulder, strokes down the fall of the rock."""
    tall = np.maximum(foot - top, 1)
    v = np.clip((easel.y - top) / tall, 0, 1)
    inside = ((easel.y > top) & (easel.y < foot)).astype(np.float32)
    crag = noise(seed, (easel.x + 0.25 * (easel.y - top)) / relief, easel.y / (relief * 2.2), 3, 0.5)
    face = np.gradient(ndimage.gaussian_filter(crag, 1.6 * easel.scale), axis=1) * easel.scale * relief * 0.55
    ledge = noise(seed + 1, easel.x / (relief * 2.2), (easel.y + 0.2 * easel.x) / (relief * 0.34), 3)
    lit = 0.55 * face + 0.30 * ledge + 0.30 * crag - 0.55 * step(0.55, 1.0, v) + 0.12
    plan = ramp(lit, [(-0.9, notes[0]), (0.0, notes[1]), (0.75, notes[2])])
    shoulder = step(0.30, 0.12, v + 0.10 * crag)
    grass = mix(
        np.broadcast_to(turf[0], plan.shape), np.broadcast_to(turf[1], plan.shape), step(-0.8, 1.0, ledge + 0.5 * crag)
    )
    plan = mix(plan, grass, shoulder)
    slope = np.arctan(np.gradient(top, axis=1) * easel.scale)
    lie = np.where(shoulder > 0.5, slope, np.pi / 2 + 0.28 + 0.35 * crag * 0.4).astype(np.float32)
    easel.limit = ndimage.gaussian_filter(inside, 1.1 * easel.scale)
    for k, w in enumerate((width, width * 0.55, width * 0.32)):
        cover(
            easel,
            plan,
            lie,
            w,
            ratio=2.3,
            density=(4, 2.2, 1.8)[k],
            where=inside,
            differs=(0, 4, 5)[k],
            amount=2.2,
            warm=1.3,
            wobble=0.28,
            box=box,
            order="lights last" if k else "shuffled",
            brush="flat",
            load=(0.8, 1) if k == 0 else (0.5, 0.95),
            body=0.7,
            streak=3.0,
        )
    easel.limit = None


def _far_head(easel: Easel) -> None:
    base = np.full_like(easel.x, SEA + 1)
    top = outline(
        [(0, 205), (280, 232), (520, 262), (760, 300), (900, 318), (985, 330), (1020, 352), (1600, 356)],
        easel.x,
        3.5,
        90,
        3,
    )
    _cliff(
        easel,
        top,
        base,
        (lch(58, 11, 275), lch(67, 9, 285), lch(77, 10, 70)),
        (lch(64, 12, 150), lch(72, 16, 105)),
        20,
        31,
        60,
        (0, 190, 1040, SEA + 4),
    )
    top = outline(
        [(0, 110), (180, 138), (370, 196), (520, 240), (640, 280), (730, 318), (775, 366), (1600, 400)],
        easel.x,
        4,
        80,
        5,
    )
    base = np.full_like(easel.x, SEA + 14)
    _cliff(
        easel,
        top,
        base,
        (lch(44, 12, 285), lch(56, 10, 320), lch(74, 18, 74)),
        (lch(52, 17, 125), lch(64, 25, 100)),
        26,
        41,
        64,
        (0, 90, 800, SEA + 16),
    )


def _sea(easel: Easel) -> Field:
    beach = outline(
        [(0, 640), (300, 612), (620, 640), (900, 702), (1180, 792), (1400, 872), (1600, 930)], easel.x, 7, 130, 16
    )
    d = np.clip((easel.y - SEA) / (beach - SEA), 0, 1.2)
    plan = ramp(
        d,
        [
            (0, lch(55, 18, 252)),
            (0.12, lch(50, 19, 240)),
            (0.4, lch(55, 19, 215)),
            (0.72, lch(65, 16, 195)),
            (1, lch(78, 10, 150)),
        ],
    )
    light = step(0.3, 1.2, noise(17, easel.x / 420, (easel.y - SEA) / (10 + 60 * d), 2))
    plan = mix(plan, np.broadcast_to(lch(72, 14, 205), plan.shape), 0.5 * light)
    chop = noise(18, easel.x / (30 + 130 * d), (easel.y - SEA) / (3 + 16 * d), 3)
    plan[..., 0] += 3.4 * chop
    lie = (0.18 * d * np.arctan(np.gradient(beach, axis=1) * easel.scale) * 3).astype(np.float32)
    size = np.clip(0.2 + 0.75 * d, 0.2, 1).astype(np.float32)
    where = step(-1, 2, easel.y - SEA) * step(14, -2, easel.y - beach)
    for k, width in enumerate((38, 20, 11)):
        cover(
            easel,
            plan,
            lie,
            width,
            ratio=(3.4, 4, 4.5)[k],
            density=(4, 2, 1.6)[k],
            where=where,
            size=size,
            box=(0, SEA, WIDTH, HEIGHT),
            differs=(0, 2.5, 3.5)[k],
            amount=1.6,
            warm=1.0,
            wobble=0.07,
            order="down",
            load=(0.7, 1) if k == 0 else (0.4, 0.9),
            body=0.5,
            brush="flat" if k == 0 else "filbert",
        )
    return beach


def _beach(easel: Easel, beach: Field) -> None:
    d = np.clip((easel.y - beach) / 260, 0, 1)
    plan = ramp(d, [(0, lch(74, 9, 110)), (0.15, lch(62, 11, 70)), (0.4, lch(69, 17, 74)), (1, lch(60, 20, 68))])
    wet = step(0.34, 0.05, d)
    sheen = noise(22, easel.x / 240, (easel.y - beach) / 16, 3)
    plan = mix(plan, np.broadcast_to(lch(82, 6, 240), plan.shape), 0.6 * wet * step(-0.2, 1.1, sheen))
    plan[..., 0] += 2.4 * noise(23, easel.x / 150, (easel.y - beach) / 26, 3)
    corner = np.hypot((easel.x - 700) / 900, (easel.y - 560) / 420)
    plan[..., 0] -= 10 * step(0.55, 1.2, corner)
    where = step(-6, 6, easel.y - beach)
    lie = np.arctan(np.gradient(ndimage.gaussian_filter(beach, (0, 20 * easel.scale)), axis=1) * easel.scale).astype(
        np.float32
    )
    for k, width in enumerate((46, 26, 14)):
        cover(
            easel,
            plan,
            lie,
            width,
            ratio=(3.4, 3.6, 4)[k],
            density=(4, 2, 1.4)[k],
            where=where,
            box=(0, 590, WIDTH, HEIGHT),
            differs=(0, 2.5, 3.5)[k],
            amount=1.5,
            warm=1.2,
            wobble=0.08,
            order="down",
            load=(0.7, 1) if k == 0 else (0.4, 0.9),
            body=0.45,
        )


def _near_head(easel: Easel) -> None:
    top = outline(
        [(0, 10), (110, 44), (240, 128), (330, 218), (400, 300), (462, 400), (520, 500), (560, 566), (1600, 620)],
        easel.x,
        10,
        46,
        9,
    )
    foot = outline([(0, 668), (200, 642), (380, 600), (470, 580), (560, 566), (1600, 560)], easel.x, 7, 40, 14)
    _cliff(
        easel,
        top,
        foot,
        (lch(24, 11, 310), lch(45, 15, 45), lch(75, 26, 73)),
        (lch(36, 20, 108), lch(60, 34, 94)),
        36,
        51,
        84,
        (0, 0, 600, 690),
    )


def _rocks(easel: Easel) -> None:
    rng = np.random.default_rng(5)
    for x, y, wide, tall in (
        (600, 648, 90, 36),
        (690, 676, 60, 22),
        (505, 650, 120, 44),
        (300, 752, 150, 60),
        (150, 800, 210, 84),
        (440, 732, 70, 24),
        (880, 744, 40, 14),
        (60, 730, 130, 60),
    ):
        n = int(10 + wide / 4)
        u, v = rng.normal(0, 0.3, n), rng.uniform(-0.9, 0.1, n)
        v *= np.clip(1 - (1.6 * u) ** 2, 0.1, 1)
        lit = -1.3 * u - 0.9 * v - 0.75 + rng.normal(0, 0.18, n)
        order = np.argsort(lit + rng.normal(0, 0.2, n))
        lab = ramp(lit, [(-0.6, lch(22, 10, 310)), (0.1, lch(41, 13, 40)), (0.7, lch(68, 22, 72))])
        size = tall * rng.uniform(0.25, 0.5, n)
        easel.lay(
            (x + u * wide)[order],
            (y + v * tall)[order],
            np.where(u < 0, -0.7, 0.8)[order] + rng.normal(0, 0.3, n),
            (size * 2.2)[order],
            size[order],
            jitter(easel, lab, 2, 1.2)[order],
            brush="flat",
            load=0.9,
            body=0.8,
            streak=3,
        )
        m = 9
        glints(
            easel,
            x + rng.normal(0, wide * 0.4, m),
            y + tall * 0.10 + rng.uniform(0, tall * 0.2, m),
            rng.uniform(0.3, 0.8, m) * wide,
            lch(36, 9, 280),
            thick=0.12,
        )
    x, y = spread(easel, 70, (0, 690, WIDTH, HEIGHT))
    off = y - easel.at(outline([(0, 640), (620, 640), (1180, 792), (1600, 930)], easel.x), x, np.minimum(y, HEIGHT - 1))
    keep = off > 70
    n = int(keep.sum())
    size = 2.5 * np.exp(rng.normal(0.2, 0.55, n)) * (0.4 + (y[keep] - 650) / 250)
    easel.lay(
        x[keep],
        y[keep],
        rng.normal(0, 0.2, n),
        size * 2,
        size,
        jitter(easel, np.tile(lch(44, 12, 50), (n, 1)), 7, 2),
        brush="filbert",
        body=0.8,
    )
