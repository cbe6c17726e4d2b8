"""What a picture would look like with a change applied: one function a change, colours in, colours out.

Every function takes CIELAB (height, width, 3) float32 and gives a new array; changes fade in over hue and chroma, so
that no edge appears where none was painted.
"""

import numpy as np
from numpy.typing import NDArray

from critique.perception.hue import GREEN_FAMILY, YELLOW_GREEN, turn

Lab = NDArray[np.float32]

HUE_FEATHER = 10.0  # degrees beyond the band over which a change fades out
LEAST, FULL = 6.0, 12.0  # C*: below the first a colour is left alone, from the second on it is changed in full


def green_weight(lab: Lab) -> NDArray[np.float32]:
    """How much each colour is a yellow-green, 0–1, falling off softly to both sides of the band."""
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1]))
    middle = (YELLOW_GREEN.start + GREEN_FAMILY.end) / 2
    half = (GREEN_FAMILY.end - YELLOW_GREEN.start) / 2
    outside = np.abs(turn(middle, hue)) - half
    within = np.clip(1 - outside / HUE_FEATHER, 0, 1)
    coloured = np.clip((chroma - LEAST) / (FULL - LEAST), 0, 1)
    return np.asarray(_smooth(within) * _smooth(coloured), dtype=np.float32)


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


STRAW_HUE, STRAW_CHROMA = 88.0, 26.0  # dry grass in the sun: between ochre and straw; common practice, no source
EARTH_HUE, EARTH_CHROMA = 60.0, 8.0  # a shadow in which the green has gone to a warm grey; common practice


def shift_cast(lab: Lab, a: float, b: float) -> Lab:
    """Move every colour by −a, −b, less toward white and black, which have no room to move."""
    room = np.clip(np.minimum(lab[..., 0], 100 - lab[..., 0]) / 15, 0, 1).astype(np.float32)
    return _with_ab(lab, lab[..., 1] - np.float32(a) * room, lab[..., 2] - np.float32(b) * room)


def stretch_values(lab: Lab, low: float, high: float, to_low: float, to_high: float) -> Lab:
    """Stretch L* so that ``low``–``high`` becomes ``to_low``–``to_high``; the ends stay within 2–98."""
    changed = lab.copy()
    changed[..., 0] = np.clip((lab[..., 0] - low) * ((to_high - to_low) / max(high - low, 1e-3)) + to_low, 2, 98)
    return changed


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
