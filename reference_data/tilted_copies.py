"""Pictures whose water was drawn askew, or that hang askew: four ways of making them from level ones."""

from collections.abc import Iterator
from zlib import crc32

import numpy as np
from scipy.ndimage import map_coordinates

Picture = np.ndarray  # (height, width, 3), 0–255
# Degrees by which the water is turned about the middle of its far edge, its neighbourhood bent, or the whole picture
# hung askew; parts of the height by which the edge falls where it is sheared.
WAYS = {
    "turned": (3.0, 5.0, 8.0, 12.0),
    "sheared": (0.06, 0.10, 0.15),
    "bent": (3.0, 5.0, 8.0),
    "hung": (4.0, 6.0),
}
BENT = 0.2  # of the height: spread of what is bent along with the edge


def tilted_copies(srgb: Picture, edge: float, name: str) -> Iterator[tuple[str, float, np.ndarray]]:
    """Copies of one whose water has its far edge level at ``edge`` (0–1): the way, its fall in degrees, its codes."""
    height, width = srgb.shape[:2]
    for way, amounts in WAYS.items():
        side = 1 if crc32(f"{name}{way}".encode()) // 7 % 2 else -1
        for amount in amounts:
            fall = side * (float(np.degrees(np.arctan(amount * height / width))) if way == "sheared" else amount)
            copy = {"turned": _turned, "sheared": _sheared, "bent": _bent, "hung": _hung}[way](srgb, edge, fall)
            yield way, fall, np.clip(copy + 0.5, 0, 255).astype(np.uint8)


def _grid(srgb: Picture) -> tuple[int, int, np.ndarray, np.ndarray]:
    height, width = srgb.shape[:2]
    y, x = np.mgrid[:height, :width].astype(np.float64)
    return height, width, y, x


def _looked_up(srgb: Picture, y: np.ndarray, x: np.ndarray, mode: str = "nearest") -> np.ndarray:
    planes = [map_coordinates(srgb[..., k].astype(np.float32), [y, x], order=1, mode=mode) for k in range(3)]
    return np.stack(planes, axis=-1)


def _turned(srgb: Picture, edge: float, fall: float) -> np.ndarray:
    """The water turned about the middle of its edge; the gap is filled with what lies above, turned over."""
    height, width, y, x = _grid(srgb)
    turn, at, middle = np.radians(fall), edge * height, width / 2
    down = at + (y - at) * np.cos(turn) - (x - middle) * np.sin(turn)
    across = middle + (x - middle) * np.cos(turn) + (y - at) * np.sin(turn)
    water = _looked_up(srgb, np.maximum(down, at), across, "mirror")
    above = _looked_up(srgb, np.where(y <= at - 1, y, 2 * (at - 1) - y), x, "reflect")
    inside = np.clip(down - at + 0.5, 0, 1)[..., None]
    return above * (1 - inside) + water * inside


def _sheared(srgb: Picture, edge: float, fall: float) -> np.ndarray:
    """The water sheared, what lies above drawn out to meet it."""
    height, width, y, x = _grid(srgb)
    new = edge * height + np.tan(np.radians(fall)) * (x - width / 2)
    down = np.where(y < new, y / new * edge * height, edge * height + y - new)
    return _looked_up(srgb, np.clip(down, 0, height - 1), x)


def _bent(srgb: Picture, edge: float, fall: float) -> np.ndarray:
    """The neighbourhood of the edge bent, less and less farther off."""
    height, width, y, x = _grid(srgb)
    shift = np.tan(np.radians(fall)) * (x - width / 2)
    down = y.copy()
    for _ in range(6):  # of finding where each row comes from: it settles
        down = y - shift * np.exp(-np.square((down / height - edge) / BENT) / 2)
    return _looked_up(srgb, np.clip(down, 0, height - 1), x)


def _hung(srgb: Picture, edge: float, fall: float) -> np.ndarray:
    """All of the picture turned and cropped."""
    height, width, y, x = _grid(srgb)
    turn, shape = np.radians(fall), width / height
    size = 1 / (np.cos(turn) + abs(np.sin(turn)) * max(shape, 1 / shape))
    across, down = (x - width / 2) * size, (y - height / 2) * size
    return _looked_up(
        srgb,
        height / 2 + down * np.cos(turn) - across * np.sin(turn),
        width / 2 + across * np.cos(turn) + down * np.sin(turn),
    )
