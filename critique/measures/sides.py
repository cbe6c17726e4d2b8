"""Does what stands along the left or the right edge hold the eye there?"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.measures.salience import SPOT, SPOT_GATHERING, SURROUND, blur
from critique.perception.ranks import quantiles_of
from critique.perception.reference import read_table

Float = NDArray[np.float32]

STRIP = 0.12  # of the width or height: what lies so close to a side stands along it
MUCH = 0.8  # of a strip that has less: what is said of it isn't said of a single spot
FAINT, SPARE = 0.05, 0.05  # of a full scale, or L*: less than this is none; added to the ratio of strip and inside


@dataclass(frozen=True, slots=True)
class Sides:
    """How much the sides hold the eye (log-odds that a reader would say so), and which of the two does so more."""

    weight: float
    heavier: Literal["left", "right"]


def measure_sides(lightness: Float, channels: dict[str, Float]) -> Sides:
    """Weigh the sides of a picture of a few hundred pixels.

    ``lightness`` is L* (height, width), ``channels`` the picture's ``salience``, of the same shape.
    """
    weights = side_weights()
    left, right = _by_side(lightness, channels)
    cues = _cues(left, right, channels["large"])
    each = [sum(weights[name] * side[name] for name in side) for side in (left, right)]
    weight = weights["start"] + sum(weights[name] * cue for name, cue in cues.items())
    return Sides(weight, "left" if each[0] >= each[1] else "right")


def side_cues(lightness: Float, channels: dict[str, Float]) -> dict[str, float]:
    """What speaks for a side that holds the eye.

    ``one_sided``: upright edges at one side and not at the other; ``light``: light spots at a side beside the inside;
    ``large``: what differs as a whole from all about it, at any of the four edges beside the inside.
    """
    return _cues(*_by_side(lightness, channels), channels["large"])


def _cues(left: dict[str, float], right: dict[str, float], larges: Float) -> dict[str, float]:
    large = _strips(larges)
    return {
        "one_sided": abs(left["one_sided"] - right["one_sided"]),
        "light": max(left["light"], right["light"]),
        "large": max(_beside(large[side], large["inside"]) for side in ("left", "right", "top", "bottom")),
    }


def _by_side(lightness: Float, channels: dict[str, Float]) -> tuple[dict[str, float], dict[str, float]]:
    """What is told of each side alone: left and right."""
    upright, light = _strips(channels["upright"]), _strips(_lighter(lightness))
    left, right = (
        {
            "one_sided": float(upright[side].mean(dtype=np.float64)),
            "light": _beside(light[side], light["inside"]),
        }
        for side in ("left", "right")
    )
    return left, right


def _strips(field: Float) -> dict[str, Float]:
    height, width = field.shape
    down, across = round(STRIP * height), max(1, round(STRIP * width))
    rows = slice(down, height - down // 2)
    return {
        "left": field[rows, :across],
        "right": field[rows, width - across :],
        "top": field[: max(down, 1)],
        "bottom": field[height - max(down, 1) :],
        "inside": field[down : height - down, across : width - across],
    }


def _lighter(lightness: Float) -> Float:
    """How far small spots are lighter than what surrounds them (L*)."""
    long_edge = max(lightness.shape)
    apart = blur(lightness, SPOT * long_edge) - blur(lightness, SURROUND * SPOT * long_edge)
    return blur(np.clip(apart, 0, None), SPOT_GATHERING * long_edge)


def _beside(strip: Float, inside: Float) -> float:
    """The logarithm of how much more a strip has than the inside."""
    here, there = (quantiles_of(part, (MUCH,))[0] for part in (strip, inside))
    return float(np.log((here + FAINT) / (there + FAINT) + SPARE))


@lru_cache(maxsize=1)
def side_weights() -> dict[str, float]:
    """What each cue weighs, in log-odds [side_weights.csv]."""
    return {row["cue"]: float(row["weight"]) for row in read_table("side_weights.csv")}
