"""Things to stand in a landscape, of other forms than the first ones, and the faults that they make."""

import numpy as np

from faulty.hand import Float, Severity, blur, coordinates, noise, over, pick, polygon
from faulty.source import Source


def farmhouse(lab: Float, x: float, y: float, size: float, rng: np.random.Generator) -> Float:
    """A bright house, two storeys of it, under a slate roof."""
    w, h = _reach(lab, size)
    lit = (93, 0, 10) if rng.random() < 0.5 else (86, 6, 26)
    lab = over(lab, lit, polygon(lab, [(x - w, y - 0.2 * h), (x + w, y - 0.2 * h), (x + w, y + h), (x - w, y + h)]))
    lab = over(lab, (26, 0, -8), polygon(lab, [(x - 1.1 * w, y - 0.2 * h), (x, y - h), (x + 1.1 * w, y - 0.2 * h)]))
    for column in (-0.55, 0.0, 0.55):
        for row in (0.05, 0.5):
            left, top = x + (column - 0.13) * w, y + row * h
            window = [(left, top), (left + 0.26 * w, top), (left + 0.26 * w, top + 0.25 * h), (left, top + 0.25 * h)]
            lab = over(lab, (20, 0, -3), polygon(lab, window, 0.6))
    return lab


def fir(lab: Float, x: float, y: float, size: float, rng: np.random.Generator) -> Float:
    """A black fir before a light of its own."""
    w, h = _reach(lab, size)
    down, across = coordinates(lab)
    glow = np.exp(-(((down - y) / (1.5 * h)) ** 2) - ((across - x) / (1.5 * w)) ** 2)
    lab = over(lab, (90, 0, 14), (0.85 * glow).astype(np.float32))
    sway = 0.06 * w * noise(lab.shape, 2, rng)
    level = np.clip((down - (y - 1.1 * h)) / (2.1 * h), 0, 1)
    wide = 0.55 * w * level * (0.75 + 0.25 * np.cos(level * 40))
    inside = (np.abs(across - x) + sway < wide) & (down > y - 1.1 * h) & (down < y + h)
    return over(lab, (13, -4, 4), blur(inside.astype(np.float32), 0.7))


def boat(lab: Float, x: float, y: float, size: float, rng: np.random.Generator) -> Float:
    """A red boat with a white sail."""
    w, h = _reach(lab, size)
    sail = [(x - 0.1 * w, y - 1.2 * h), (x + 0.75 * w, y + 0.3 * h), (x - 0.1 * w, y + 0.35 * h)]
    lab = over(lab, (94, 0, 6), polygon(lab, sail))
    hull = [(x - w, y + 0.45 * h), (x + w, y + 0.45 * h), (x + 0.7 * w, y + h), (x - 0.7 * w, y + h)]
    return over(lab, (40, 58, 40), polygon(lab, hull))


def low_sun(lab: Float, x: float, y: float, size: float, rng: np.random.Generator) -> Float:
    """A plain disc of light."""
    down, across = coordinates(lab)
    reach = size / 2.6 * max(lab.shape[:2])
    far = np.hypot((down - y) * lab.shape[0], (across - x) * lab.shape[1]) / reach
    lab = over(lab, (82, 14, 48), (0.7 * np.exp(-((far / 1.3) ** 2))).astype(np.float32))
    return over(lab, (97, 0, 22), blur((far < 0.8).astype(np.float32), 0.8))


STANDING = (farmhouse, fir, boat, low_sun)


def _reach(lab: Float, size: float) -> tuple[float, float]:
    """Half the width, and half the height, of a thing ``size`` of the long edge wide, in parts of the sides."""
    half = size / 2 * max(lab.shape[:2])
    return half / lab.shape[1], half / lab.shape[0]


def _in_mist(lab: Float, amount: float) -> Float:
    """The picture drawn toward its own middle colour, and a little soft."""
    soft = blur(lab, 1.0)
    return np.asarray(soft + (np.median(lab, axis=(0, 1)) - soft) * amount, dtype=np.float32)


