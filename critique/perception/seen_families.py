"""Which family of colour people see in a colour of a landscape, and how surely."""

import math
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.hue import YELLOW_GREEN
from critique.perception.reference import read_table

HUELESS = 10.0  # C*: below it a hue says less and less
# C*: what is stronger is named as at this strength. Few readings are, no green, blue or violet by much; the
# squares fitted to them bend away there, and called a blue sky of 88 a red. All that are read beyond it stay as named.
AS_STRONG = 50.0
NO_YELLOW = 8.0  # degrees from the border to green on: no reading there is a yellow, though few are as light as yellows

Float = NDArray[np.float64]


def family_cues(lab: ArrayLike) -> Float:
    """What a family is told by, for colours (..., 3) in CIELAB: (..., 15), each of the order of 1."""
    L, a, b = np.moveaxis(np.asarray(lab, dtype=np.float64), -1, 0)
    chroma = np.hypot(a, b)
    hue = np.arctan2(b, a)
    clear = np.minimum(1.0, chroma / HUELESS)
    light, red, yellow, strong = L / 50, a / 15, b / 20, chroma / 20
    return np.stack(
        [
            *(light, red, yellow, strong, light**2, red**2, yellow**2),
            *(red * yellow, light * red, light * yellow, light * strong),
            *(clear * np.cos(hue), clear * np.sin(hue), clear * np.cos(2 * hue), clear * np.sin(2 * hue)),
        ],
        axis=-1,
    )


def seen_families(lightness: float, chroma: float, hue: float) -> dict[str, float]:
    """Chance (0–1, they add up to 1) of each family that a colour is seen as in a landscape, the likeliest first.

    The colour is given by CIELAB L*, C*ab and hue angle in degrees (not finite: a grey). Fitted to 635 places of 127
    landscapes that two independent machine readings named as they are seen there, ``colour_readings.csv``; a picture
    left out of the fit, the likeliest is one of the two readings' in 70 of 100 (the two name the same in 76).
    """
    angle = math.radians(hue) if math.isfinite(hue) else 0.0
    own = chroma if math.isfinite(hue) else 0.0
    names = family_names()
    said = _said(np.array((lightness, own * math.cos(angle), own * math.sin(angle))))
    chance = np.exp(said - said.max())
    chance /= chance.sum()
    return {names[row]: float(chance[row]) for row in np.argsort(-chance, kind="stable")}


def likeliest_is(family: str, lab: ArrayLike) -> NDArray[np.bool_]:
    """Whether colours (..., 3) in CIELAB are likelier seen as this family than as any other: (...)."""
    return np.asarray(likeliest_families(lab) == family_names().index(family))


def likeliest_families(lab: ArrayLike) -> NDArray[np.intp]:
    """The index, in ``family_names``, of the family that colours (..., 3) in CIELAB are likeliest seen as: (...)."""
    return np.asarray(_said(np.asarray(lab, dtype=np.float64)).argmax(axis=-1))


def _said(lab: Float) -> Float:
    """The log odds (..., families) of what colours (..., 3) in CIELAB are seen as."""
    names, offsets, weights = _weights()
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    held = np.concatenate(
        [lab[..., :1], lab[..., 1:] * (AS_STRONG / np.maximum(chroma, AS_STRONG))[..., None]], axis=-1
    )
    said = offsets + family_cues(held) @ weights.T
    hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1])) % 360
    green = (hue >= YELLOW_GREEN.start_at(lab[..., 0]) + NO_YELLOW) & (hue <= YELLOW_GREEN.end)
    yellow, leaf = names.index("yellow"), names.index("yellow-green")
    said[green, leaf] = np.logaddexp(said[green, leaf], said[green, yellow])
    said[green, yellow] = -np.inf
    return said


def family_names() -> tuple[str, ...]:
    """The families that a colour may be seen as."""
    return _weights()[0]


@lru_cache(maxsize=1)
def _weights() -> tuple[tuple[str, ...], Float, Float]:
    """The families (n,), their offsets (n,) and their cues' weights (n, 15)."""
    rows = read_table("colour_word_weights.csv")
    table = np.array([[float(number) for key, number in row.items() if key != "family"] for row in rows])
    return tuple(row["family"] for row in rows), table[:, 0], table[:, 1:]
