"""Faults of value: none to speak of, scattered, closed darks, a sky left white."""

import numpy as np
from skimage.segmentation import slic

from faulty.hand import Float, Severity, blur, noise, pick, sky_mask
from faulty.source import Source


def flat_values(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Everything in the middle of the scale."""
    lab = source.lab.copy()
    middle = rng.uniform(48, 56)
    lab[..., 0] = middle + (lab[..., 0] - lab[..., 0].mean()) * pick(severity, 0.55, 0.38, 0.25)
    return lab


def scattered_values(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Each small shape with a value of its own, light beside dark, like confetti."""
    lab = source.lab.copy()
    wavy = blur(lab, 1.5) / 100 + 0.05 * noise(lab.shape, 5, rng)[..., None]  # in a plain sky shapes need a border too
    shapes = slic(wavy, n_segments=650, compactness=0.05, convert2lab=False, start_label=0)
    steps = rng.choice([-1.0, -0.4, 0.5, 1.0], shapes.max() + 1).astype(np.float32)
    step = blur(steps[shapes], 0.9) * pick(severity, 14, 24, 36)
    calm = blur(lab[..., 0], 0.05 * max(lab.shape[:2]))
    middle = np.clip(0.5 * calm + 0.5 * lab[..., 0].mean(), 28, 72)
    keep = pick(severity, 0.8, 0.6, 0.45)
    lab[..., 0] = middle + (lab[..., 0] - middle) * keep + step
    return lab


def closed_darks(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Shadows filled in with black, nothing to be seen in them."""
    lab = source.lab.copy()
    light = blur(lab[..., 0], max(lab.shape[:2]) / 320) + noise(lab.shape, 6, rng)
    limit = min(np.percentile(light, pick(severity, 24, 36, 48)), 52.0)
    shut = blur(1 / (1 + np.exp((light - limit) / 1.2)), 1.0)
    black = np.array([pick(severity, 11, 7, 5), 1, 1], dtype=np.float32) + 0.25 * (lab - blur(lab, 3)) * 0.3
    return np.asarray(lab + (black - lab) * shut[..., None], dtype=np.float32)


def bare_sky(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The lightest of the sky left as the white ground, the more the graver."""
    lab = source.lab.copy()
    sky = sky_mask(lab, source.line)
    light = blur(lab[..., 0], max(lab.shape[:2]) / 60) + 2 * noise(lab.shape, 12, rng)
    limit = np.percentile(light[sky > 0.5], 100 - pick(severity, 12, 35, 65))
    white = sky / (1 + np.exp(-(light - limit) / 1.5))
    return np.asarray(lab + (np.array([98, 0, 1], np.float32) - lab) * white[..., None], dtype=np.float32)
