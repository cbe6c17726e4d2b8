"""Beeches above Orvalden: inside an autumn wood, a track climbing toward an opening full of light."""

from __future__ import annotations

import numpy as np
from branches import bare_tree
from brushwork import Easel, Field
from forms import shadow
from scipy.interpolate import PchipInterpolator
from studies import cover, jitter, lch, mix, noise, ramp, spread, step
from trees import Leaves

WIDTH, HEIGHT, FLOOR = 1200.0, 1500.0, 860.0
GLADE = (690.0, 640.0)


def woods(easel: Easel) -> None:
    """Paint it: light first, then the wood around it from far to near."""
    _glow(easel)
    _far_trunks(easel)
    _floor(easel)
    _canopy(easel, 120, 690, 12, 0.05, 5)
    _near_trunks(easel)
    _canopy(easel, 80, 420, 17, 0.42, 8)
    _saplings(easel)
    _fallen_leaves(easel)


def _distance(easel: Easel) -> Field:
    return np.hypot((easel.x - GLADE[0]) / 420, (easel.y - GLADE[1]) / 560).astype(np.float32)


def _glow(easel: Easel) -> None:
    far = _distance(easel) + 0.10 * noise(2, easel.x / 170, easel.y / 150, 3)
    plan = ramp(
        far,
        [
            (0.0, lch(93, 17, 92)),
            (0.28, lch(86, 29, 88)),
            (0.55, lch(69, 34, 83)),
            (0.85, lch(48, 27, 74)),
            (1.3, lch(29, 16, 62)),
        ],
    )
    cool = step(0.2, 1.2, noise(5, easel.x / 150, easel.y / 170, 3)) * step(0.25, 0.6, far)
    plan = mix(plan, np.broadcast_to(lch(56, 12, 140), plan.shape), 0.55 * cool)
    lie = (
        np.arctan2(easel.y - GLADE[1], easel.x - GLADE[0]) + np.pi / 2 + 0.5 * noise(6, easel.x / 200, easel.y / 200, 2)
    ).astype(np.float32)
    for k, width in enumerate((80, 44, 24)):
        cover(
            easel,
            plan,
            lie,
            width,
            ratio=1.9,
            density=(3.6, 1.9, 1.3)[k],
            differs=(0, 3, 4)[k],
            amount=2.4,
            warm=1.6,
            wobble=0.5,
            brush="filbert" if k else "flat",
            load=(0.7, 1) if k == 0 else (0.4, 0.9),
        )


