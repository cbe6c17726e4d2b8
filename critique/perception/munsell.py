"""The Munsell notation of a colour. [Newhall, Nickerson and Judd, 1943; ASTM D1535]"""

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.reference import read_table

HUE_LETTERS = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
NEUTRAL_BELOW = 0.5  # Munsell chroma; below it the notation is that of a grey, as ASTM D1535 advises for near neutrals


@dataclass(frozen=True, slots=True)
class Munsell:
    """Munsell hue on the scale of 100 (5R = 5, 5Y = 25, 5G = 45), value and chroma."""

    hue: float
    value: float
    chroma: float

    @property
    def notation(self) -> str:
        """Such as ``5.2GY 4.8/3.1``, or ``N 4.8`` for a grey."""
        if self.chroma < NEUTRAL_BELOW:
            return f"N {self.value:.1f}"
        step = round(self.hue, 1) % 100
        family = int(step // 10) if step % 10 else int(step // 10 - 1) % 10
        within = step - 10 * (step // 10) or 10.0
        return f"{within:.1f}{HUE_LETTERS[family]} {self.value:.1f}/{self.chroma:.1f}"


def value_luminance(value: ArrayLike) -> NDArray[np.float64]:
    """Luminance (white = 1) of Munsell values (...). [ASTM D1535-08, equation 1]"""
    V = np.asarray(value, dtype=np.float64)
    return np.asarray((1.1914 * V - 0.22533 * V**2 + 0.23352 * V**3 - 0.020484 * V**4 + 0.00081939 * V**5) / 100)


def munsell_value(luminance: ArrayLike) -> NDArray[np.float64]:
    """Munsell values of luminances (...), white = 1, by inverting ``value_luminance`` on a fine scale."""
    scale = np.linspace(0, 10.2, 4081)
    return np.asarray(np.interp(np.asarray(luminance, dtype=np.float64), value_luminance(scale), scale))


@cache
def _planes() -> tuple[NDArray[np.float64], list[tuple[NDArray[np.float64], NDArray[np.float64]]]]:
    """For each tabled value: the chips' a*, b* and their place on the Munsell hue–chroma plane."""
    table = np.array([[float(cell) for cell in row.values()] for row in read_table("munsell_renotation.csv")])
    values = np.unique(table[:, 1])
    planes = []
    for value in values:
        chips = table[table[:, 1] == value]
        angle = np.radians(chips[:, 0] * 3.6)
        place = chips[:, 2:3] * np.stack([np.cos(angle), np.sin(angle)], axis=1)
        grey = np.zeros((1, 2))
        planes.append((np.vstack([grey, chips[:, 4:6]]), np.vstack([grey, place])))
    return values, planes


@lru_cache(maxsize=16)  # planes of the renotation
def _triangles(plane: int) -> Any:
    """The triangles between the chips of one tabled value: found once, for all pictures."""
    from scipy.spatial import Delaunay

    return Delaunay(_planes()[1][plane][0])


def _between_chips(plane: int, ab: NDArray[np.float64]) -> NDArray[np.float64]:
    """The hue–chroma places (n, 2) of a*b* (n, 2) on one tabled value, linear in each triangle; NaN beyond the chips.

    By barycentric coordinates; scipy.interpolate does the same and takes longer to import than a page takes to draw.
    """
    triangles, places = _triangles(plane), _planes()[1][plane][1]
    found = triangles.find_simplex(ab)
    turned = triangles.transform[found]
    shares = np.einsum("nij,nj->ni", turned[:, :2], ab - turned[:, 2])
    shares = np.column_stack([shares, 1 - shares.sum(axis=1)])
    between = np.einsum("ni,nij->nj", shares, places[triangles.simplices[found]])
    return np.where((found >= 0)[:, None], between, np.nan)


REACHES = np.linspace(1.0, 0.05, 39)  # of the way to a colour beyond the chips: where it first meets them


def _places_on_plane(plane: int, ab: NDArray[np.float64]) -> NDArray[np.float64]:
    """The hue–chroma places of a*b* (n, 2) on one tabled value: linear among chips, scaled outward beyond the last."""
    places = np.zeros_like(ab)
    left = np.arange(len(ab))
    for reach in REACHES:
        found = _between_chips(plane, ab[left] * reach)
        there = np.isfinite(found).all(axis=1)
        places[left[there]] = found[there] / reach
        left = left[~there]
        if len(left) == 0:
            break
    return places


def munsell_of(lab: ArrayLike) -> NDArray[np.float64]:
    """Munsell hue on the scale of 100, value and chroma (n, 3) of CIELAB colours (n, 3) under D65.

    Interpolated among the renotation chips adapted to D65; a colour beyond them is extrapolated along its hue.
    """
    colours = np.asarray(lab, dtype=np.float64).reshape(-1, 3)
    L = colours[:, 0]
    value = munsell_value(np.where(L > 8, ((L + 16) / 116) ** 3, L * 27 / 24389))
    values = _planes()[0]
    upper = np.clip(np.searchsorted(values, value), 1, len(values) - 1)
    share = np.clip((value - values[upper - 1]) / (values[upper] - values[upper - 1]), 0, 1)
    place = np.zeros((len(colours), 2))
    for plane in np.unique(upper):  # a colour lies between two tabled values
        here = upper == plane
        part, ab = share[here, None], colours[here, 1:]
        place[here] = (1 - part) * _places_on_plane(plane - 1, ab) + part * _places_on_plane(plane, ab)
    hue = np.degrees(np.arctan2(place[:, 1], place[:, 0])) / 3.6 % 100
    return np.column_stack([hue, value, np.hypot(place[:, 0], place[:, 1])])


def to_munsell(lab: ArrayLike) -> Munsell:
    """Munsell hue, value and chroma of one CIELAB colour (3,) under D65."""
    hue, value, chroma = munsell_of(lab)[0]
    return Munsell(float(hue), float(value), float(chroma))


def munsell_notation(lab: ArrayLike) -> str:
    """Munsell notation of one CIELAB colour (3,) under D65, such as ``5.2GY 4.8/3.1``."""
    return to_munsell(lab).notation
