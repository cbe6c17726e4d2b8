"""How likely is the eye to settle at each place of a picture?"""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from critique.measures.salience import CHANNELS, Float, blur
from critique.perception.reference import read_table

EDGE_POWER = 8  # of the distance from the middle: felt from a tenth of the picture inwards
SKYLINE_SPREAD = 0.1  # of the width, over which the ends of the sky are smoothed
HIGH = 0.4  # of the height: from here upwards a place lies the farther from where the eye settles
PEAK_SPREAD = 0.01  # of the width, over which the ends of the sky are smoothed where its highest land is looked for
SUMMIT, PEAK_DEPTH, PEAK_HEIGHT = 4, 0.03, 0.05  # power of how high it is; below the skyline, and spread, of the height
RISING = 0.1  # of the height between the highest and the lowest land on the skyline: with less, less of a summit
NOTHING = 1e-3  # of what the middling part stands out: in a flat picture nothing stands out by more


def place_cues(shape: tuple[int, int], sky: NDArray[np.bool_]) -> dict[str, Float]:
    """What its place says for each pixel of (height, width).

    The squares of how far it lies from the middle ``across`` and ``down``, 1 at an edge (people look first near the
    middle of any picture: Tatler, 2007, from memory); how near an ``edge``; how far it lies ``below_sky``, in parts of
    the height: figures, cattle and houses stand under the skyline; how ``high`` it lies, 1 at the top; and how near the
    ``summit``, the highest land on the skyline. ``sky`` says where the sky is, on a copy of any size.
    """
    height, width = shape
    y, x = ((np.arange(number, dtype=np.float32) + np.float32(0.5)) / number for number in (height, width))
    ends = np.cumprod(sky, axis=0).mean(axis=0)  # of the sky that reaches up to the top
    columns = (np.arange(len(ends)) + 0.5) / len(ends)
    below = np.interp(x, columns, ends)[None].astype(np.float32)
    skyline, ridge = (blur(below, spread * width)[0] for spread in (SKYLINE_SPREAD, PEAK_SPREAD))
    across, down = np.square(2 * x - 1), np.square(2 * y - 1)
    return {
        "across": np.broadcast_to(across, shape),
        "down": np.broadcast_to(down[:, None], shape),
        "edge": across ** (EDGE_POWER // 2) + (down ** (EDGE_POWER // 2))[:, None],
        "below_sky": y[:, None] - skyline,
        "high": np.broadcast_to(np.square(np.clip(1 - y / np.float32(HIGH), 0, None))[:, None], shape),
        "summit": _summit(y, ridge),
    }


def _summit(y: NDArray[np.floating], ridge: Float) -> Float:
    """How near each place (height, width) is to the highest land along the skyline ``ridge`` (width,), 0–1."""
    rise = float(ridge.max() - ridge.min())
    height = (ridge.max() - ridge) / max(rise, NOTHING)
    near = np.exp(-np.square((y[:, None] - ridge - PEAK_DEPTH) / PEAK_HEIGHT) / 2)
    return np.asarray(min(rise / RISING, 1) * height**SUMMIT * near, dtype=np.float32)


def held_by(channels: dict[str, Float], places: dict[str, Float], weights: dict[str, float]) -> Float:
    """How much each place (height, width) holds the eye; all of it together is 1, or 0 in a flat picture.

    A conditional logit: the softmax, over the picture's own places, of weighted cues (the program's are
    ``eye_weights``), where what stands out no more than the middling part holds nothing.
    """
    stands_out = np.exp(sum(weights[name] * channels[name] for name in CHANNELS))
    stands_out = np.clip(stands_out - np.median(stands_out), 0, None)
    favoured = sum(weights[name] * places[name] for name in places)
    if float(stands_out.max()) <= NOTHING:
        return np.zeros_like(stands_out)
    held = stands_out * np.exp(favoured - np.max(favoured))
    return np.asarray(held / held.sum(dtype=np.float64), dtype=np.float32)


@lru_cache(maxsize=1)
def eye_weights() -> dict[str, float]:
    """What each cue weighs, in natural logarithms of how likely the eye is to settle [eye_weights.csv]."""
    return {row["cue"]: float(row["weight"]) for row in read_table("eye_weights.csv")}
