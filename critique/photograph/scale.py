"""What a picture looks like from farther away: exact area averages of linear light."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from critique.one_thread import one_thread
from critique.perception.srgb import Float

STRIP_BYTES = 2**20  # of linear light converted at a time: stays in a processor's cache
NARROW_BYTES = 16 * 2**20  # of rows averaged downwards that wait to be averaged sideways: far under the memory bar
BLOCK = 8  # new pixels averaged by one small matrix product; more waste work on weights of zero, fewer cost calls

# Px; ways of scaling whose weights are kept, up to 0.5 MB each: trials ask for them again.
KEPT_LENGTH, SCALINGS = 1600, 24

# Gives rows first (included) to last (left out) of a picture, (last - first, width, channels) float32.
Rows = Callable[[int, int], Float]


def scaled_size(height: int, width: int, long_edge: int) -> tuple[int, int]:
    """Height and width after scaling to ``long_edge`` px; a picture is never enlarged."""
    longest = max(height, width)
    if longest <= long_edge:
        return height, width
    return max(1, round(height * long_edge / longest)), max(1, round(width * long_edge / longest))


def area_average(linear: Float, long_edge: int) -> Float:
    """Scale linear light (height, width, channels) to a long edge of ``long_edge`` px.

    Every result is the mean of the light over the area that its pixel covers; pixels on the border of
    that area count by the part that lies inside. A picture that is small enough already is returned as it is.
    """
    height, width, _ = linear.shape
    if max(height, width) <= long_edge and linear.dtype == np.float32:
        return linear
    return average_of_rows(lambda first, last: linear[first:last], height, width, long_edge)


def average_of_rows(rows: Rows, height: int, width: int, long_edge: int) -> Float:
    """``area_average`` of linear light that comes a few rows (n, width, 3) at a time, never all in memory."""
    new_height, new_width = scaled_size(height, width, long_edge)
    if (new_height, new_width) == (height, width):
        return _whole(rows, height, width)
    # One thread: these products are too small to share out, and the last bits would depend on how many share them.
    with one_thread():
        return _scaled(rows, (height, width), (new_height, new_width))


def _scaled(rows: Rows, size: tuple[int, int], new_size: tuple[int, int]) -> Float:
    (height, width), (new_height, new_width) = size, new_size
    blocks = _blocks(height, new_height)
    strip_step = max(1, int(STRIP_BYTES / _row_bytes(width) / (height / new_height) / BLOCK))
    wide_step = max(1, int(NARROW_BYTES / _row_bytes(width) / BLOCK)) * BLOCK
    sideways: tuple[_Block, ...] = ()
    wide: list[Float] = []  # rows averaged downwards, still of the old width
    result: list[Float] = []
    for start in range(0, len(blocks), strip_step):
        strip = blocks[start : start + strip_step]
        light = rows(strip[0].first, strip[-1].last)
        sideways = sideways or _blocks(width, new_width, light.shape[2])
        wide += [_average_down(light, block, strip[0].first) for block in strip]
        if len(wide) * BLOCK >= wide_step or start + strip_step >= len(blocks):
            result.append(_average_sideways(np.concatenate(wide), sideways))
            wide = []
    return np.concatenate(result)


def _whole(rows: Rows, height: int, width: int) -> Float:
    step = max(1, STRIP_BYTES // _row_bytes(width))
    strips = [rows(first, min(first + step, height)) for first in range(0, height, step)]
    return np.ascontiguousarray(np.concatenate(strips), dtype=np.float32)


def _row_bytes(width: int) -> int:
    return width * 3 * 4  # three channels of float32


@dataclass(frozen=True, slots=True, eq=False)
class _Block:
    """A few neighbouring new pixels: the old ones they cover, ``first`` to ``last``, and ``weights`` (new, old)."""

    first: int
    last: int
    weights: Float


def _made_blocks(length: int, new_length: int, channels: int = 1) -> tuple[_Block, ...]:
    """Weights of every old pixel in every new one along one axis: the part of the new one that it covers.

    ``channels`` of a pixel lie side by side along the axis.
    """
    if channels > 1:
        return tuple(_for_channels(block, channels) for block in _made_blocks(length, new_length))
    edges = np.arange(new_length + 1) * length / new_length
    blocks = []
    for start in range(0, new_length, BLOCK):
        own = edges[start : start + BLOCK + 1]
        first, last = int(own[0]), min(int(np.ceil(own[-1])), length)
        old = np.arange(first, last)
        covered = np.minimum(own[1:, None], old + 1) - np.maximum(own[:-1, None], old)
        weights = np.clip(covered, 0, None) * (new_length / length)
        blocks.append(_Block(first, last, weights.astype(np.float32)))
    return tuple(blocks)


_kept_blocks = lru_cache(maxsize=SCALINGS)(_made_blocks)


def _blocks(length: int, new_length: int, channels: int = 1) -> tuple[_Block, ...]:
    """The same, kept where a picture is small: those of large ones are made once a file."""
    return (_kept_blocks if length <= KEPT_LENGTH else _made_blocks)(length, new_length, channels)


def _average_down(light: Float, block: _Block, offset: int) -> Float:
    """New rows of one block; ``light`` begins at row ``offset``."""
    _, width, channels = light.shape
    part = light[block.first - offset : block.last - offset].reshape(-1, width * channels)
    return (block.weights @ part).reshape(-1, width, channels)


def _for_channels(block: _Block, channels: int) -> _Block:
    """The same block along an axis on which the channels of a pixel lie side by side, and must not mix."""
    new, old = block.weights.shape
    weights = np.zeros((new, channels, old, channels), dtype=np.float32)
    for channel in range(channels):
        weights[:, channel, :, channel] = block.weights
    return _Block(block.first * channels, block.last * channels, weights.reshape(new * channels, old * channels))


def _average_sideways(light: Float, blocks: Sequence[_Block]) -> Float:
    height, width, channels = light.shape
    flat = light.reshape(height, width * channels)
    parts = [flat[:, block.first : block.last] @ block.weights.T for block in blocks]
    return np.concatenate(parts, axis=1).reshape(height, -1, channels)
