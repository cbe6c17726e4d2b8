"""A picture at the viewing size, with the detail that its pixels can carry: Lanczos' filter, by matrix products.

[C. E. Duchon, J. Appl. Meteorology 18, 1979; three lobes, as Pillow's resize has it, which takes three times as long on
light that is kept as floating point.]
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from critique.one_thread import one_thread
from critique.perception.srgb import Float

LOBES = 3
BLOCK = 8  # new pixels made by one product; more waste work on weights of zero, fewer cost calls
SCALINGS = 8  # whose weights are kept, of some 0.1 MB


@dataclass(frozen=True, slots=True, eq=False)
class _Block:
    """Neighbouring new pixels: the old ones they are made of, ``first`` to ``last``, and ``weights`` (new, old)."""

    first: int
    last: int
    weights: Float


def finely_scaled(light: Float, size: tuple[int, int]) -> Float:
    """Light (height, width, channels) brought down to a size (height, width), held to 0–1."""
    old_height, old_width, channels = light.shape
    height, width = size
    rows = np.ascontiguousarray(light).reshape(old_height, old_width * channels)
    with one_thread():  # the last bits would depend on how many share the sums
        narrow = np.concatenate(
            [block.weights @ rows[block.first : block.last] for block in _blocks(old_height, height)]
        )
        planes = np.ascontiguousarray(narrow.reshape(height, old_width, channels).transpose(2, 0, 1))
        lines = planes.reshape(channels * height, old_width)
        made = np.empty((channels * height, width), dtype=np.float32)
        start = 0
        for block in _blocks(old_width, width):
            stop = start + len(block.weights)
            made[:, start:stop] = lines[:, block.first : block.last] @ block.weights.T
            start = stop
    np.clip(made, 0, 1, out=made)
    return np.ascontiguousarray(made.reshape(channels, height, width).transpose(1, 2, 0))


@lru_cache(maxsize=SCALINGS)
def _blocks(length: int, new_length: int) -> tuple[_Block, ...]:
    scale = length / new_length
    reach = LOBES * scale
    middles = (np.arange(new_length) + 0.5) * scale
    blocks = []
    for start in range(0, new_length, BLOCK):
        own = middles[start : start + BLOCK]
        first, last = max(int(own[0] - reach + 0.5), 0), min(int(own[-1] + reach + 0.5), length)
        away = (np.arange(first, last) + 0.5 - own[:, None]) / scale
        weights = _lanczos(away)
        weights /= weights.sum(axis=1, keepdims=True)
        blocks.append(_Block(first, last, weights.astype(np.float32)))
    return tuple(blocks)


def _lanczos(away: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(np.where(np.abs(away) < LOBES, np.sinc(away) * np.sinc(away / LOBES), 0.0))
