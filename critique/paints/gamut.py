"""How far the mixtures of a few paints reach: round the hues, and toward strong green."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.paints.mixtures import Index, Mixer
from critique.perception.hue import YELLOW_GREEN

DIRECTIONS = 24  # of the a*b* plane, 15° apart

# The rim of what paints mix lies where all but two and white are left out, so pairs are searched finely: even steps of
# ratio between the two, and white from none to many times both, in units of tinting strength.
RATIO_STEPS, FARTHEST_RATIO = 49, 1e4
WHITES = (0.0, *np.geomspace(0.02, 60.0, 19))

LEAST_PART, FIRST_STEP, CLIMBS = 1e-4, 1.6, 12  # of the largest part; of a logarithm, halved each time

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


def strongest_green(lab: ArrayLike) -> NDArray[np.float32]:
    """Highest C*ab in the yellow-green band among mixtures (..., points, 3): (...); 0 where none lies in it."""
    values = np.asarray(lab, dtype=np.float32)
    chroma = np.hypot(values[..., 1], values[..., 2])
    return np.asarray(np.where(YELLOW_GREEN.contains(values), chroma, np.float32(0)).max(axis=-1))


def climbed_green(mixer: Mixer, sets: Index, parts: NDArray[np.float32]) -> NDArray[np.float32]:
    """Highest C*ab (sets,) in the yellow-green band, reached from mixtures (sets, members) by steps of their ratios.

    0 where the start does not lie in the band.
    """
    members = parts.shape[1]
    logs = np.log(np.maximum(parts / parts.max(axis=1, keepdims=True), LEAST_PART))
    moves = np.concatenate([np.zeros((1, members)), np.eye(members), -np.eye(members)]).astype(np.float32)
    best = np.zeros(len(sets), np.float32)
    rows = np.arange(len(sets))
    for step in FIRST_STEP * 0.5 ** np.arange(CLIMBS):
        tried = logs[:, None, :] + np.float32(step) * moves
        lab = mixer.lab(np.repeat(sets, len(moves), axis=0), np.exp(tried.reshape(-1, members)))
        chroma = np.where(YELLOW_GREEN.contains(lab), np.hypot(lab[:, 1], lab[:, 2]), 0).reshape(len(sets), len(moves))
        chosen = chroma.argmax(axis=1)
        best, logs = chroma[rows, chosen].astype(np.float32), tried[rows, chosen]
    return best


def pairs_of(count: int) -> Index:
    """Every two of ``count`` paints with white: (pairs, 3)."""
    first, second = np.triu_indices(count, 1)
    return np.stack([first, second, np.full_like(first, count)], axis=1).astype(np.intp)


def pair_number(first: Index, second: Index, count: int) -> Index:
    """Which row of ``pairs_of`` two paints are, the first before the second."""
    return np.asarray(first * (2 * count - first - 1) // 2 + second - first - 1)


def pair_lab(mixer: Mixer, count: int) -> NDArray[np.float32]:
    """CIELAB (pairs, points, 3) of the fine mixtures of every pair with white."""
    pairs = pairs_of(count)
    side = 1 / (1 + np.geomspace(1 / FARTHEST_RATIO, FARTHEST_RATIO, RATIO_STEPS))
    side, white = (grid.ravel() for grid in np.meshgrid(side, np.array(WHITES), indexing="ij"))
    strengths = np.stack([1 - side, side, white], axis=1).astype(np.float32)
    parts = strengths[None] / mixer.strength[pairs][:, None, :]
    each = np.repeat(pairs, len(strengths), axis=0)
    return mixer.lab(each, parts.reshape(-1, 3)).reshape(len(pairs), len(strengths), 3)
