"""Evening on the Lirren: a slow river after sunset, the far bank dark against the glow."""

from __future__ import annotations

import numpy as np
from branches import reeds
from brushwork import Easel
from skies import around, paint_sky
from studies import cover, lch, mix, noise, outline, polygon, ramp, spread, step
from trees import Leaves, tree
from waters import glints, lay_water, mirror

WIDTH, HEIGHT, SHORE = 1600.0, 1000.0, 664.0
SUN = (1010.0, 578.0)


def evening(easel: Easel) -> None:
    """Paint it: sky, far bank, its reflection, then the near bank."""
    _sky(easel)
    _far_bank(easel)
    _river(easel)
    _near_bank(easel)


def _sky(easel: Easel) -> None:
    h = SHORE
    sky = ramp(
        easel.y / h,
        [
            (0, lch(45, 19, 283)),
            (0.28, lch(55, 19, 300)),
            (0.52, lch(66, 27, 25)),
            (0.74, lch(76, 40, 58)),
            (0.9, lch(84, 46, 75)),
        ],
    )
    far = np.hypot((easel.x - SUN[0]) / 560, (easel.y - SUN[1]) / 250)
    sky = mix(sky, np.broadcast_to(lch(91, 44, 84), sky.shape), 0.9 * np.exp(-(far**2) * 2.0))
    warp = easel.y + 26 * noise(1, easel.x / 300, easel.y / 120, 2) - 0.05 * (easel.x - 800)
    reach = 20 + 0.13 * (h - easel.y)
    bars = noise(4, easel.x / 520 + easel.y / 400, warp / reach, 4, 0.55)
    under = noise(4, easel.x / 520 + (easel.y + 16) / 400, (warp + 0.5 * reach) / reach, 4, 0.55)
    body = step(0.15, 0.85, bars) * step(0.97, 0.7, easel.y / h)
    dark = ramp(easel.y / h, [(0, lch(36, 14, 290)), (0.4, lch(43, 18, 315)), (0.8, lch(57, 26, 20))])
    sky = mix(sky, dark, 0.85 * body)
    rim = step(0.1, 0.5, bars) * step(0.7, 0.1, under) * np.exp(-(far**2) * 0.35)
    fire = ramp(easel.y / h, [(0, lch(63, 34, 15)), (0.5, lch(72, 52, 45)), (0.9, lch(82, 56, 68))])
    sky = mix(sky, fire, 0.8 * rim)
    paint_sky(easel, sky, around(sky[..., 0], 10 * easel.scale, -0.05), h, widths=(66, 34, 17), amount=1.6, body=0.5)
    rng = easel.rng
    n = 16
    easel.lay(
        SUN[0] + rng.normal(0, 7, n),
        SUN[1] + rng.normal(0, 5, n),
        rng.normal(0, 0.8, n),
        np.full(n, 24.0),
        np.full(n, 14.0),
        np.tile(lch(97, 22, 92), (n, 1)),
        brush="filbert",
        load=1.0,
        body=1.0,
        pickup=0.0,
    )


def _far_bank(easel: Easel) -> None:
    hill = outline(
        [(0, 540), (240, 556), (560, 606), (900, 628), (1180, 616), (1420, 582), (1600, 566)], easel.x, 6, 140, 8
    )
    glow = np.exp(-(((easel.x - SUN[0]) / 330) ** 2))
    plan = mix(
        np.broadcast_to(lch(48, 17, 312), easel.colour.shape),
        np.broadcast_to(lch(64, 36, 45), easel.colour.shape),
        0.75 * glow,
    )
    inside = step(-3, 3, easel.y - hill)
    cover(
        easel,
        plan,
        -0.1,
        22,
        ratio=2.6,
        density=4,
        where=inside,
        box=(0, 520, WIDTH, SHORE),
        amount=1.6,
        brush="filbert",
        wobble=0.3,
    )
    rng = np.random.default_rng(3)
    x = -40.0
    while x < WIDTH + 40:
        near_sun = np.exp(-(((x - SUN[0]) / 230) ** 2))
        tall = (52 + 34 * np.sin(x / 210 + 1) ** 2) * np.exp(0.30 * rng.normal()) * (1 - 0.35 * near_sun)
        warm = Leaves(
            mix(lch(22, 8, 320), lch(34, 26, 45), near_sun * 0.8),
            mix(lch(29, 10, 320), lch(42, 34, 50), near_sun * 0.8),
            mix(lch(37, 13, 340), lch(55, 46, 58), near_sun),
            mix(lch(46, 20, 20), lch(72, 56, 70), near_sun),
        )
        tree(
            easel,
            x,
            SHORE - 2,
            tall,
            tall * rng.uniform(0.7, 1.2),
            warm,
            trunk=lch(20, 6, 330),
            seed=int(x) + 900,
            clumps=7,
            dab=1.15,
            rise=0.5,
            holes=0.0,
            limbs=False,
            light=(np.sign(SUN[0] - x) * 0.6, -0.1, -0.1),
            amount=1.8,
        )
        x += tall * rng.uniform(0.45, 0.95)
    leaf = Leaves(lch(14, 7, 330), lch(20, 9, 350), lch(30, 17, 30), lch(47, 36, 52))
    for x, tall, wide, up, seed in (
        (110, 270, 200, 0.3, 31),
        (262, 395, 132, 0.75, 36),
        (352, 330, 112, 0.75, 33),
        (10, 215, 210, 0.2, 34),
        (455, 170, 150, 0.2, 35),
    ):
        tree(
            easel,
            x,
            SHORE + 2,
            tall,
            wide,
            leaf,
            trunk=lch(13, 6, 330),
            seed=seed,
            clumps=18,
            upright=up,
            holes=0.2,
            rise=0.54,
            light=(0.75, -0.2, -0.1),
            amount=1.8,
        )
    n = 90
    x = easel.rng.uniform(0, WIDTH, n)
    easel.lay(
        x,
        SHORE + easel.rng.normal(0, 1.5, n),
        easel.rng.normal(0, 0.03, n),
        easel.rng.uniform(30, 90, n),
        easel.rng.uniform(4, 8, n),
        np.tile(lch(20, 8, 330), (n, 1)) + easel.rng.normal(0, 2, (n, 3)),
        brush="filbert",
    )


