"""Faults of edge and touch: outlines, hard edges all over, equal flecks, a foreground busier than the subject."""

import numpy as np
from scipy.ndimage import label, median_filter
from scipy.spatial import cKDTree
from skimage.feature import canny

from faulty.hand import Float, Severity, blur, coordinates, noise, over, pick
from faulty.source import Source


def black_outlines(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Every shape drawn round with black."""
    lab = source.lab
    scale = max(lab.shape[:2]) / 640
    smooth = blur(lab[..., 0], 1.0)
    contours = canny(smooth, sigma=2.6 * scale, low_threshold=0.8, high_threshold=0.92, use_quantiles=True)
    pieces, _ = label(contours, np.ones((3, 3)))
    contours &= np.bincount(pieces.ravel())[pieces] > 35 * scale  # a brush goes round whole shapes
    width = pick(severity, 0.8, 1.2, 1.7) * scale
    line = blur(contours.astype(np.float32), width)
    line = np.clip(line * width * 2.4, 0, 1) * np.clip(0.95 + 0.15 * noise(lab.shape, 10, rng), 0.4, 1)
    return over(lab, (9, 1, 1), line * pick(severity, 0.6, 0.85, 1.0))


def hard_edges(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Every shape cut out with the same sharp border, near and far."""
    from sklearn.cluster import KMeans

    lab = source.lab
    size = round(7 * max(lab.shape[:2]) / 640) | 1
    even = np.stack([median_filter(lab[..., k], size) for k in range(3)], -1)
    small = even[::5, ::5].reshape(-1, 3)
    model = KMeans(12, n_init=1, random_state=int(rng.integers(1000))).fit(small)
    cut = model.cluster_centers_[model.predict(np.ascontiguousarray(even.reshape(-1, 3)))].reshape(lab.shape)
    cut = cut.astype(np.float32)
    flat = lab + (cut - lab) * pick(severity, 0.55, 0.8, 0.97)
    return np.asarray(flat + pick(severity, 0.2, 0.5, 0.8) * (flat - blur(flat, 2.0)), dtype=np.float32)


def equal_flecks(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """The same dab, with the same contrast, from the sky to the grass."""
    lab = source.lab
    height, width = lab.shape[:2]
    step = 9.0 * max(height, width) / 640
    rows, columns = np.arange(0, height + step, step * 0.62), np.arange(0, width + step, step * 1.3)
    y, x = np.meshgrid(rows, columns, indexing="ij")
    points = np.stack([y.ravel(), x.ravel()], -1) + rng.normal(0, 0.33 * step, (y.size, 2))
    down, across = np.mgrid[:height, :width]
    squeeze = np.array([2.0, 1.0])
    _, nearest = cKDTree(points * squeeze).query(np.stack([down.ravel(), across.ravel()], -1) * squeeze)
    places = np.clip(points.round().astype(int), 0, (height - 1, width - 1))
    amount = pick(severity, 7, 11, 16)
    shift = rng.choice([-1.0, 1.0], (len(points), 3)) * rng.uniform(0.6, 1.1, (len(points), 3))
    dabs = blur(lab, 2.0)[places[:, 0], places[:, 1]] + shift * (amount, 0.7 * amount, 0.8 * amount)
    return over(
        lab, blur(dabs[nearest].reshape(lab.shape).astype(np.float32), 0.7), np.full((height, width), 0.95, np.float32)
    )


def busy_foreground(source: Source, severity: Severity, rng: np.random.Generator) -> Float:
    """Every blade and pebble at the bottom, while the subject is a smear."""
    lab = source.lab
    y, _ = coordinates(lab)
    near = np.clip((y - 0.68) / 0.1, 0, 1)
    amount = pick(severity, 12, 19, 27)
    blades = noise(lab.shape[1::-1], 0.9, rng, stretch=4.5).T
    stones = noise(lab.shape, 1.5, rng)
    touch = (np.tanh(1.6 * blades) + 0.6 * np.tanh(2 * stones)) * amount * 0.75
    colour = noise(lab.shape, 1.5, rng) * amount * 0.35
    busy = np.stack([np.clip(lab[..., 0], 30, 70) + touch, lab[..., 1] + 0.5 * colour, lab[..., 2] + colour], -1)
    calm = over(lab, blur(lab, pick(severity, 0.8, 1.4, 2.2)), (1 - near).astype(np.float32))
    return over(calm, busy.astype(np.float32), near.astype(np.float32))
