"""A small map that a change carries, such as where the light lies: read at any size, and strip by strip."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.advice.frame import Frame

LONGEST = 64  # cells along the long edge: what is smooth at the scale of masses needs no more


@dataclass(frozen=True, slots=True)
class SmallMap:
    """Numbers over the whole picture, ``rows`` by ``columns`` cells of ``channels`` each, kept in half precision.

    Bytes and no array, so that two are equal, hashed and pickled as plain numbers are.
    """

    rows: int
    columns: int
    channels: int
    data: bytes = field(repr=False, metadata={"record": False})

    @classmethod
    def of(cls, values: NDArray[np.floating]) -> "SmallMap":
        """From (height, width) or (height, width, channels) of any size; each cell is the mean of what lies in it."""
        field_ = values[..., None] if values.ndim == 2 else values
        for axis in (0, 1):
            field_ = _thinned(field_, axis, _cells(field_.shape[axis], max(values.shape[:2])))
        rows, columns, channels = field_.shape
        return cls(rows, columns, channels, np.ascontiguousarray(field_, dtype=np.float16).tobytes())

    def on(self, frame: Frame) -> NDArray[np.float32]:
        """(rows, columns, channels) at the places of a frame, straight between the middles of the cells."""
        cells = np.frombuffer(self.data, dtype=np.float16).reshape(self.rows, self.columns, self.channels)
        return _between(_between(cells.astype(np.float32), frame.down[:, 0], 0), frame.across[0], 1)


def _cells(length: int, longest: int) -> int:
    return max(1, round(length * min(1.0, LONGEST / longest)))


def _thinned(values: NDArray[np.floating], axis: int, cells: int) -> NDArray[np.floating]:
    starts = (np.arange(cells) * values.shape[axis]) // cells
    counts = np.diff(np.append(starts, values.shape[axis]))
    shape = [1] * values.ndim
    shape[axis] = cells
    return np.asarray(np.add.reduceat(values.astype(np.float64), starts, axis=axis) / counts.reshape(shape))


def _between(cells: NDArray[np.float32], at: NDArray[np.float32], axis: int) -> NDArray[np.float32]:
    """Along one of the axes (rows, columns, channels), at places 0–1."""
    number = cells.shape[axis]
    place = np.clip(at * number - np.float32(0.5), 0, number - 1)
    low = np.minimum(place.astype(np.intp), max(number - 2, 0))
    high = np.minimum(low + 1, number - 1)
    part = np.expand_dims((place - low).astype(np.float32), (1 - axis, 2))
    return np.asarray(cells.take(low, axis) * (1 - part) + cells.take(high, axis) * part, dtype=np.float32)
