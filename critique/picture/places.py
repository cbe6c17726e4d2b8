"""Where in the picture something lies, in a few words."""

import numpy as np
from numpy.typing import ArrayLike

ONE_THIRD = 0.62  # of a thing that lies in one third of the height or width: then that third is named
TWO_THIRDS = 0.88  # of it that lies in two neighbouring thirds
EMPTY_THIRD = 0.18  # of it in the middle third, when most lies to both sides

_ROWS = {"top": "along the top", "middle": "across the middle", "bottom": "along the bottom"}
_CORNERS = {
    ("top", "left"): "in the upper left",
    ("top", "centre"): "at the top, near the middle",
    ("top", "right"): "in the upper right",
    ("middle", "left"): "on the left, at mid-height",
    ("middle", "centre"): "in the middle of the picture",
    ("middle", "right"): "on the right, at mid-height",
    ("bottom", "left"): "in the lower left",
    ("bottom", "centre"): "at the bottom, near the middle",
    ("bottom", "right"): "in the lower right",
    ("upper", "left"): "down the left side of the upper two thirds",
    ("upper", "right"): "down the right side of the upper two thirds",
    ("upper", "centre"): "in the centre of the upper two thirds",
    ("lower", "left"): "on the left of the lower two thirds",
    ("lower", "right"): "on the right of the lower two thirds",
    ("lower", "centre"): "in the centre of the lower two thirds",
    ("all", "left"): "down the left side",
    ("all", "centre"): "down the middle",
    ("all", "right"): "down the right side",
    ("all", "sides"): "down both sides",
    ("top", "sides"): "in both upper corners",
    ("middle", "sides"): "on both sides, at mid-height",
    ("bottom", "sides"): "in both lower corners",
    ("upper", "sides"): "on both sides of the upper two thirds",
    ("lower", "sides"): "on both sides of the lower two thirds",
    ("ends", "left"): "on the left, above and below",
    ("ends", "centre"): "in the centre, above and below",
    ("ends", "right"): "on the right, above and below",
    ("ends", "sides"): "in the four corners",
}
_WIDE = {
    **_ROWS,
    "upper": "over the upper two thirds",
    "lower": "over the lower two thirds",
    "all": "all over",
    "ends": "above and below",
}


def place_of(weight: ArrayLike) -> str:
    """Where the weight of a map (height, width) lies, such as "along the bottom" or "in the upper left"."""
    values = np.asarray(weight, dtype=np.float64)
    if values.sum() <= 0:
        return "nowhere"
    row = _span(values.sum(axis=1), ("top", "middle", "bottom", "upper", "lower", "all", "ends"))
    column = _span(values.sum(axis=0), ("left", "centre", "right", "wide", "wide", "wide", "sides"))
    return _WIDE[row] if column == "wide" else _CORNERS[row, column]


def _span(profile: np.ndarray, words: tuple[str, ...]) -> str:
    """The word for the third, the two thirds or the whole that holds the profile."""
    position = (np.arange(len(profile)) + 0.5) / len(profile)
    thirds = np.bincount((position * 3).astype(np.intp), weights=profile, minlength=3) / profile.sum()
    for third in range(3):
        if thirds[third] >= ONE_THIRD:
            return words[third]
    if thirds[:2].sum() >= TWO_THIRDS:
        return words[3]
    if thirds[1:].sum() >= TWO_THIRDS:
        return words[4]
    if thirds[1] < EMPTY_THIRD:
        return words[6]
    return words[5]


def spot(x: float, y: float) -> str:
    """Where a point lies (fractions of width and height from the upper left), such as "left of the middle, low"."""
    across = (
        "far left"
        if x < 0.2
        else "left"
        if x < 0.42
        else "centre"
        if x <= 0.58
        else "right"
        if x <= 0.8
        else "far right"
    )
    down = "high" if y < 0.36 else "low" if y > 0.62 else "at mid-height"
    return (
        f"{down} in the centre"
        if across == "centre" and down != "at mid-height"
        else ("in the middle" if across == "centre" else f"{down} on the {across}")
    )
