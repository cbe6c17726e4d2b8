"""Snow at Tussalund: a brook through snow toward a farm, low sun from the left."""

from __future__ import annotations

import numpy as np
from branches import bare_tree
from brushwork import Easel, Field
from forms import cottage, grass, ground_plane, shadow
from scipy import ndimage
from scipy.interpolate import PchipInterpolator
from skies import around, paint_sky
from studies import cover, jitter, lch, mix, noise, outline, ramp, spread, step
from waters import glints

WIDTH, HEIGHT, HORIZON = 1600.0, 1067.0, 408.0
LIT, HALF, BLUE, DEEP = lch(95, 7, 82), lch(87, 4, 40), lch(74, 13, 277), lch(60, 17, 280)


def winter(easel: Easel) -> None:
    """Paint it, from the sky forward."""
    _sky(easel)
    _far_woods(easel)
    line, half = _brook(easel)
    _snow(easel, line, half)
    _farm(easel)
    _near_things(easel, line, half)


def _sky(easel: Easel) -> None:
    glow = np.exp(-(((easel.x - 330) / 620) ** 2)) * step(0, HORIZON, easel.y)
    sky = ramp(
        easel.y / HORIZON,
        [(0, lch(69, 12, 265)), (0.5, lch(79, 7, 285)), (0.85, lch(86, 13, 62)), (1, lch(87, 19, 68))],
    )
    bars = noise(3, easel.x / 420, easel.y / (22 + 0.08 * (HORIZON - easel.y)), 3)
    sky = mix(
        sky, np.broadcast_to(lch(73, 9, 320), sky.shape), 0.7 * step(0.2, 1.3, bars) * step(1.0, 0.3, easel.y / HORIZON)
    )
    sky = mix(sky, np.broadcast_to(lch(90, 20, 75), sky.shape), 0.75 * glow)
    paint_sky(easel, sky, around(sky[..., 0], 12 * easel.scale, -0.06), HORIZON, widths=(64, 36, 20), amount=1.3)


def _far_woods(easel: Easel) -> None:
    far = outline([(0, 330), (350, 352), (700, 318), (1050, 344), (1350, 312), (1600, 330)], easel.x, 5, 150, 11)
    near = outline(
        [(0, 372), (260, 352), (520, 380), (860, 362), (1120, 380), (1380, 350), (1600, 362)], easel.x, 9, 70, 12
    )
    for ridge, note, low, width in (
        (far, lch(71, 11, 285), lch(79, 9, 320), 15),
        (near, lch(50, 11, 310), lch(62, 11, 295), 11),
    ):
        plan = mix(
            np.broadcast_to(note, easel.colour.shape),
            np.broadcast_to(low, easel.colour.shape),
            step(-60, 0, easel.y - HORIZON),
        )
        plan = plan + noise(int(width), easel.x / 46, easel.y / 30, 3)[..., None] * np.float32([2.4, 1.2, 1.8])
        inside = step(-3, 3, easel.y - ridge) * step(HORIZON + 10, HORIZON + 4, easel.y)
        cover(
            easel,
            plan,
            np.pi / 2,
            width,
            ratio=2.6,
            density=4.0,
            where=inside,
            box=(0, 280, WIDTH, HORIZON + 10),
            wobble=0.22,
            amount=1.8,
            brush="dry",
            load=(0.7, 1.0),
            body=0.3,
        )
    rng = easel.rng
    x = rng.uniform(0, WIDTH, 240)
    tall = rng.uniform(18, 52, 240) * (0.7 + 0.3 * np.sin(x / 120))
    easel.lay(
        x,
        HORIZON - tall / 2 + 3,
        -np.pi / 2 + rng.normal(0, 0.06, 240),
        tall,
        rng.uniform(1.4, 3.2, 240),
        np.tile(lch(38, 10, 310), (240, 1)) + rng.normal(0, 3, (240, 3)),
        brush="rigger",
        opacity=0.6,
    )


