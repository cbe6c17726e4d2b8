"""Faults of composition: halved, alike on both sides, water downhill, and the eye led out, to the middle or apart."""

import numpy as np

from faulty.hand import THINGS, Float, Severity, blur, coordinates, hut, moved, noise, over, pick, polygon, quieter, sun
from faulty.source import Source


def halved(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The horizon, straight, through the middle."""
    lab = source.lab
    y, _ = coordinates(lab)
    aim = 0.5 + float(rng.choice([-1, 1])) * pick(severity, 0.045, 0.02, 0.0)
    start = np.where(y < aim, y / aim * source.line, source.line + (y - aim) / (1 - aim) * (1 - source.line))
    out = moved(lab, (start - y) * lab.shape[0], np.zeros_like(y))
    below = np.clip((y - aim) * lab.shape[0] / 2, 0, 1)
    out[..., 0] -= below * np.exp(-(y - aim) / 0.2) * pick(severity, 4, 9, 14)
    out[..., 0] += (1 - below) * np.exp(-(aim - y) / 0.1) * pick(severity, 2, 5, 8)
    return out


def mirror_symmetry(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Left and right the same, a tree for a tree."""
    lab = source.lab
    width = lab.shape[1]
    side = lab if rng.random() < 0.5 else lab[:, ::-1]
    _, x = coordinates(lab)
    other = np.where((x > 0.5)[..., None], side[:, ::-1], side).astype(np.float32)
    sway = pick(severity, 0.012, 0.006, 0.002) * width
    right = np.clip((x - 0.5) / 0.06, 0, 1)
    out = moved(other, sway * noise(lab.shape, 25, rng) * right, sway * noise(lab.shape, 25, rng) * right)
    out[..., 0] += (x - 0.5) * pick(severity, 12, 6, 2)
    return out


def water_downhill(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The water's far edge out of level, and the water with it.

    A photograph may be askew by 2°, so plain is a degree more: 3.2°, mild 1.4° and gross 4.6°.
    """
    lab = source.lab
    y, x = coordinates(lab)
    slope = float(rng.choice([-1, 1])) * pick(severity, 0.025, 0.056, 0.08)
    hold = np.where(
        y < source.line, np.exp(-(((y - source.line) / 0.12) ** 2)), np.exp(-(((y - source.line) / 0.5) ** 2))
    )
    return moved(lab, (slope * (x - 0.5) * lab.shape[1] * hold).astype(np.float32), np.zeros_like(y))


def edge_pull(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Something bright and hard, cut by the edge."""
    lab = source.lab
    size = pick(severity, 0.06, 0.1, 0.15)
    side = float(rng.integers(2))
    y = float(rng.uniform(0.3, 0.75))
    kind = int(rng.integers(3))
    if kind == 0:
        return hut(lab, side, y, size * 1.5, rng)
    if kind == 1:
        return sun(lab, side, y, size, rng)
    w = size * 0.45  # a sunlit trunk from top to bottom, hard against the edge
    inner = abs(side - w)
    sway = 0.15 * w
    rough = noise(lab.shape, 2, rng)
    trunk = polygon(
        lab, [(side, -0.01), (inner, -0.01), (inner + sway, 0.35), (inner - sway, 0.7), (inner, 1.01), (side, 1.01)]
    )
    out = over(lab, np.stack([90 + 3 * rough, 0 * rough + 1, 10 + rough], -1), trunk)
    bark = np.clip(noise(lab.shape, 1.2, rng, stretch=3) - 1.2, 0, 1)
    return over(out, (18, 2, 3), np.clip(bark * 2, 0, 1) * trunk)


def bar_at_edge(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """A white bar, as of a wall or a post, along part of a side or all of it."""
    lab = source.lab
    y, x = coordinates(lab)
    side = int(rng.integers(4))
    away, along = ((x, y), (1 - x, y), (y, x), (1 - y, x))[side]
    start, long = float(rng.uniform(0.1, 0.45)), float(rng.choice([0.3, 0.45, 1.0]))
    bar = (away < pick(severity, 0.022, 0.035, 0.06)) & ((long == 1) | ((along > start) & (along < start + long)))
    return over(lab, (94, 0, 5), blur(bar.astype(np.float32), 0.8))


def bulls_eye(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The subject in the dead centre, and nothing else to look at."""
    lab = quieter(source.lab, pick(severity, 0.35, 0.5, 0.6), 1.0)
    thing = THINGS[int(rng.integers(3))]
    off = pick(severity, 0.03, 0.01, 0.0)
    return thing(lab, 0.5 + off, 0.5 + off, pick(severity, 0.1, 0.14, 0.19), rng)


def subject_near_edge(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The subject whole, but crowded against a side."""
    lab = quieter(source.lab, pick(severity, 0.35, 0.5, 0.6), 1.0)
    thing = THINGS[int(rng.integers(3))]
    x = pick(severity, 0.14, 0.11, 0.085)
    return thing(
        lab, x if rng.random() < 0.5 else 1 - x, float(rng.uniform(0.4, 0.65)), pick(severity, 0.1, 0.12, 0.14), rng
    )


def two_lights(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Two subjects of the same strength, one on either side."""
    lab = quieter(source.lab, pick(severity, 0.3, 0.45, 0.6), 0.8)
    thing = THINGS[int(rng.integers(3))]
    size = pick(severity, 0.09, 0.12, 0.16)
    first = thing(
        lab, float(rng.uniform(0.22, 0.3)), float(rng.uniform(0.38, 0.62)), size * pick(severity, 0.85, 0.95, 1), rng
    )
    return thing(first, float(rng.uniform(0.7, 0.78)), float(rng.uniform(0.38, 0.62)), size, rng)
