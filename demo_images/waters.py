"""How is still water painted: what it mirrors, its level strokes, the light on it?"""

from __future__ import annotations

import numpy as np
from brushwork import Easel, Field
from scipy import ndimage
from studies import cover, jitter, mix, noise, step


def mirror(
    easel: Easel,
    shore: float,
    tint: Field,
    share: Field | float,
    *,
    seed: int,
    ripple: float = 5.0,
    stretch: float = 1.0,
    blur: float = 5.0,
) -> Field:
    """Plan (h, w, 3) of still water below a level shore: what stands above, upside down, rippled and tinted."""
    near = np.clip((easel.y - shore) / (easel.height - shore), 0, 1)
    sway = noise(seed, easel.x / 150, (easel.y - shore) / (4 + 26 * near), 2)
    jolt = noise(seed + 1, easel.x / 40, (easel.y - shore) / (2.5 + 12 * near), 2)
    source = shore - (easel.y - shore) / stretch - ripple * (1 + 5 * near) * 0.8 * sway
    side = easel.x + ripple * (0.6 + 3 * near) * jolt
    rows = np.clip((source * easel.scale).astype(int), 0, easel.relief.shape[0] - 1)
    rows = np.minimum(rows, int(shore * easel.scale) - 1)
    columns = np.clip((side * easel.scale).astype(int), 0, easel.relief.shape[1] - 1)
    plan = easel.colour[rows, columns]
    plan = ndimage.gaussian_filter(plan, (blur * easel.scale, 0.5 * blur * easel.scale, 0))
    return mix(plan, np.broadcast_to(tint, plan.shape), share)


def lay_water(
    easel: Easel,
    plan: Field,
    shore: Field | float,
    mask: Field | None = None,
    *,
    amount: float = 1.2,
    widths: tuple[float, ...] = (34, 18, 10),
    lie: Field | float = 0.0,
) -> None:
    """Level strokes, narrow at the far shore and broad at the feet of the viewer."""
    low = float(np.min(shore))
    near = np.clip((easel.y - shore) / (easel.height - low), 0, 1)
    size = (0.25 + 0.9 * near).astype(np.float32)
    where = step(-1, 2, easel.y - shore) if mask is None else mask
    for k, width in enumerate(widths):
        cover(
            easel,
            plan,
            lie,
            width,
            ratio=(3.2, 4.5, 5.5)[k],
            density=(3.6, 1.8, 1.4)[k],
            where=where,
            size=size,
            box=(0, low - 2, easel.width, easel.height),
            differs=(0.0, 2.5, 3.5)[k],
            amount=amount,
            warm=0.8,
            wobble=0.05,
            order="down",
            brush=("flat", "filbert", "filbert")[k],
            load=(0.7, 1.0) if k == 0 else (0.45, 0.9),
            body=0.4,
            pickup=0.25,
        )


def glints(
    easel: Easel, x: Field, y: Field, long: Field, lab: Field, *, thick: float = 0.16, load: float = 0.7
) -> None:
    """Short level touches of light on water."""
    n = len(x)
    rng = easel.rng
    wide = np.maximum(long * thick * rng.uniform(0.6, 1.3, n), 1.6)
    lab = jitter(easel, np.broadcast_to(lab, (n, 3)), 1.5, 0.6)
    dry = rng.random(n) < 0.5
    for chosen, brush, dip in ((dry, "dry", load + 0.1), (~dry, "filbert", load)):
        m = int(chosen.sum())
        easel.lay(
            x[chosen],
            y[chosen],
            rng.normal(0, 0.03, m),
            long[chosen] * rng.uniform(0.7, 1.4, m),
            wide[chosen],
            lab[chosen],
            bend=rng.normal(0, 0.12, m) / long[chosen],
            load=rng.uniform(dip - 0.2, min(dip + 0.2, 1), m),
            brush=brush,
            body=0.9,
            pickup=0.1,
        )
