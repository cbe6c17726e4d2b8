"""Where does a picture catch the eye, by contrast of value, of chroma and of edges?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Float = NDArray[np.float32]

CHANNELS = ("value", "chroma", "edges")
# Sizes of what stands out, as the spread of a Gaussian in parts of the long edge: a figure, a house.
# Larger ones were tried: clouds and trees then outdo what is painted to be looked at.
SPOTS = (0.008, 0.016)
SURROUND = 4.0  # times the spot: what it is compared with
EDGE_SPREAD = 0.005  # of the long edge: the finest edge that counts; below it lies the brush
GATHERING = 0.03  # of the long edge: contrast within it acts as one
# A contrast that fills no more than this doesn't stand out, even where there is nothing else: in values or in C*/10.
FLOOR = {"value": 1.0, "chroma": 1.0, "edges": 0.5}


@dataclass(frozen=True, slots=True)
class Salience:
    """What catches the eye: ``total`` (height, width), and that by each of the channels, of the same shape; 0–1."""

    total: Float
    parts: dict[str, Float]


def salience(lab: Float) -> Salience:
    """Salience of a picture of a few hundred pixels; ``lab`` is (height, width, 3) CIELAB.

    Differences of centre and surround. Each channel is scaled to its own peak and counts the more the
    rarer its peaks are, so that one red roof among greens outdoes a whole wood of leaves. The total is their power
    mean with exponent ½, highest where all three meet.
    [after Itti, Koch and Niebur, 1998, "A model of saliency-based visual attention", from memory]
    """
    long_edge = max(lab.shape[:2])
    maps = {"value": _spots(lab[..., :1], long_edge), "chroma": _spots(lab[..., 1:], long_edge)}
    maps["edges"] = _edges(lab[..., 0], long_edge)
    parts = {name: _promoted(_blur(maps[name], GATHERING * long_edge), FLOOR[name]) for name in CHANNELS}
    roots = np.mean([np.sqrt(parts[name]) for name in CHANNELS], axis=0, dtype=np.float32)
    return Salience(np.square(roots), parts)


def _spots(channels: Float, long_edge: int) -> Float:
    """How far spots of every size differ from what surrounds them, in tens of CIELAB units (values, for L*)."""
    total = np.zeros(channels.shape[:2], dtype=np.float32)
    for spot in SPOTS:
        difference = _blur(channels, spot * long_edge) - _blur(channels, SURROUND * spot * long_edge)
        total += np.sqrt(np.square(difference).sum(-1)) / 10
    return np.asarray(total / len(SPOTS), dtype=np.float32)


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


def _blur(field: Float, spread: float) -> Float:
    """Gaussian blur of the first two axes."""
    from scipy.ndimage import gaussian_filter

    spreads = (spread, spread) + (0,) * (field.ndim - 2)
    return np.asarray(gaussian_filter(field, spreads, mode="nearest", truncate=3), dtype=np.float32)
