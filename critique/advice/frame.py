"""Where the pixels of a part of a picture lie in the whole."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Box = tuple[float, float, float, float]  # top, left, bottom, right as fractions 0–1 of the whole picture's sides
WHOLE: Box = (0.0, 0.0, 1.0, 1.0)


@dataclass(frozen=True, slots=True)
class Frame:
    """A part of a picture, ``rows`` by ``columns`` px, that fills ``box`` of the whole.

    What depends on the place is asked of this, in fractions, and never of row numbers: so a change is the same at any
    size, and strip by strip.
    """

    rows: int
    columns: int
    box: Box = WHOLE

    @property
    def down(self) -> NDArray[np.float32]:
        """How far down the middle of each row lies, (rows, 1): 0 at the top of the whole picture, 1 at its bottom."""
        return _middles(self.rows, self.box[0], self.box[2])[:, None]

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
