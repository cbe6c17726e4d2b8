"""A picture's light as a file in sRGB with its profile, never half-written: JPEG, or TIFF and PNG of 16 bits."""

import io
import struct
import zlib
from pathlib import Path
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from critique.errors import unwritten
from critique.perception.srgb import Codes, Float, encode_srgb, linear_to_srgb8
from critique.publish import replace_file

QUALITY = 95  # of JPEG, with every px its own colour: losses under what an eye finds
# Of a profile's header, the day it was made: the library writes today's, and the same picture gives the same file.
# [ICC.1:2022, 7.2.8: year, month, day, hour, minute, second, two bytes each]
DATE, DAY = slice(24, 36), bytes([7, 207, 0, 10, 0, 18, 0, 0, 0, 0, 0, 0])  # 18 October 1999, as IEC 61966-2-1


FileFormat = Literal["jpeg", "tiff", "png"]
SUFFIXES: dict[FileFormat, str] = {"jpeg": ".jpg", "tiff": ".tif", "png": ".png"}
ROWS = 256  # coded at a time
PNG_LEVEL = 3  # of zlib: higher takes many times as long for a few parts in a hundred
DEEP_COLOUR = (16, 2, 0, 0, 0)  # bits, RGB, deflate, adaptive filters, not interlaced [ISO/IEC 15948, 11.2.2]


def picture_bytes(light: Float, file_format: FileFormat = "jpeg") -> bytes:
    """Linear light (height, width, 3) as a file in sRGB: of 8 bits a channel as JPEG, of 16 as TIFF or PNG."""
    if file_format == "jpeg":
        return jpeg_of(light)
    deep = np.empty(light.shape, dtype=np.uint16)
    for first in range(0, len(light), ROWS):
        codes = encode_srgb(np.asarray(light[first : first + ROWS], dtype=np.float32))
        deep[first : first + ROWS] = np.rint(codes * np.float32(65535))
    return _tiff(deep) if file_format == "tiff" else _png(deep)


def _tiff(codes: NDArray[np.uint16]) -> bytes:
    import tifffile

    written = io.BytesIO()
    tifffile.imwrite(written, codes, photometric="rgb", compression="zlib", predictor=True, iccprofile=srgb_profile())
    return written.getvalue()


def _png(codes: NDArray[np.uint16]) -> bytes:
    """A PNG of 16 bits a channel, which Pillow doesn't write. [ISO/IEC 15948]"""
    height, width, _ = codes.shape
    packer, parts = zlib.compressobj(PNG_LEVEL), []
    for first in range(0, height, ROWS):
        rows = np.ascontiguousarray(codes[first : first + ROWS]).astype(">u2").view(np.uint8).reshape(-1, 6 * width)
        # Filter type 1, "Sub": each byte less the one of the px before it.
        filtered = np.concatenate([np.ones((len(rows), 1), np.uint8), rows[:, :6], rows[:, 6:] - rows[:, :-6]], axis=1)
        parts.append(packer.compress(filtered.tobytes()))
    parts.append(packer.flush())
    chunks = (
        (b"IHDR", struct.pack(">II5B", width, height, *DEEP_COLOUR)),
        (b"iCCP", b"sRGB\0\0" + zlib.compress(srgb_profile())),
        (b"IDAT", b"".join(parts)),
        (b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data)) for name, data in chunks
    )


def srgb_profile() -> bytes:
    """The ICC profile of sRGB, the same bytes on every day."""
    from PIL import ImageCms

    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    profile[DATE] = DAY
    return bytes(profile)


def jpeg_of(light: Float) -> bytes:
    """Linear light (height, width, 3) as the bytes of a JPEG file in sRGB."""
    return jpeg_of_codes(linear_to_srgb8(light))


def jpeg_of_codes(codes: Codes, *, quality: int = QUALITY, exif: bytes | None = None, dpi: int | None = None) -> bytes:
    """The same of sRGB codes; ``dpi`` is for whoever prints it."""
    from PIL import Image

    notes: dict[str, Any] = {} if exif is None else {"exif": exif}
    if dpi is not None:
        notes["dpi"] = (dpi, dpi)
    image = Image.fromarray(codes)
    settings = {"quality": quality, "subsampling": 0, "icc_profile": srgb_profile(), **notes}
    written = io.BytesIO()
    try:
        image.save(written, "JPEG", optimize=True, **settings)
    except OSError:  # Pillow holds a file that is made so in a buffer of its own guess: too small for much noise
        written = io.BytesIO()
        image.save(written, "JPEG", **settings)
    return written.getvalue()


def write_beside(path: Path, data: bytes) -> None:
    """Write a file under another name and rename it, so that nobody finds half of it."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        replace_file(path, data)
    except OSError as error:
        raise unwritten(f"{path}: can't be written", error) from error
