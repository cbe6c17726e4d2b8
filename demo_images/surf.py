"""How does a wave break on a shore: glassy face, tumbling foam, swash, spray?"""

from __future__ import annotations

import numpy as np
from brushwork import Easel, Field
from studies import jitter, lch, mix, noise, ramp


def surf(easel: Easel, beach: Field, sea: float) -> None:
    """Breakers from far to near, the swash on the sand, spray at the foot of the headland."""
    rng = np.random.default_rng(77)
    for share, tall, gap, start in (
        (0.16, 3.5, 0.9, 620),
        (0.30, 8, 0.75, 840),
        (0.45, 15, 0.45, 700),
        (0.63, 25, 0.15, 610),
        (0.84, 36, -0.25, 590),
    ):
        _breaker(easel, rng, beach, sea, share, tall, gap, start)
    x = np.arange(180, 1560, 5.0)
    x = x[(x < 330) | (x > 560) | (rng.random(len(x)) < 0.4)]
    for off, thick, chance in ((-5, 7, 0.9), (-22, 4, 0.45), (-40, 3, 0.3), (9, 3, 0.35)):
        keep = rng.random(len(x)) < chance * (0.55 + 0.45 * np.sign(noise(int(abs(off)), x / 90, 0 * x, 2) + 0.4))
        px = x[keep] + rng.normal(0, 6, int(keep.sum()))
        m = len(px)
        py = (
            easel.at(beach, px, np.full(m, 500.0))
            + off
            + 6 * noise(3, px / 80, 0 * px + off, 3)
            + rng.normal(0, 1.5, m)
        )
        lie = _run_of(easel, beach, px) + rng.normal(0, 0.16, m)
        size = thick * np.exp(rng.normal(0, 0.4, m))
        easel.lay(
            px,
            py + size * 0.8,
            lie,
            size * 5,
            size,
            np.tile(lch(66, 9, 250), (m, 1)),
            brush="filbert",
            load=0.6,
            opacity=0.6,
            body=0.2,
        )
        easel.lay(
            px,
            py,
            lie,
            size * rng.uniform(2, 5, m),
            size,
            jitter(easel, np.tile(lch(95, 4, 95), (m, 1)), 1.6, 0.8),
            brush="dry",
            load=rng.uniform(0.55, 1, m),
            body=1.0,
            pickup=0.05,
        )
    for cx, cy, wide, tall in ((548, 574, 70, 92), (455, 592, 60, 50)):
        n = 110
        out = rng.random(n) ** 0.8
        turn = -np.pi / 2 + rng.normal(0, 0.55, n)
        px, py = cx + np.cos(turn) * out * wide + rng.normal(0, 9, n), cy + np.sin(turn) * out * tall
        lab = mix(
            np.tile(lch(80, 7, 240), (n, 1)),
            np.tile(lch(97, 3, 95), (n, 1)),
            np.clip(0.25 + out + rng.normal(0, 0.25, n), 0, 1),
        )
        size = wide * (0.32 - 0.22 * out) * rng.uniform(0.5, 1.2, n)
        order = np.argsort(-out + rng.normal(0, 0.25, n))[::-1]
        easel.lay(
            px[order],
            py[order],
            (turn + rng.normal(0, 0.5, n))[order],
            (size * 1.9)[order],
            size[order],
            jitter(easel, lab, 1.2)[order],
            brush="dry",
            load=(0.92 - 0.4 * out)[order],
            opacity=0.9,
            body=1.0,
            pickup=0.1,
        )


def _run_of(easel: Easel, beach: Field, x: Field) -> Field:
    """Angle of the shore at points along it."""
    before, after = (easel.at(beach, np.clip(x + s, 0, easel.width - 1), np.full(len(x), 500.0)) for s in (-20, 20))
    return np.arctan2(after - before, 40.0)