def _river(easel: Easel) -> None:
    near = np.clip((easel.y - SHORE) / (HEIGHT - SHORE), 0, 1)
    plan = mirror(easel, SHORE, lch(36, 14, 290), 0.16 + 0.34 * near, seed=60, ripple=4.0, stretch=0.92)
    plan[..., 0] -= 3
    lay_water(easel, plan, SHORE + 3, amount=1.3)
    rng = easel.rng
    n = 130
    y = SHORE + 10 + 270 * rng.random(n) ** 1.3
    d = (y - SHORE) / (HEIGHT - SHORE)
    x = SUN[0] + rng.normal(0, 1, n) * (14 + 90 * d) + 10
    lab = mix(
        np.tile(lch(92, 42, 82), (n, 1)), np.tile(lch(74, 50, 58), (n, 1)), np.clip(d + rng.normal(0, 0.2, n), 0, 1)
    )
    glints(easel, x, y, 14 + 70 * d * rng.random(n), lab)
    n = 70
    y = SHORE + 8 + 200 * rng.random(n) ** 1.5
    glints(easel, rng.uniform(0, WIDTH, n), y, rng.uniform(20, 120, n), lch(60, 22, 10), thick=0.05, load=0.55)


def _near_bank(easel: Easel) -> None:
    edge = outline([(0, 862), (260, 892), (560, 940), (900, 982), (1100, 1006), (1600, 1012)], easel.x, 9, 90, 70)
    inside = step(-4, 5, easel.y - edge)
    plan = ramp((easel.y - edge) / 150, [(0, lch(27, 12, 50)), (0.5, lch(19, 9, 70)), (1, lch(13, 6, 60))])
    cover(
        easel,
        plan,
        0.1,
        26,
        ratio=2.6,
        density=4,
        where=inside,
        box=(0, 820, WIDTH, HEIGHT),
        amount=2.2,
        warm=1.4,
        wobble=0.3,
    )
    x, y = spread(easel, 170, (-20, 850, 1150, 1030))
    keep = y > easel.at(edge, x, y) + 2
    order = np.argsort(y[keep])
    x, y = x[keep][order], y[keep][order]
    reeds(
        easel,
        x,
        y,
        60 + 90 * easel.rng.random(len(x)) ** 2,
        lch(20, 11, 62),
        seed=5,
        heads=lch(40, 24, 55),
        blades=7,
        width=3.0,
    )
    x, y = spread(easel, 14, (1360, 880, 1620, 1010))
    reeds(easel, x, y, np.full(len(x), 150.0), lch(17, 9, 60), seed=6, heads=lch(38, 24, 50), width=3.0)
    _boat(easel, 700, 858)


def _boat(easel: Easel, x: float, y: float) -> None:
    """A rowing boat moored broadside: hull, the lit inside of its far board, a pole, its reflection."""
    sheer = [(-98, -27), (-60, -17), (0, -12), (55, -14), (92, -22)]
    hull = [(x + a, y + b) for a, b in (*sheer, (78, 6), (20, 13), (-50, 11), (-82, -2))]
    inner = [(x + a, y + b) for a, b in ((-90, -25), (-40, -24), (20, -22), (84, -22), (55, -14), (0, -12), (-60, -17))]
    rng = easel.rng
    n = 22
    glints(
        easel,
        x - 4 + rng.normal(0, 42, n),
        y + rng.uniform(10, 44, n),
        rng.uniform(30, 100, n),
        lch(23, 11, 330),
        thick=0.12,
        load=0.85,
    )
    for corners, note, lie in ((hull, lch(17, 8, 30), 0.03), (inner, lch(45, 30, 52), 0.0)):
        easel.limit = polygon(easel, corners, 0.8)
        cover(
            easel,
            np.broadcast_to(note, easel.colour.shape),
            lie,
            9,
            ratio=3.5,
            density=6,
            box=(x - 104, y - 32, x + 100, y + 18),
            amount=2.4,
            warm=1.2,
            wobble=0.08,
            body=0.7,
        )
    easel.limit = None
    t = np.linspace(-0.9, 0.85, 9)
    easel.lay(
        x + 95 * t,
        y - 12.5 - 12 * t**2,
        -0.22 * t,
        np.full(9, 30.0),
        np.full(9, 3.2),
        np.tile(lch(60, 38, 55), (9, 1)),
        brush="rigger",
        opacity=0.8,
    )
    easel.lay(
        np.array([x + 70, x - 20.0]),
        np.array([y - 52, y - 17.0]),
        np.array([-1.5, 0.05]),
        np.array([96.0, 34.0]),
        np.array([3.4, 6.0]),
        np.tile(lch(16, 8, 40), (2, 1)),
        brush="rigger",
    )
