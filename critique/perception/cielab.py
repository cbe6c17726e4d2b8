"""CIELAB under D65 for the 2° observer, from sRGB light. [CIE 15:2004; IEC 61966-2-1:1999]"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.srgb import Codes, Float, linear_to_srgb8, srgb8_to_linear

EPSILON = (6 / 29) ** 3  # below it the cube root gives way to a line [CIE 15:2004, 8.2.1.1]
KAPPA = (29 / 6) ** 2 / 3
LINE_OFFSET = 4 / 29


# Linear sRGB to XYZ as the standard prints it; its rows add up to white. [IEC 61966-2-1, 5.2]
LINEAR_TO_XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
LIGHT_TO_LUMINANCE = LINEAR_TO_XYZ[1]  # of linear red, green and blue
WHITE_XYZ = LINEAR_TO_XYZ.sum(axis=1)
XYZ_TO_LINEAR = np.linalg.inv(LINEAR_TO_XYZ)
# XYZ relative to white, so that equal amounts of light are exactly neutral.
_LINEAR_TO_RELATIVE = (LINEAR_TO_XYZ / WHITE_XYZ[:, None]).astype(np.float32)
_RELATIVE_TO_LINEAR = (XYZ_TO_LINEAR * WHITE_XYZ).astype(np.float32)


def _response(relative: NDArray[np.floating]) -> NDArray[np.floating]:
    """The CIELAB compression of X/Xn, Y/Yn or Z/Zn."""
    kind = relative.dtype.type
    result: NDArray[np.floating] = np.cbrt(relative)
    dark = relative <= EPSILON
    if np.any(dark):
        result[dark] = relative[dark] * kind(KAPPA) + kind(LINE_OFFSET)
    return result


def _light(response: NDArray[np.floating]) -> NDArray[np.floating]:
    """Inverse of the compression."""
    light: NDArray[np.floating] = response * response * response
    dark = response <= 6 / 29
    if np.any(dark):
        light[dark] = (response[dark] - LINE_OFFSET) / KAPPA
    return light


def _lab_from_response(response: NDArray[np.floating]) -> NDArray[np.floating]:
    lab = np.empty_like(response)
    lab[..., 0] = 116 * response[..., 1] - 16
    lab[..., 1] = 500 * (response[..., 0] - response[..., 1])
    lab[..., 2] = 200 * (response[..., 1] - response[..., 2])
    return lab


BLOCK = 1 << 14  # colours worked on at a time, so that every step stays in the processor's cache
_CBRT_SEED = np.int32(0x2A5137A0)  # a third of the exponent's offset: the usual first guess of a cube root


def _cube_root(x: Float) -> Float:
    """Cube root of positive float32, as exact as float32 holds it: a guess from the bits, then Halley's step twice."""
    root = (x.view(np.int32) // 3 + _CBRT_SEED).view(np.float32)
    for _ in range(2):
        step = root * root * root  # r ← r (r³ + 2x) / (2r³ + x), in place
        step += x
        below = step + step
        below -= x
        step += x
        step /= below
        root *= step
    return root


def linear_to_lab(linear: ArrayLike) -> Float:
    """Linear sRGB light (..., 3) to CIELAB D65 (..., 3), float32."""
    light = np.ascontiguousarray(linear, dtype=np.float32)
    flat = light.reshape(-1, 3)
    lab = np.empty_like(flat)
    for start in range(0, len(flat), BLOCK):
        # One row a channel: three long runs of memory are quicker than many short ones.
        relative = _LINEAR_TO_RELATIVE @ flat[start : start + BLOCK].T
        response = _cube_root(np.maximum(relative, np.float32(EPSILON)))
        dark = relative <= EPSILON
        if dark.any():
            response[dark] = relative[dark] * np.float32(KAPPA) + np.float32(LINE_OFFSET)
        X, Y, Z = response
        block = lab[start : start + BLOCK]
        block[:, 0] = 116 * Y - 16
        block[:, 1] = 500 * (X - Y)
        block[:, 2] = 200 * (Y - Z)
    return lab.reshape(light.shape)


def xyz_to_lab(xyz: ArrayLike, white: ArrayLike = WHITE_XYZ) -> NDArray[np.float64]:
    """XYZ (..., 3), Y of white = 1, to CIELAB relative to ``white`` (D65 unless told otherwise)."""
    relative = np.atleast_1d(np.asarray(xyz, dtype=np.float64) / np.asarray(white, dtype=np.float64))
    return _lab_from_response(_response(relative)).astype(np.float64)


def lab_to_xyz(lab: ArrayLike, white: ArrayLike = WHITE_XYZ) -> NDArray[np.float64]:
    """CIELAB (..., 3) to XYZ (..., 3), Y of white = 1."""
    values = np.asarray(lab, dtype=np.float64)
    middle = (values[..., 0] + 16) / 116
    response = np.stack([middle + values[..., 1] / 500, middle, middle - values[..., 2] / 200], axis=-1)
    return (_light(response) * np.asarray(white, dtype=np.float64)).astype(np.float64)


def lab_to_linear(lab: ArrayLike) -> Float:
    """CIELAB (..., 3) to linear sRGB light (..., 3), float32; colours outside sRGB fall outside 0–1."""
    values = np.ascontiguousarray(lab, dtype=np.float32)
    flat = values.reshape(-1, 3)
    linear = np.empty_like(flat)
    for start in range(0, len(flat), BLOCK):
        L, a, b = flat[start : start + BLOCK].T
        response = np.empty((3, len(L)), dtype=np.float32)
        response[1] = (L + np.float32(16)) / np.float32(116)
        response[0] = response[1] + a / np.float32(500)
        response[2] = response[1] - b / np.float32(200)
        linear[start : start + BLOCK] = (_RELATIVE_TO_LINEAR @ _light(response)).T
    return linear.reshape(np.shape(lab))


def srgb8_to_lab(codes: ArrayLike) -> Float:
    """8-bit sRGB codes (..., 3) to CIELAB D65 (..., 3), float32."""
    return linear_to_lab(srgb8_to_linear(np.asarray(codes, dtype=np.uint8)))


def lab_to_srgb8(lab: ArrayLike) -> Codes:
    """CIELAB (..., 3) to 8-bit sRGB codes (..., 3), clipped to what sRGB can show."""
    return linear_to_srgb8(lab_to_linear(lab))


def lab_to_lch(lab: ArrayLike) -> NDArray[np.floating]:
    """CIELAB (..., 3) to lightness, chroma C*ab and hue angle in degrees 0–360."""
    values = np.asarray(lab)
    hue = np.degrees(np.arctan2(values[..., 2], values[..., 1])) % 360
    return np.stack([values[..., 0], np.hypot(values[..., 1], values[..., 2]), hue], axis=-1)


def lch_of(lab: ArrayLike) -> tuple[float, float, float]:
    """The same of one colour (3,), as plain numbers."""
    return as_three(lab_to_lch(np.asarray(lab, dtype=np.float64)))


def lch_to_lab(lch: ArrayLike) -> NDArray[np.floating]:
    """Lightness, chroma and hue angle in degrees (..., 3) to CIELAB."""
    values = np.asarray(lch)
    hue = np.radians(values[..., 2])
    return np.stack([values[..., 0], values[..., 1] * np.cos(hue), values[..., 1] * np.sin(hue)], axis=-1)


def as_three(values: ArrayLike) -> tuple[float, float, float]:
    """An array (3,) as plain numbers, such as a colour's that goes into a record."""
    first, second, third = (float(value) for value in np.asarray(values))
    return first, second, third
