"""Where in the picture something lies: as data, and in a few words."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

ONE_THIRD = 0.62  # of a thing that lies in one third of the height or width: then that third is named
TWO_THIRDS = 0.88  # of it that lies in two neighbouring thirds
EMPTY_THIRD = 0.18  # of it in the middle third, when most lies to both sides
AT_OTHER_END = 0.2  # of it: what has so much at the foot doesn't lie along the top
OFF_THE_EDGE = 0.15  # of the height: what begins farther from an edge, a tenth of it left out, doesn't lie along it
A_BAND = 0.4  # of the height that nine tenths of it span: within so much it covers no two thirds

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
    ("above", "left"): "high on the left",
    ("above", "centre"): "high in the centre",
    ("above", "right"): "high on the right",
    ("above", "sides"): "high on both sides",
    ("below", "left"): "low on the left",
    ("below", "centre"): "low in the centre",
    ("below", "right"): "low on the right",
    ("below", "sides"): "low on both sides",
    ("ends", "left"): "on the left, above and below",
    ("ends", "centre"): "in the centre, above and below",
    ("ends", "right"): "on the right, above and below",
    ("ends", "sides"): "in the four corners",
}
EVERYWHERE = "spread over all of it"
_HALF = {"leftward": "on the left", "rightward": "on the right"}
_WIDE = {
    **_ROWS,
    "above": "above the middle",
    "below": "below the middle",
    "upper": "over the upper two thirds",
    "lower": "over the lower two thirds",
    "all": EVERYWHERE,
    "ends": "above and below",
}


@dataclass(frozen=True, slots=True)
class Place:
    """Which thirds of the height and of the width hold something: both "none" where there is nothing to hold.

    ``row`` is a third, two thirds ("upper", "lower"), a band ("above" or "below" the middle), "all", or "ends" (top and
    bottom); ``column`` a third, two of them ("leftward", "rightward"), "wide" or "sides". In a sentence it reads as its
    ``words``.
    """

    row: str
    column: str

    @property
    def nowhere(self) -> bool:
        """Whether there is nothing to place."""
        return self.row == "none"

    @property
    def everywhere(self) -> bool:
        """Whether it lies in every part of the picture."""
        return (self.row, self.column) == ("all", "wide")

    @property
    def words(self) -> str:
        """Such as "along the bottom" or "in the upper left"."""
        if self.nowhere:
            return "nowhere"
        if self.column == "wide":
            return _WIDE[self.row]
        if self.column not in _HALF:
            return _CORNERS[self.row, self.column]
        side = _HALF[self.column]
        if self.row in ("above", "below"):
            return f"{'high' if self.row == 'above' else 'low'} {side}"
        if self.row == "all":
            return f"over the {self.column.removesuffix('ward')} two thirds"
        return f"at mid-height {side}" if self.row == "middle" else f"{_WIDE[self.row]} {side}"

    def __str__(self) -> str:
        return self.words


Across = Literal["far left", "left", "left of centre", "centre", "right of centre", "right", "far right"]


@dataclass(frozen=True, slots=True)
class Spot:
    """Roughly where a point lies. In a sentence it reads as its ``words``."""

    across: Across
    down: Literal["high", "middle", "low"]

    @property
    def words(self) -> str:
        """Such as "high on the right"."""
        height = "at mid-height" if self.down == "middle" else self.down
        if self.across == "centre":
            return "in the middle" if self.down == "middle" else f"{height} in the centre"
        beside = self.across.removesuffix(" of centre")
        if beside == self.across:
            return f"{height} on the {beside}"
        return f"{'a little' if self.down == 'middle' else height} to the {beside} of the middle"

    def __str__(self) -> str:
        return self.words


# Readers call what stands at 0.4 of the width "just left of the middle", and not "on the left": most of the places that
# two blind readers corrected were of this kind.
_ACROSS: tuple[tuple[float, Across], ...] = (
    (0.2, "far left"),
    (0.34, "left"),
    (0.44, "left of centre"),
    (0.56, "centre"),
    (0.66, "right of centre"),
    (0.8, "right"),
    (np.inf, "far right"),
)
# Of the width, from its middle, for what is known to a tenth. Two readers of a keep at 0.69 denied that what was found
# at 0.61 lies "near the middle"; of another place found there two readings are 0.70 and 0.73.
ABOUT_THE_MIDDLE, TO_A_SIDE = 0.08, 0.16
NOWHERE = Place("none", "none")


def offsets(shape: tuple[int, ...], x: float, y: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """How far every pixel's centre lies below and to the right of a point, in px: (height, 1) and (1, width).

    ``shape`` is (height, width); ``x`` and ``y`` are fractions of width and height from the upper left corner. Whatever
    is pointed at in a picture, averaged about a point or changed about one, is found by this.
    """
    height, width = shape[:2]
    down, across = np.ogrid[:height, :width]
    return np.asarray(down + 0.5 - y * height), np.asarray(across + 0.5 - x * width)


def disc(shape: tuple[int, ...], x: float, y: float, radius: float) -> NDArray[np.bool_]:
    """The pixels (height, width) whose centres lie within ``radius`` of a point, a fraction of the long edge.

    At least the pixels within one pixel of it, so that a point at the very edge finds one too.
    """
    down, across = offsets(shape, x, y)
    return np.asarray(np.hypot(down, across) <= max(radius * max(shape[:2]), 1.0))


def place_of(weight: ArrayLike) -> Place:
    """Where the weight of a map (height, width) lies."""
    values = np.asarray(weight, dtype=np.float64)
    if values.sum() <= 0:
        return NOWHERE
    return Place(row=_row(values.sum(axis=1)), column=_column(values.sum(axis=0)))


def _thirds(profile: NDArray[np.float64]) -> NDArray[np.float64]:
    """The part of a profile in each third of its length."""
    position = (np.arange(len(profile)) + 0.5) / len(profile)
    return np.asarray(np.bincount((position * 3).astype(np.intp), weights=profile, minlength=3) / profile.sum())


def _row(profile: NDArray[np.float64]) -> str:
    """The word for the third, the two thirds, the band or the whole of the height that holds a profile."""
    top, middle, bottom = _thirds(profile)
    parts = np.array([0.05, 0.1, 0.9, 0.95])
    reached = np.cumsum(profile) / profile.sum()
    first, begins, ends, last = (np.searchsorted(reached, parts) + 0.5) / len(profile)
    if top >= ONE_THIRD and bottom < AT_OTHER_END:
        return "top" if begins <= OFF_THE_EDGE else "above"
    if bottom >= ONE_THIRD and top < AT_OTHER_END:
        return "bottom" if ends >= 1 - OFF_THE_EDGE else "below"
    if middle >= ONE_THIRD:
        return "middle"
    if top + middle >= TWO_THIRDS:
        return "above" if last - first <= A_BAND else "upper"
    if middle + bottom >= TWO_THIRDS:
        return "below" if last - first <= A_BAND else "lower"
    return "ends" if middle < EMPTY_THIRD else "all"


def _column(profile: NDArray[np.float64]) -> str:
    """The word for the third, the two thirds or the whole of the width that holds a profile."""
    left, centre, right = _thirds(profile)
    for part, word in ((left, "left"), (centre, "centre"), (right, "right")):
        if part >= ONE_THIRD:
            return word
    if left + centre >= TWO_THIRDS:
        return "leftward"
    if centre + right >= TWO_THIRDS:
        return "rightward"
    return "sides" if centre < EMPTY_THIRD else "wide"


def spot(x: float, y: float) -> Spot:
    """Roughly where a point lies; ``x`` and ``y`` are fractions of width and height from the upper left."""
    across = next(word for border, word in _ACROSS if x < border)
    return Spot(across=across, down="high" if y < 0.36 else "low" if y > 0.62 else "middle")


def roughly(x: float, y: float) -> str:
    """Where something lies that is known to a tenth of the picture, such as "low, near the middle"."""
    side, away = "left" if x < 0.5 else "right", abs(x - 0.5)
    down = "high" if y < 0.3 else "low" if y > 0.68 else ""
    if away > TO_A_SIDE:
        return f"{down} on the {side}".strip()
    across = "near the middle" if away <= ABOUT_THE_MIDDLE else f"{side} of the middle"
    return f"{down}, {across}" if down else across


def roughly_in_passing(x: float, y: float) -> str:
    """The same inside a sentence that has commas of its own, such as "low and near the middle"."""
    return roughly(x, y).replace(", ", " and ")
