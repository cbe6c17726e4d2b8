"""The picture as the plates show it: at one size, in colour or in greys."""

from functools import cache, lru_cache
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray

from critique.perception.cielab import LIGHT_TO_LUMINANCE
from critique.perception.srgb import Codes, Float, linear_to_srgb8, srgb8_to_linear
from critique.picture.picture import Picture
from critique.report.plates.look import PHOTOGRAPH_LONG_EDGE, grey

GREY_STEP = 0.1  # L*: finer than 8-bit codes can tell apart
WHITE = 65530  # steps of luminance: as fine as 16 bits hold, rounded three times


def plate_size(picture: Picture, long_edge: int = PHOTOGRAPH_LONG_EDGE) -> tuple[int, int]:
    """Width and height of a photographic plate: small pictures are enlarged, so that marks keep their proportion."""
    scale = long_edge / max(picture.width, picture.height)
    return max(1, round(picture.width * scale)), max(1, round(picture.height * scale))


# Several plates lie on the same copy; it goes when its picture goes.
_shown: WeakKeyDictionary[Picture, dict[int, Codes]] = WeakKeyDictionary()


def in_colour(picture: Picture, long_edge: int = PHOTOGRAPH_LONG_EDGE) -> Codes:
    """The picture at plate size, sRGB codes (height, width, 3), read-only."""
    copies = _shown.setdefault(picture, {})
    if long_edge not in copies:
        copies[long_edge] = resized(picture.drawn, plate_size(picture, long_edge))
    return copies[long_edge]


def greys_of(codes: Codes) -> Codes:
    """Codes (height, width, 3) as one code of neutral grey of the same value each (height, width)."""
    shares, grey_code = _shares_of_light(), _code_of_light()
    light = np.take(shares[0], codes[..., 0])
    for channel in (1, 2):
        light += np.take(shares[channel], codes[..., channel])
    return np.take(grey_code, light)


@lru_cache(maxsize=1)
def _shares_of_light() -> NDArray[np.uint16]:
    """Relative luminance of each code of red, green and blue, (3, 256), in WHITE steps."""
    light = LIGHT_TO_LUMINANCE[:, None] * srgb8_to_linear(np.arange(256, dtype=np.uint8))
    return np.asarray(np.rint(WHITE * light), dtype=np.uint16)


@lru_cache(maxsize=1)
def _code_of_light() -> Codes:
    """The sRGB code of each step of luminance."""
    return linear_to_srgb8(np.arange(WHITE + 2) / WHITE)


def in_greys(lightness: Float) -> Codes:
    """L* (height, width) as neutral sRGB codes (height, width, 3)."""
    steps = np.clip(lightness * np.float32(1 / GREY_STEP) + np.float32(0.5), 0, 100 / GREY_STEP).astype(np.uint16)
    return np.repeat(_grey_table()[steps][..., None], 3, axis=-1)


@cache
def _grey_table() -> Codes:
    return grey(np.arange(0, 100 + GREY_STEP / 2, GREY_STEP))


def resized(codes: Codes, size: tuple[int, int]) -> Codes:
    """Codes (height, width, 3) or (height, width) brought to a size (width, height) in px, smoothly.

    For looking at only: it averages codes, as every browser does, not light. What is brought down needs no wider
    filter than Hamming's, which takes half as long.
    """
    from PIL import Image

    if codes.shape[1::-1] == size:
        return codes
    larger = size[0] > codes.shape[1] or size[1] > codes.shape[0]
    filtered = Image.Resampling.BICUBIC if larger else Image.Resampling.HAMMING
    return np.asarray(Image.fromarray(codes).resize(size, filtered, reducing_gap=1.0))