def _breaker(
    easel: Easel,
    rng: np.random.Generator,
    beach: Field,
    sea: float,
    share: float,
    tall: float,
    gap: float,
    start: float,
) -> None:
    """One wave that runs along the shore: its glassy face, and where it breaks the foam tumbling down it."""
    x = np.arange(start, easel.width + 30, max(tall * 0.16, 1.6))
    x = x + rng.normal(0, tall * 0.2, len(x))
    shore = easel.at(beach, np.clip(x, 0, easel.width - 1), np.full(len(x), 500.0))
    swell = noise(int(tall) + 60, x / 260, 0 * x, 2)
    high = tall * np.clip(0.75 + 0.35 * swell, 0.25, 1.4) * np.clip((x - start) / 120, 0.1, 1)
    crest = sea + (shore - sea) * share + 0.25 * tall * swell - high
    lie = _run_of(easel, beach, x) * share
    n = len(x)
    t = rng.random(n)
    here = high > (0.35 if tall > 12 else 0.9) * tall
    face = ramp(t, [(0, lch(68, 20, 180)), (0.45, lch(53, 22, 200)), (1, lch(44, 19, 222))])
    order = np.argsort(-t)
    order = order[here[order]]
    size = np.maximum(high * 0.34, 1.4)
    easel.lay(
        x[order],
        (crest + t * high)[order],
        (lie + rng.normal(0, 0.10, n))[order],
        (size * 4.5)[order],
        size[order],
        jitter(easel, face, 1.8, 1)[order],
        brush="filbert",
        load=0.8,
        body=0.5,
    )
    broken = (noise(int(tall) + 21, x / 150, 0 * x, 3) > gap) & (high > 0.35 * tall)
    edge = noise(int(tall) + 22, x / (tall * 2.2), 0 * x, 3)
    for lane, top in ((1.0, 0.0), (0.75, 0.1), (0.5, 0.45), (0.25, 0.8), (0.05, 1.0)) if tall > 12 else ((0.2, 0.9),):
        keep = broken & (rng.random(n) < (0.55 if tall > 12 else 0.3))
        m = int(keep.sum())
        py = crest[keep] + (lane + 0.22 * edge[keep]) * high[keep] + rng.normal(0, 0.07, m) * high[keep]
        lab = mix(
            np.tile(lch(70, 11, 238), (m, 1)),
            np.tile(lch(97, 4, 92), (m, 1)),
            np.clip(top + rng.normal(0, 0.2, m), 0, 1),
        )
        dab = np.maximum(high[keep] * rng.uniform(0.22, 0.5, m), 1.6)
        easel.lay(
            x[keep],
            py,
            lie[keep] + rng.normal(0.1, 0.28, m),
            dab * rng.uniform(1.8, 4.0, m),
            dab,
            jitter(easel, lab, 1.5, 0.6),
            bend=rng.normal(0.2, 0.3, m) / dab / 3,
            brush="dry" if top > 0.4 else "filbert",
            load=rng.uniform(0.55, 1.0, m),
            body=0.9,
            pickup=0.15,
        )
    thin = ~broken & (high > 0.35 * tall) & (rng.random(n) < 0.10) & (noise(int(tall) + 23, x / 60, 0 * x, 2) > 0)
    m = int(thin.sum())
    easel.lay(
        x[thin],
        crest[thin],
        lie[thin],
        tall * rng.uniform(0.6, 2.0, m),
        np.full(m, max(tall * 0.08, 1.5)),
        np.tile(lch(86, 8, 180), (m, 1)),
        brush="dry",
        load=0.7,
        opacity=0.75,
    )
    lace = broken & (rng.random(n) < 0.16)
    m = int(lace.sum())
    easel.lay(
        x[lace] + rng.normal(0, tall, m),
        crest[lace] + high[lace] * rng.uniform(1.2, 2.3, m),
        lie[lace] + rng.normal(0, 0.2, m),
        tall * rng.uniform(0.8, 2.4, m),
        np.full(m, max(tall * 0.09, 1.5)),
        jitter(easel, np.tile(lch(86, 7, 190), (m, 1)), 2),
        brush="dry",
        load=0.6,
        opacity=0.8,
    )
