"""At which places does the eye settle, by how much each place of a picture holds it?"""

from dataclasses import dataclass

import numpy as np

from critique.measures.salience import Float, blur, highest_near

SETTLING = 0.06  # of the long edge: the eye takes in this much at once
MOST_PLACES = 3
LEAST_PLACE = 0.25  # of the strength of the first place, below which there is no second or third; chosen by eye
APART = 0.2  # of the long edge: two focal places are two when farther apart than this
PARTED = 0.8  # of its height down to which salience must fall between a place and a stronger one; else they are one
PEAK_REACH = 0.04  # of the long edge: a peak is the highest within it
GATHERED = 0.08  # of the long edge: a focal place is the middle of what stands out within this
ZONE = 0.12  # of the width and height: what the eye finds within this is one focal place


@dataclass(frozen=True, slots=True)
class FocalPlace:
    """A place that gathers contrast. ``x``, ``y`` are 0–1 from the left and the top.

    ``strength`` is 0–1: for the first place the part of all that holds the eye that lies within its zone, for the
    others that times how much they hold it beside the first.
    """

    x: float
    y: float
    strength: float


def attention_of(held: Float) -> Float:
    """How much the eye takes in from each place (height, width), of what holds it there and near by."""
    return blur(held, SETTLING * max(held.shape))


def focal_places(held: Float, attention: Float) -> tuple[FocalPlace, ...]:
    """The strongest places that lie apart, with a valley between any two of them, strongest first."""
    sureness = _sureness(held, attention)
    height, width = attention.shape
    long_edge = max(height, width)
    y, x = np.mgrid[0:height, 0:width] + 0.5
    highest = float(attention.max())
    if sureness <= 0:
        return (FocalPlace(0.5, 0.5, 0.0),)
    left = attention * (attention >= highest_near(attention, PEAK_REACH))
    peaks: list[tuple[int, int]] = []
    places: list[FocalPlace] = []
    while len(places) < MOST_PLACES and (peak := float(left.max())) >= LEAST_PLACE * highest:
        row, column = (int(number) for number in np.unravel_index(int(left.argmax()), left.shape))
        away = np.hypot(x - column - 0.5, y - row - 0.5)
        own = _parted(attention, (row, column), peaks)
        left[away <= (APART if own else PEAK_REACH) * long_edge] = 0
        if own:
            peaks.append((row, column))
            places.append(FocalPlace(*_middle_about(attention, (row, column)), sureness * peak / highest))
    return tuple(places)


def _sureness(held: Float, attention: Float) -> float:
    """How sure the first place is: how much of all that holds the eye lies in its zone."""
    height, width = attention.shape
    row, column = np.unravel_index(int(attention.argmax()), attention.shape)
    y, x = np.mgrid[0:height, 0:width]
    near = np.hypot((x - column) / width, (y - row) / height) <= ZONE
    return float(held[near].sum(dtype=np.float64))


def _parted(favoured: Float, peak: tuple[int, int], peaks: list[tuple[int, int]]) -> bool:
    """Whether salience falls to ``PARTED`` of the peak on every way from it to the stronger ``peaks``."""
    from scipy.ndimage import label

    if not peaks:
        return True
    islands, _ = label(favoured >= PARTED * favoured[peak])
    return all(islands[peak] != islands[stronger] for stronger in peaks)


def _middle_about(attention: Float, peak: tuple[int, int]) -> tuple[float, float]:
    """The middle of what holds the eye about a peak (row, column), 0–1 from the left and the top."""
    height, width = attention.shape
    y, x = np.mgrid[0:height, 0:width] + 0.5
    row, column = peak
    near = attention * (np.hypot(x - column - 0.5, y - row - 0.5) <= GATHERED * max(height, width))
    near = np.clip(near - near.max() / 2, 0, None)
    mass = max(float(near.sum()), 1e-9)
    return float((near * x).sum() / mass / width), float((near * y).sum() / mass / height)
