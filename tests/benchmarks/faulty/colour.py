"""Faults of colour: garish, dead, one hue over all of it, far hills as warm as the near ground."""

import numpy as np
from scipy.ndimage import label

from faulty.hand import Float, Severity, blur, coordinates, noise, over, pick, sky_mask
from faulty.source import Source

GARISH = {
    "magenta": (55, 350),
    "orange": (66, 58),
    "violet": (44, 312),
    "turquoise": (66, 205),
    "lemon": (86, 97),
    "scarlet": (52, 36),
    "blue": (46, 285),
}  # L*, h
REACHES = {"turquoise": 48, "lemon": 92}  # C* that sRGB holds there, where it is less (or more) than 80


def garish_colour(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """One field of the picture in a colour straight from the tube that nothing else answers."""
    from sklearn.cluster import KMeans

    lab = source.lab
    soft = blur(lab, max(lab.shape[:2]) / 110)
    small = soft[::6, ::6].reshape(-1, 3)
    model = KMeans(6, n_init=1, random_state=int(rng.integers(1000))).fit(small)
    families = model.predict(np.ascontiguousarray(soft.reshape(-1, 3))).reshape(lab.shape[:2])
    regions = []
    for family in range(6):
        labels, number = label(families == family)
        shares = np.bincount(labels.ravel())[1:] / labels.size if number else np.zeros(0)
        regions += [(share, labels == index + 1) for index, share in enumerate(shares) if 0.03 < share < 0.22]
    regions.sort(key=lambda region: abs(region[0] - 0.08))
    field = regions[int(rng.integers(min(3, len(regions))))][1] if regions else families == 0
    name = list(GARISH)[int(rng.integers(len(GARISH)))]
    tone, hue = GARISH[name]
    chroma = pick(severity, 0.62, 0.82, 1.0) * REACHES.get(name, 80)
    light = tone + 0.35 * (lab[..., 0] - float(np.median(lab[..., 0][field])))
    strength = chroma * (1 + 0.06 * noise(lab.shape, 3, rng, stretch=2))
    turn = np.radians(hue)
    paint = np.stack([light, strength * np.cos(turn), strength * np.sin(turn)], -1)
    return over(lab, paint, blur(field.astype(np.float32), 1.2) * pick(severity, 0.85, 0.95, 1.0))


def dead_colour(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Every mixture stirred to mud: grey all over."""
    lab = source.lab.copy()
    turn, mud = rng.uniform(0, 2 * np.pi), pick(severity, 3.0, 2.0, 1.0)
    lab[..., 1:] *= pick(severity, 0.3, 0.16, 0.06)
    lab[..., 1:] += mud * np.array([np.cos(turn), np.sin(turn)], dtype=np.float32)
    lab[..., 0] = 50 + (lab[..., 0] - 50) * 0.88
    return lab


NO_GREENS = (-155.0, 95.0)  # degrees of hue: what leans to green is told by a name of its own


def colour_cast(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """All of it toned in one hue, as an old print or under a dark varnish: little of its own colour is left."""
    lab = source.lab.copy()
    turn = np.radians(rng.uniform(*NO_GREENS))
    tone = np.array([np.cos(turn), np.sin(turn)], dtype=np.float32) * pick(severity, 11, 19, 27)
    lab[..., 1:] *= pick(severity, 0.5, 0.3, 0.15)
    lab[..., 1:] += tone * np.clip(lab[..., :1] / 50, 0.35, 1.2)
    return lab


def warm_far_hills(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Hills at the horizon in the strong, warm, detailed colour of the ground at one's feet."""
    lab = source.lab
    y, _ = coordinates(lab)
    ridge = noise((1, lab.shape[1]), 1, rng, stretch=lab.shape[1] / 14)[0]
    top = source.line - 0.075 - 0.03 * np.clip(ridge, -2, 2)
    above = np.clip((y - top[None]) * lab.shape[0] / 1.5, 0, 1) * (y < source.line + 0.01)
    behind = np.clip(sky_mask(lab, source.line), 0, 1)
    rough, blotch = noise(lab.shape, 1.6, rng, stretch=1.5), noise(lab.shape, 5, rng, stretch=2)
    chroma = pick(severity, 26, 38, 50)
    hue = np.radians(66 + 9 * blotch)
    warm = np.stack([44 + 7 * rough + 5 * blotch, chroma * np.cos(hue), chroma * np.sin(hue)], -1)
    return over(lab, warm, (above * behind).astype(np.float32) * pick(severity, 0.7, 0.9, 1.0))
