"""The values of a plane between its px."""

import numpy as np
from numpy.typing import NDArray

from critique.measures.smoothing import Float


def between_px(plane: Float, rows: NDArray[np.floating], columns: NDArray[np.floating]) -> Float:
    """The values of a plane (height, width) at places that needn't be whole px, held within it; shaped as those."""
    height, width = plane.shape
    rows, columns = np.clip(rows, 0, height - 1.001), np.clip(columns, 0, width - 1.001)
    top, left = rows.astype(np.intp), columns.astype(np.intp)
    part_down, part_across = (rows - top).astype(np.float32), (columns - left).astype(np.float32)
    flat, start = np.ascontiguousarray(plane).ravel(), top * width + left
    upper = flat[start] * (1 - part_across) + flat[start + 1] * part_across
    lower = flat[start + width] * (1 - part_across) + flat[start + width + 1] * part_across
    return np.asarray(upper + part_down * (lower - upper), dtype=np.float32)
