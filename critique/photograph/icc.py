"""What the curves and the matrix of a colour profile are. [ICC.1:2022, sections 7, 9 and 10]

LittleCMS applies profiles to 8-bit samples; this module reads the two simplest and commonest kinds of profile
(three curves with a matrix, one grey curve) so that deeper samples keep their depth. Whatever it cannot do
exactly, such as tables and black-point compensation, it leaves to LittleCMS.
"""

import struct
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float

STEPS = 65536  # codes of a 16-bit sample
# Of white; curves that start above this need black-point compensation, which is LittleCMS's work.
BLACK_TOLERANCE = 1e-3
SAME_LIGHT = 0.002  # of white, at any code of 8 bits: closer than a quarter code, so the profile is sRGB under a name

_TABLE_TAGS = (b"A2B0", b"A2B1", b"D2B0", b"D2B1")  # where these exist, a colour engine prefers them to the matrix


@dataclass(frozen=True, slots=True, eq=False)
class MatrixProfile:
    """``curves`` (3, 65536): 16-bit code to linear light; ``matrix`` (3, 3): that light to XYZ under D50."""

    curves: Float
    matrix: NDArray[np.float64]


def colour_space(icc: bytes) -> str:
    """What the profile describes: 'RGB', 'GRAY', 'CMYK', 'Lab' ... [ICC.1, 7.2.6]"""
    return icc[16:20].decode("latin-1").strip()


def matrix_profile(icc: bytes) -> MatrixProfile | None:
    """The curves and matrix of an RGB profile; None if it works by table, or has no readable curves."""
    try:
        tags = _tags(icc)
        if colour_space(icc) != "RGB" or icc[20:24] != b"XYZ " or any(tag in tags for tag in _TABLE_TAGS):
            return None
        curves = np.stack([_curve(tags[tag]) for tag in (b"rTRC", b"gTRC", b"bTRC")])
        matrix = np.stack([_xyz(tags[tag]) for tag in (b"rXYZ", b"gXYZ", b"bXYZ")], axis=1)
    except (KeyError, struct.error, ValueError, IndexError, ArithmeticError):
        return None
    if curves[:, 0].max() > BLACK_TOLERANCE or not np.isfinite(curves).all():
        return None
    return MatrixProfile(curves.astype(np.float32), matrix)


def grey_curve(icc: bytes) -> Float | None:
    """The curve (65536,) of a grey profile, 16-bit code to linear light; None if it has none that can be used."""
    try:
        tags = _tags(icc)
        if colour_space(icc) != "GRAY" or icc[20:24] != b"XYZ " or any(tag in tags for tag in _TABLE_TAGS):
            return None
        curve = _curve(tags[b"kTRC"])
    except (KeyError, struct.error, ValueError, IndexError, ArithmeticError):
        return None
    if curve[0] > BLACK_TOLERANCE or not np.isfinite(curve).all():
        return None
    return curve.astype(np.float32)


def to_linear_srgb(profile: MatrixProfile) -> Float:
    """The matrix (3, 3) from the profile's linear light to that of sRGB. Both are relative to white under D50."""
    return np.linalg.solve(_srgb().matrix, profile.matrix).astype(np.float32)


def is_srgb(icc: bytes) -> bool:
    """Whether the profile turns every 8-bit code into the light that sRGB means by it, whatever its name."""
    profile = matrix_profile(icc)
    if profile is None:
        return False
    codes = slice(0, None, 257)
    curves_agree = np.abs(profile.curves[:, codes] - _srgb().curves[:, codes]).max() < SAME_LIGHT
    return bool(curves_agree and np.abs(to_linear_srgb(profile) - np.eye(3)).max() < SAME_LIGHT)


@cache
def srgb_profile() -> bytes:
    """LittleCMS's own sRGB profile."""
    from PIL import ImageCms

    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


@cache
def _srgb() -> MatrixProfile:
    profile = matrix_profile(srgb_profile())
    assert profile is not None  # LittleCMS builds it from curves and a matrix
    return profile


def _tags(icc: bytes) -> dict[bytes, bytes]:
    (count,) = struct.unpack_from(">I", icc, 128)
    if count > 1000:  # no profile has more than a few dozen
        raise ValueError("tag table")
    tags = {}
    for index in range(count):
        name, offset, size = struct.unpack_from(">4sII", icc, 132 + 12 * index)
        if offset + size > len(icc):
            raise ValueError("tag outside the profile")
        tags[name] = icc[offset : offset + size]
    return tags


def _xyz(data: bytes) -> NDArray[np.float64]:
    if data[:4] != b"XYZ ":
        raise ValueError("not an XYZ")
    return np.array(struct.unpack_from(">3i", data, 8)) / 65536


def _curve(data: bytes) -> NDArray[np.float64]:
    """One-dimensional curve (65536,) of type 'curv' or 'para'. [ICC.1, 10.6 and 10.18]"""
    codes = np.linspace(0, 1, STEPS)
    if data[:4] == b"para":
        return np.clip(_parametric(data, codes), 0, 1)
    if data[:4] != b"curv":
        raise ValueError("not a curve")
    (count,) = struct.unpack_from(">I", data, 8)
    if count == 0:
        return codes
    if count == 1:
        (gamma,) = struct.unpack_from(">H", data, 12)
        return np.asarray(codes ** (gamma / 256))
    table = np.frombuffer(data, dtype=">u2", count=count, offset=12) / 65535
    return np.interp(codes, np.linspace(0, 1, count), table)


def _parametric(data: bytes, x: NDArray[np.float64]) -> NDArray[np.float64]:
    """All five function types in one form: (a x + b)^g + e from d on, c x + f below it."""
    (kind,) = struct.unpack_from(">H", data, 8)
    count = (1, 3, 4, 5, 7)[kind]
    values = [value / 65536 for value in struct.unpack_from(f">{count}i", data, 12)]
    gamma = values[0]
    a, b = values[1:3] if kind else (1.0, 0.0)
    c, d, e, f = 0.0, 0.0, 0.0, 0.0
    if kind in (1, 2):
        d = -b / a
        e = f = values[3] if kind == 2 else 0.0
    elif kind >= 3:
        c, d = values[3:5]
        e, f = values[5:7] if kind == 4 else (0.0, 0.0)
    with np.errstate(all="ignore"):  # a damaged curve may overflow: the caller asks whether it is finite
        return np.where(x >= d, np.maximum(a * x + b, 0) ** gamma + e, c * x + f)
