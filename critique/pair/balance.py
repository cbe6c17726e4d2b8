"""Whether two photographs were taken in the same light, and how to bring them into one."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.errors import CritiqueError
from critique.pair.overlay import overlaid
from critique.pair.register import Registration
from critique.perception.cielab import LIGHT_TO_LUMINANCE, as_three, lab_to_linear, linear_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.srgb import Float, srgb8_to_linear
from critique.picture.picture import Picture, lab_at, picture_from_lab
from critique.picture.places import disc

WORKING_LONG_EDGE = 320  # px: light is of the whole picture
NEUTRAL = 14.0  # C*: greys under a cast that still counts as one [a cast of ΔE00 4 moves a grey by up to 5]
TENTH = 0.1  # of the area: the greyest part that serves as reference
LEAST_AREA = 0.01  # of the area that must be grey in both
DARKEST, LIGHTEST = 20.0, 97.0  # L*: outside it, a camera's own limits speak
MELT = 5  # px of the working size: strokes, and what two JPEG files make of them, are averaged before light is read
WHOLE = 0.8  # of the picture that must have moved alike before that counts as light where nothing is grey
AGREEMENT = 0.2  # of the light: how far the reference may scatter and still be one light on one thing
BEST_PART = 0.5  # of that part that agrees best, for the same
UNCHANGED = 0.08  # of the light: within this a spot keeps to a light; ΔE00 of about 1.5, what strokes and files leave
KEEPS_TO_LIGHT = 0.3  # of all that is well exposed that must keep to the light that its greys tell, to be believed
PLACES = 4  # parts of each side of the grid of places
PLACE_KEEPS = 0.15  # of a place that must keep to it for the place to speak for it
PLACES_KEEP = 0.5  # of the places that must: a repainted sky lies in the upper ones
TONE_KEEPS = 0.15  # of each third by value, darks, middle and lights: paint made flatter keeps to it in one alone
HUES = 6  # sectors of hue
HUE_KEEPS = 0.15  # of one sector at least, among those that take a tenth of the picture: greys alone may be repainted
SEEN = 0.7  # ΔE00 between the references below which there is nothing to correct
BEYOND_A_PHOTOGRAPH = 14.0  # ΔE00 between the references above which light alone isn't the difference
BEYOND_A_CAST = 5.0  # the same where only a cast is looked for: an automatic white balance misses by less
SPOT = 0.02  # of the long edge: radius of a place pointed at

How = Literal["pointed at", "same place", "whole picture"]
Place = tuple[float, float]  # as fractions of the width and the height from the upper left


@dataclass(frozen=True, slots=True)
class Balance:
    """The light of two photographs brought together by something grey that both have.

    ``gains_first`` and ``gains_second`` multiply linear red, green and blue. ``references`` are the L*a*b* of that
    grey in both before, ``difference`` their ΔE00, ``share`` how much of the picture it takes.
    """

    how: How
    gains_first: tuple[float, float, float]
    gains_second: tuple[float, float, float]
    references: tuple[tuple[float, float, float], tuple[float, float, float]]
    difference: float
    share: float

    @property
    def needed(self) -> bool:
        """Whether the two differ enough to be seen."""
        return self.difference >= SEEN


def balance_by_points(first: Picture, second: Picture, first_at: Place, second_at: Place) -> Balance:
    """Make the place pointed at in each a neutral grey, of the mean of their luminances.

    Raises
    ------
    CritiqueError
        When a place lies outside its picture or is too dark to tell its colour.

    Notes
    -----
    A place is looked for in the photograph, where the picture was cropped out of one.
    """
    lights = [_light_at(picture, place) for picture, place in ((first, first_at), (second, second_at))]
    grey = np.sqrt(_luminance(lights[0]) * _luminance(lights[1]))
    gains = [grey / light for light in lights]
    return Balance(
        "pointed at", as_three(gains[0]), as_three(gains[1]), _pair(lights), _between(lights), np.pi * SPOT**2
    )


def balance_by_greys(first: Picture, second: Picture, registration: Registration) -> Balance | None:
    """Bring the second into the light of the first by what is surely the same in both; None when nothing is.

    That takes a second that lies on the first. Its light is told by the greyest tenth of what is grey in both, cast
    and exposure alike, or, where nothing is grey, by nearly all of it; and it is believed where what lies elsewhere,
    in darks, lights and colours, moved by the same light.
    """
    return _by_same_place(first, second, registration) if registration.found else None


def in_gains(picture: Picture, gains: tuple[float, float, float]) -> Picture:
    """The picture with its linear light multiplied; clipped to what a screen shows."""
    if np.allclose(gains, 1, atol=1e-6):
        return picture
    linear = lab_to_linear(picture.lab) * np.asarray(gains, dtype=np.float32)
    return picture_from_lab(linear_to_lab(linear), picture)


def _by_same_place(first: Picture, second: Picture, registration: Registration) -> Balance | None:
    both = overlaid(first, second, registration, WORKING_LONG_EDGE)
    strongest = np.maximum(_chroma(both.first), _chroma(both.second))
    exposed = both.covered & well_exposed(both.first) & well_exposed(both.second)
    usable = exposed & (strongest < NEUTRAL)
    lights = [np.maximum(melted(lab_to_linear(lab)), 1e-4) for lab in (both.first, both.second)]
    if not exposed.any():
        return None
    if usable.mean() < LEAST_AREA:
        told = _by_light_on(exposed, lights, "whole picture", WHOLE, BEYOND_A_CAST)
    else:
        limit = np.sort(strongest[usable])[min(round(TENTH * usable.size), int(usable.sum())) - 1]
        told = _by_light_on(usable & (strongest <= limit), lights, "same place", BEST_PART, BEYOND_A_PHOTOGRAPH)
    if told is None or not told.needed:
        return told
    keeps = _keeps_to(lights, told.gains_second)
    return told if _all_over(keeps, exposed, both.first) else None


def _keeps_to(lights: Sequence[Float], gains: Sequence[float]) -> NDArray[np.bool_]:
    """Where the second, brought to the light of the first by ``gains``, looks as the first does."""
    off = np.log(lights[0] / lights[1]) - np.log(np.asarray(gains, dtype=np.float32))
    return np.asarray(np.abs(off).max(axis=-1) <= UNCHANGED)


def _all_over(keeps: NDArray[np.bool_], exposed: NDArray[np.bool_], lab: Float) -> bool:
    """Whether what keeps to a light lies in many places, in darks, middle and lights, and in colours beside the greys.

    Light falls on all of a picture alike. What one passage alone tells, such as a repainted sky, is paint.
    """
    if keeps[exposed].mean() < KEEPS_TO_LIGHT:
        return False
    rows, columns = (np.arange(length) * PLACES // length for length in keeps.shape)
    place = rows[:, None] * PLACES + columns
    shares = [keeps[exposed & (place == one)].mean() for one in np.unique(place[exposed])]
    if np.mean(np.asarray(shares) >= PLACE_KEEPS) < PLACES_KEEP:
        return False
    tone = np.digitize(lab[..., 0], np.quantile(lab[..., 0][exposed], (1 / 3, 2 / 3)))
    if any(keeps[exposed & (tone == third)].mean() < TONE_KEEPS for third in np.unique(tone[exposed])):
        return False
    coloured = exposed & (_chroma(lab) >= NEUTRAL)
    hue = np.arctan2(lab[..., 2], lab[..., 1])
    sector = ((hue + np.pi) / (2 * np.pi) * HUES).astype(int) % HUES
    of_colour = [coloured & (sector == one) for one in range(HUES)]
    large = [mask for mask in of_colour if mask.sum() >= TENTH * exposed.sum()]
    return not large or max(float(keeps[mask].mean()) for mask in large) >= HUE_KEEPS


def _by_light_on(
    reference: NDArray[np.bool_], lights: Sequence[Float], how: How, part: float, most: float
) -> Balance | None:
    """The gains that ``part`` of a reference agrees on; None when it doesn't, and was repainted."""
    first, second = (light[reference] for light in lights)
    ratio = np.log(first / second)
    scatter = np.abs(ratio - np.median(ratio, axis=0)).max(axis=1)
    agreeing = scatter <= np.quantile(scatter, part)
    if scatter[agreeing].max() > AGREEMENT:
        return None  # its light can't be told from its paint
    gains = np.exp(np.median(ratio[agreeing], axis=0))
    seen = np.exp(np.log(first[agreeing]).mean(axis=0))
    return _found(how, gains, [seen, seen / gains], float(reference.mean()), most)


