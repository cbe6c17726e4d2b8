"""What the faults are drawn with: soft masks that follow the picture, brushed noise, things to stand in a landscape."""

from collections.abc import Sequence
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter, label, map_coordinates
from skimage.draw import polygon2mask

Float = NDArray[np.float32]
Severity = Literal["mild", "plain", "gross"]
SEVERITIES: tuple[Severity, ...] = ("mild", "plain", "gross")


def pick(severity: Severity, mild: float, plain: float, gross: float) -> float:
    """The amount of a fault."""
    return {"mild": mild, "plain": plain, "gross": gross}[severity]


def blur(field: Float, spread: float) -> Float:
    """Gaussian blur of the first two axes; ``spread`` in px."""
    spreads = (spread, spread) + (0,) * (field.ndim - 2)
    return np.asarray(gaussian_filter(field, spreads, mode="nearest"), dtype=np.float32)


def noise(shape: tuple[int, ...], size: float, rng: np.random.Generator, stretch: float = 1.0) -> Float:
    """Smooth noise of spread 1; ``size`` px up and down, ``stretch`` times that across."""
    field = gaussian_filter(rng.standard_normal(shape[:2]), (size, size * stretch), mode="reflect")
    return np.asarray((field - field.mean()) / field.std(), dtype=np.float32)


def coordinates(lab: Float) -> tuple[Float, Float]:
    """Height and width of every pixel, as fractions from the top and the left."""
    height, width = lab.shape[:2]
    y, x = np.mgrid[:height, :width].astype(np.float32)
    return (y + 0.5) / height, (x + 0.5) / width


def moved(lab: Float, down: Float, across: Float) -> Float:
    """The picture with each place taken from ``down`` and ``across`` px away (height, width)."""
    height, width = lab.shape[:2]
    y, x = np.mgrid[:height, :width].astype(np.float32)
    where = np.stack([y + down, x + across])
    channels = [map_coordinates(lab[..., k], where, order=1, mode="reflect") for k in range(3)]
    return np.asarray(np.stack(channels, axis=-1), dtype=np.float32)


def over(lab: Float, colour: Float | Sequence[float], mask: Float) -> Float:
    """Paint a colour, or another picture, over ``lab`` through a soft mask (height, width)."""
    return np.asarray(lab + (np.asarray(colour, dtype=np.float32) - lab) * mask[..., None], dtype=np.float32)


def sky_mask(lab: Float, line: float) -> Float:
    """What hangs together from the top edge without a strong edge, above the line: soft, 0–1."""
    y, _ = coordinates(lab)
    smooth = blur(lab, max(lab.shape[:2]) / 250)
    down, across = np.gradient(smooth[..., 0])
    light = smooth[..., 0] > np.percentile(smooth[..., 0][y < line], 35) - 8
    open_air = light & (np.hypot(down, across) < 3.0) & (y < line + 0.02)
    labels, _ = label(open_air)
    top = np.unique(labels[: max(2, len(labels) // 60)])
    return blur(np.isin(labels, top[top > 0]).astype(np.float32), 1.5)


def foliage_mask(lab: Float, line: float) -> Float:
    """Grass and leaves with their darks, as far as colour tells: soft, 0–1."""
    smooth = blur(lab, max(lab.shape[:2]) / 160)
    hue = np.degrees(np.arctan2(smooth[..., 2], smooth[..., 1])) % 360
    chroma = np.hypot(smooth[..., 1], smooth[..., 2])
    from_yellow = 88 + 0.25 * (smooth[..., 0] - 40)
    y, _ = coordinates(lab)
    ground = (y > line) | ((smooth[..., 0] < 52) & (sky_mask(lab, line) < 0.5))
    return blur((ground & (hue > from_yellow) & (hue < 175) & (chroma > 5)).astype(np.float32), 2.0)


def polygon(lab: Float, points: Sequence[tuple[float, float]], soft: float = 0.8) -> Float:
    """A mask of a shape by its corners (across, down) as fractions of the picture."""
    height, width = lab.shape[:2]
    corners = np.array([(y * height, x * width) for x, y in points])
    return blur(polygon2mask((height, width), corners).astype(np.float32), soft)


def hut(lab: Float, x: float, y: float, size: float, rng: np.random.Generator) -> Float:
    """A white hut with a red roof and a dark door, its middle at (x, y), ``size`` of the long edge wide."""
    aspect = lab.shape[1] / lab.shape[0]
    w = size * max(lab.shape[:2]) / lab.shape[1] / 2
    h = w * aspect * 0.5
    rough = noise(lab.shape, 2, rng)
    wall = polygon(lab, [(x - w, y - 0.1 * h), (x + w, y - 0.1 * h), (x + w, y + h), (x - w, y + h)])
    gable = polygon(lab, [(x - 1.2 * w, y), (x - 0.75 * w, y - h), (x + 0.75 * w, y - h), (x + 1.2 * w, y)])
    door = polygon(
        lab, [(x - 0.1 * w, y + 0.3 * h), (x + 0.2 * w, y + 0.3 * h), (x + 0.2 * w, y + h), (x - 0.1 * w, y + h)]
    )
    lab = over(lab, np.stack([91 + 2 * rough, 0 * rough + 1, 8 + rough], -1), wall)
    lab = over(lab, np.stack([45 + 3 * rough, 46 + 2 * rough, 34 + rough], -1), gable)
    return over(lab, (14, 3, 2), door)


def dark_tree(lab: Float, x: float, y: float, size: float, rng: np.random.Generator) -> Float:
    """A round dark tree against a light of its own, its middle at (x, y)."""
    down, across = coordinates(lab)
    reach = size / 2 * max(lab.shape[:2])
    far = np.hypot((down - y) * lab.shape[0], (across - x) * lab.shape[1]) / reach
    far = far + 0.08 * noise(lab.shape, 3, rng)
    lab = over(lab, (88, 0, 16), np.clip(1.9 - far, 0, 1) ** 2 * 0.85)
    crown = blur((far < 0.8).astype(np.float32), 0.8)
    rough = noise(lab.shape, 2, rng)
    lab = over(lab, np.stack([16 + 4 * rough, 0 * rough - 5, 8 + rough], -1), crown)
    w = 0.08 * reach / lab.shape[1]
    foot = y + 1.15 * reach / lab.shape[0]
    return over(lab, (12, 3, 4), polygon(lab, [(x - w, y), (x + w, y), (x + 1.4 * w, foot), (x - 1.4 * w, foot)]))


def sun(lab: Float, x: float, y: float, size: float, rng: np.random.Generator) -> Float:
    """A glaring light with a ring of orange, its middle at (x, y)."""
    down, across = coordinates(lab)
    reach = size / 2 * max(lab.shape[:2])
    far = np.hypot((down - y) * lab.shape[0], (across - x) * lab.shape[1]) / reach + 0.05 * noise(lab.shape, 4, rng)
    lab = over(lab, (74, 28, 62), np.clip(1.6 - far, 0, 1) * 0.8)
    return over(lab, (98, -2, 16), blur((far < 0.55).astype(np.float32), 1.2))


THINGS = (hut, dark_tree, sun)


def quieter(lab: Float, amount: float, spread: float = 0.0) -> Float:
    """The picture with less contrast and colour: ``amount`` 0–1 of the way to its own blurred mean."""
    calm = blur(lab, 0.06 * max(lab.shape[:2]))
    soft = blur(lab, spread) if spread else lab
    return np.asarray(soft + (calm - soft) * amount, dtype=np.float32)
