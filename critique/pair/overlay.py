"""Two pictures of one drawing laid on each other, pixel by pixel."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.pair.register import Registration
from critique.perception.srgb import Float
from critique.picture.picture import Picture, lab_at


@dataclass(frozen=True, slots=True, eq=False)
class Overlay:
    """CIELAB of both (height, width, 3) in the first one's frame; ``covered`` (height, width) is where both are."""

    first: Float
    second: Float
    covered: NDArray[np.bool_]


def overlaid(first: Picture, second: Picture, registration: Registration, long_edge: int) -> Overlay:
    """Both pictures at ``long_edge`` px, the second brought onto the first by a registration that was found."""
    from scipy.ndimage import map_coordinates

    here, there = lab_at(first, long_edge), lab_at(second, long_edge)
    height, width = here.shape[:2]
    rows, columns = np.mgrid[:height, :width] + 0.5
    points = np.stack([columns.ravel(), rows.ravel()], axis=1) / max(height, width)
    x, y = registration.place(points).T * max(there.shape[:2]) - 0.5
    covered = (x >= -0.5) & (y >= -0.5) & (x <= there.shape[1] - 0.5) & (y <= there.shape[0] - 0.5)
    carried = [map_coordinates(there[..., axis], [y, x], order=1, mode="nearest") for axis in range(3)]
    second_here = np.stack(carried, axis=-1).reshape(height, width, 3).astype(np.float32)
    return Overlay(np.asarray(here, dtype=np.float32), second_here, covered.reshape(height, width))
