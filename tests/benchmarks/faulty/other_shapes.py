"""Faults of composition, edge and touch, made in another way than the first ones."""

import numpy as np
from scipy.ndimage import grey_dilation
from skimage.draw import ellipse, line_aa
from skimage.segmentation import slic

from faulty.hand import Float, Severity, blur, coordinates, moved, noise, over, pick
from faulty.source import Source


def halved(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Cropped until the horizon lies in the middle, with a dark far shore along it."""
    lab = source.lab
    height = len(lab)
    aim = 0.5 + float(rng.choice([-1, 1])) * pick(severity, 0.04, 0.02, 0.0)
    if source.line > aim:  # something off the top
        cut = round(height * (source.line - aim) / (1 - aim))
        lab = lab[cut:]
    else:
        lab = lab[: round(height * source.line / aim)]
    y, _ = coordinates(lab)
    shore = np.exp(-(((y - aim) / 0.012) ** 2)) * (y > aim - 0.012)
    step = np.clip((y - aim) * len(lab) / 2, 0, 1) - 0.5
    out = lab.copy()
    out[..., 0] -= step * pick(severity, 4, 8, 12)
    return over(out, (28, 0, 2), (shore * pick(severity, 0.3, 0.6, 0.85)).astype(np.float32))


def mirror_symmetry(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """One half traced over to the other, a little wider, lighter and with other leaves."""
    lab = source.lab[:, ::-1] if rng.random() < 0.5 else source.lab
    height, width = lab.shape[:2]
    middle = 0.5 + float(rng.uniform(-1, 1)) * pick(severity, 0.015, 0.008, 0.0)
    y, x = np.mgrid[:height, :width].astype(np.float32)
    wider = 1 + pick(severity, 0.06, 0.03, 0.0)
    from_x = np.where(x > middle * width, middle * width - (x - middle * width) / wider, x)
    out = moved(np.ascontiguousarray(lab), np.zeros_like(y), (from_x - x).astype(np.float32))
    right = (x > middle * width).astype(np.float32)
    out[..., 0] += right * (pick(severity, 5, 2.5, 0) + pick(severity, 4, 2, 1) * noise(lab.shape, 3, rng))
    return out


def water_downhill(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The water alone drawn askew, what stands on it drawn out to meet it; or the whole scene hung askew."""
    lab = source.lab
    height, width = lab.shape[:2]
    tilt = float(rng.choice([-1, 1])) * np.tan(np.radians(pick(severity, 1.7, 3.0, 4.6)))
    y, x = np.mgrid[:height, :width].astype(np.float32)
    fall = tilt * (x - width / 2)
    if source.sky < 0.6 or rng.random() < 0.4:
        inner = np.abs(tilt) * width / 2  # what a turn loses at the top and the foot
        start = y * (height - 2 * inner) / height + inner
        return moved(lab, (start - fall - y).astype(np.float32), (tilt * (y - height / 2)).astype(np.float32))
    edge, sea = source.line * height + fall, (source.line + 0.008) * height
    free = (source.line - 0.15) * height  # what lies higher stays; no row is repeated, which no brush would do
    from_y = np.where(y >= edge, y - edge + sea, free + (y - free) * (sea - free) / (edge - free))
    from_y = np.where(y < free, y, from_y)
    return moved(lab, (from_y - y).astype(np.float32), np.zeros_like(y))


def _pieces(lab: Float, number: int, rng: np.random.Generator) -> np.ndarray:
    """The picture parted into about so many shapes that follow its own borders."""
    return slic(blur(lab, 2.0) / 100, n_segments=number, compactness=0.03, convert2lab=False, start_label=1)


def black_outlines(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Shapes gone round with ink, of one width everywhere."""
    lab = source.lab
    scale = max(lab.shape[:2]) / 640
    pieces = _pieces(lab, 70, rng)
    means = np.stack([np.bincount(pieces.ravel(), lab[..., k].ravel()) for k in range(3)], -1)
    means /= np.maximum(np.bincount(pieces.ravel()), 1)[:, None]
    borders = np.zeros(pieces.shape, dtype=bool)
    apart = 11.0  # ΔE*ab: two shapes closer than that are one to whoever draws
    for one, other, at in ((pieces[:-1], pieces[1:], np.s_[:-1]), (pieces[:, :-1], pieces[:, 1:], np.s_[:, :-1])):
        borders[at] |= (one != other) & (np.sqrt(np.square(means[one] - means[other]).sum(-1)) > apart)
    wide = round(pick(severity, 2, 3, 5) * scale)
    ink = grey_dilation(borders.astype(np.float32), (wide, wide))
    colour = [(7, 0, 0), (14, 2, -10), (16, 8, 8)][int(rng.integers(3))]
    return over(lab, colour, blur(ink, 0.6) * pick(severity, 0.65, 0.85, 1.0))


def hard_edges(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """A picture of cut paper: every shape one flat colour."""
    lab = source.lab
    pieces = _pieces(lab, round(pick(severity, 900, 450, 250)), rng)
    means = np.stack([np.bincount(pieces.ravel(), lab[..., k].ravel()) for k in range(3)], -1)
    means /= np.maximum(np.bincount(pieces.ravel()), 1)[:, None]
    flat = means[pieces].astype(np.float32)
    return np.asarray(lab + (flat - lab) * pick(severity, 0.7, 0.88, 1.0), dtype=np.float32)


def equal_flecks(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Dots of one size dropped all over, each lighter or darker, warmer or cooler than what it lies on."""
    lab = source.lab.copy()
    height, width = lab.shape[:2]
    size = float(rng.uniform(2.6, 4.6)) * max(height, width) / 640
    under = blur(lab, 2.5)
    amount = pick(severity, 8, 12, 17)
    for _ in range(round(1.5 * height * width / (np.pi * size * size))):
        row, column = int(rng.integers(height)), int(rng.integers(width))
        rows, columns = ellipse(
            row, column, size, size * rng.uniform(1, 1.6), shape=(height, width), rotation=rng.uniform(0, np.pi)
        )
        shift = rng.choice([-1, 1]) * rng.uniform(0.6, 1.1) * amount
        lab[rows, columns] = under[row, column] + np.array(
            [shift, 0.4 * amount * rng.normal(), 0.6 * amount * rng.normal()]
        )
    return blur(lab, 0.5)


def busy_foreground(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Every blade of grass drawn, light and dark, while all above is soft."""
    soft = blur(source.lab, pick(severity, 0.8, 1.3, 1.9))
    out = soft.copy()
    height, width = out.shape[:2]
    top = float(rng.uniform(0.68, 0.74))
    amount = pick(severity, 14, 22, 32)
    for _ in range(round(width * pick(severity, 3.0, 4.5, 6.0))):
        row, column = rng.uniform(top, 1.05) * height, rng.uniform(0, width)
        long = rng.uniform(0.02, 0.06) * height
        rows, columns, strength = line_aa(
            int(row), int(column), int(row - long), int(column + rng.normal(0, 0.35) * long)
        )
        inside = (rows >= 0) & (rows < height) & (columns >= 0) & (columns < width)
        rows, columns, strength = rows[inside], columns[inside], strength[inside]
        shift = rng.choice([-1, 1]) * rng.uniform(0.6, 1.2) * amount
        base = soft[rows, columns] + np.array([shift, 0, 0.3 * abs(shift)])
        out[rows, columns] += (base - out[rows, columns]) * strength[:, None]
    return out.astype(np.float32)
