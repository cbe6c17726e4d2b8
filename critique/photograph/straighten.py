"""The painting as it would look seen square on: perspective taken out, cropped to its edge, in linear light."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.srgb import Float
from critique.photograph.corners import Corners
from critique.photograph.scale import Rows
from critique.photograph.warp import SPARE, warped

STRIP_ROWS = 256  # of the result resampled at a time


def homography(source: ArrayLike, target: ArrayLike) -> NDArray[np.float64]:
    """The (3, 3) matrix that takes four points (4, 2) to four others, its last element 1."""
    rows, right = [], []
    for (x, y), (u, v) in zip(np.asarray(source, float), np.asarray(target, float), strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    return np.append(np.linalg.solve(np.array(rows), np.array(right)), 1.0).reshape(3, 3)


def straightened_size(corners: Corners, width: int, height: int, proportion: float) -> tuple[int, int]:
    """Width and height in px of a straightened canvas: no side gets fewer px than the photograph shows of it."""
    points = np.asarray(corners) * [width, height]
    upper, right, lower, left = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    tall = max(left, right, max(upper, lower) / proportion)
    return max(1, round(tall * proportion)), max(1, round(tall))


def straightened(light: Float | NDArray[np.float16], corners: Corners, size: tuple[int, int]) -> Float:
    """The canvas of a photograph, (height, width, 3) float32 linear light, seen square on.

    Parameters
    ----------
    light : linear light (height, width, 3), float32 or float16, upright.
    corners : fractions of the photograph; what lies outside it is filled with what lies at its edge.
    size : width and height of the result in px. Made smaller than the photograph shows the canvas, the light should be
        averaged afterwards: between px it is interpolated (bicubic), a few rows at a time.
    """
    wide, high = size
    rows = straightened_rows(light, corners, size)
    result = np.empty((high, wide, 3), dtype=np.float32)
    for first in range(0, high, STRIP_ROWS):
        last = min(first + STRIP_ROWS, high)
        result[first:last] = rows(first, last)
    return result


def straightened_rows(light: Float | NDArray[np.float16], corners: Corners, size: tuple[int, int]) -> Rows:
    """The canvas in ``light`` (height, width, 3), made ``size`` (width, height) px large, a few rows at a time.

    At full size neither it nor the photograph lies in memory as float32.
    """
    height, width, _ = light.shape
    wide, high = size
    matrix = homography([[0, 0], [wide, 0], [wide, high], [0, high]], np.asarray(corners) * [width, height])

    def rows(first: int, last: int) -> Float:
        ends = np.array([[0, first, 1], [wide, first, 1], [wide, last, 1], [0, last, 1]]) @ matrix.T
        points = ends[:, :2] / ends[:, 2:]
        # What the filter asks for around the canvas, as far as the photograph has it; the rest is filled from its edge.
        low = np.floor(points.min(axis=0)).astype(int) - SPARE
        end = np.ceil(points.max(axis=0)).astype(int) + SPARE
        left, top = np.clip(low, 0, [width - 1, height - 1])
        right, bottom = np.clip(end, [left + 1, top + 1], [width, height])
        around = [(top - low[1], end[1] - bottom), (left - low[0], end[0] - right)]
        around = [(max(before, 0), max(after, 0)) for before, after in around]
        own = light[top:bottom, left:right].transpose(2, 0, 1).astype(np.float32, order="C")
        planes = np.pad(own, [(0, 0), *around], mode="edge") if np.any(around) else own
        there = np.array([[1, 0, -min(low[0], left)], [0, 1, -min(low[1], top)], [0, 0, 1]]) @ matrix
        part = warped(list(planes), there, first, last, wide)
        return np.maximum(part, 0, out=part)

    return rows