def _brook(easel: Easel) -> tuple[Field, Field]:
    d = np.clip((easel.y - HORIZON) / (HEIGHT - HORIZON), 0, 1)
    bends = [(0.0, 690.0), (0.05, 660.0), (0.12, 760.0), (0.24, 930.0), (0.4, 800.0), (0.62, 700.0), (1.0, 1010.0)]
    line = PchipInterpolator(*zip(*bends, strict=True))(d).astype(np.float32)
    line += 14 * d * noise(21, d * 9, 0 * d, 3)
    half = (5 + 118 * d**1.15) * (1 + 0.18 * noise(22, d * 11, np.sign(easel.x - line), 2))
    return line, half.astype(np.float32)


def _snow(easel: Easel, line: Field, half: Field) -> None:
    land = ground_plane(easel, HORIZON, 700)
    swell = noise(31, land.wx / 2.4, land.wz * 1.1, 3)
    turned = np.gradient(ndimage.gaussian_filter(swell, 6 * easel.scale), axis=1) * easel.scale * 160
    lit = 0.28 + 0.50 * turned + 0.26 * swell - 0.62 * land.depth**1.5 + 0.30 * step(700, 200, easel.x) * land.depth
    plan = ramp(lit, [(-1.1, DEEP), (-0.35, BLUE), (0.15, HALF), (0.7, LIT)])
    off = (easel.x - line) / half
    bank = step(2.0, 1.0, np.abs(off)) * step(0.8, 1.0, np.abs(off))
    plan = mix(plan, np.broadcast_to(DEEP, plan.shape), 0.65 * bank * (off > 0))
    plan = mix(plan, np.broadcast_to(LIT, plan.shape), 0.7 * bank * (off < 0))
    water = np.abs(off) < 1
    deep = ramp(
        land.depth, [(0, lch(77, 18, 68)), (0.25, lch(58, 12, 60)), (0.6, lch(38, 8, 250)), (1, lch(27, 9, 240))]
    )
    deep[..., 0] += 5 * noise(33, easel.x / 120, easel.y / (4 + 26 * land.depth), 3)
    deep = mix(deep, np.broadcast_to(lch(31, 10, 60), plan.shape), step(-0.3, -0.9, off) * 0.7)
    plan = np.where(water[..., None], deep, plan).astype(np.float32)
    follow = np.arctan(
        np.gradient(ndimage.gaussian_filter(swell, 9 * easel.scale), axis=1) * -easel.scale * 30 * (0.3 + land.depth)
    )
    lie = np.where(water, 0.0, np.clip(follow, -0.5, 0.5)).astype(np.float32)
    for k, width in enumerate((56, 32, 18)):
        cover(
            easel,
            plan,
            lie,
            width,
            ratio=(3.0, 3.4, 3.4)[k],
            density=(4.0, 2.0, 1.6)[k],
            where=land.mask,
            size=land.size,
            box=(0, HORIZON - 3, WIDTH, HEIGHT),
            differs=(0, 2.5, 3.5)[k],
            amount=1.2,
            warm=0.7,
            wobble=0.12,
            order="down",
            load=(0.75, 1) if k == 0 else (0.45, 0.95),
            body=0.7,
            streak=1.7,
            brush=("flat", "flat", "filbert")[k],
        )


def _farm(easel: Easel) -> None:
    for x, tall, seed in ((415, 150, 5), (300, 120, 6), (600, 104, 9)):
        bare_tree(
            easel,
            x,
            HORIZON + 10,
            tall,
            lch(33, 10, 330),
            lch(62, 16, 60),
            seed=seed,
            levels=6,
            thick=0.04,
            haze=lch(55, 10, 340),
        )
    cottage(
        easel,
        500,
        HORIZON + 26,
        176,
        (lch(66, 34, 58), lch(38, 24, 36)),
        (lch(90, 5, 60), lch(78, 10, 280)),
        lch(80, 46, 78),
    )
    cottage(
        easel,
        330,
        HORIZON + 20,
        104,
        (lch(50, 26, 52), lch(33, 16, 30)),
        (lch(88, 5, 60), lch(76, 10, 280)),
        lch(24, 6, 300),
    )
    shadow(easel, 640, HORIZON + 32, 190, 22, BLUE, 0.9)
    shadow(easel, 420, HORIZON + 26, 90, 14, BLUE, 0.8)


