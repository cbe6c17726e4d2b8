"""Faults of value, light and colour, made in another way than the first ones."""

import numpy as np

from critique.perception.cielab import lab_to_linear, linear_to_lab
from faulty.colour import NO_GREENS
from faulty.hand import Float, Severity, blur, coordinates, noise, over, pick, polygon, sky_mask
from faulty.source import Source


def flat_values(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Every value ranked, and laid out anew on a short scale."""
    lab = source.lab.copy()
    order = blur(lab[..., 0], 0.6)
    rank = np.argsort(np.argsort(order.ravel())).reshape(order.shape) / order.size
    lab[..., 0] = float(rng.uniform(44, 62)) + pick(severity, 46, 36, 24) * (rank - 0.5) + 0.2 * (lab[..., 0] - order)
    return lab


def scattered_values(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Light dabs on dark and dark dabs on light, round, square or torn, of one size or another."""
    lab = source.lab.copy()
    height, width = lab.shape[:2]
    cell = float(rng.uniform(0.018, 0.04)) * max(height, width)
    manner = int(rng.integers(3))
    if manner == 0:  # squares, set askew
        y, x = np.mgrid[:height, :width]
        turn = float(rng.uniform(0, np.pi / 2))
        down, across = (y * np.cos(turn) + x * np.sin(turn)) / cell, (x * np.cos(turn) - y * np.sin(turn)) / cell
        keys = (np.floor(down).astype(int) * 92821 + np.floor(across).astype(int) * 689287) % 4096
        sign = rng.uniform(-1, 1, 4096)[keys]
        sign = np.sign(sign) * np.sqrt(np.abs(sign))
    elif manner == 1:  # round dabs
        sign = np.zeros((height, width))
        y, x = np.mgrid[:height, :width]
        for _ in range(round(1.6 * height * width / cell**2)):
            row, column, size = rng.uniform(0, height), rng.uniform(0, width), cell * rng.uniform(0.35, 0.7)
            top, left = max(0, int(row - size)), max(0, int(column - size))
            part = np.s_[top : int(row + size) + 2, left : int(column + size) + 2]
            inside = (y[part] - row) ** 2 + (x[part] - column) ** 2 < size**2
            sign[part][inside] = rng.choice([-1, 1]) * rng.uniform(0.5, 1)
    else:  # torn patches
        sign = np.sign(noise(lab.shape, cell / 3, rng)).astype(np.float64)
    lab[..., 0] = np.clip(lab[..., 0] + blur(sign.astype(np.float32), 0.8) * pick(severity, 13, 21, 32), 3, 97)
    return lab


def closed_darks(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """A curve that crushes everything dark into one black."""
    lab = source.lab.copy()
    foot = float(np.percentile(lab[..., 0], pick(severity, 22, 34, 46)))
    floor = pick(severity, 9, 7, 5)
    soft = blur(lab, 1.0)
    above = np.clip((soft[..., 0] - foot) / 10, 0, 1)
    lab[..., 0] = floor + (lab[..., 0] - floor) * above
    lab[..., 1:] *= np.clip(above[..., None] + 0.12, 0, 1)
    return lab


def bare_sky(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The sky alone lit so long that its lights are burnt out."""
    lab = source.lab.copy()
    sky = sky_mask(lab, source.line)
    lights = float(np.percentile(lab[..., 0][sky > 0.5], 100 - pick(severity, 12, 35, 65)))
    light = lab_to_linear(lab) * (
        lab_to_linear(np.array([[[97.5, 0, 0]]], np.float32)) / lab_to_linear(np.array([[[lights, 0, 0]]], np.float32))
    )
    burnt = linear_to_lab(np.clip(light, 0, 0.965).astype(np.float32))
    return over(lab, burnt, sky)


def green_cast(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Light through a green pane: less red and blue of all of it."""
    amount = pick(severity, 0.14, 0.22, 0.32)
    gains = np.array([1 - amount * rng.uniform(0.95, 1.25), 1.0, 1 - amount * rng.uniform(0.9, 1.3)])
    return np.asarray(linear_to_lab(np.clip(lab_to_linear(source.lab), 0, 1) * gains), dtype=np.float32)


def colour_cast(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Light of one colour, as of a sodium lamp: it takes away most of what lies beside its own hue."""
    light = np.clip(lab_to_linear(source.lab), 0, 1)
    grey = (light @ np.array([0.2126, 0.7152, 0.0722], dtype=np.float32))[..., None]  # luminance [IEC 61966-2-1]
    turn, strength = np.radians(rng.uniform(*NO_GREENS)), pick(severity, 14, 24, 36)
    lamp = np.array([[85, strength * np.cos(turn), strength * np.sin(turn)]], dtype=np.float32)
    gains = lab_to_linear(lamp)[0] / lab_to_linear(lamp).max()
    lit = (grey + (light - grey) * pick(severity, 0.6, 0.35, 0.15)) * gains
    return np.asarray(linear_to_lab(np.clip(lit, 0, 1)), dtype=np.float32)


def dead_colour(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Everything stirred into one grey, cooler in the lights or in the darks."""
    lab = source.lab.copy()
    lab[..., 1:] *= pick(severity, 0.26, 0.14, 0.05)
    split = (lab[..., 0] - 50) / 50 * pick(severity, 3, 2.4, 1.4) * float(rng.choice([-1, 1]))
    lab[..., 1] += 0.5 * split
    lab[..., 2] += split + pick(severity, 2.5, 2.0, 1.5) * float(rng.choice([-1, 1]))
    return lab


SHOUTING = {"violet": (42, 68, 312), "orange": (68, 78, 62), "pink": (64, 62, 352), "sky blue": (58, 50, 262)}
SHOUTING |= {"yellow": (84, 84, 92), "red": (48, 76, 32), "turquoise": (68, 42, 200)}  # L*, C*, h


def garish_colour(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """A roof, a field, a slope or a cloud in a colour that belongs to another picture."""
    lab = source.lab
    tone, chroma, hue = list(SHOUTING.values())[int(rng.integers(len(SHOUTING)))]
    turn = np.radians(hue)
    y, x = coordinates(lab)
    manner = int(rng.integers(3))
    at_x, at_y = float(rng.uniform(0.2, 0.8)), float(rng.uniform(0.35, 0.85))
    if manner == 0:  # a patch with a ragged border
        far = np.hypot((x - at_x) / 0.2, (y - at_y) / 0.12) + 0.2 * noise(lab.shape, 6, rng)
        mask = blur((far < 1).astype(np.float32), 1.0)
    elif manner == 1:  # a strip of field
        high, wide = 0.1, 0.45
        left = float(rng.uniform(0.05, 0.5))
        top = float(rng.uniform(max(0.45, source.line), 0.86))
        corners = [(left, top), (left + wide, top - 0.02), (left + wide * 1.1, top + high), (left - 0.05, top + high)]
        mask = polygon(lab, corners)
    else:  # all that has one value there
        near = lab[int(at_y * (lab.shape[0] - 1)), int(at_x * (lab.shape[1] - 1)), 0]
        alike = np.exp(-(((blur(lab[..., 0], 1.5) - near) / 11) ** 2))
        mask = (alike * np.exp(-(((x - at_x) / 0.24) ** 2) - ((y - at_y) / 0.2) ** 2) ** 0.5).astype(np.float32)
        mask = np.clip(1.6 * mask, 0, 1).astype(np.float32)
    strength = pick(severity, 0.68, 0.86, 1.0) * chroma
    light = tone + 0.5 * (lab[..., 0] - blur(lab[..., 0], 12)) + 2 * noise(lab.shape, 2, rng)
    paint = np.stack([light, 0 * light + strength * np.cos(turn), 0 * light + strength * np.sin(turn)], -1)
    return over(lab, paint.astype(np.float32), mask * pick(severity, 0.9, 0.97, 1.0))


def warm_far_hills(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Peaks of rust, ochre or brick at the horizon, cut up into lights and darks, under a sky left as it is."""
    lab = source.lab
    y, x = coordinates(lab)
    feet = rng.uniform(0, 1, 7)
    rise = np.max([np.clip(1 - np.abs(x[0] - foot) / rng.uniform(0.15, 0.35), 0, 1) for foot in feet], axis=0)
    crest = source.line - 0.05 - rng.uniform(0.05, 0.09) * rise
    mask = np.clip((y - crest[None]) * lab.shape[0], 0, 1) * np.clip((source.line + 0.015 - y) * lab.shape[0], 0, 1)
    mask = mask * np.clip(1.3 * sky_mask(lab, source.line) + (y > source.line - 0.06) * 0.7, 0, 1)
    hue, chroma = np.radians(float(rng.uniform(48, 84))), pick(severity, 26, 36, 47)
    facets = np.tanh(2 * noise(lab.shape, 3.5, rng)) * 10 + 3 * noise(lab.shape, 1.0, rng)
    light = float(rng.uniform(36, 48)) + facets
    paint = np.stack([light, chroma * np.cos(hue) + 0 * light, chroma * np.sin(hue) + 0.3 * facets], -1)
    return over(lab, paint.astype(np.float32), blur(mask.astype(np.float32), 0.7) * pick(severity, 0.75, 0.92, 1.0))
