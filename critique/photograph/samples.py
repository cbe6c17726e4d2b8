"""What the pixels of an opened file are, as stored: samples of 8 or 16 bits, a few rows at a time."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from critique.errors import UnreadablePicture

Array = NDArray[Any]

# Rows first to last: colour (n, width, channels) uint8 or uint16, with alpha (n, width) of the same type or None.
SampleRows = Callable[[int, int], tuple[Array, Array | None]]

# Floats may pass black and white by half an 8-bit code, which no screen shows: resampling ends a little beside them.
OVERSHOOT = 0.5 / 255
_SHOWN_MODES = {"I;16": "L", "I;16L": "L", "I;16B": "L", "I;16N": "L", "I": "L", "F": "L"}


@dataclass(frozen=True, slots=True, eq=False)
class Samples:
    """Pixels as stored, before orientation and colour management.

    ``kind`` of channels is 'L' (grey), 'RGB', 'CMYK' or 'LAB'; ``deep`` samples are uint16, others uint8;
    ``linear`` samples hold light itself instead of codes. ``bits`` are those of the file.
    """

    rows: SampleRows
    width: int
    height: int
    kind: str
    bits: int
    deep: bool = False
    linear: bool = False
    notes: tuple[str, ...] = ()


def shown_mode(image: Image.Image) -> str:
    """The mode as a person knows it: 16-bit grey is grey."""
    return _SHOWN_MODES.get(image.mode, image.mode)


def eight_bit_samples(image: Image.Image, bits: int = 8, notes: tuple[str, ...] = ()) -> Samples:
    """Samples of any picture that Pillow holds in 8 bits a channel (or fewer, or by palette)."""
    image.load()
    width, height = image.size
    kind = _eight_bit_kind(image)

    def rows(first: int, last: int) -> tuple[Array, Array | None]:
        return _colour_and_alpha(image.crop((0, first, width, last)), kind)

    return Samples(rows, width, height, kind, bits, notes=notes)


def array_samples(array: Array, name: str) -> Samples:
    """Samples of an array of sRGB codes (height, width) or (height, width, 1, 3 or 4); floats run from 0 to 1.

    Floats that pass either end by no more than ``OVERSHOOT`` are cut off there; 16 bits may have either byte first.

    Raises ``UnreadablePicture`` for any other array.
    """
    stored = array[..., None] if array.ndim == 2 else array
    if stored.ndim != 3 or stored.shape[2] not in (1, 3, 4) or not stored.size:
        raise UnreadablePicture(f"{name}: an array of shape {array.shape} is no picture; give (height, width, 3).")
    if np.issubdtype(stored.dtype, np.floating):
        if not np.isfinite(stored).all():
            raise UnreadablePicture(f"{name}: some of its codes are no numbers; give floats 0–1.")
        if stored.min() < -OVERSHOOT or stored.max() > 1 + OVERSHOOT:
            raise UnreadablePicture(f"{name}: floating-point codes run from 0 to 1; divide them by their white.")
        whole = np.clip(stored, 0, 1) * np.float32(65535)  # half precision holds no number as large
        stored = np.round(whole).astype(np.uint16)
    elif stored.dtype.kind == "u" and stored.dtype.itemsize == 2:
        stored = stored.astype(np.uint16, copy=False)  # whichever of its bytes comes first
    elif stored.dtype != np.uint8:
        raise UnreadablePicture(f"{name}: an array of {array.dtype} is no picture; give uint8, uint16 or floats 0–1.")
    colours = min(stored.shape[2], 3)

    def rows(first: int, last: int) -> tuple[Array, Array | None]:
        strip = stored[first:last]
        return strip[..., :colours], strip[..., 3] if stored.shape[2] == 4 else None

    deep = stored.dtype == np.uint16
    return Samples(rows, stored.shape[1], stored.shape[0], "L" if colours == 1 else "RGB", 16 if deep else 8, deep=deep)


def _eight_bit_kind(image: Image.Image) -> str:
    if image.mode in ("CMYK", "LAB"):
        return image.mode
    grey = image.mode in ("1", "L", "LA", "La") or (image.mode == "I" and "transparency" not in image.info)
    return "L" if grey else "RGB"


def _colour_and_alpha(strip: Image.Image, kind: str) -> tuple[Array, Array | None]:
    has_alpha = "transparency" in strip.info or strip.mode in ("LA", "La", "PA", "RGBA", "RGBa")
    if strip.mode == "La":
        strip = strip.convert("LA")  # grey with its alpha multiplied in can be made nothing else
    if kind == "L":
        if has_alpha:
            both = np.asarray(strip.convert("RGBA"))
            return both[..., :1], both[..., 3]
        return np.asarray(strip if strip.mode == "L" else strip.convert("L"))[..., None], None
    if kind == "RGB":
        if has_alpha:
            both = np.asarray(strip.convert("RGBA"))
            return both[..., :3], both[..., 3]
        return np.asarray(strip if strip.mode == "RGB" else strip.convert("RGB")), None
    return np.asarray(strip), None
