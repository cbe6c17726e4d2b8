"""The light of a picture at full size, a few rows at a time, for what is written as large as the file."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float
from critique.photograph.full_samples import full_samples
from critique.photograph.scale import Rows
from critique.photograph.source import source_of_file

STRIP_BYTES = 6 * 2**20  # of linear light at a time: what is made of it takes some ten times as much
LOW = 0.02  # of the height
_ON_ITS_SIDE, _UPSIDE_DOWN, _MIRRORED = (5, 6, 7, 8), (3, 4, 7, 8), (2, 3, 6, 7)

Box = tuple[float, float, float, float]  # top, left, bottom, right, 0–1 of the upright picture


@dataclass(frozen=True, slots=True, eq=False)
class Strips:
    """A file's light by rows as stored, ``height`` by ``width`` px; ``orientation`` (EXIF 1–8) turns it upright."""

    rows: Rows
    width: int
    height: int
    orientation: int

    def upright(self, *, low: bool = False) -> Iterator[tuple[Float, Box]]:
        """Strips (n, m, 3) turned upright, with the box of the whole upright picture that each fills.

        ``low`` ones cover little of the stored height, so that what changes with it changes in small steps.
        """
        step = max(1, STRIP_BYTES // (self.width * 12))
        if low:
            step = max(1, min(step, round(LOW * self.height)))
        for first in range(0, self.height, step):
            last = min(first + step, self.height)
            light = self.rows(first, last)
            light = light if light.shape[2] == 3 else np.repeat(light, 3, axis=2)
            yield turned(light, self.orientation), self._box(first / self.height, last / self.height)

    def _box(self, start: float, end: float) -> Box:
        """Of rows from ``start`` to ``end`` of the stored height."""
        if self.orientation in _ON_ITS_SIDE:
            start, end = (1 - end, 1 - start) if self.orientation in _MIRRORED else (start, end)
            return 0.0, start, 1.0, end
        start, end = (1 - end, 1 - start) if self.orientation in _UPSIDE_DOWN else (start, end)
        return start, 0.0, end, 1.0


def strips_of_file(path: Path) -> Strips:
    """Open a picture file for its light at full size.

    Raises
    ------
    UnreadablePicture
        As when it is read to be judged.
    """
    stored = full_samples(source_of_file(path))
    return Strips(stored.light.rows, stored.samples.width, stored.samples.height, stored.orientation)


def turned(pixels: NDArray[Any], orientation: int) -> NDArray[Any]:
    """(height, width, channels) turned upright. [EXIF 2.32, tag 0x0112]"""
    if orientation in _ON_ITS_SIDE:
        pixels = pixels.transpose(1, 0, 2)
    if orientation in _UPSIDE_DOWN:
        pixels = pixels[::-1]
    return pixels[:, ::-1] if orientation in _MIRRORED else pixels


def turned_back(pixels: NDArray[Any], orientation: int) -> NDArray[Any]:
    """Upright pixels as they were stored."""
    if orientation in _MIRRORED:
        pixels = pixels[:, ::-1]
    if orientation in _UPSIDE_DOWN:
        pixels = pixels[::-1]
    return pixels.transpose(1, 0, 2) if orientation in _ON_ITS_SIDE else pixels
