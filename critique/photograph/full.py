"""All the light of a file, at every px that it has, for what is made of it at full size."""

from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from critique.photograph.colour import light_of
from critique.photograph.cost import cost_of
from critique.photograph.deep import stored_samples
from critique.photograph.exif import orientation_of
from critique.photograph.files import open_image
from critique.photograph.limits import check_size
from critique.photograph.named_spaces import named_space
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
    with open_image(source) as image:
        check_size(*image.size, source.name, cost_of(image, 1))
        samples = stored_samples(image, source)
        orientation, _ = orientation_of(image)
        space, _ = named_space(image)
        light = light_of(samples, image.info.get("icc_profile") or None, space)
        whole: NDArray[np.float16] = np.empty((samples.height, samples.width, 3), dtype=np.float16)
        for first in range(0, samples.height, ROWS):
            last = min(first + ROWS, samples.height)
            whole[first:last] = light.rows(first, last)
        return FullLight(oriented(whole, orientation), source.name, samples.bits, image.info.get("exif"))
