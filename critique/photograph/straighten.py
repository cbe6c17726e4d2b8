"""The painting as it would look seen square on: perspective taken out, cropped to its edge, in linear light."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.srgb import Float
from critique.photograph.corners import Corners
from critique.photograph.scale import Rows

STRIP_ROWS = 256  # of the result resampled at a time
SPARE = 3  # px around a photograph that a resampling filter asks for


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
    height, width, _ = light.shape
    points = np.asarray(corners) * [width, height]
    # The canvas with what the filter asks for around it, as far as the photograph has it; the rest is filled from its
    # edge. The wall isn't copied.
    low = np.floor(points.min(axis=0)).astype(int) - SPARE
    end = np.ceil(points.max(axis=0)).astype(int) + SPARE
    left, top = np.clip(low, 0, [width - 1, height - 1])
    right, bottom = np.clip(end, [left + 1, top + 1], [width, height])
    around = [(top - low[1], end[1] - bottom), (left - low[0], end[0] - right)]
    around = [(max(before, 0), max(after, 0)) for before, after in around]
    wide, high = size
    first_px = [min(low[0], left), min(low[1], top)]
    matrix = homography([[0, 0], [wide, 0], [wide, high], [0, high]], points - first_px)
    result = np.empty((high, wide, 3), dtype=np.float32)
    for channel in range(3):
        own = np.pad(light[top:bottom, left:right, channel].astype(np.float32), around, mode="edge")
        for first in range(0, high, STRIP_ROWS):
            last = min(first + STRIP_ROWS, high)
            result[first:last, :, channel] = _strip(own, matrix, first, last, wide)
    return np.maximum(result, 0, out=result)


def _strip(plane: Float, matrix: NDArray[np.float64], first: int, last: int, wide: int) -> Float:
    """Rows first to last of one channel."""
    from PIL import Image

    moved = matrix @ np.array([[1, 0, 0], [0, 1, first], [0, 0, 1.0]])
    moved = moved / moved[2, 2]
    image = Image.fromarray(plane)  # mode F: 32-bit floating point, so that light stays light
    return np.asarray(
        image.transform(
            (wide, last - first), Image.Transform.PERSPECTIVE, moved.ravel()[:8].tolist(), Image.Resampling.BICUBIC
        )
    )


def straightened_rows(light: Float | NDArray[np.float16], corners: Corners, size: tuple[int, int]) -> Rows:
    """The same canvas a few rows at a time: at full size neither it nor the photograph lies in memory as float32."""
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
        own = light[top:bottom, left:right].astype(np.float32)
        around = [(top - low[1], end[1] - bottom), (left - low[0], end[0] - right), (0, 0)]
        own = np.pad(own, [(max(before, 0), max(after, 0)) for before, after in around], mode="edge")
        there = np.array([[1, 0, -min(low[0], left)], [0, 1, -min(low[1], top)], [0, 0, 1]]) @ matrix
        part = np.stack([_strip(own[..., channel], there, first, last, wide) for channel in range(3)], axis=-1)
        return np.maximum(part, 0, out=part)

    return rows
