"""Which edges of an aim are to be found, crisp, and which to be lost."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.picture.places import Spot, spot
from critique.tasks.places_of_colour import Places

FOUND, LOST = 3, 3  # edges of each kind that are told: more is no choice
BAND = 4  # px of the small copy to each side of a border over which its two colours are read
LEAST_BORDER = 0.08  # of the long edge: a shorter border is no edge to decide on
NEAR_FOCUS = 0.20  # of the long edge within which an edge belongs to where the eye goes
CRISP = 1.0  # values across an edge from which it can be found
SOFT = 0.7  # values across it below which it is hardly there
HUE_APART = 8.0  # CIELAB units of a*b* across it that hold an edge of one value: temperature draws it

Kind = Literal["find", "lose"]


@dataclass(frozen=True, slots=True)
class EdgeToPaint:
    """The edge between two passages, by number: to be found or lost, where, and how far its values lie apart."""

    kind: Kind
    first: int
    second: int
    where: Spot
    at: tuple[float, float]
    values_apart: float
    text: str


def edges_to_paint(places: Places, focus: tuple[float, float], *, sure: bool = False) -> tuple[EdgeToPaint, ...]:
    """Crisp edges where the eye is to go, lost ones between neighbours of one value; ``focus`` is x, y, 0–1.

    That the eye goes there is said only where it is ``sure``.
    """
    found = [edge for edge in _all_edges(places, focus) if edge is not None]
    near = sorted(
        (one for one in found if one.at_least >= CRISP and _away(one, focus, places) <= NEAR_FOCUS),
        key=lambda one: -one.values_apart,
    )
    far = sorted(
        (one for one in found if one.at_most < SOFT and _away(one, focus, places) > NEAR_FOCUS),
        key=lambda one: one.values_apart,
    )
    return tuple(
        [_told(one, "find", first=one is near[0], sure=sure) for one in near[:FOUND]]
        + [_told(one, "lose", first=one is far[0]) for one in far[:LOST]]
    )


@dataclass(frozen=True, slots=True)
class _Edge:
    first: int
    second: int
    at: tuple[float, float]
    values_apart: float  # there
    as_wholes: float  # values between the means of both, which are listed
    hues_apart: float

    @property
    def at_least(self) -> float:
        """Values apart there and as wholes."""
        return min(self.values_apart, self.as_wholes)

    @property
    def at_most(self) -> float:
        """The same, the larger."""
        return max(self.values_apart, self.as_wholes)


def _all_edges(places: Places, focus: tuple[float, float]) -> list[_Edge]:
    """Every border long enough, read where it lies nearest to the focus."""
    lengths = places.touching()
    least = LEAST_BORDER * max(places.labels.shape)
    pairs = [(int(one), int(other)) for one, other in np.argwhere(np.triu(lengths) >= least)]
    return [edge for pair in pairs if (edge := _edge(places, *pair, focus)) is not None]


def _edge(places: Places, one: int, other: int, focus: tuple[float, float]) -> _Edge | None:
    from scipy.ndimage import binary_dilation

    first, second = places.labels == one, places.labels == other
    beside = binary_dilation(first, iterations=1) & second
    rows, columns = np.nonzero(beside)
    if len(rows) == 0:
        return None
    height, width = places.labels.shape
    x, y = (columns + 0.5) / width, (rows + 0.5) / height
    nearest = int(np.hypot(x - focus[0], y - focus[1]).argmin())
    window = np.zeros_like(first)
    reach = round(LEAST_BORDER * max(height, width))
    top, left = max(rows[nearest] - reach, 0), max(columns[nearest] - reach, 0)
    window[top : rows[nearest] + reach + 1, left : columns[nearest] + reach + 1] = True
    here, there = (
        side & window & binary_dilation(across, iterations=BAND) for side, across in ((first, second), (second, first))
    )
    if not here.any() or not there.any():
        return None
    apart: NDArray[np.float32] = places.lab[here].mean(axis=0) - places.lab[there].mean(axis=0)
    at = (float(x[nearest]), float(y[nearest]))
    wholes = abs(float(places.lab[first][:, 0].mean() - places.lab[second][:, 0].mean())) / 10
    return _Edge(one + 1, other + 1, at, abs(float(apart[0])) / 10, wholes, float(np.hypot(apart[1], apart[2])))


def _away(edge: _Edge, focus: tuple[float, float], places: Places) -> float:
    """From the focus, as a part of the long edge."""
    height, width = places.labels.shape
    across, down = (edge.at[0] - focus[0]) * width, (edge.at[1] - focus[1]) * height
    return float(np.hypot(across, down)) / float(max(height, width))


def _told(edge: _Edge, kind: Kind, *, first: bool, sure: bool = False) -> EdgeToPaint:
    """The edge; how it is painted is said of the ``first`` of several only."""
    where = spot(*edge.at)
    between = f"between {edge.first} and {edge.second}, {where}"
    if kind == "find":
        how = f"{', where the eye goes' if sure else ''}. Lay it crisp, last, in one stroke" if first else ""
        text = f"{between}: {edge.values_apart:.1f} values apart just there{how}"
    elif edge.hues_apart >= HUE_APART:
        text = f"{between}: one value, so warm against cool alone draws it. Drag the one wet into the other"
    else:
        text = f"{between}: one value and one hue{'. Let it go, and paint across it' if first else ''}"
    return EdgeToPaint(
        kind, edge.first, edge.second, where, edge.at, edge.values_apart, text[:1].upper() + text[1:] + "."
    )
