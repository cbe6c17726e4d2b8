"""What a picture would look like with a change applied: one function a change, colours in, colours out.

Every function takes CIELAB (height, width, 3) float32 and gives a new array; changes fade in over hue and chroma, so
that no edge appears where none was painted. What depends on the place is told in fractions of the whole picture.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from critique.advice.change import Lab
from critique.advice.frame import Frame
from critique.perception.green_weight import green_weight
from critique.perception.hue import turn

FAMILY_BLEND = 6.0  # CIELAB units over which one family passes into the next
STRAW_HUE, STRAW_CHROMA = 88.0, 26.0  # dry grass in the sun: between ochre and straw; common practice, no source
EARTH_HUE, EARTH_CHROMA = 60.0, 8.0  # a shadow in which the green has gone to a warm grey; common practice


def vary_greens(lab: Lab, middle: float, reach: float, warm: float, cool: float) -> Lab:
    """Turn the light greens by ``warm`` degrees toward yellow and the dark ones by ``cool`` toward blue-green.

    ``middle`` is the L* that keeps its hue and ``reach`` the L* away from it at which the turn is complete.
    """
    lightness = np.clip((lab[..., 0] - middle) / max(reach, 1.0), -1, 1)
    degrees = np.where(lightness > 0, -warm, cool) * np.abs(lightness) * green_weight(lab)
    return _turned(lab, degrees)


def trade_greens(lab: Lab, middle: float, start: float, full: float) -> Lab:
    """Give green up to its neighbours: lights go to straw, shadows to a warm grey, the middle stays green.

    The change begins ``start`` L* away from ``middle`` and is complete ``full`` L* away.
    """
    weight = green_weight(lab)
    away = lab[..., 0] - np.float32(middle)
    hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1]))
    light = _smooth(np.clip((away - start) / (full - start), 0, 1)) * weight
    dark = _smooth(np.clip((-away - start) / (full - start), 0, 1)) * weight
    straw = turn(hue, STRAW_HUE) * light + turn(hue, EARTH_HUE) * dark
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    quiet = 1 - light * np.maximum(1 - STRAW_CHROMA / np.maximum(chroma, 1), 0)
    quiet = quiet * (1 - dark * np.maximum(1 - EARTH_CHROMA / np.maximum(chroma, 1), 0))
    turned = _turned(lab, straw)
    return _with_ab(turned, turned[..., 1] * quiet, turned[..., 2] * quiet)


def shift_cast(lab: Lab, a: float, b: float) -> Lab:
    """Move every colour by −a, −b, less toward white and black, which have no room to move."""
    room = np.clip(np.minimum(lab[..., 0], 100 - lab[..., 0]) / 15, 0, 1).astype(np.float32)
    return _with_ab(lab, lab[..., 1] - np.float32(a) * room, lab[..., 2] - np.float32(b) * room)


def stretch_values(lab: Lab, low: float, high: float, to_low: float, to_high: float) -> Lab:
    """Stretch L* so that ``low``–``high`` becomes ``to_low``–``to_high``; the ends stay within 2–98."""
    changed = lab.copy()
    changed[..., 0] = np.clip((lab[..., 0] - low) * ((to_high - to_low) / max(high - low, 1e-3)) + to_low, 2, 98)
    return changed


def recede_greens(
    lab: Lab, frame: Frame, top: float, bottom: float, chroma: float, lighter: float, cooler: float
) -> Lab:
    """Greens paler and cooler with height: all of it from ``top`` up, nothing from the middle of the land down.

    ``top`` and ``bottom`` of the land are fractions of the height, ``chroma`` is the part of the chroma that the
    farthest keep, ``lighter`` in L*, ``cooler`` in degrees of hue.
    """
    middle = (top + bottom) / 2
    far = _smooth(np.clip((middle - frame.down) / max(middle - top, 1e-3), 0, 1)) * green_weight(lab)
    turned = _turned(lab, cooler * far)
    keep = 1 - (1 - np.float32(chroma)) * far
    paled = _with_ab(turned, turned[..., 1] * keep, turned[..., 2] * keep)
    return shift_value(paled, np.float32(lighter) * far)


def split_light(lab: Lab, low: float, high: float, cool: tuple[float, float], warm: tuple[float, float]) -> Lab:
    """Add ``cool`` (a*, b*) to what is darker than L* ``low`` and ``warm`` to what is lighter than ``high``."""
    middle, half = (low + high) / 2, max((high - low) / 2, 1.0)
    lightness = np.clip((lab[..., 0] - np.float32(middle)) / np.float32(half), -1, 1)
    room = np.clip(np.minimum(lab[..., 0], 100 - lab[..., 0]) / 15, 0, 1).astype(np.float32)
    light, dark = _smooth(np.maximum(lightness, 0)) * room, _smooth(np.maximum(-lightness, 0)) * room
    shifts = [np.float32(warm[axis]) * light + np.float32(cool[axis]) * dark for axis in (0, 1)]
    return _with_ab(lab, lab[..., 1] + shifts[0], lab[..., 2] + shifts[1])


def shift_value(lab: Lab, by: NDArray[np.floating]) -> Lab:
    """Move L* by so much at each place (height, width); it stays within 2–98."""
    changed = lab.copy()
    changed[..., 0] = np.clip(lab[..., 0] + by, 2, 98)
    return changed


def soft_spot(frame: Frame, x: float, y: float, reach: float, wide: float = 1.0) -> NDArray[np.float32]:
    """A soft weight (height, width) about a place (0–1 of the whole's width and height), 1 at it.

    ``reach`` is the weight's standard deviation as a part of the whole's long edge, ``wide`` how many times wider than
    high it is, at the same area.
    """
    height, width = frame.sides
    high, broad = reach / wide**0.5, reach * wide**0.5
    down = np.exp(-(((frame.down - y) * (height / high)) ** 2) / 2)
    return np.asarray(down * np.exp(-(((frame.across - x) * (width / broad)) ** 2) / 2), dtype=np.float32)


def belonging(lab: Lab, colours: Sequence[tuple[float, float, float]], index: int) -> NDArray[np.float32]:
    """How much each colour is like one of some CIELAB colours and not like another, 0–1, without a step between."""
    weight, total = np.zeros(lab.shape[:2], np.float32), np.zeros(lab.shape[:2], np.float32)
    nearest = np.full(lab.shape[:2], np.inf, np.float32)
    for colour in colours:
        np.minimum(nearest, _away(lab, colour), out=nearest)
    for number, colour in enumerate(colours):
        like = np.exp(nearest - _away(lab, colour))
        total += like
        if number == index:
            weight = like
    return np.asarray(weight / total)


def _away(lab: Lab, colour: tuple[float, float, float]) -> Lab:
    squares = ((lab - np.array(colour, dtype=np.float32)) ** 2).sum(axis=-1)
    return np.asarray(squares / np.float32(2 * FAMILY_BLEND**2))


def _turned(lab: Lab, degrees: NDArray[np.floating]) -> Lab:
    radians = np.radians(degrees).astype(np.float32)
    cos, sin = np.cos(radians), np.sin(radians)
    return _with_ab(lab, lab[..., 1] * cos - lab[..., 2] * sin, lab[..., 1] * sin + lab[..., 2] * cos)


def _with_ab(lab: Lab, a: NDArray[np.floating], b: NDArray[np.floating]) -> Lab:
    changed = np.empty_like(lab)
    changed[..., 0], changed[..., 1], changed[..., 2] = lab[..., 0], a, b
    return changed


def _smooth(x: NDArray[np.floating]) -> NDArray[np.floating]:
    return np.asarray(x * x * (3 - 2 * x))