def _trunk(
    easel: Easel, x: float, foot: float, thick: float, lean: float, dark: Field, lit: Field, side: float, seed: int
) -> None:
    """One trunk from the floor out of the picture: dark body, cool edge, a broken warm edge toward the light."""
    rng = np.random.default_rng(seed)
    n = max(int(foot / (thick * 1.1)), 8)
    t = np.linspace(0, 1, n)
    y = foot - t * (foot + 60)
    sway = thick * 0.55 * np.sin(t * rng.uniform(2, 4) + rng.uniform(0, 6))
    px = x + lean * (foot - y) + sway
    girth = thick * (1 - 0.38 * t) * (1 + 0.45 * np.exp(-t * 16))
    lie = np.arctan2(np.gradient(y), np.gradient(px))
    long = np.full(n, foot / n * 2.6) * (1 - 0.5 * np.exp(-t * 20))
    for lane, note, share, brush in (
        (0.0, dark, 1.0, "flat"),
        (-0.30 * side, mix(dark, lch(44, 10, 285), 0.45), 0.36, "dry"),
        (0.06 * side, mix(dark, lit, 0.30), 0.5, "dry"),
        (0.34 * side, lit, 0.30, "dry"),
    ):
        lab = jitter(easel, np.tile(note, (n, 1)), 2.6, 1.6)
        keep = rng.random(n) < (1.0 if brush == "flat" else 0.8)
        easel.lay(
            (px + lane * girth)[keep],
            (y + rng.normal(0, thick * 0.3, n) * np.clip(t * 8, 0, 1) - 0.5 * long * np.exp(-t * 20))[keep],
            (lie + rng.normal(0, 0.035, n))[keep],
            long[keep],
            (girth * share)[keep],
            lab[keep],
            brush=brush,
            load=0.95 if brush == "flat" else 0.72,
            body=0.7,
            streak=3.0,
            pickup=0.1,
        )
    if thick > 25:  # roots and drifted leaves, so that the tree stands in the ground and not on it
        m = int(thick / 2.5)
        rx = x + rng.normal(0, 0.55, m) * thick
        ry = foot + rng.normal(0.0, 0.07, m) * thick + 0.12 * np.abs(rx - x)
        rl = thick * rng.uniform(0.25, 0.6, m)
        easel.lay(
            rx,
            ry,
            np.sign(rx - x) * 0.35 + rng.normal(0, 0.2, m),
            rl,
            rl * 0.4,
            jitter(easel, mix(np.tile(dark, (m, 1)), np.tile(lch(42, 36, 54), (m, 1)), rng.random(m)), 3, 2),
            brush="filbert",
            body=0.7,
        )
    m = int(thick / 5)
    by = foot - rng.random(m) * foot
    bx = np.interp(foot - by, foot - y, px)
    easel.lay(
        bx + rng.normal(0, thick * 0.15, m),
        by,
        rng.normal(0, 0.2, m),
        thick * rng.uniform(0.2, 0.5, m),
        thick * rng.uniform(0.03, 0.07, m),
        jitter(easel, np.tile(dark - np.float32([7, 0, 0]), (m, 1)), 2),
        brush="rigger",
        opacity=0.7,
    )


def _far_trunks(easel: Easel) -> None:
    rng = np.random.default_rng(12)
    count = 30
    for k in range(count):
        near = k / count
        x = rng.uniform(-10, WIDTH + 10)
        if abs(x - GLADE[0] - 30) < 95 * (0.6 + near):
            continue
        off = min(abs(x - GLADE[0]) / 520, 1)
        dark = mix(lch(70, 20, 75), lch(38, 13, 50), 0.25 + 0.35 * near + 0.4 * off)
        lit = mix(lch(84, 26, 86), lch(60, 26, 72), off)
        _trunk(
            easel,
            x,
            FLOOR - 110 + 130 * near + rng.normal(0, 8),
            9 + 26 * near,
            rng.normal(0, 0.025),
            dark,
            lit,
            1.0 if x < GLADE[0] else -1.0,
            200 + k,
        )


