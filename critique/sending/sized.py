"""A painting's light at the size that a call asks for, from every px that its file has."""

from pathlib import Path

import numpy as np

from critique.perception.srgb import Float
from critique.photograph.full import read_full_light
from critique.photograph.painting import Painting
from critique.photograph.read import named
from critique.photograph.scale import Rows, average_of_rows, scaled_size
from critique.photograph.source import printable_name
from critique.photograph.straighten import straightened_rows
from critique.photograph.strips import strips_of_file, turned

FINE = 2  # times the size asked for, down to which light is averaged; the last step has a filter without stairs


def sized_light(path: Path, painting: Painting, long_edge: int) -> Float:
    """Linear light (height, width, 3) of the painting in a file, its long edge at most ``long_edge`` px.

    Averaged as light, not as codes, which would darken fine detail. A smaller one is not enlarged.
    """
    return named(printable_name(path), lambda: _sized(path, painting, long_edge))


def _sized(path: Path, painting: Painting, long_edge: int) -> Float:
    if painting.cropped:
        own = painting.photograph
        full = read_full_light(path)
        size = (own.original_width, own.original_height)
        return _scaled(straightened_rows(full.light, painting.corners, size), size[1], size[0], long_edge)
    strips = strips_of_file(path)
    light = turned(_scaled(strips.rows, strips.height, strips.width, long_edge), strips.orientation)
    return np.ascontiguousarray(light if light.shape[2] == 3 else np.repeat(light, 3, axis=2))


def _scaled(rows: Rows, height: int, width: int, long_edge: int) -> Float:
    light = average_of_rows(rows, height, width, FINE * long_edge)
    high, wide = scaled_size(height, width, long_edge)
    if light.shape[:2] == (high, wide):
        return light
    from PIL import Image

    filtered = Image.Resampling.BICUBIC
    planes = [
        np.asarray(Image.fromarray(np.ascontiguousarray(light[..., channel])).resize((wide, high), filtered))
        for channel in range(light.shape[2])
    ]
    return np.asarray(np.clip(np.stack(planes, axis=-1), 0, 1), dtype=np.float32)
