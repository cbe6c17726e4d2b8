"""A reflectance spectrum for a colour: the smoothest there is, or the nearest to a mixture that is known.

[S. A. Burns, "Numerical methods for smoothest reflectance reconstruction", Color Research and Application 45(1), 2020:
least hyperbolic tangent slope squared, LHTSS]
"""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.cielab import EPSILON, KAPPA, LINE_OFFSET
from critique.perception.lamps import DAYLIGHT, lamp_weights, lamp_white
from critique.perception.spectra import WAVELENGTHS

Array = NDArray[np.float64]

STEPS = 30  # of Newton's method; most colours settle in eight
LARGEST_STEP = 2.0  # of z, at any wavelength: beyond it the tangent is no guide
SETTLED = 1e-7  # of XYZ, white at 1
STEADY = 1e-6  # of z squared, beside its slope squared: what is level all along would have no slope to hold it by
DARKEST = 0.05  # L*: black has no spectrum


def recovered(lab: ArrayLike, like: ArrayLike | None = None) -> Array:
    """Reflectances (n, 38), by ``WAVELENGTHS``, that look by daylight like CIELAB colours (n, 3).

    Parameters
    ----------
    like : reflectances (n, 38) that each is to follow as far as the colour allows; level ones unless told otherwise.

    Notes
    -----
    With R = (tanh z + 1)/2 it stays between 0 and 1. Sought is the z whose departure from that of ``like`` has the
    least slope squared among those that give the colour: Newton's method on the constraint alone, so that each step is
    a least-squares problem with three constraints, solved for all colours at once.
    """
    wanted = _xyz(np.asarray(lab, dtype=np.float64))
    weights = lamp_weights(DAYLIGHT)
    start = np.zeros((len(wanted), len(WAVELENGTHS))) if like is None else _z(np.asarray(like, dtype=np.float64))
    z, smooth = start.copy(), _smoothing()
    for _ in range(STEPS):
        tanh = np.tanh(z)
        off = wanted - (tanh + 1) / 2 @ weights
        if np.abs(off).max() < SETTLED:
            break
        slope = weights.T * ((1 - tanh * tanh) / 2)[:, None, :]  # (n, 3, 38)
        spread = slope @ smooth
        right = off + np.einsum("ncw,nw->nc", slope, z - start)
        # What is nearly black or white hardly answers: a trace keeps the three equations apart.
        square = spread @ slope.transpose(0, 2, 1)
        square += 1e-12 * np.trace(square, axis1=1, axis2=2)[:, None, None] * np.eye(3)
        step = start + np.einsum("ncw,nc->nw", spread, np.linalg.solve(square, right[..., None])[..., 0]) - z
        z += step / np.maximum(np.abs(step).max(axis=1, keepdims=True) / LARGEST_STEP, 1)
    return np.asarray((np.tanh(z) + 1) / 2)


@cache
def _smoothing() -> Array:
    """Inverse of the slope squared of z as a quadratic form, (38, 38)."""
    slope = np.diff(np.eye(len(WAVELENGTHS)), axis=0)
    return np.asarray(np.linalg.inv(slope.T @ slope + STEADY * np.eye(len(WAVELENGTHS))))


def _z(reflectance: Array) -> Array:
    return np.arctanh(np.clip(2 * reflectance - 1, -0.9999, 0.9999))


def _xyz(lab: Array) -> Array:
    """XYZ (n, 3), white at Y = 1, with the white of the lamps' own table."""
    lightness = np.clip(lab[:, 0], DARKEST, 99.9)
    middle = (lightness + 16) / 116
    response = np.stack([middle + lab[:, 1] / 500, middle, middle - lab[:, 2] / 200], axis=1)
    relative = np.where(response > np.cbrt(EPSILON), response**3, (response - LINE_OFFSET) / KAPPA)
    return np.asarray(np.maximum(relative, 1e-6) * lamp_white(DAYLIGHT))
