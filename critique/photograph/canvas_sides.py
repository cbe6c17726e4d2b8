"""How much speaks for a stretch of a line being a side of a canvas: an edge, an even outside, a painted inside."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float
from critique.photograph.canvas_lines import Edges

Array = NDArray[np.float64]

NEAR, FAR = 2.0, 5.0  # px from the line between which its two sides are looked at
PLACES = 4  # px along a line for each place looked at
BORDER = 0.8  # strength of an edge that a border of the photograph counts as
UNEVEN_FLOOR = 0.012  # of the range of codes: unevenness within noise


@dataclass(frozen=True, slots=True, eq=False)
class Profiles:
    """What lies along each line: running sums over places, so that any stretch is two look-ups.

    ``lines`` (number, 2) as x at the middle row and slope; ``support`` sums (number, places + 1) of edge strength,
    ``before`` and ``after`` sums (number, places + 1, 7) of three channels, their squares' total and the channels times
    the place, on the side of smaller x and of larger x. ``rows`` is the height of the picture.
    """

    lines: Array
    rows: int
    support: Array
    before: Array
    after: Array

    def at(self, row: Array) -> NDArray[np.intp]:
        """Index of the running sums for a row of the picture."""
        return np.clip(np.rint(row / PLACES), 0, self.support.shape[1] - 1).astype(np.intp)


def profiles(lines: Array, edges: Edges, channels: Float) -> Profiles:
    """Look along each line of a picture (height, width, 3)."""
    height, width, _ = channels.shape
    rows = np.arange(PLACES // 2, height, PLACES)
    x = lines[:, :1] + lines[:, 1:] * (rows - (height - 1) / 2)
    inside = (x > -0.5) & (x < width - 0.5)
    around = np.rint(x[..., None] + np.array([-1, 0, 1])).astype(int)
    strongest = edges.strength[rows[:, None], np.clip(around, 0, width - 1)].max(axis=2)
    agreeing = np.abs(edges.slope[rows, np.clip(around[..., 1], 0, width - 1)] - lines[:, 1:]) < 0.25
    support = np.where(inside, strongest * np.where(agreeing, 1, 0.5), 0)
    return Profiles(
        lines,
        height,
        _running(support[..., None])[..., 0],
        _running(_strip(x, rows, channels, -1)),
        _running(_strip(x, rows, channels, 1)),
    )


def with_borders(along: Profiles, length: int) -> Profiles:
    """Those and, last, the two borders of the photograph, ``length`` px apart: sides where a canvas is cut off."""
    places = along.support.shape[1] - 1
    flat = np.zeros((2, places + 1, along.before.shape[2]))
    support = _running(np.full((2, places, 1), BORDER))[..., 0]
    return Profiles(
        np.concatenate([along.lines, [[-1.0, 0.0], [float(length), 0.0]]]),
        along.rows,
        np.concatenate([along.support, support]),
        np.concatenate([along.before, flat]),
        np.concatenate([along.after, flat]),
    )


def _strip(x: Array, rows: NDArray[np.intp], channels: Float, way: int) -> Array:
    """The colours beside lines at ``x`` (lines, rows): channels, total of their squares, channels times the place."""
    width = channels.shape[1]
    offsets = way * np.linspace(NEAR, FAR, 3)
    at = np.clip(np.rint(x[..., None] + offsets), 0, width - 1).astype(int)
    colour = channels[rows[:, None], at].mean(axis=2, dtype=np.float64)
    place = np.arange(len(rows))[:, None] * np.ones_like(colour)
    return np.concatenate([colour, (colour**2).sum(-1, keepdims=True), colour * place], axis=-1)


def _running(values: Array) -> Array:
    return np.concatenate([np.zeros_like(values[:, :1]), np.cumsum(values, axis=1)], axis=1)


def support_between(along: Profiles, line: NDArray[np.intp], start: NDArray[np.intp], end: NDArray[np.intp]) -> Array:
    """Mean strength of the edge of each stretch; places outside the photograph speak for nothing."""
    every, first = along.support.ravel(), line * along.support.shape[1]
    return np.asarray((np.take(every, first + end) - np.take(every, first + start)) / np.maximum(end - start, 1))


def evenness_between(
    sums: Array, line: NDArray[np.intp], start: NDArray[np.intp], end: NDArray[np.intp]
) -> tuple[Array, Array]:
    """Mean colour (…, 3) of each stretch's strip, and how uneven it is about a steady change along it."""
    number = np.maximum(end - start, 1).astype(float)
    every, first = sums.reshape(-1, sums.shape[2]), line * sums.shape[1]
    total = np.take(every, first + end, axis=0)
    total -= np.take(every, first + start, axis=0)
    mean = total[..., :3] / number[..., None]
    middle = (start + end - 1) / 2
    square = total[..., 3] / number - np.einsum("...c,...c->...", mean, mean)
    lean = total[..., 4:] / number[..., None] - middle[..., None] * mean
    places = np.maximum((number**2 - 1) / 12, 1e-9)
    steady = np.einsum("...c,...c->...", lean, lean) / places
    return mean, np.sqrt(np.maximum(square - steady, 0) + UNEVEN_FLOOR**2)
