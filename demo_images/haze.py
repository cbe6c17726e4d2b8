"""Morning haze at Vellisund: a marsh channel at low water, almost everything light."""

from __future__ import annotations

import numpy as np
from branches import reeds
from brushwork import Easel
from skies import around, paint_sky
from studies import cover, jitter, lch, mix, noise, outline, ramp, step
from trees import Leaves, tree
from waters import glints, lay_water, mirror

WIDTH, HEIGHT, SHORE = 1500.0, 1200.0, 470.0


def haze(easel: Easel) -> None:
    """Paint it: pale sky, three banks in the haze, water, reeds, posts."""
    _sky(easel)
    _banks(easel)
    _channel(easel)
    _marsh(easel)
    _posts(easel)


def _sky(easel: Easel) -> None:
    far = np.hypot((easel.x - 480) / 560, (easel.y - 330) / 300)
    sky = ramp(
        easel.y / SHORE, [(0, lch(84, 7, 245)), (0.45, lch(89, 5, 220)), (0.8, lch(92, 8, 88)), (1, lch(91, 10, 75))]
    )
    sky = mix(sky, np.broadcast_to(lch(97, 9, 92), sky.shape), 0.95 * np.exp(-2.2 * far**2))
    bars = noise(7, easel.x / 380, (easel.y - 0.12 * easel.x) / 70, 3)
    sky = mix(
        sky, np.broadcast_to(lch(83, 6, 300), sky.shape), 0.5 * step(0.3, 1.4, bars) * step(1.0, 0.4, easel.y / SHORE)
    )
    paint_sky(
        easel, sky, around(sky[..., 0], 16 * easel.scale, -0.2), SHORE, widths=(84, 50, 28), amount=1.0, body=0.45
    )


def _banks(easel: Easel) -> None:
    rng = np.random.default_rng(2)
    tones = (
        (lch(83, 6, 265), SHORE - 4, 70, 0.85, (0, WIDTH)),
        (lch(75, 8, 235), SHORE + 2, 96, 0.6, (760, WIDTH + 60)),
        (lch(68, 10, 200), SHORE + 10, 150, 0.8, (1130, WIDTH + 60)),
    )
    for k, (note, base, tall, gap, reach) in enumerate(tones):
        ridge = outline(
            [(0, base - tall * 0.35), (500, base - tall * 0.22), (1000, base - tall * 0.4), (1500, base - tall * 0.5)],
            easel.x,
            5,
            120,
            k,
        )
        fade = step(reach[0] - 60, reach[0] + 160, easel.x) if reach[0] else np.ones_like(easel.x)
        plan = mix(
            np.broadcast_to(note, easel.colour.shape),
            np.broadcast_to(lch(90, 8, 84), easel.colour.shape),
            0.7 * step(base - tall * 0.4, base, easel.y),
        )
        cover(
            easel,
            plan,
            0.0,
            18,
            ratio=2.6,
            density=4,
            where=step(-3, 4, easel.y - ridge) * fade * (easel.y < base + 4),
            amount=1.0,
            warm=0.8,
            box=(0, base - tall, WIDTH, base + 6),
            brush="filbert",
            wobble=0.4,
            body=0.3,
        )
        leaf = Leaves(
            note - np.float32([5, 0, 0]), note, mix(note, lch(88, 13, 88), 0.45), mix(note, lch(93, 16, 88), 0.75)
        )
        x = reach[0] - 20.0
        while x < reach[1]:
            high = tall * np.exp(rng.normal(0, 0.28))
            tree(
                easel,
                x,
                base,
                high,
                high * rng.uniform(0.6, 1.1),
                leaf,
                trunk=note - np.float32([9, 0, 0]),
                seed=700 + int(x) + k,
                clumps=9 + 4 * k,
                dab=1.25,
                holes=0.1 * k,
                limbs=k > 0,
                amount=1.3,
                light=(-0.7, -0.5, 0.2),
            )
            x += high * rng.uniform(0.5, 1.3) / gap * 0.8


def _channel(easel: Easel) -> None:
    near = np.clip((easel.y - SHORE) / (HEIGHT - SHORE), 0, 1)
    plan = mirror(easel, SHORE, lch(83, 7, 225), 0.12 + 0.30 * near, seed=20, ripple=3.5, stretch=1.0, blur=8)
    shine = np.exp(-(((easel.x - 500 + 60 * near) / (170 + 260 * near)) ** 2))
    plan = mix(plan, np.broadcast_to(lch(96, 8, 92), plan.shape), 0.55 * shine * (1 - 0.5 * near))
    plan[..., 0] -= 5 * near**1.5
    lay_water(easel, plan, SHORE + 8, amount=0.9, widths=(40, 22, 12))
    rng = easel.rng
    n = 60
    d = rng.random(n) ** 1.4
    lab = jitter(easel, np.tile(lch(98, 7, 92), (n, 1)), 0.8)
    for i in range(n):
        glints(
            easel,
            np.array([500 - 60 * d[i] + rng.normal(0, 40 + 120 * d[i])]),
            np.array([SHORE + 14 + 560 * d[i]]),
            np.array([16 + 60 * d[i] * rng.random()]),
            lab[i],
            thick=0.1,
        )


