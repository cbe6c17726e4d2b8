"""Colour profiles and files for the tests of reading, written byte by byte from the published formats."""

import struct
import zlib
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

# Primaries and white (x, y) and the exponent of each RGB space:
# Adobe RGB (1998) Color Image Encoding, 4.3.1; SMPTE EG 432-1 (P3) with the curve of IEC 61966-2-1 (Display P3);
# ISO 22028-2 (ROMM RGB, "ProPhoto", straight below 16/512); IEC 61966-2-1.
SPACES = {
    "Adobe RGB (1998)": (((0.64, 0.33), (0.21, 0.71), (0.15, 0.06)), (0.3127, 0.3290), 563 / 256),
    "Display P3": (((0.680, 0.320), (0.265, 0.690), (0.150, 0.060)), (0.3127, 0.3290), "sRGB"),
    "ProPhoto RGB": (((0.7347, 0.2653), (0.1596, 0.8404), (0.0366, 0.0001)), (0.3457, 0.3585), "ROMM"),
    "sRGB": (((0.64, 0.33), (0.30, 0.60), (0.15, 0.06)), (0.3127, 0.3290), "sRGB"),
}
PARAMETERS = {
    "sRGB": (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045),
    "ROMM": (1.8, 1.0, 0.0, 1 / 16, 16 / 512),
}
# Linear Bradford cone responses. [ICC.1:2022, annex E.3]
BRADFORD = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
D50 = np.array([0.9642, 1.0, 0.8249])  # [ICC.1:2022, 7.2.16]


def xyz_of(xy: tuple[float, float]) -> np.ndarray:
    return np.array([xy[0] / xy[1], 1, (1 - xy[0] - xy[1]) / xy[1]])


def colorants(primaries: tuple, white: tuple[float, float]) -> np.ndarray:
    """Columns: XYZ under D50 of red, green and blue."""
    columns = np.stack([xyz_of(xy) for xy in primaries], axis=1)
    matrix = columns * np.linalg.solve(columns, xyz_of(white))
    gain = (BRADFORD @ D50) / (BRADFORD @ xyz_of(white))
    return np.linalg.inv(BRADFORD) @ np.diag(gain) @ BRADFORD @ matrix


def fixed(*values: float) -> bytes:
    return b"".join(struct.pack(">i", round(value * 65536)) for value in values)


def curve_tag(curve: float | str) -> bytes:
    """'curv' for an exponent; 'para' of type 3 for a curve with a straight part. [ICC.1:2022, 10.6 and 10.18]"""
    if curve in PARAMETERS:
        return b"para\0\0\0\0" + struct.pack(">HH", 3, 0) + fixed(*PARAMETERS[curve])
    return b"curv\0\0\0\0" + struct.pack(">IH", 1, round(float(curve) * 256)) + b"\0\0"


