"""How a colour looks under a lamp of a gallery to an eye that is used to that lamp. [CIE 15:2018; CAT16]"""

from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.cielab import xyz_to_lab
from critique.perception.reference import read_table
from critique.perception.spectra import CAT16, WAVELENGTHS

Array = NDArray[np.float64]

DAYLIGHT = "D65"  # what a photograph in sRGB is seen by
RADIATION = 1.438776877e7  # nm K, the second radiation constant
ADAPTATION = "CAT16, wholly used to the lamp"


@dataclass(frozen=True, slots=True)
class Lamp:
    """A lamp: its CIE name, what a gallery calls it, and its correlated colour temperature in K as CIE rounds it."""

    name: str
    title: str
    kelvin: int


LAMPS = (
    Lamp("LED-B1", "warm LED", 2700),
    Lamp("LED-B2", "LED", 3000),
    Lamp("A", "halogen", 2856),
    Lamp("D75", "north light", 7500),
    Lamp("FL4", "old warm tube, poor in green", 2940),  # of CIE's lamps the one with least green but for sodium
)


@cache
def _table() -> dict[str, Array]:
    rows = read_table("gallery_lamps.csv")
    return {name: np.array([float(row[name]) for row in rows]) for name in rows[0]}


@lru_cache(maxsize=16)  # lamps of the table
def lamp_weights(name: str = DAYLIGHT) -> Array:
    """What takes reflectance by ``WAVELENGTHS`` to XYZ under a lamp, (38, 3); Y of a perfect white is 1.

    Notes
    -----
    Summed by 5 nm over 380–780 nm, with the reflectance straight between its own 10 nm and level beyond them.
    """
    table = _table()
    observer = np.stack([table["x"], table["y"], table["z"]], axis=1)
    between = np.stack([np.interp(table["wavelength"], WAVELENGTHS, one) for one in np.eye(len(WAVELENGTHS))])
    seen = table[name][:, None] * observer
    return np.asarray(between @ seen / seen[:, 1].sum())


def black_body(kelvin: float) -> Array:
    """XYZ (3,) of a black body's light, Y = 1. [Planck's law; c2 of CODATA 2018]"""
    table = _table()
    wavelength = table["wavelength"]
    power = wavelength**-5 / np.expm1(RADIATION / (wavelength * kelvin))
    xyz = np.array([float((power * table[axis]).sum()) for axis in ("x", "y", "z")])
    return np.asarray(xyz / xyz[1])


def lamp_white(name: str = DAYLIGHT) -> Array:
    """XYZ (3,) of a perfect white under a lamp, Y = 1."""
    return np.asarray(lamp_weights(name).sum(axis=0))


def lab_under(reflectance: ArrayLike, name: str = DAYLIGHT) -> Array:
    """CIELAB (..., 3) under D65 of what a reflectance (..., 38) looks like by a lamp to an eye wholly used to it."""
    daylight, white = lamp_white(DAYLIGHT), lamp_white(name)
    gains = (CAT16 @ daylight) / (CAT16 @ white)
    adapted = np.linalg.solve(CAT16, gains[:, None] * CAT16)
    xyz = np.asarray(reflectance, dtype=np.float64) @ lamp_weights(name)
    return np.asarray(xyz_to_lab(xyz @ adapted.T, daylight))
