"""Where a photograph is greyest: the place that a command gives as an example of where a grey may be named."""

import numpy as np
from numpy.typing import NDArray

from critique.perception.cielab import srgb8_to_lab
from critique.perception.srgb import Codes
from critique.photograph.corners import ALL, Corner
from critique.picture.picture import Picture

CELLS = 24  # along the long edge: a cell is about as wide as the spot that is looked at
DARKEST, LIGHTEST = 35.0, 88.0  # L*: a spot that is darker or nearly white tells no light
FLAT = 4.0  # L*, spread within a cell: more is no one thing


def grey_in(picture: Picture) -> Corner | None:
    """The greyest place of a picture's photograph beside the canvas, or of its file where all of that is painting.

    As fractions from the upper left; None where everything is too dark, too light or too broken.
    """
    view = picture.view
    if view is not None and view.shown is not None:
        return greyest(view.shown, beside=None if view.corners == ALL else view.corners)
    return greyest(picture.srgb)


def greyest(codes: Codes, beside: tuple[Corner, ...] | None = None) -> Corner | None:
    """The cell of codes (height, width, 3) of least chroma, outside the corners ``beside`` where there is room."""
    side = max(max(codes.shape[:2]) // CELLS, 1)
    down, across = codes.shape[0] // side, codes.shape[1] // side
    lab = srgb8_to_lab(np.ascontiguousarray(codes[: down * side, : across * side]))
    cells = lab.reshape(down, side, across, side, 3)
    mean = cells.mean(axis=(1, 3))
    fit = (mean[..., 0] > DARKEST) & (mean[..., 0] < LIGHTEST) & (cells[..., 0].std(axis=(1, 3)) < FLAT)
    y, x = (np.arange(down) + 0.5) * side / codes.shape[0], (np.arange(across) + 0.5) * side / codes.shape[1]
    if beside is not None:
        outside = fit & ~_within(x[None, :], y[:, None], beside)
        fit = outside if outside.any() else fit
    if not fit.any():
        return None
    chroma = np.where(fit, np.hypot(mean[..., 1], mean[..., 2]), np.inf)
    row, column = np.unravel_index(int(np.argmin(chroma)), chroma.shape)
    return round(float(x[column]), 2), round(float(y[row]), 2)


def _within(x: NDArray[np.floating], y: NDArray[np.floating], corners: tuple[Corner, ...]) -> NDArray[np.bool_]:
    """Which places lie within corners that run clockwise."""
    inside = np.ones(np.broadcast(x, y).shape, dtype=bool)
    for (left, top), (right, bottom) in zip(corners, (*corners[1:], corners[0]), strict=True):
        inside &= (right - left) * (y - top) - (bottom - top) * (x - left) >= 0
    return inside
