"""Faults of green, made in another way than the first ones."""

import numpy as np

from faulty.hand import Float, Severity, blur, coordinates, noise, over, pick, polygon
from faulty.source import Source


def _green_places(source: Source) -> Float:
    """What grows, by hue and place alone: soft, 0–1."""
    lab = blur(source.lab, 2.0)
    y, _ = coordinates(lab)
    hue, chroma = np.degrees(np.arctan2(lab[..., 2], lab[..., 1])) % 360, np.hypot(lab[..., 1], lab[..., 2])
    below = np.clip((y - source.line + 0.25) / 0.1, 0, 1)
    return blur(((hue > 82) & (hue < 170) & (chroma > 4) & (lab[..., 0] < 78)).astype(np.float32) * below, 1.5)


def _meadow(source: Source, rng: np.random.Generator) -> Float:
    """A meadow that sweeps over the lower part: soft, 0–1."""
    lab = source.lab
    top = min(max(source.line + 0.04, 0.55), 0.76)
    left, right = float(rng.uniform(-0.02, 0.08)), float(rng.uniform(-0.02, 0.08))
    return polygon(lab, [(-0.01, top + left), (0.5, top), (1.01, top + right), (1.01, 1.01), (-0.01, 1.01)], 2.0)


def acid_green(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The picture's own greens pushed up to a tube's, or a meadow laid in with it."""
    lab = source.lab
    hue = np.radians(rng.uniform(116, 142))
    chroma = pick(severity, 44, 58, 72)
    touch = lab[..., 0] - blur(lab[..., 0], 6)
    if rng.random() < 0.5:
        mask, light = (
            _meadow(source, rng),
            rng.uniform(54, 66) + 0.9 * touch + 4 * noise(lab.shape, 2.5, rng, stretch=4),
        )
    else:
        mask, light = _green_places(source), np.clip(1.15 * lab[..., 0] + 8, 25, 80)
    strength = chroma * np.clip(0.4 + 0.6 * light / 58, 0.5, 1.15) * (1 + 0.08 * noise(lab.shape, 4, rng))
    paint = np.stack([light, strength * np.cos(hue), strength * np.sin(hue)], -1)
    return over(lab, paint.astype(np.float32), mask)


def raw_blue_green(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """A meadow laid in with a blue-green from the tube, streaked, over what was there."""
    lab = source.lab
    mask = _meadow(source, rng)
    hue, chroma = np.radians(rng.uniform(150, 168)), pick(severity, 32, 42, 52)
    streaks = 3 * noise(lab.shape, 5, rng, stretch=4)
    light = 0.45 * lab[..., 0] + 0.55 * float(rng.uniform(34, 50)) + streaks
    strong = chroma * (1 + 0.02 * streaks)
    paint = np.stack([light, strong * np.cos(hue), strong * np.sin(hue)], -1)
    return over(lab, paint.astype(np.float32), mask * 0.95)


def one_flat_green(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """One olive, leaf green or blue green rolled over all that grows, or over a meadow."""
    lab = source.lab
    mask = np.maximum(_green_places(source), _meadow(source, rng)) if rng.random() < 0.6 else _meadow(source, rng)
    hue, chroma, tone = np.radians(rng.uniform(108, 142)), rng.uniform(24, 40), rng.uniform(38, 58)
    keep = pick(severity, 0.3, 0.12, 0.04)
    grain = 0.8 * noise(lab.shape, 1.2, rng)
    own = blur(lab, 1.5) - lab.mean((0, 1))
    paint = np.stack([tone + grain, chroma * np.cos(hue) + 0 * grain, chroma * np.sin(hue) + 0.3 * grain], -1)
    return over(lab, (paint + keep * own).astype(np.float32), mask)
