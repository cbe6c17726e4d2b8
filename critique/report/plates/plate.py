"""One plate: an image, what it is called and what it says to someone who cannot see it."""

import base64
import io
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from critique.perception.srgb import Codes
from critique.report.plates.png import png_of_drawing, png_of_photograph

if TYPE_CHECKING:
    from PIL import Image

DRAWING_COMPRESSION = 3  # of 9, of a few greys in a palette
JPEG_QUALITY = 88  # where a brush stroke's edge still looks like the file's


@dataclass(frozen=True)
class Plate:
    """An image with its file name (without '.png'), its text alternative and its caption.

    A photographic plate travels in the page as JPEG, a drawn one as the PNG that is also written to disk.
    """

    name: str
    image: "Image.Image"
    alt: str
    caption: str
    photographic: bool = True

    @property
    def width(self) -> int:
        """In px."""
        return self.image.width

    @property
    def height(self) -> int:
        """In px."""
        return self.image.height

    @cached_property
    def png(self) -> bytes:
        """The file that is written to disk."""
        if self.photographic:
            return png_of_photograph(np.asarray(self.image))
        if self.image.mode == "RGB":
            return png_of_drawing(np.asarray(self.image))
        return _encoded(self.image, "PNG", compress_level=DRAWING_COMPRESSION)

    @cached_property
    def source(self) -> str:
        """The image as a data URI, for the page."""
        return jpeg_source(self.image) if self.photographic else _data_uri("image/png", self.png)


def image_of(codes: Codes) -> "Image.Image":
    """A Pillow image of sRGB codes (height, width, 3)."""
    from PIL import Image

    return Image.fromarray(codes)


def jpeg_source(image: "Image.Image") -> str:
    """A photograph as a data URI."""
    return _data_uri("image/jpeg", _encoded(image, "JPEG", quality=JPEG_QUALITY))


def _data_uri(kind: str, data: bytes) -> str:
    return f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"


def _encoded(image: "Image.Image", kind: str, **options: int) -> bytes:
    stream = io.BytesIO()
    image.save(stream, kind, **options)
    return stream.getvalue()