def edge_pull(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Something red, white or black that an edge cuts: at a side, at the top, at the foot or in a corner."""
    lab = source.lab
    size = pick(severity, 0.06, 0.1, 0.15)
    x, y = [(0.0, 0.35), (1.0, 0.55), (0.62, 0.0), (0.35, 1.0), (1.0, 1.0), (0.0, 0.0)][int(rng.integers(6))]
    manner = int(rng.integers(4))
    if manner == 0:
        return STANDING[int(rng.integers(4))](lab, x, min(max(y, 0.08), 0.92), 1.5 * size, rng)
    w, h = _reach(lab, size)
    near = float(lab[..., 0][_box(lab, x, y, size)].mean())
    down, across = coordinates(lab)
    if manner == 1:  # a round thing, red
        far = np.hypot((down - y) / h, (across - x) / w)
        return over(lab, (44, 66, 44), blur((far < 1).astype(np.float32), 0.8))
    if manner == 2:  # light on dark, or dark on light: a rag of it
        far = np.hypot((down - y) / h, (across - x) / w) + 0.25 * noise(lab.shape, 5, rng)
        return over(lab, (95, 0, 4) if near < 55 else (7, 0, 0), blur((far < 1).astype(np.float32), 0.8))
    bars = (
        (np.floor((across - x) / (0.28 * w)).astype(int) % 2 == 0) & (np.abs(down - y) < h) & (np.abs(across - x) < w)
    )
    return over(lab, (95, 0, 4) if near < 55 else (7, 0, 0), blur(bars.astype(np.float32), 0.6))  # a fence


EVEN_PAINT = ((8, 0, 0), (48, 62, 40), (85, -4, 84), (55, 52, -30), (58, -22, -38), (90, 4, 28))  # L*a*b*


def bar_at_edge(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """A block, a half disc or a band of one colour that a side cuts: black, red, yellow, magenta, blue or cream."""
    lab = source.lab
    down, across = coordinates(lab)
    side, manner = int(rng.integers(4)), int(rng.integers(3))
    away, along = ((across, down), (1 - across, down), (down, across), (1 - down, across))[side]
    near = np.median(lab[away < 0.08], axis=0)
    far = [np.linalg.norm(np.array(colour) - near) for colour in EVEN_PAINT]
    colour = EVEN_PAINT[int(rng.choice(np.argsort(far)[-4:]))]  # none that goes into what lies there
    deep, middle = pick(severity, 0.025, 0.04, 0.065), float(rng.uniform(0.25, 0.75))
    if manner == 0:
        mask = (away < 1.5 * deep) & (np.abs(along - middle) < 0.09)
    elif manner == 1:
        sides = np.array(lab.shape[1::-1] if side < 2 else lab.shape[:2]) / max(lab.shape[:2])
        mask = np.hypot(away * sides[0], (along - middle) * sides[1]) < 1.8 * deep
    else:
        mask = away < deep
    return over(lab, colour, blur(mask.astype(np.float32), 0.8))


def _box(lab: Float, x: float, y: float, size: float) -> tuple[slice, slice]:
    w, h = _reach(lab, 2 * size)
    rows, columns = lab.shape[:2]
    return (
        slice(int(max(0, y - h) * rows), int(min(1, y + h) * rows) + 1),
        slice(int(max(0, x - w) * columns), int(min(1, x + w) * columns) + 1),
    )


def bulls_eye(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """A bright house, a dark tree, a boat or the sun in the middle of a picture that has nothing else."""
    thing = STANDING[int(rng.integers(4))]
    off = pick(severity, 0.04, 0.02, 0.0)
    lab = _in_mist(source.lab, pick(severity, 0.3, 0.45, 0.55))
    return thing(lab, 0.5 - off, 0.5 + off, pick(severity, 0.1, 0.14, 0.19), rng)


def subject_near_edge(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The same, but pushed against a side, the top or the foot."""
    thing = STANDING[int(rng.integers(4))]
    near, along = pick(severity, 0.14, 0.115, 0.09), float(rng.uniform(0.35, 0.65))
    x, y = [(near, along), (1 - near, along), (along, near), (along, 1 - near)][int(rng.integers(4))]
    lab = _in_mist(source.lab, pick(severity, 0.3, 0.45, 0.55))
    return thing(lab, x, y, pick(severity, 0.09, 0.11, 0.13), rng)


def two_lights(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Two things of one size, apart, neither the subject."""
    thing = STANDING[int(rng.integers(4))]
    lab = _in_mist(source.lab, pick(severity, 0.3, 0.45, 0.55))
    size = pick(severity, 0.09, 0.12, 0.15)
    for x in (float(rng.uniform(0.2, 0.3)), float(rng.uniform(0.7, 0.8))):
        lab = thing(lab, x, float(rng.uniform(0.35, 0.65)), size, rng)
    return lab
