"""The aim as a picture file as large as the picture it was made from, written strip by strip."""

import struct
import zlib
from pathlib import Path
from typing import IO

import numpy as np

from critique.advice.change import Composed
from critique.advice.frame import Frame
from critique.perception.cielab import lab_to_linear, linear_to_lab, srgb8_to_lab
from critique.perception.srgb import Codes, linear_to_srgb8
from critique.photograph.strips import strips_of_file, turned_back
from critique.picture.picture import Picture
from critique.report.plates.png import LEFT, LEVEL, SIGNATURE, TRUECOLOUR, chunk
from critique.report.quick_change import QuickChange

MANY = 3_000_000  # px from which tables of colours are quicker than every pixel's own sum
ORIENTATION = 0x0112  # EXIF tag


class _Growing:
    """A PNG file that grows by strips of rows; its size is written last. [PNG, Third Edition, W3C 2025]"""

    def __init__(self, stream: IO[bytes], orientation: int) -> None:
        self._stream, self._orientation = stream, orientation
        self._packer = zlib.compressobj(LEVEL, strategy=zlib.Z_HUFFMAN_ONLY)
        self._width = self._height = 0
        stream.write(SIGNATURE + self._header())

    def add(self, codes: Codes) -> None:
        """Rows (n, width, 3) below those that are there."""
        rows, width, _ = codes.shape
        if rows == 0 or width == 0:
            return
        if self._width == 0:
            self._width = width
            if self._orientation != 1:
                self.chunk(b"eXIf", _exif(self._orientation))
        flat = codes.reshape(rows, 3 * width)
        filtered = np.empty((rows, 1 + 3 * width), dtype=np.uint8)
        filtered[:, 0] = LEFT
        filtered[:, 1:4] = flat[:, :3]
        np.subtract(flat[:, 3:], flat[:, :-3], out=filtered[:, 4:])
        self._height += rows
        self.chunk(b"IDAT", self._packer.compress(filtered.data))

    def finish(self) -> None:
        """The end, and the size at the beginning."""
        self.chunk(b"IDAT", self._packer.flush())
        self.chunk(b"IEND", b"")
        self._stream.seek(len(SIGNATURE))
        self._stream.write(self._header())

    def _header(self) -> bytes:
        return chunk(b"IHDR", struct.pack(">IIBBBBB", self._width, self._height, 8, TRUECOLOUR, 0, 0, 0)) + chunk(
            b"sRGB", b"\x01"
        )

    def chunk(self, kind: bytes, data: bytes) -> None:
        if data or kind == b"IEND":
            self._stream.write(chunk(kind, data))


def write_aim(source: Path, composed: Composed, target: Path) -> None:
    """Write the aim of a picture file at its full size; its pixels lie as in the file, turned by the same tag.

    Raises
    ------
    UnreadablePicture
        When the file cannot be read any more.
    """
    strips = strips_of_file(source)
    quick = QuickChange(composed) if strips.width * strips.height > MANY else None
    with target.open("wb") as stream:
        growing = _Growing(stream, strips.orientation)
        for light, box in strips.upright(low=quick is not None and quick.by_height):
            if quick is not None:
                codes = linear_to_srgb8(np.clip(light, 0, 1))
                changed = quick.on(codes, Frame(codes.shape[0], codes.shape[1], box))
            else:
                lab = composed.apply(linear_to_lab(np.ascontiguousarray(light)), box=box)
                changed = linear_to_srgb8(np.clip(lab_to_linear(lab), 0, 1))
            growing.add(np.ascontiguousarray(turned_back(changed, strips.orientation)))
        growing.finish()


def write_drawn_aim(picture: Picture, composed: Composed, target: Path) -> None:
    """The same of a picture that came without a file, as large as it is drawn."""
    lab = composed.apply(srgb8_to_lab(picture.drawn))
    with target.open("wb") as stream:
        growing = _Growing(stream, 1)
        growing.add(linear_to_srgb8(np.clip(lab_to_linear(lab), 0, 1)))
        growing.finish()


def _exif(orientation: int) -> bytes:
    """A TIFF directory of one entry, as EXIF has it, big-endian."""
    return b"MM\x00\x2a" + struct.pack(">IHHHIHHI", 8, 1, ORIENTATION, 3, 1, orientation, 0, 0)
