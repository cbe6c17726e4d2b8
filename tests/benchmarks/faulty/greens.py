"""Faults of green: acid, raw blue-green, one flat green, a green cast."""

import numpy as np

from faulty.hand import Float, Severity, blur, foliage_mask, noise, over, pick
from faulty.source import Source


def acid_green(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Tube green used as it comes, in all grass and leaves."""
    lab = source.lab
    mask = foliage_mask(lab, source.line)
    chroma = pick(severity, 42, 58, 74)
    hue = np.radians(rng.uniform(120, 138) + 4 * noise(lab.shape, 12, rng))
    light = np.clip(lab[..., 0] * 0.75 + 22, 30, 78)
    strength = chroma * np.clip(0.62 + 0.38 * (light / 60), 0.6, 1.1)
    return over(lab, np.stack([light, strength * np.cos(hue), strength * np.sin(hue)], -1), mask * 0.95)


def raw_blue_green(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Phthalo green or viridian with a little white, in all grass and leaves; their light and shade stay."""
    lab = source.lab
    mask = foliage_mask(lab, source.line)
    hue = np.radians(rng.uniform(148, 166) + 3 * noise(lab.shape, 12, rng))
    strength = pick(severity, 30, 40, 50) * np.clip(lab[..., 0] / 45, 0.55, 1.1)
    light = np.clip(lab[..., 0] * 0.9 + 4, 12, 70)
    return over(lab, np.stack([light, strength * np.cos(hue), strength * np.sin(hue)], -1), mask * 0.95)


def one_flat_green(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """One mixture for all grass and leaves, brushed out."""
    lab = source.lab
    mask = foliage_mask(lab, source.line)
    hue, chroma = np.radians(rng.uniform(118, 130)), pick(severity, 28, 34, 38)
    rough = noise(lab.shape, 2, rng, stretch=3)
    tone = float(np.clip(np.median(lab[..., 0][mask > 0.5]) + 6, 38, 60))
    flat = np.stack([tone + rough, chroma * np.cos(hue) + 0.4 * rough, chroma * np.sin(hue) + 0 * rough], -1)
    return over(lab, flat, mask * pick(severity, 0.6, 0.85, 0.95))


def green_cast(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """A green glaze over everything."""
    amount = pick(severity, 7, 11, 16)
    shift = np.array([0, -amount, amount * rng.uniform(0.2, 0.6)], dtype=np.float32)
    glaze = np.clip(source.lab[..., :1] / 50, 0.3, 1)
    return np.asarray(source.lab + shift * blur(glaze, 1.0), dtype=np.float32)