def _marsh(easel: Easel) -> None:
    """Tongues of reed bed and mud that step back into the picture from the right and the left."""
    beds = (
        ([(0, 545), (180, 536), (330, 542), (440, 556), (1500, 700)], 26, lch(80, 11, 92), 440.0, False),
        ([(700, 640), (900, 606), (1180, 586), (1500, 576)], 46, lch(77, 15, 88), 690.0, True),
        ([(0, 790), (160, 768), (340, 790), (470, 830), (520, 850), (1500, 1000)], 66, lch(71, 17, 84), 500.0, False),
        ([(820, 1130), (980, 1010), (1200, 950), (1500, 915)], 130, lch(69, 16, 82), 830.0, True),
    )
    for k, (points, deep, note, limit, right) in enumerate(beds):
        edge = outline(points, easel.x, 5, 80, 30 + k)
        taper = np.clip((easel.x - limit) / 420, 0, 1) if right else np.clip((limit - easel.x) / 420, 0, 1)
        foot = edge + deep * (0.25 + 1.1 * taper) + 5 * noise(50 + k, easel.x / 70, 0 * easel.x, 3)
        inside = step(-4, 4, easel.y - edge) * step(4, -4, easel.y - foot) * (taper > 0.01)
        low = mix(note, lch(72, 7, 320), 0.55) - np.float32([3, 0, 0])
        plan = mix(
            np.broadcast_to(note, easel.colour.shape),
            np.broadcast_to(low, easel.colour.shape),
            step(0.3, 1.0, (easel.y - edge) / np.maximum(foot - edge, 1)),
        )
        cover(
            easel,
            plan,
            0.03,
            10 + deep * 0.12,
            ratio=2.8,
            density=4.5,
            where=inside,
            amount=1.8,
            warm=1.5,
            wobble=0.15,
            order="down",
            box=(0, min(p[1] for p in points) - 8, WIDTH, min(HEIGHT, max(p[1] for p in points) + deep * 2)),
        )
        n = 150
        x = easel.rng.uniform(limit - 10, WIDTH, n) if right else easel.rng.uniform(0, limit + 10, n)
        t = easel.at(taper, x, np.full(n, 600.0))
        top, bottom = easel.at(edge, x, np.full(n, 600.0)), easel.at(foot, x, np.full(n, 600.0))
        y = top + (bottom - top) * 0.7 * easel.rng.random(n) ** 0.7
        keep = (t > 0.03) & (y < HEIGHT + 30)
        order = np.argsort(y[keep])
        x, y = x[keep][order], y[keep][order]
        tall = deep * (0.55 + 0.5 * np.clip(noise(90 + k, x / 120, 0 * x, 2), -0.8, 1.4))
        reeds(
            easel,
            x,
            y,
            np.maximum(tall, 10),
            note + np.float32([2, 0, 0]),
            seed=k,
            width=1.2 + deep / 46,
            blades=8,
            heads=lch(74, 16, 70) if deep > 60 else None,
        )
        n = 40
        x = easel.rng.uniform(limit, WIDTH, n) if right else easel.rng.uniform(0, limit, n)
        foot_y = easel.at(foot, x, np.full(n, 600.0))
        keep = foot_y < HEIGHT
        glints(
            easel,
            x[keep],
            foot_y[keep] + easel.rng.uniform(0, deep * 0.35, int(keep.sum())),
            easel.rng.uniform(20, 60 + deep, int(keep.sum())),
            mix(note, lch(84, 7, 200), 0.5),
            thick=0.08,
            load=0.65,
        )


def _posts(easel: Easel) -> None:
    rng = easel.rng
    for k, (x, y, tall) in enumerate(((640, 560, 42), (600, 596, 58), (552, 646, 80), (610, 700, 92), (566, 770, 128))):
        lean = rng.normal(0, 0.06)
        note = mix(lch(72, 9, 260), lch(44, 12, 300), k / 4)
        easel.lay(
            np.array([x]),
            np.array([y - tall / 2]),
            np.array([-np.pi / 2 + lean]),
            np.array([tall]),
            np.array([tall * 0.13]),
            note[None],
            body=0.8,
        )
        easel.lay(
            np.array([x - tall * 0.035]),
            np.array([y - tall / 2]),
            np.array([-np.pi / 2 + lean]),
            np.array([tall * 0.9]),
            np.array([tall * 0.05]),
            mix(note, lch(92, 16, 85), 0.6)[None],
            brush="dry",
            load=0.75,
        )
        n = 12
        t = rng.random(n)
        glints(
            easel,
            x + rng.normal(0, tall * 0.05, n) - lean * tall * t,
            y + 3 + t * tall * 0.9,
            tall * rng.uniform(0.12, 0.3, n),
            mix(note, lch(82, 7, 230), 0.35),
            thick=0.25,
            load=0.75,
        )
