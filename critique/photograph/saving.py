"""A picture's light as a file: JPEG in sRGB with its profile, never half-written."""

import io
from pathlib import Path

from critique.errors import OutputError
from critique.perception.srgb import Float, linear_to_srgb8
from critique.publish import replace_file

QUALITY = 95  # of JPEG, with every px its own colour: losses under what an eye finds


def srgb_profile() -> bytes:
    """The ICC profile of sRGB."""
    from PIL import ImageCms

    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def jpeg_of(light: Float, *, quality: int = QUALITY, exif: bytes | None = None) -> bytes:
    """Linear light (height, width, 3) as the bytes of a JPEG file in sRGB."""
    from PIL import Image

    written = io.BytesIO()
    notes = {} if exif is None else {"exif": exif}
    image = Image.fromarray(linear_to_srgb8(light))
    image.save(written, "JPEG", quality=quality, subsampling=0, optimize=True, icc_profile=srgb_profile(), **notes)
    return written.getvalue()


def write_beside(path: Path, data: bytes) -> None:
    """Write a file under another name and rename it, so that nobody finds half of it."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        replace_file(path, data)
    except OSError as error:
        raise OutputError(f"{path}: can't be written ({(error.strerror or str(error)).lower()})") from error
