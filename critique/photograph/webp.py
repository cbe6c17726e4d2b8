"""A still WebP decoded straight into its pixels: Pillow lays out two canvases and two copies of four bytes a pixel.

By the library that Pillow itself decodes with, asked through its simple interface [libwebp, decode.h: WebPDecodeRGBInto
and WebPDecodeRGBAInto, whose arguments have stayed since its first version]. The pixels are the same.
"""

import ctypes
from collections.abc import Callable
from functools import cache

import numpy as np
from PIL import Image

from critique.photograph.samples import Array, Samples
from critique.photograph.source import Source

Decoder = Callable[[bytes, int, "ctypes.c_void_p", int, int], int | None]


def still_webp_samples(image: Image.Image, source: Source) -> Samples | None:
    """The samples of an opened WebP of one frame; None where Pillow must decode it, and say what is wrong with it."""
    channels = len(image.getbands())
    decode = _decoder(channels)
    if decode is None or getattr(image, "n_frames", 1) != 1 or image.mode not in ("RGB", "RGBA"):
        return None
    with source.open() as stream:
        data = stream.read()
    width, height = image.size
    pixels = np.empty((height, width, channels), dtype=np.uint8)
    # The frame of a file may be smaller than its canvas: then it doesn't fit, and nothing is given back.
    if not _as_large(data, image.size) or not decode(
        data, len(data), pixels.ctypes.data_as(ctypes.c_void_p), pixels.nbytes, width * channels
    ):
        return None

    def rows(first: int, last: int) -> tuple[Array, Array | None]:
        strip = pixels[first:last]
        return strip[..., :3], strip[..., 3] if channels == 4 else None

    return Samples(rows, width, height, "RGB", 8)


def _as_large(data: bytes, size: tuple[int, int]) -> bool:
    """Whether the frame that would be decoded is as large as the picture."""
    width, height = ctypes.c_int(), ctypes.c_int()
    library = _library()
    if library is None or not library.WebPGetInfo(data, len(data), ctypes.byref(width), ctypes.byref(height)):
        return False
    return (width.value, height.value) == size


@cache
def _library() -> ctypes.CDLL | None:
    """The decoder that Pillow has loaded; None where it is built another way."""
    try:
        from PIL import _webp

        library = ctypes.CDLL(_webp.__file__)
        library.WebPGetInfo.argtypes = [
            ctypes.c_char_p, ctypes.c_size_t, ctypes.POINTER(ctypes.c_int), ctypes.POINTER(ctypes.c_int),
        ]  # fmt: skip
        for name in ("WebPDecodeRGBInto", "WebPDecodeRGBAInto"):
            decode = getattr(library, name)
            decode.restype = ctypes.c_void_p
            decode.argtypes = [ctypes.c_char_p, ctypes.c_size_t, ctypes.c_void_p, ctypes.c_size_t, ctypes.c_int]
        return library
    except (ImportError, OSError, AttributeError):
        return None


def _decoder(channels: int) -> Decoder | None:
    library = _library()
    if library is None or channels not in (3, 4):
        return None
    found: Decoder = library.WebPDecodeRGBInto if channels == 3 else library.WebPDecodeRGBAInto
    return found
