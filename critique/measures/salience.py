"""Where does a picture catch the eye, by contrast of value, of chroma, of edges, and by spots of red?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Float = NDArray[np.float32]

CHANNELS = ("value", "chroma", "edges", "red")
# Sizes of what stands out, as the spread of a Gaussian in parts of the long edge: a figure, a house.
# Larger ones were tried: clouds and trees then outdo what is painted to be looked at.
SPOTS = (0.008, 0.016)
SURROUND = 4.0  # times the spot: what it is compared with
EDGE_SPREAD = 0.005  # of the long edge: the finest edge that counts; below it lies the brush
GATHERING = 0.04  # of the long edge: contrast within it acts as one; less, and a small crop moves the focal place
# A contrast that fills no more than this doesn't stand out, even where there is nothing else: in values, in C*/10 and
# in a*/10.
FLOOR = {"value": 1.0, "chroma": 1.0, "edges": 0.5, "red": 1.2}


@dataclass(frozen=True, slots=True)
class Salience:
    """What catches the eye: ``total`` (height, width), and that by each of the channels, of the same shape; 0–1."""

    total: Float
    parts: dict[str, Float]


def salience(lab: Float) -> Salience:
    """Salience of a picture of a few hundred pixels; ``lab`` is (height, width, 3) CIELAB.

    Differences of centre and surround. Each channel is scaled to its own peak and counts the more the
    rarer its peaks are, so that one red roof among greens outdoes a whole wood of leaves. The total is their power
    mean with exponent ½, highest where all of them meet. Of the opponent colours, what is redder than its surround
    counts once more: among greens and blues a red coat or a roof is found first (red is the most salient colour:
    Gelasca, Tomasic and Ebrahimi, 2005, "Which colors best catch your eyes", from memory).
    [after Itti, Koch and Niebur, 1998, "A model of saliency-based visual attention", from memory]
    """
    long_edge = max(lab.shape[:2])
    maps = {"value": _spots(lab[..., :1], long_edge), "chroma": _spots(lab[..., 1:], long_edge)}
    maps["edges"] = _edges(lab[..., 0], long_edge)
    maps["red"] = _redder(np.maximum(lab[..., 1], 0), long_edge)
    parts = {name: _promoted(_blur(maps[name], GATHERING * long_edge), FLOOR[name]) for name in CHANNELS}
    roots = np.mean([np.sqrt(parts[name]) for name in CHANNELS], axis=0, dtype=np.float32)
    return Salience(np.square(roots), parts)


def _spots(channels: Float, long_edge: int) -> Float:
    """How far spots of every size differ from what surrounds them, in tens of CIELAB units (values, for L*)."""
    sizes = [np.sqrt(np.square(step).sum(-1)) / 10 for step in _from_surround(channels, long_edge)]
    return np.asarray(np.mean(sizes, axis=0), dtype=np.float32)


def _redder(redness: Float, long_edge: int) -> Float:
    """How far spots of every size are redder than what surrounds them, in tens of a*."""
    sizes = [np.clip(step, 0, None) / 10 for step in _from_surround(redness, long_edge)]
    return np.asarray(np.mean(sizes, axis=0), dtype=np.float32)


def _from_surround(channels: Float, long_edge: int) -> list[Float]:
    """Spots of every size less what surrounds them."""
    return [_blur(channels, spot * long_edge) - _blur(channels, SURROUND * spot * long_edge) for spot in SPOTS]


def _edges(lightness: Float, long_edge: int) -> Float:
    """Steepness of value over one edge's width, in values; the root keeps one hard edge from outdoing all else."""
    smooth = _blur(lightness, EDGE_SPREAD * long_edge)
    down, across = np.gradient(smooth)
    step = np.hypot(down, across) * max(1.0, EDGE_SPREAD * long_edge) / 10
    return np.asarray(np.sqrt(step), dtype=np.float32)


def _promoted(field: Float, floor: float) -> Float:
    peak = max(float(field.max()), floor)
    rarity = (1 - float(field.mean()) / peak) ** 2
    return np.asarray(field / peak * rarity, dtype=np.float32)


def highest_near(field: Float, reach: float) -> Float:
    """The highest of a field (height, width) around every place, within ``reach`` (a part of the long edge)."""
    from scipy.ndimage import maximum_filter

    size = 2 * max(1, round(reach * max(field.shape))) + 1
    return np.asarray(maximum_filter(field, size, mode="nearest"), dtype=field.dtype)


def _blur(field: Float, spread: float) -> Float:
    """Gaussian blur of the first two axes."""
    from scipy.ndimage import gaussian_filter

    spreads = (spread, spread) + (0,) * (field.ndim - 2)
    return np.asarray(gaussian_filter(field, spreads, mode="nearest", truncate=3), dtype=np.float32)