def _floor(easel: Easel) -> None:
    edge = (
        FLOOR
        - 105
        + 26 * noise(3, easel.x / 260, 0 * easel.x, 3)
        - 46 * np.exp(-(((easel.x - 250) / 260) ** 2))
        - 30 * np.exp(-(((easel.x - 1080) / 200) ** 2))
    )
    d = np.clip((easel.y - edge) / (HEIGHT - FLOOR + 100), 0, 1)
    off = np.abs(easel.x - GLADE[0]) / (260 + 500 * d)
    plan = ramp(
        d,
        [
            (0, lch(78, 37, 78)),
            (0.12, lch(66, 41, 68)),
            (0.35, lch(51, 37, 58)),
            (0.7, lch(36, 27, 50)),
            (1, lch(24, 17, 48)),
        ],
    )
    plan = mix(plan, np.broadcast_to(lch(32, 16, 45), plan.shape), 0.6 * step(0.55, 1.4, off))
    wz = np.log(d + 0.06) * 2.6
    dapple = noise(8, (easel.x - GLADE[0]) / (d + 0.12) / 190, wz * 2.0, 3)
    plan = mix(plan, np.broadcast_to(lch(72, 45, 72), plan.shape), 0.75 * step(0.7, 1.3, dapple) * step(1.2, 0.3, off))
    plan = mix(plan, np.broadcast_to(lch(30, 15, 320), plan.shape), 0.6 * step(0.3, 1.2, -dapple))
    bends = [(0.0, 700.0), (0.08, 690.0), (0.2, 610.0), (0.42, 520.0), (0.7, 560.0), (1.0, 690.0)]
    way = PchipInterpolator(*zip(*bends, strict=True))(d).astype(np.float32) + 12 * noise(14, d * 8, 0 * d, 2)
    half = 9 + 150 * d**1.1
    track = step(1.15, 0.85, np.abs(easel.x - way) / half + 0.12 * noise(15, easel.x / 50, easel.y / 20, 2))
    earth = ramp(d, [(0, lch(84, 22, 82)), (0.2, lch(70, 19, 66)), (0.6, lch(50, 14, 50)), (1, lch(36, 10, 40))])
    earth = mix(earth, np.broadcast_to(lch(37, 12, 320), earth.shape), 0.6 * step(0.1, 1.0, -dapple))
    earth = mix(earth, np.broadcast_to(lch(78, 26, 78), earth.shape), 0.6 * step(0.7, 1.3, dapple))
    plan = mix(plan, earth, 0.85 * track)
    inside = step(-3, 4, easel.y - edge)
    size = (0.3 + 0.85 * d).astype(np.float32)
    lie = (0.12 * noise(16, easel.x / 240, easel.y / 130, 2) + 0.22 * (easel.x - 600) / 600 * -d).astype(np.float32)
    for k, width in enumerate((50, 28, 16)):
        cover(
            easel,
            plan,
            lie,
            width,
            ratio=(2.6, 2.4, 2.2)[k],
            density=(4, 2, 1.5)[k],
            where=inside,
            size=size,
            box=(0, FLOOR - 190, WIDTH, HEIGHT),
            differs=(0, 3, 4)[k],
            amount=2.4,
            warm=2.2,
            wobble=0.25,
            order="down",
            brush="flat" if k == 0 else "filbert",
            load=(0.7, 1) if k == 0 else (0.45, 0.9),
            body=0.6,
        )


def _near_trunks(easel: Easel) -> None:
    shade = lch(24, 13, 330)
    for x, foot, thick, lean, tone in (
        (330, 965, 54, 0.035, 0.35),
        (985, 985, 60, -0.03, 0.3),
        (468, 900, 30, -0.02, 0.6),
        (860, 905, 34, 0.045, 0.5),
        (90, 1180, 104, 0.03, 0.08),
        (1148, 1270, 128, -0.045, 0.0),
    ):
        side = 1.0 if x < GLADE[0] else -1.0
        dark = mix(lch(22, 8, 20), lch(44, 14, 55), tone)
        lit = mix(lch(62, 22, 66), lch(78, 32, 78), tone)
        shadow(easel, x - side * thick * 1.6, foot + thick * 0.3, thick * 5.0, thick * 0.9, shade, 0.75)
        _trunk(easel, x, foot, thick, lean, dark, lit, side, int(x))
        rng = np.random.default_rng(int(x) + 1)
        for lift in rng.uniform(0.68, 0.95, 4):
            y = foot * (1 - lift)
            start = x + lean * (foot - y)
            long, way = thick * rng.uniform(2.2, 4.2), rng.choice([-1.0, 1.0])
            lie = -np.pi / 2 + way * rng.uniform(0.55, 1.0)
            middle = np.array([start + np.cos(lie) * long / 2]), np.array([y + np.sin(lie) * long / 2])
            easel.lay(
                *middle,
                np.array([lie]),
                np.array([long]),
                np.array([thick * rng.uniform(0.10, 0.2)]),
                mix(dark, lit, 0.2)[None],
                bend=-0.35 * way / long,
                brush="rigger",
                body=0.6,
            )