def melted(light: Float) -> Float:
    """Light (height, width, 3) averaged over strokes, and over what two JPEG files make of them."""
    from scipy.ndimage import uniform_filter

    return np.asarray(uniform_filter(light, (MELT, MELT, 0), mode="nearest"))


def _found(
    how: How, gains: NDArray[np.floating], lights: Sequence[NDArray[np.floating]], share: float, most: float
) -> Balance | None:
    difference = _between(lights)
    if difference > most:
        return None
    return Balance(how, (1.0, 1.0, 1.0), as_three(gains), _pair(lights), difference, share)


def _light_at(picture: Picture, place: Place) -> NDArray[np.float64]:
    x, y = place
    if not (0 <= x <= 1 and 0 <= y <= 1):
        raise CritiqueError(f"{picture.file}: the neutral at {x:g},{y:g} lies outside: give fractions from 0 to 1")
    light = _all_light(picture)
    light = light[disc(light.shape, x, y, SPOT)].mean(axis=0, dtype=np.float64)
    if light.min() < 0.005:
        raise CritiqueError(f"{picture.file}: the place at {x:g},{y:g} is too dark or too coloured to serve as a grey")
    return np.asarray(light)


def _all_light(picture: Picture) -> Float:
    """Of the photograph where the painting was cropped out of one: what is grey lies beside the canvas."""
    view = picture.view
    if view is not None and view.cropped and view.shown is not None:
        return srgb8_to_linear(view.shown)
    return lab_to_linear(lab_at(picture, WORKING_LONG_EDGE))


def well_exposed(lab: Float) -> NDArray[np.bool_]:
    """Where a colour lies within a camera's own limits."""
    return np.asarray((lab[..., 0] > DARKEST) & (lab[..., 0] < LIGHTEST))


def _chroma(lab: Float) -> Float:
    return np.asarray(np.hypot(lab[..., 1], lab[..., 2]))


def _luminance(light: NDArray[np.floating]) -> float:
    return float(light @ LIGHT_TO_LUMINANCE)


def _lab(light: NDArray[np.floating]) -> NDArray[np.floating]:
    return linear_to_lab(np.asarray(light, dtype=np.float32))


def _between(lights: Sequence[NDArray[np.floating]]) -> float:
    return float(delta_e_2000(_lab(lights[0]), _lab(lights[1])))


def _pair(
    lights: Sequence[NDArray[np.floating]],
) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    return as_three(_lab(lights[0])), as_three(_lab(lights[1]))
