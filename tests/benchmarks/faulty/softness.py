"""Pictures in which no edge is crisp, made in two ways: rubbed into one another, or dragged by a soft brush."""

import numpy as np

from faulty.hand import Float, Severity, blur, moved, noise, pick
from faulty.source import Source


def soft_all_over(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Every border rubbed into the next while wet, with a faint touch of the brush over all of it."""
    lab = blur(source.lab, pick(severity, 2.6, 4.2, 6.5) * max(source.lab.shape[:2]) / 640)
    lab[..., 0] += 0.5 * noise(lab.shape, 0.9, rng, stretch=2.5)
    return lab


def dragged_soft(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Each place dragged a little way into its neighbours, again and again, by a brush that leaves its tracks."""
    lab = source.lab
    reach = pick(severity, 2.8, 4.6, 7.0) * max(lab.shape[:2]) / 640
    total, times = np.zeros_like(lab), 14
    for _ in range(times):
        down, across = (
            (reach * noise(lab.shape, 14, rng) + 0.5 * reach * rng.standard_normal()).astype(np.float32) for _ in "yx"
        )
        total += moved(lab, down, across)
    rubbed = np.asarray(total / times, dtype=np.float32)
    rubbed[..., 0] += 1.5 * noise(lab.shape, 0.7, rng, stretch=12)
    return rubbed