def _near_things(easel: Easel, line: Field, half: Field) -> None:
    rng = easel.rng
    for x0, y0, run, wide in ((1180, 640, 620, 26), (1330, 720, 560, 30), (1010, 560, 500, 16), (1240, 850, 700, 34)):
        n = 26
        t = np.sort(rng.random(n))
        px, py = x0 + t * run, y0 + t * run * 0.16 + rng.normal(0, 3, n)
        lab = np.tile(BLUE, (n, 1)) + rng.normal(0, 2, (n, 3))
        easel.lay(
            px,
            py,
            np.full(n, 0.16) + rng.normal(0, 0.03, n),
            np.full(n, run / 7),
            wide * rng.uniform(0.35, 0.7, n),
            lab,
            load=0.75,
            opacity=0.85,
            brush="filbert",
            body=0.5,
        )
    for x, base, tall, seed, lean in (
        (1010, 560, 330, 16, 0.03),
        (1180, 640, 560, 17, -0.05),
        (1335, 722, 640, 18, 0.06),
        (1245, 850, 250, 23, 0.12),
    ):
        bare_tree(
            easel, x, base, tall, lch(27, 9, 350), lch(76, 20, 70), seed=seed, lean=lean, haze=lch(56, 11, 20), levels=7
        )
        n = 7
        easel.lay(
            x + rng.normal(0, tall * 0.03, n),
            np.full(n, base + 2) + rng.normal(0, 2, n),
            rng.normal(0, 0.1, n),
            np.full(n, tall * 0.10),
            np.full(n, tall * 0.018),
            np.tile(LIT, (n, 1)) + rng.normal(0, 1.5, (n, 3)),
            brush="filbert",
            load=0.85,
            body=0.8,
        )
    for k, x in enumerate(np.linspace(60, 560, 8)):
        y = 850 - (x - 60) * 0.62 + rng.normal(0, 4)
        tall = 92 * (1 - 0.72 * (x - 60) / 500)
        easel.lay(
            np.array([x]),
            np.array([y - tall / 2]),
            np.array([-np.pi / 2 + rng.normal(0, 0.07)]),
            np.array([tall]),
            np.array([tall * 0.12]),
            (lch(35, 12, 40) + 3 * (k % 2))[None],
            brush="flat",
            body=0.7,
        )
        glints(easel, np.array([x]), np.array([y - tall]), np.array([tall * 0.2]), LIT, thick=0.4)
        easel.lay(
            np.array([x + tall * 0.9]),
            np.array([y + tall * 0.12]),
            np.array([0.14]),
            np.array([tall * 1.9]),
            np.array([tall * 0.1]),
            BLUE[None],
            brush="filbert",
            load=0.8,
            opacity=0.8,
        )
    for lift in (0.62, 0.30):
        t = np.repeat(np.linspace(0, 1, 8)[:-1], 2) + np.tile([0.035, 0.105], 7)
        px = 60 + 500 * t
        tall = 92 * (1 - 0.72 * t)
        easel.lay(
            px,
            850 - 500 * t * 0.62 - tall * lift + rng.normal(0, 1, 14),
            np.full(14, -0.555) + rng.normal(0, 0.03, 14),
            np.full(14, 50.0),
            tall * 0.055,
            jitter(easel, np.tile(lch(42, 11, 40), (14, 1)), 4, 1),
            brush="rigger",
            load=0.7,
        )
    x, y = spread(easel, 90, (0, HORIZON + 130, WIDTH, HEIGHT))
    off = np.abs(x - easel.at(line, x, y)) / easel.at(half, x, y)
    keep = (off > 1.0) & (off < 1.9)
    d = (y - HORIZON) / (HEIGHT - HORIZON)
    grass(
        easel,
        x[keep],
        y[keep],
        (70 * d)[keep],
        hue=lch(52, 28, 70),
        share=0.9,
        lift=(-18, 12),
        blades=11,
        width=2.6,
        lean=0.2,
    )
