"""What of a photograph is no canvas, whatever its edges: the card or the chart beside it, found and covered up."""

import numpy as np
from numpy.typing import NDArray

from critique.perception.channels import colours_in
from critique.photograph.balance import PATCHES, chart_likeness
from critique.photograph.corners import Corners
from critique.photograph.light_asked import LightAsked
from critique.photograph.straighten import homography

Light = NDArray[np.float32]

FRAME = 0.12  # of its size, to each side: a chart's corners are those of its patches, and its frame goes on beyond
RING = 0.08  # of its size: how wide the surround is that it is covered with

SURELY_CHART = 0.7  # likeness: a chart seen to its frame has 0.98, none of the 76 paintings of the norms over 0.32


def without_reference(light: Light, asked: LightAsked) -> Light:
    """The light (height, width, 3) in which a canvas is looked for: a chart or card given by corners laid over.

    A chart has the straightest sides in the room, so that it is taken for the canvas where the canvas is fainter. The
    light that was given is left as it is.
    """
    place = asked.chart if isinstance(asked.chart, tuple) else asked.card
    return light if place is None or len(place) != 4 else laid_over(light, place)


def is_chart(light: Light, corners: Corners) -> bool:
    """Whether what lies between four corners is a chart of 24 patches, whichever way up."""
    size = np.array([light.shape[1], light.shape[0]])
    points = np.asarray(corners) * size
    rows, columns = PATCHES
    across, down = np.meshgrid((np.arange(columns) + 0.5) / columns, (np.arange(rows) + 0.5) / rows)
    middles = np.stack([across, down, np.ones_like(across)], axis=-1).reshape(-1, 3)
    for turn in range(4):
        matrix = homography([[0, 0], [1, 0], [1, 1], [0, 1]], np.roll(points, -turn, axis=0))
        there = middles @ matrix.T
        x, y = np.clip(there[:, :2] / there[:, 2:], 0, size - 1).astype(np.intp).T
        if chart_likeness(light[y, x].astype(np.float64)) >= SURELY_CHART:
            return True
    return False


def laid_over(light: Light, place: Corners) -> Light:
    """The light (height, width, 3) with the middle colour of what lies around four corners laid over them."""
    inner = _grown(place, 1 + 2 * FRAME, light.shape)
    around = _grown(place, 1 + 2 * (FRAME + RING), light.shape) & ~inner
    if not around.any():
        return light
    covered = light.copy()
    for channel, middle in enumerate(np.median(colours_in(light, around), axis=0)):
        np.copyto(covered[..., channel], middle, where=inner)  # by the mask itself it would take seven times as long
    return covered


def _grown(corners: Corners, times: float, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """Where the four sides lie around, of corners moved out from their middle; either way round."""
    points = np.asarray(corners) * (shape[1], shape[0])
    points = points.mean(axis=0) + times * (points - points.mean(axis=0))
    sides = np.roll(points, -1, axis=0) - points
    (left, top), (right, low) = np.floor(points.min(axis=0)).astype(int), np.ceil(points.max(axis=0)).astype(int)
    there = slice(max(top, 0), max(low, 0)), slice(max(left, 0), max(right, 0))  # nothing beyond lies within
    within = np.zeros(shape[:2], dtype=np.bool_)
    rows, columns = np.ogrid[: shape[0], : shape[1]]
    rows, columns = rows[there[0]], columns[:, there[1]]
    every, none = np.ones(within[there].shape, np.bool_), np.ones(within[there].shape, np.bool_)
    for side, point in zip(sides, points, strict=True):
        turn = side[0] * (rows + 0.5 - point[1]) - side[1] * (columns + 0.5 - point[0]) > 0
        every &= turn
        none &= ~turn
    within[there] = every | none
    return within
