"""All the light of a file, at every px that it has, for what is made of it at full size."""

from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from critique.photograph.full_samples import full_samples
from critique.photograph.read import named, oriented
from critique.photograph.source import Source, source_of_file

ROWS = 128  # converted at a time


@dataclass(frozen=True, slots=True, eq=False)
class FullLight:
    """Linear sRGB light (height, width, 3), upright, as float16: half the memory, and finer than any file's codes.

    ``exif`` is what the camera noted, as bytes; None where it noted nothing.
    """

    light: NDArray[np.float16] = field(repr=False)
    file: str
    bits: int
    exif: bytes | None


def read_full_light(path: str | Path) -> FullLight:
    """Read a file at its full size; raises ``UnreadablePicture``, one line, as ``read_photograph`` does."""
    source = source_of_file(Path(path))
    return named(source.name, lambda: _read(source))


def _read(source: Source) -> FullLight:
    stored = full_samples(source)
    samples = stored.samples
    whole: NDArray[np.float16] = np.empty((samples.height, samples.width, 3), dtype=np.float16)
    for first in range(0, samples.height, ROWS):
        last = min(first + ROWS, samples.height)
        whole[first:last] = stored.light.rows(first, last)
    return FullLight(oriented(whole, stored.orientation), source.name, samples.bits, stored.exif)
