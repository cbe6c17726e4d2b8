"""How far the mixtures of a few paints reach: round the hues, and toward strong green."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.hue import YELLOW_GREEN, HueBand

DIRECTIONS = 24  # of the a*b* plane, 15° apart

_ANGLES = np.arange(DIRECTIONS) * (2 * np.pi / DIRECTIONS)


def support(lab: ArrayLike) -> NDArray[np.float32]:
    """How far mixtures (..., points, 3) reach in each direction of the a*b* plane: (..., 24), in C*ab.

    The reach of several sets together is the larger of theirs in each direction.
    """
    ab = np.asarray(lab, dtype=np.float32)[..., 1:]
    toward = np.stack([np.cos(_ANGLES), np.sin(_ANGLES)]).astype(np.float32)
    return np.asarray((ab @ toward).max(axis=-2))


def hull_area(reach: ArrayLike) -> NDArray[np.float64]:
    """Area of the a*b* plane (C*ab squared) within the tangents at each reach (..., 24): the hull's, a little outside.

    Half the sum of each side's length times its distance from the origin.
    """
    distance = np.asarray(reach, dtype=np.float64)
    step = 2 * np.pi / DIRECTIONS
    sides = np.roll(distance, 1, axis=-1) + np.roll(distance, -1, axis=-1) - 2 * np.cos(step) * distance
    return np.asarray((distance * sides).sum(axis=-1) / (2 * np.sin(step)))


def strongest_green(lab: ArrayLike, band: HueBand = YELLOW_GREEN) -> NDArray[np.float32]:
    """Highest C*ab in the band among mixtures (..., points, 3): (...); 0 where none lies in it."""
    values = np.asarray(lab, dtype=np.float32)
    chroma = np.hypot(values[..., 1], values[..., 2])
    return np.asarray(np.where(band.contains(values), chroma, np.float32(0)).max(axis=-1))
