"""How are bare branches and reeds painted: what is finer than leaves?"""

from __future__ import annotations

import numpy as np
from brushwork import Easel, Field
from studies import jitter, mix


def bare_tree(
    easel: Easel,
    x: float,
    base: float,
    height: float,
    note: Field,
    lit: Field,
    *,
    seed: int,
    lean: float = 0.0,
    levels: int = 6,
    spread: float = 0.5,
    thick: float = 0.035,
    side: float = -1.0,
    opacity: float = 0.95,
    haze: Field | None = None,
) -> None:
    """A leafless tree: trunk, limbs and forking twigs, a lit edge on ``side``, twigs tinted by ``haze``."""
    rng = np.random.default_rng(seed)
    tips = np.array([[x, base, -np.pi / 2 + lean, height * 0.34, height * thick]])
    every = []
    for level in range(levels):
        px, py, angle, long, wide = tips.T
        bend = rng.normal(0, 0.22, len(tips))
        every.append(np.column_stack([tips, bend, np.full(len(tips), level)]))
        ex, ey = px + np.cos(angle + bend * 0.5) * long, py + np.sin(angle + bend * 0.5) * long
        children = []
        for fork in range(3 if level else 4):
            keep = rng.random(len(tips)) < (0.95 if fork < 2 else 0.55)
            back = rng.uniform(0.0, 0.45, len(tips)) * (fork > 0)
            turn = (
                rng.normal(0, 0.16, len(tips))
                if fork == 0
                else rng.choice([-1, 1], len(tips)) * rng.normal(spread, 0.15, len(tips))
            )
            up = 0.12 * np.sin(-np.pi / 2 - (angle + turn))  # twigs turn up to the light
            share = rng.uniform(0.70, 0.88, len(tips)) if fork == 0 else rng.uniform(0.5, 0.8, len(tips))
            child = np.column_stack(
                [
                    ex - (ex - px) * back,
                    ey - (ey - py) * back,
                    angle + turn + up,
                    long * share,
                    wide * (0.72 if fork == 0 else rng.uniform(0.4, 0.62)),
                ]
            )
            children.append(child[keep])
        tips = np.concatenate(children)
    if haze is not None:
        ends = tips[rng.permutation(len(tips))[:160]]
        big = height * 0.05 * np.exp(rng.normal(0, 0.3, len(ends)))
        easel.lay(
            ends[:, 0],
            ends[:, 1],
            ends[:, 2],
            big * 2.2,
            big,
            jitter(easel, np.tile(haze, (len(ends), 1)), 2, 1.5),
            brush="dry",
            load=0.45,
            opacity=0.55,
            body=0.2,
            pickup=0.4,
        )
    for rows in map(_tapered, every):
        px, py, angle, long, wide, bend, level = rows.T
        n = len(rows)
        lie = angle + bend * 0.5
        mid_x, mid_y = px + np.cos(lie) * long / 2, py + np.sin(lie) * long / 2
        light = np.clip(level / levels, 0, 1)[:, None] * 0.25
        lab = mix(
            np.broadcast_to(note, (n, 3)), np.broadcast_to(haze if haze is not None else note, (n, 3)), light[:, 0]
        )
        lab = jitter(easel, lab, 2.0, 1.0)
        for chosen, brush, over in (
            (wide > 5, "flat", 1.12),
            (wide <= 5, "rigger", 1.10),
        ):  # a round brush would pinch a trunk
            easel.lay(
                mid_x[chosen],
                mid_y[chosen],
                lie[chosen],
                (long * over + 0.5 * wide)[chosen],
                np.clip(wide, 1.3, None)[chosen],
                lab[chosen],
                bend=(bend / long)[chosen],
                brush=brush,
                opacity=np.where(wide < 1.6, 0.72, opacity)[chosen],
                load=np.where(wide < 2.5, 0.75, 0.97)[chosen],
                body=0.5,
                pickup=0.1,
            )
        bold = wide > 3.0
        if bold.any():
            m = int(bold.sum())
            off = wide[bold] * 0.24 * side
            easel.lay(
                mid_x[bold] + off * np.abs(np.sin(lie[bold])),
                mid_y[bold] - np.abs(off * np.cos(lie[bold])),
                lie[bold],
                long[bold] * 0.95,
                wide[bold] * 0.42,
                jitter(easel, np.tile(lit, (m, 1)), 3.0, 1.5),
                bend=bend[bold] / long[bold],
                brush="dry",
                load=0.7,
                body=0.8,
            )


def _tapered(rows: Field) -> Field:
    """Split thick limbs into pieces that narrow, so that a trunk does not step at its forks."""
    thick = rows[rows[:, 4] > 5]
    parts = [rows[rows[:, 4] <= 5]]
    for k in range(3):
        px, py, angle, long, wide, bend, level = thick.T
        start = k / 3
        lie = angle + bend * start
        x = px + np.cos(angle + bend * start / 2) * long * start
        y = py + np.sin(angle + bend * start / 2) * long * start
        parts.append(np.column_stack([x, y, lie, long / 3, wide * (1 - 0.28 * start), bend / 3, level]))
    return np.concatenate(parts)


def reeds(
    easel: Easel,
    x: Field,
    y: Field,
    tall: Field,
    note: Field,
    *,
    seed: int,
    heads: Field | None = None,
    width: float = 2.6,
    lean: float = 0.06,
    blades: int = 9,
) -> None:
    """Clumps of reeds standing in water, some with seed heads."""
    rng = np.random.default_rng(seed)
    k = np.repeat(np.arange(len(x)), blades)
    n = len(k)
    h = tall[k] * rng.uniform(0.5, 1.1, n)
    px = x[k] + rng.normal(0, 0.26, n) * tall[k]
    lie = -np.pi / 2 + lean + rng.normal(0, 0.12, n)
    bend = rng.normal(0.12, 0.2, n)
    lab = jitter(easel, np.tile(note, (n, 1)), 3.2, 2.0)
    easel.lay(
        px + np.cos(lie) * h / 2,
        y[k] + np.sin(lie) * h / 2,
        lie,
        h,
        width * np.exp(rng.normal(0, 0.35, n)),
        lab,
        bend=bend / h,
        brush="rigger",
        load=rng.uniform(0.55, 1, n),
        body=0.6,
        pickup=0.2,
    )
    if heads is not None:
        pick = (rng.random(n) < 0.22) & (h > np.median(h))
        m = int(pick.sum())
        easel.lay(
            px[pick] + np.cos(lie[pick]) * h[pick],
            y[k][pick] + np.sin(lie[pick]) * h[pick],
            lie[pick] + 0.25,
            width * rng.uniform(3.5, 7.0, m),
            width * rng.uniform(1.0, 1.9, m),
            jitter(easel, np.tile(heads, (m, 1)), 3, 1.5),
            brush="dry",
            load=0.75,
            body=0.6,
        )
