"""A picture's light as a file: JPEG in sRGB with its profile, never half-written."""

import io
from pathlib import Path
from typing import Any

from critique.errors import OutputError
from critique.perception.srgb import Codes, Float, linear_to_srgb8
from critique.publish import replace_file

QUALITY = 95  # of JPEG, with every px its own colour: losses under what an eye finds
# Of a profile's header, the day it was made: the library writes today's, and the same picture gives the same file.
# [ICC.1:2022, 7.2.8: year, month, day, hour, minute, second, two bytes each]
DATE, DAY = slice(24, 36), bytes([7, 207, 0, 10, 0, 18, 0, 0, 0, 0, 0, 0])  # 18 October 1999, as IEC 61966-2-1


def srgb_profile() -> bytes:
    """The ICC profile of sRGB, the same bytes on every day."""
    from PIL import ImageCms

    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    profile[DATE] = DAY
    return bytes(profile)


def jpeg_of(light: Float, *, quality: int = QUALITY, exif: bytes | None = None, dpi: int | None = None) -> bytes:
    """Linear light (height, width, 3) as the bytes of a JPEG file in sRGB."""
    return jpeg_of_codes(linear_to_srgb8(light), quality=quality, exif=exif, dpi=dpi)


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
        raise OutputError(f"{path}: can't be written ({(error.strerror or str(error)).lower()})") from error
