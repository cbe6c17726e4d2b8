"""A row of like things across a picture, made in two ways: round trees on their stems, and firs or bushes without."""

from collections.abc import Callable

import numpy as np

from faulty.hand import Float, Severity, blur, noise, over, pick
from faulty.source import Source

LEAVES = ((24.0, -10.0, 14.0), (44.0, -20.0, 30.0), (62.0, -10.0, 34.0))  # dark, middling and light: L*, a*, b*
Thing = Callable[[Float, Float, np.random.Generator], Float]


def _crown(down: Float, across: Float, rng: np.random.Generator) -> Float:
    """A round tree of height 1, its foot at (0, 0)."""
    crown = np.hypot((down + 0.66) / 0.34, across / 0.32) + 0.07 * noise(down.shape, 3, rng) < 1
    return np.asarray(crown | ((np.abs(across) < 0.035) & (down > -0.4) & (down < 0)), dtype=np.float32)


def _fir(down: Float, across: Float, rng: np.random.Generator) -> Float:
    """A fir of height 1 in tiers."""
    level = np.clip(down + 1, 0, 1)
    wide = 0.27 * level * (0.8 + 0.2 * np.cos(level * 31)) + 0.012 * noise(down.shape, 2, rng)
    return np.asarray((np.abs(across) < wide) & (down < 0), dtype=np.float32)


def _bush(down: Float, across: Float, rng: np.random.Generator) -> Float:
    """Half a disc of height 0.5 with a ragged rim."""
    far = np.hypot(down / 0.5, across / 0.42) + 0.06 * noise(down.shape, 3, rng)
    return np.asarray((far < 1) & (down < 0), dtype=np.float32)


def _row(source: Source, severity: Severity, rng: np.random.Generator, thing: Thing) -> Float:
    lab = source.lab
    height, width = lab.shape[:2]
    y, x = np.mgrid[:height, :width].astype(np.float32)
    number = int(rng.integers(7, 10))
    spacing = width / number
    tall = spacing * pick(severity, 1.0, 1.05, 1.3)
    foot = np.clip(source.line * height + float(rng.uniform(0.2, 0.6)) * tall, 1.1 * tall, 0.95 * height)
    lean, stray = float(rng.uniform(-0.05, 0.05)), pick(severity, 0.1, 0.05, 0.02)
    behind = np.median(lab[int(foot - tall) : int(foot)], axis=(0, 1))
    colour = max(LEAVES, key=lambda leaves: float(np.linalg.norm(np.subtract(leaves, behind))))
    for k in range(number):
        size = tall * (1 + 2 * stray * float(rng.uniform(-1, 1)))
        middle = (k + 0.5 + stray * float(rng.uniform(-1, 1))) * spacing
        base = foot + lean * (middle - width / 2)
        down, across = (y - base) / size, (x - middle) / size
        mask = blur(thing(down, across, rng), 0.8)
        lit = 4 * noise(lab.shape, 3, rng) - 10 * across * pick(severity, 0.5, 1.0, 1.0)
        leaves = np.stack([colour[0] + lit, np.full_like(lit, colour[1]), colour[2] + 0.4 * lit], axis=-1)
        lab = over(lab, leaves, mask)
    return lab


def row_of_trees(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Round trees of one height across the picture, a stem and a crown each, as if planted by a ruler."""
    return _row(source, severity, rng, _crown)


def row_of_firs(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Firs, or bushes, from side to side, each the like of the next."""
    return _row(source, severity, rng, (_fir, _bush)[int(rng.integers(2))])
