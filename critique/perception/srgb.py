"""How sRGB codes light. [IEC 61966-2-1:1999]"""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

Float = NDArray[np.float32]
Codes = NDArray[np.uint8]

LINEAR_BELOW = 0.04045  # encoded value where the straight part ends [IEC 61966-2-1]
LINEAR_SLOPE = 12.92
OFFSET = 0.055
EXPONENT = 2.4
BLOCK = 1 << 15  # values worked on at a time, so that every step stays in the processor's cache


def decode_srgb(encoded: ArrayLike) -> NDArray[np.floating]:
    """Encoded sRGB (0–1, any shape) to linear light (0–1)."""
    value = np.asarray(encoded)
    if not np.issubdtype(value.dtype, np.floating):
        value = value.astype(np.float64)
    curve = ((np.maximum(value, 0) + OFFSET) / (1 + OFFSET)) ** EXPONENT
    return np.asarray(np.where(value <= LINEAR_BELOW, value / LINEAR_SLOPE, curve), dtype=value.dtype)


def encode_srgb(linear: ArrayLike) -> NDArray[np.floating]:
    """Linear light (any shape) to encoded sRGB; what lies outside 0–1 is clipped."""
    value = np.asarray(linear)
    if not np.issubdtype(value.dtype, np.floating):
        value = value.astype(np.float64)
    value = np.clip(value, 0, 1)
    curve = (1 + OFFSET) * value ** (1 / EXPONENT) - OFFSET
    return np.asarray(np.where(value <= LINEAR_BELOW / LINEAR_SLOPE, value * LINEAR_SLOPE, curve), dtype=value.dtype)


@cache
def _decoding_table() -> Float:
    return decode_srgb(np.arange(256) / 255).astype(np.float32)


def srgb8_to_linear(codes: Codes) -> Float:
    """8-bit sRGB codes (any shape) to linear light, float32 0–1."""
    return _decoding_table()[codes]


@cache
def _encoding_table() -> Codes:
    """Codes for linear light in 65,536 even steps: fine enough for the steepest part of the curve."""
    return np.asarray(np.rint(encode_srgb(np.linspace(0, 1, 65536)) * 255), dtype=np.uint8)


def linear_to_srgb8(linear: ArrayLike) -> Codes:
    """Linear light (any shape) to 8-bit sRGB codes; what lies outside 0–1 is clipped."""
    light = np.ascontiguousarray(linear, dtype=np.float32)
    codes = np.empty(light.shape, dtype=np.uint8)
    flat, found = light.reshape(-1), codes.reshape(-1)
    table = _encoding_table()
    for start in range(0, len(flat), BLOCK):
        steps = np.clip(flat[start : start + BLOCK], 0, 1)
        steps *= np.float32(65535)
        steps += np.float32(0.5)
        np.take(table, steps.astype(np.uint16), out=found[start : start + BLOCK])
    return codes


def hex_of(srgb8: ArrayLike) -> str:
    """One colour of 8-bit codes (3,) as ``#rrggbb``."""
    red, green, blue = (int(code) for code in np.asarray(srgb8).reshape(3))
    return f"#{red:02x}{green:02x}{blue:02x}"