def icc_profile(device: bytes, space: bytes, pcs: bytes, tags: dict[bytes, bytes], name: str) -> bytes:
    text = name.encode("ascii") + b"\0"
    described = b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + bytes(4 + 4 + 2 + 1 + 67)
    every = {b"desc": described, b"cprt": b"text\0\0\0\0none\0", b"wtpt": b"XYZ \0\0\0\0" + fixed(*D50), **tags}
    start = 128 + 4 + 12 * len(every)
    table, body = struct.pack(">I", len(every)), b""
    for tag, data in every.items():
        table += struct.pack(">4sII", tag, start + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    header = struct.pack(">I4sI4s4s4s", start + len(body), bytes(4), 0x02400000, device, space, pcs)
    header += struct.pack(">6H", 2026, 1, 1, 0, 0, 0) + b"acsp" + bytes(28) + fixed(*D50)
    return header.ljust(128, b"\0") + table + body


def rgb_profile(name: str) -> bytes:
    primaries, white, curve = SPACES[name]
    xyz = colorants(primaries, white)
    tags = {tag: b"XYZ \0\0\0\0" + fixed(*xyz[:, i]) for i, tag in enumerate((b"rXYZ", b"gXYZ", b"bXYZ"))}
    tags |= dict.fromkeys((b"rTRC", b"gTRC", b"bTRC"), curve_tag(curve))
    return icc_profile(b"mntr", b"RGB ", b"XYZ ", tags, name)


def grey_profile(exponent: float) -> bytes:
    return icc_profile(b"mntr", b"GRAY", b"XYZ ", {b"kTRC": curve_tag(exponent)}, "Grey")


def table_profile(device: bytes, space: bytes, lab_of_nodes: np.ndarray) -> bytes:
    """A profile that works by table: ``lab_of_nodes`` (n, ..., n, 3), CIELAB D50 at even steps of every channel.

    Type lut16, with the CIELAB coding of version 2: L* 100 at 65,280, a* and b* 0 at 32,768. [ICC.1:2001-04, 6.5.7]
    """
    nodes, inputs = lab_of_nodes.shape[0], lab_of_nodes.ndim - 1
    coded = np.stack(
        [lab_of_nodes[..., 0] * 652.8, lab_of_nodes[..., 1] * 256 + 32768, lab_of_nodes[..., 2] * 256 + 32768], -1
    )
    data = b"mft2\0\0\0\0" + bytes([inputs, 3, nodes, 0]) + fixed(1, 0, 0, 0, 1, 0, 0, 0, 1) + struct.pack(">HH", 2, 2)
    data += struct.pack(">HH", 0, 65535) * inputs + np.clip(np.round(coded), 0, 65535).astype(">u2").tobytes()
    data += struct.pack(">HH", 0, 65535) * 3
    return icc_profile(device, space, b"Lab ", {b"A2B0": data}, "By table")


def png_bytes(samples: np.ndarray, colour_type: int, *extra: tuple[bytes, bytes], interlaced: bool = False) -> bytes:
    """A PNG of uint8 or uint16 samples (height, width, channels), every row unfiltered. [PNG, third edition]"""
    height, width = samples.shape[:2]
    deep = samples.dtype == np.uint16
    wide = samples.astype(">u2") if deep else samples
    passes = [(0, 0, 1, 1)]
    if interlaced:  # Adam7: where each pass starts and how far it steps, down and across
        passes = [(0, 0, 8, 8), (0, 4, 8, 8), (4, 0, 8, 4), (0, 2, 4, 4), (2, 0, 4, 2), (0, 1, 2, 2), (1, 0, 2, 1)]
    rows = b"".join(
        b"\0" + row.tobytes() for top, left, down, across in passes for row in wide[top::down, left::across]
    )
    header = struct.pack(">IIBBBBB", width, height, 16 if deep else 8, colour_type, 0, 0, int(interlaced))
    chunks = [(b"IHDR", header), *extra, (b"IDAT", zlib.compress(rows, 1)), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in chunks
    )


def icc_chunk(icc: bytes) -> tuple[bytes, bytes]:
    return b"iCCP", b"profile\0\0" + zlib.compress(icc)


@pytest.fixture(scope="session")
def make() -> SimpleNamespace:
    """The builders above, for the tests beside this file."""
    return SimpleNamespace(
        rgb_profile=rgb_profile,
        grey_profile=grey_profile,
        table_profile=table_profile,
        icc_profile=icc_profile,
        curve_tag=curve_tag,
        png_bytes=png_bytes,
        icc_chunk=icc_chunk,
        spaces=SPACES,
    )


@pytest.fixture(scope="session")
def scene() -> np.ndarray:
    """A small picture (120, 160, 3) uint8 with every part different: smooth colour, and a little noise."""
    down, across = np.mgrid[0:120, 0:160]
    smooth = np.stack([across * 255 / 159, down * 255 / 119, 255 - (across + down) * 255 / 278], axis=-1)
    noise = np.random.default_rng(7).normal(0, 6, smooth.shape)
    return np.clip(np.rint(smooth + noise), 0, 255).astype(np.uint8)


@pytest.fixture
def save(tmp_path: Path) -> Callable[..., Path]:
    """Write bytes under a name and give the path."""

    def write(data: bytes, name: str) -> Path:
        path = tmp_path / name
        path.write_bytes(data)
        return path

    return write