def _canopy(easel: Easel, clusters: int, low: float, mark: float, dark: float, seed: int) -> None:
    """Sprays of leaves hung from above, gold where light comes through, rust and umber against it.

    They hang to ``low`` at the sides and leave the glade open; ``dark`` shifts them toward shade, as near sprays are.
    """
    rng = np.random.default_rng(seed)
    leaf = Leaves(lch(21, 14, 50), lch(39, 34, 58), lch(60, 50, 71), lch(82, 54, 84))
    cx, u = rng.uniform(-20, WIDTH + 20, clusters), rng.random(clusters)
    side = np.clip(np.abs(cx - GLADE[0]) / 560, 0, 1)
    cy = u**1.3 * low * (0.42 + 0.58 * side) - 20
    each = 46
    k = np.repeat(np.arange(clusters), each)
    n = len(k)
    lean = rng.normal(0, 0.35, clusters)  # each spray lies along its twig
    along, across = rng.normal(0, 1, n), rng.normal(0, 0.42, n)
    r = mark * rng.uniform(2.8, 6.0, clusters)[k]
    px = cx[k] + r * (along * np.cos(lean[k]) - across * np.sin(lean[k]))
    py = cy[k] + r * (along * np.sin(lean[k]) + across * np.cos(lean[k])) + 0.10 * r * along**2
    far = np.hypot((px - GLADE[0]) / 430, (py - GLADE[1]) / 640)
    t = 1.15 - 1.30 * far - dark + rng.normal(0, 0.24, n) + rng.normal(0, 0.22, clusters)[k] - 0.3 * across
    rank = np.argsort(np.argsort(rng.random(clusters))[k] * (6.0 / clusters) + t)
    wide = mark * np.exp(rng.normal(0, 0.38, n)) * 0.62
    lie = lean[k] + rng.normal(0, 0.55, n)
    easel.lay(
        px[rank],
        py[rank],
        lie[rank],
        (wide * rng.uniform(1.4, 2.5, n))[rank],
        wide[rank],
        jitter(easel, leaf.at(t), 2.6, 2.2)[rank],
        load=rng.uniform(0.5, 1, n),
        brush="filbert",
        body=0.65,
        streak=2.6,
    )


def _saplings(easel: Easel) -> None:
    for x, base, tall, seed, lean in (
        (250, 1130, 420, 4, 0.12),
        (1010, 1120, 380, 7, -0.14),
        (410, 1010, 240, 9, -0.08),
    ):
        bare_tree(
            easel,
            x,
            base,
            tall,
            lch(28, 12, 40),
            lch(62, 26, 66),
            seed=seed,
            lean=lean,
            levels=5,
            thick=0.02,
            spread=0.42,
        )
        rng = np.random.default_rng(seed)
        n = 150
        px, py = x + rng.normal(0, tall * 0.2, n) + lean * tall * 0.5, base - tall * rng.uniform(0.35, 1.0, n)
        lab = Leaves(lch(40, 36, 52), lch(56, 50, 62), lch(70, 60, 74), lch(83, 60, 84)).at(rng.normal(0.15, 0.5, n))
        wide = rng.uniform(4, 10, n)
        easel.lay(px, py, rng.normal(0.3, 0.6, n), wide * 1.9, wide, lab, brush="filbert", load=0.85, body=0.8)


def _fallen_leaves(easel: Easel) -> None:
    rng = easel.rng
    x, y = spread(easel, 1500, (0, FLOOR - 20, WIDTH, HEIGHT))
    d = (y - FLOOR) / (HEIGHT - FLOOR)
    clump = noise(61, x / 130, y / 60, 2)
    keep = rng.random(len(x)) < 0.15 + 0.5 * (clump > 0.3)
    x, y, d = x[keep], y[keep], np.clip(d[keep], 0, 1)
    base = easel.at(easel.colour, x, y)
    note = ramp(rng.random(len(x)), [(0, lch(44, 42, 48)), (0.5, lch(58, 48, 62)), (1, lch(70, 46, 76))])
    note[:, 0] += (base[:, 0] - 50) * 0.55
    wide = (3 + 12 * d) * np.exp(rng.normal(0, 0.3, len(x)))
    easel.lay(
        x,
        y,
        rng.normal(0, 0.35, len(x)),
        wide * 1.8,
        wide * 0.8,
        jitter(easel, mix(base, note, 0.75), 2, 1.5),
        brush="filbert",
        load=rng.uniform(0.5, 1, len(x)),
        body=0.8,
    )
