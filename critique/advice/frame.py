"""Where the pixels of a part of a picture lie in the whole."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.rising_curve import rising_curve

Box = tuple[float, float, float, float]  # top, left, bottom, right as fractions 0–1 of the whole picture's sides
WHOLE: Box = (0.0, 0.0, 1.0, 1.0)


RIGID = 0.1  # of the height, to either side of a moved line: what stands on it keeps its shape
LEAST_ROOM = 0.04  # of the height that is left between that and the edge


@dataclass(frozen=True, slots=True)
class Bend:
    """A picture whose line is moved from ``height`` to ``to``, fractions of its height, in the same format.

    What lies about the line moves with it; the sky and the foreground give way, toward the edges.
    """

    height: float
    to: float

    def source(self, down: NDArray[np.float32]) -> NDArray[np.float32]:
        """The height in the picture as it was of each height in the bent one (n,), rising."""
        low, high = min(self.height, self.to), max(self.height, self.to)
        above, below = min(RIGID, low - LEAST_ROOM), min(RIGID, 1 - high - LEAST_ROOM)
        if self.height == self.to or above <= 0 or below <= 0:
            return down
        new = (0.0, self.to - above, self.to, self.to + below, 1.0)
        old = (0.0, self.height - above, self.height, self.height + below, 1.0)
        return np.asarray(rising_curve(new, old, np.clip(down, 0, 1)), dtype=np.float32)


@dataclass(frozen=True, slots=True)
class Frame:
    """A part of a picture, ``rows`` by ``columns`` px, that fills ``box`` of the whole.

    What depends on the place is asked of this, in fractions, and never of row numbers: so a change is the same at any
    size, and strip by strip.
    """

    rows: int
    columns: int
    box: Box = WHOLE
    bend: Bend | None = None  # how the whole was bent before, where it was: places are told as they were

    @property
    def down(self) -> NDArray[np.float32]:
        """How far down the middle of each row lies, (rows, 1): 0 at the top of the whole picture, 1 at its bottom."""
        middles = _middles(self.rows, self.box[0], self.box[2])
        return (middles if self.bend is None else self.bend.source(middles))[:, None]

    @property
    def across(self) -> NDArray[np.float32]:
        """How far to the right the middle of each column lies, (1, columns)."""
        return _middles(self.columns, self.box[1], self.box[3])[None, :]

    @property
    def sides(self) -> tuple[float, float]:
        """Height and width of the whole as parts of its long edge."""
        height = self.rows / (self.box[2] - self.box[0])
        width = self.columns / (self.box[3] - self.box[1])
        return height / max(height, width), width / max(height, width)


def _middles(number: int, start: float, end: float) -> NDArray[np.float32]:
    return (start + (np.arange(number) + 0.5) * ((end - start) / max(number, 1))).astype(np.float32)
