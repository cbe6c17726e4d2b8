"""Where a hue lies: the bands of green, the leaf limit, the light wheel and averages of angles.

Angles are averaged as in N. I. Fisher, Statistical Analysis of Circular Data, 1993.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.channels import chroma_of

LEAF_SLOPE = 0.657  # C*/(L* + 16) of the purest front-lit leaf: shade keeps the chromaticity [leaf_colours.csv]
LEAF_TOP_OF_SLOPE = 49.12  # L*, the leaf of 20 µg/cm² chlorophyll
LEAF_TOP_LIGHTNESS = 52.93  # L*, the leaf of 15 µg/cm²
WARM_FROM, WARM_TO = -30.0, 110.0  # violet-red over red to yellow, which painters call warm; common practice, no source
SURE = 0.1  # degrees beyond a border from which rounding can't decide on which side of it a colour lies
LEAF_TOP_CHROMA = 44.35  # its C*: the most that a front-lit leaf reaches


@dataclass(frozen=True, slots=True)
class HueBand:
    """A span of CIELAB hue angle, with the least chroma that counts as coloured.

    Where ``start_slope`` isn't 0 the band begins at ``start_at(L*)``: ``start`` at L* 50, and so many degrees more for
    each L* above it.
    """

    name: str
    start: float  # degrees, at L* 50
    end: float  # degrees
    least_chroma: float  # C*ab
    start_slope: float = 0.0  # degrees per L*

    def start_at(self, lightness: ArrayLike) -> NDArray[np.floating]:
        """Hue angle in degrees at which the band begins, for each L*."""
        return np.asarray(self.start + self.start_slope * (np.asarray(lightness) - 50))

    def contains(self, lab: ArrayLike) -> NDArray[np.bool_]:
        """Which colours of ``lab`` (..., 3) lie in the band, ends included.

        The test is made with cross products, not angles: on a million pixels the arctangent would be the slow part.
        """
        values = np.asarray(lab)
        # Of planes that lie by themselves: of every third number each of the sums below takes twice as long.
        a, b = (np.asarray(values[..., channel], order="C") for channel in (1, 2))
        chroma_squared = a * a + b * b
        coloured = chroma_squared >= self.least_chroma**2
        to_end = side_of(self.end, a, b) <= 0
        if self.start_slope:
            return self._from_slanting_start(values[..., 0], a, b, np.asarray(coloured & to_end))
        from_start = side_of(self.start, a, b) >= 0
        if (self.end - self.start) % 360 <= 180:
            return np.asarray(coloured & from_start & to_end)
        return np.asarray(coloured & (from_start | to_end))

    def holds(self, lab: ArrayLike, *, hue_fades: float, chroma_fades: float) -> NDArray[np.floating]:
        """How far colours of ``lab`` (..., 3) lie in the band, 0–1: a half on its borders, so that none does by a hair.

        ``hue_fades`` (degrees) and ``chroma_fades`` (C*) say over how much. For bands that don't pass 0°.
        """
        values = np.asarray(lab)
        hue = hue_of(values[..., 1], values[..., 2])
        chroma = chroma_of(values)
        inside = (
            (hue - self.start_at(values[..., 0])) / hue_fades,
            (self.end - hue) / hue_fades,
            (chroma - self.least_chroma) / chroma_fades,
        )
        return np.asarray(np.prod([0.5 + 0.5 * np.tanh(part) for part in inside], axis=0))

    def _from_slanting_start(
        self,
        lightness: NDArray[np.floating],
        a: NDArray[np.floating],
        b: NDArray[np.floating],
        may: NDArray[np.bool_],
    ) -> NDArray[np.bool_]:
        """Of the colours that ``may`` lie in the band, those beyond its start.

        Only between the starts of the darkest and of the lightest colour does it matter how light a colour is. A band
        of this kind spans less than half the circle.
        """
        if not may.any():
            return may
        if may.ndim == 0:
            return np.asarray(self._from_slanting_start(lightness[None], a[None], b[None], may[None])[0])
        ends = sorted(float(end) for end in self.start_at([lightness.min(), lightness.max()]))
        unsure = may & (side_of(ends[0] - SURE, a, b) >= 0)
        inside = np.asarray(unsure & (side_of(ends[1] + SURE, a, b) >= 0))
        unsure &= ~inside
        L, a, b = lightness[unsure], a[unsure], b[unsure]
        angle = np.radians(self.start_at(L).astype(a.dtype if a.dtype.kind == "f" else np.float64))
        inside[unsure] = b * np.cos(angle) - a * np.sin(angle) >= 0
        return inside


def side_of(angle: float, a: NDArray[np.floating], b: NDArray[np.floating]) -> NDArray[np.floating]:
    """Positive to the counter-clockwise side of the ray at ``angle`` degrees."""
    radians = np.radians(angle)
    kind = a.dtype.type
    return b * kind(np.cos(radians)) - a * kind(np.sin(radians))


LEAST_CHROMA = 8.0  # C*ab: below it a colour reads as a grey
# What people call green or olive begins at a greener hue the lighter it is: 84° at L* 20, 95° at L* 50, 107° at L* 85.
# Fitted on the naming survey that matplotlib carries (Munroe, 2010) and on the ISCC–NBS names of the Munsell
# renotation; one border for every lightness counts cream skies as green and leaves out olive grass.
GREEN_START, GREEN_START_SLOPE = 94.5, 0.35
YELLOW_GREEN = HueBand("yellow-green", GREEN_START, 148.0, LEAST_CHROMA, GREEN_START_SLOPE)  # to Munsell 10GY
GREEN_FAMILY = HueBand("green family", GREEN_START, 180.0, LEAST_CHROMA, GREEN_START_SLOPE)  # to Munsell 10G
RELIEF = HueBand("relief", 281.0, 60.0, LEAST_CHROMA)  # the opposite of yellow-green (281–328°), reds, red earths


def leaf_limit(lightness: ArrayLike) -> NDArray[np.floating]:
    """The highest C*ab that a front-lit leaf reaches at each L* (...), in light or in shade.

    From the reflected rows of leaf_colours.csv (PROSPECT-D). Above the palest leaf the limit holds.
    """
    L = np.asarray(lightness)
    if not np.issubdtype(L.dtype, np.floating):
        L = L.astype(np.float64)
    shade = LEAF_SLOPE * (np.minimum(L, LEAF_TOP_OF_SLOPE) + 16)
    at_slope_end = LEAF_SLOPE * (LEAF_TOP_OF_SLOPE + 16)
    rise = np.clip((L - LEAF_TOP_OF_SLOPE) / (LEAF_TOP_LIGHTNESS - LEAF_TOP_OF_SLOPE), 0, 1)
    return np.asarray(shade + rise * (LEAF_TOP_CHROMA - at_slope_end)).astype(L.dtype)


def beyond_leaf(lab: ArrayLike) -> NDArray[np.bool_]:
    """Which colours of ``lab`` (..., 3) are greens that no front-lit leaf reaches."""
    values = np.asarray(lab)
    chroma = chroma_of(values)
    return np.asarray(YELLOW_GREEN.contains(values) & (chroma > leaf_limit(values[..., 0])))


@dataclass(frozen=True, slots=True)
class Station:
    """A station of the light wheel: its name, CIELAB hue angle and the station opposite."""

    name: str
    hue: float
    opposite: str


# Even stations of additive light; the angles are those of the full sRGB colours in CIELAB. [IEC 61966-2-1; CIE 15:2004]
LIGHT_WHEEL = (
    Station("yellow", 102.9, "blue"),
    Station("red", 40.0, "cyan"),
    Station("magenta", 328.2, "green"),
    Station("blue", 306.3, "yellow"),
    Station("cyan", 196.4, "red"),
    Station("green", 136.0, "magenta"),
)


def nearest_station(hue: float) -> Station:
    """The station of the light wheel nearest to a hue angle in degrees."""
    return min(LIGHT_WHEEL, key=lambda station: abs(turn_of_one(hue, station.hue)))


def hue_of(a: NDArray[np.floating], b: NDArray[np.floating]) -> NDArray[np.floating]:
    """Hue angles in degrees 0–360 of a* and b* of any shape: as by "% 360", to the last bit, twenty times quicker."""
    # Of planes that lie by themselves: of every third number it takes four times as long.
    hue = np.degrees(np.arctan2(np.asarray(b, order="C"), np.asarray(a, order="C")))
    return np.asarray(hue + (hue < 0) * hue.dtype.type(360))


def turn(from_hue: ArrayLike, to_hue: ArrayLike) -> NDArray[np.floating]:
    """The shorter way from hue angles (...) to others, in degrees from −180 to 180."""
    difference = np.asarray(to_hue) - np.asarray(from_hue)
    return np.asarray(difference - 360 * np.floor((difference + 180) / 360))  # several times faster than by "%"


def turn_of_one(from_hue: float, to_hue: float) -> float:
    """The same of two plain numbers, without numpy: a page asks for thousands, one at a time."""
    return (to_hue - from_hue + 180) % 360 - 180


def _resultant(hue: ArrayLike, weights: ArrayLike | None) -> complex:
    angles = np.radians(np.asarray(hue, dtype=np.float64))
    heavy = np.ones_like(angles) if weights is None else np.asarray(weights, dtype=np.float64)
    total = heavy.sum()
    return complex((heavy * np.exp(1j * angles)).sum() / total) if total > 0 else 0j


def is_warm(hue: ArrayLike) -> NDArray[np.bool_]:
    """Which hue angles (...) in degrees painters call warm."""
    return np.asarray((np.asarray(hue) - WARM_FROM) % 360 <= WARM_TO - WARM_FROM)


def circular_mean(hue: ArrayLike, weights: ArrayLike | None = None) -> float:
    """Mean direction of hue angles (n,), by weights (n,), in degrees 0–360; NaN when there is none. [Fisher, 1993]"""
    resultant = _resultant(hue, weights)
    return float(np.degrees(np.angle(resultant)) % 360) if abs(resultant) > 1e-12 else float("nan")


def circular_spread(hue: ArrayLike, weights: ArrayLike | None = None) -> float:
    """Circular standard deviation of hue angles (n,), by weights (n,), in degrees; NaN for none. [Fisher, 1993]"""
    length = abs(_resultant(hue, weights))
    return float(np.degrees(np.sqrt(-2 * np.log(min(length, 1.0))))) if length > 1e-12 else float("nan")
