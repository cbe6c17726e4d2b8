"""Which few hues carry a picture's colour, whether two of them are complements, and how warm stands to cool."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.measures.histogram import ColourHistogram, colour_histogram
from critique.perception.hue import LIGHT_WHEEL, hue_of, is_warm, turn
from critique.picture.picture import Picture, lab_at

VIEW = 320  # px along the long edge
SMOOTH = 12.0  # degrees: hues closer than this are one to the eye; our choice
COLOURED = 6.0  # C*: below it a colour carries no hue that is seen
PEAK = 0.06  # of the chroma within half a station of a hue: less isn't a colour of the picture; our choice
NEIGHBOURS = 30.0  # degrees: half a station of the wheel
COMPLEMENT_TOLERANCE = 30.0  # degrees of the wheel from the exact opposite: half a station
GREY = 4.0  # mean C*: a picture below it has neither warm nor cool
ALMOST_ALL, MORE = 0.9, 0.6  # of the chroma; our choice

Temperature = Literal["grey", "warm", "more warm", "in balance", "more cool", "cool"]


@dataclass(frozen=True, slots=True)
class HuePeak:
    """A hue that the colour gathers about, CIELAB degrees, and the share of the chroma within half a station of it."""

    hue: float
    share: float


@dataclass(frozen=True, slots=True)
class HuePeaks:
    """The hues of a picture, the strongest first; the pair that faces, by index; one word for warm and cool.

    ``temperature`` is the only word for it, and ``facing`` the only pair: two sentences can't contradict each other.
    """

    peaks: tuple[HuePeak, ...]
    facing: tuple[int, int] | None
    off_by: float  # degrees of the light wheel from exact opposition; 180 without a pair
    warm_share: float  # of the chroma that is seen
    temperature: Temperature


def measure_hue_peaks(picture: Picture, *, histogram: ColourHistogram | None = None) -> HuePeaks:
    """Measure the peaks of the chroma-weighted hues.

    Opposites are those of the light wheel's six stations, in even steps between them.
    """
    colours = histogram if histogram is not None else colour_histogram(lab_at(picture, VIEW))
    a, b = colours.lab[:, 1], colours.lab[:, 2]
    chroma = np.hypot(a, b)
    seen = np.where(chroma >= COLOURED, chroma, 0) * colours.share
    total = float(seen.sum())
    mean = float((chroma * colours.share).sum())
    if total < 0.2 or mean < GREY / 4:
        return HuePeaks((), None, 180.0, 0.0, "grey")
    hue = hue_of(a, b)
    weights = np.bincount(hue.astype(np.intp) % 360, weights=seen / total, minlength=360).astype(np.float64)
    peaks = _peaks(weights)
    facing, off_by = _facing(peaks)
    warm = float(weights[is_warm(np.arange(360) + 0.5)].sum())
    return HuePeaks(peaks, facing, off_by, warm, _temperature(warm, mean))


def wheel_angle(hue: float) -> float:
    """The place on the light wheel, degrees from red, of a CIELAB hue: its six stations lie 60° apart."""
    order = ("red", "yellow", "green", "cyan", "blue", "magenta")
    stations = {station.name: station.hue for station in LIGHT_WHEEL}
    hues = [stations[name] for name in order]
    hues.append(hues[0] + 360)
    return float(np.interp((hue - hues[0]) % 360 + hues[0], hues, np.arange(0, 361, 60)) % 360)


def _peaks(weights: NDArray[np.float64]) -> tuple[HuePeak, ...]:
    from scipy.ndimage import gaussian_filter1d, maximum_filter1d, uniform_filter1d

    smooth = gaussian_filter1d(weights, SMOOTH, mode="wrap")
    around = uniform_filter1d(weights, int(2 * NEIGHBOURS) + 1, mode="wrap") * (2 * NEIGHBOURS + 1)
    highest = (smooth == maximum_filter1d(smooth, int(NEIGHBOURS) + 1, mode="wrap")) & (around >= PEAK)
    found = [HuePeak(float(angle) + 0.5, float(around[angle])) for angle in np.flatnonzero(highest)]
    return tuple(sorted(found, key=lambda peak: -peak.share))


def _facing(peaks: tuple[HuePeak, ...]) -> tuple[tuple[int, int] | None, float]:
    """The pair of peaks nearest to opposition, where one is within half a station of it."""
    pairs = [
        (180 - abs(float(turn(wheel_angle(peaks[first].hue), wheel_angle(peaks[second].hue)))), first, second)
        for first in range(len(peaks))
        for second in range(first + 1, len(peaks))
    ]
    if not pairs or min(pairs)[0] > COMPLEMENT_TOLERANCE:
        return None, 180.0
    off_by, first, second = min(pairs)
    return (first, second), off_by


def _temperature(warm: float, mean: float) -> Temperature:
    if mean < GREY:
        return "grey"
    if warm >= ALMOST_ALL:
        return "warm"
    if warm <= 1 - ALMOST_ALL:
        return "cool"
    return "more warm" if warm >= MORE else "more cool" if warm <= 1 - MORE else "in balance"
