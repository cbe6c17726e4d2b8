"""A large photograph with real detail, for timing: the demo pictures tiled, warped and grained."""

from pathlib import Path

import numpy as np
from PIL import Image

from critique.perception.reference import demo_path

WIDTH, HEIGHT = 6000, 4000  # 24 megapixels
TILE_WIDTH = 1500
GRAIN = 3.0  # standard deviation in 8-bit codes: what a camera adds at ISO 400, roughly; common practice, no source
SEED = 24


def demo_files() -> list[Path]:
    """The demo pictures, in the order of their names."""
    return sorted(demo_path("titles.csv").parent.glob("*.jpg"))


def make_detailed_photograph(path: Path, width: int = WIDTH, height: int = HEIGHT) -> Path:
    """Write a JPEG of quality 92 and return its path."""
    rng = np.random.default_rng(SEED)
    canvas = np.empty((height, width, 3), dtype=np.uint8)
    pictures = [np.asarray(Image.open(file).convert("RGB")) for file in demo_files()]
    number = 0
    for top in range(0, height, 1000):
        for left in range(0, width, TILE_WIDTH):
            tile = canvas[top : top + 1000, left : left + TILE_WIDTH]
            tile[...] = _warped(pictures[number % len(pictures)], tile.shape[0], tile.shape[1], rng)
            number += 1
    for top in range(0, height, 500):
        strip = canvas[top : top + 500]
        grain = rng.normal(0, GRAIN, strip.shape).astype(np.float32)
        strip[...] = np.clip(strip + grain, 0, 255)
    Image.fromarray(canvas).save(path, quality=92)
    return path


def _warped(picture: np.ndarray, height: int, width: int, rng: np.random.Generator) -> np.ndarray:
    """A part of the picture at its own scale, pushed about by slow waves so that no two tiles are alike."""
    y, x = np.mgrid[:height, :width].astype(np.float32)
    phase = rng.uniform(0, 2 * np.pi, 4)
    dx = 14 * np.sin(y / 97 + phase[0]) + 9 * np.sin((x + y) / 61 + phase[1])
    dy = 14 * np.sin(x / 83 + phase[2]) + 9 * np.sin((x - y) / 71 + phase[3])
    rows = np.abs((y + dy + rng.integers(0, 200)).astype(int)) % (2 * picture.shape[0])
    columns = np.abs((x + dx + rng.integers(0, 200)).astype(int)) % (2 * picture.shape[1])
    rows = np.where(rows >= picture.shape[0], 2 * picture.shape[0] - 1 - rows, rows)
    columns = np.where(columns >= picture.shape[1], 2 * picture.shape[1] - 1 - columns, columns)
    return picture[rows, columns]
