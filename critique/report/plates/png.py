"""Photographs as PNG files, quickly."""

import struct
import zlib

import numpy as np

from critique.perception.srgb import Codes

SIGNATURE = b"\x89PNG\r\n\x1a\n"
LEFT = 1  # the filter that stores each pixel as its difference from the one before [PNG, Third Edition, W3C 2025, 9.2]
LEVEL = 1  # of zlib's 9
TRUECOLOUR = 2  # colour type [the same, 11.2.1]


def png_of_photograph(codes: Codes) -> bytes:
    """The PNG file of sRGB codes (height, width, 3).

    One filter for all rows, and Huffman's code without a search for repetitions: on painted surfaces there are none,
    and the file is a tenth smaller and made in half the time that zlib's own fastest way takes. zlib leaves Python's
    other threads running.
    """
    height, width, _ = codes.shape
    rows = np.empty((height, 1 + 3 * width), dtype=np.uint8)
    rows[:, 0] = LEFT
    flat = codes.reshape(height, 3 * width)
    rows[:, 1:4] = flat[:, :3]
    np.subtract(flat[:, 3:], flat[:, :-3], out=rows[:, 4:])  # wraps round at 256, as the standard wants it
    packer = zlib.compressobj(LEVEL, strategy=zlib.Z_HUFFMAN_ONLY)
    header = struct.pack(">IIBBBBB", width, height, 8, TRUECOLOUR, 0, 0, 0)
    return (
        SIGNATURE
        + _chunk(b"IHDR", header)
        + _chunk(b"sRGB", b"\x01")  # relative colorimetric, as the picture was read
        + _chunk(b"IDAT", packer.compress(rows.data) + packer.flush())
        + _chunk(b"IEND", b"")
    )


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
