"""From a reflectance spectrum to a colour under a chosen light. [CIE 15:2004, 7.1; 2° observer; CAT16]"""

from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.errors import ReferenceDataError
from critique.perception.cielab import xyz_to_lab
from critique.perception.reference import read_table

WAVELENGTHS = np.arange(380, 751, 10)  # nm, as the measured paints
LIGHTS = 16  # of the table, whose sums are kept: a review asks for them a thousand times


@dataclass(frozen=True, slots=True)
class _Tables:
    observer: NDArray[np.float64]
    photopic: NDArray[np.float64]
    lights: dict[str, NDArray[np.float64]]


@cache
def _tables() -> _Tables:
    rows = read_table("observer_and_lights.csv")
    columns = {name: np.array([float(row[name]) for row in rows]) for name in rows[0]}
    lights = {name: column for name, column in columns.items() if name not in ("wavelength", "x", "y", "z", "V")}
    return _Tables(np.stack([columns["x"], columns["y"], columns["z"]], axis=1), columns["V"], lights)


def observer() -> NDArray[np.float64]:
    """Colour-matching functions of the CIE 1931 2° observer, (38, 3), by ``WAVELENGTHS``."""
    return _tables().observer


def photopic_efficiency() -> NDArray[np.float64]:
    """The eye's luminous efficiency V by daylight, (38,). [CIE 1924]"""
    return _tables().photopic


def light_names() -> tuple[str, ...]:
    """The lights that can be chosen."""
    return tuple(_tables().lights)


def light(name: str = "D65") -> NDArray[np.float64]:
    """Relative spectral power of a light, (38,), by ``WAVELENGTHS``.

    Raises
    ------
    ReferenceDataError
        For a light that the table does not hold; the message names those it does.
    """
    lights = _tables().lights
    if name not in lights:
        raise ReferenceDataError(f"no light is called {name!r}: choose one of {', '.join(lights)}")
    return lights[name]


@lru_cache(maxsize=LIGHTS)
def _weights(light_name: str) -> NDArray[np.float64]:
    weighted = light(light_name)[:, None] * observer()
    return _kept(weighted / weighted[:, 1].sum())


def _kept(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """What is handed out again and again, and must stay as it is."""
    values.setflags(write=False)
    return values


@lru_cache(maxsize=LIGHTS)
def light_white(name: str = "D65") -> NDArray[np.float64]:
    """XYZ (3,) of a perfect white under a light, Y = 1, summed at 10 nm."""
    return _kept(_weights(name).sum(axis=0))


def reflectance_to_xyz(reflectance: ArrayLike, light_name: str = "D65") -> NDArray[np.float64]:
    """Reflectance (..., 38) by ``WAVELENGTHS`` to XYZ (..., 3), Y of white = 1."""
    return np.asarray(np.asarray(reflectance, dtype=np.float64) @ _weights(light_name))


# Cone-like responses of CAT16. [C. Li et al., Color Research and Application 42(6), 2017]
CAT16 = np.array([[0.401288, 0.650173, -0.051461], [-0.250268, 1.204414, 0.045854], [-0.002079, 0.048952, 0.953127]])


@lru_cache(maxsize=LIGHTS)
def adaptation(light_name: str) -> NDArray[np.float64]:
    """The matrix (3, 3) from XYZ under a light to XYZ under D65, for an eye wholly used to that light, by CAT16."""
    responses = CAT16 @ np.stack([light_white("D65"), light_white(light_name)], axis=1)
    return _kept(np.linalg.solve(CAT16, (responses[:, 0] / responses[:, 1])[:, None] * CAT16))


def reflectance_to_lab(reflectance: ArrayLike, light_name: str = "D65") -> NDArray[np.float64]:
    """Reflectance (..., 38) to CIELAB (..., 3) under D65, as it looks by a light to an eye that is used to it."""
    return xyz_to_lab(reflectance_to_xyz(reflectance, light_name) @ adaptation(light_name).T, light_white("D65"))
