"""The picture as the plates show it: at one size, in colour or in greys."""

import numpy as np

from critique.perception.cielab import lab_to_srgb8
from critique.perception.srgb import Codes, Float
from critique.picture.picture import Picture, lab_at
from critique.report.plates.look import PHOTOGRAPH_LONG_EDGE, grey


def plate_size(picture: Picture, long_edge: int = PHOTOGRAPH_LONG_EDGE) -> tuple[int, int]:
    """Width and height of a photographic plate: small pictures are enlarged, so that marks keep their proportion."""
    scale = long_edge / max(picture.width, picture.height)
    return max(1, round(picture.width * scale)), max(1, round(picture.height * scale))


def plate_lab(picture: Picture) -> Float:
    """CIELAB of the picture at plate size, (height, width, 3); a smaller picture keeps its own size."""
    return lab_at(picture, PHOTOGRAPH_LONG_EDGE)


def in_colour(picture: Picture, long_edge: int = PHOTOGRAPH_LONG_EDGE) -> Codes:
    """The picture at plate size, sRGB codes (height, width, 3)."""
    small = picture.srgb if max(picture.srgb.shape[:2]) <= long_edge else lab_to_srgb8(lab_at(picture, long_edge))
    return enlarged(small, plate_size(picture, long_edge))


def in_greys(lightness: Float) -> Codes:
    """L* (height, width) as neutral sRGB codes (height, width, 3)."""
    return np.ascontiguousarray(np.broadcast_to(grey(lightness)[..., None], (*lightness.shape, 3)))


def enlarged(codes: Codes, size: tuple[int, int]) -> Codes:
    """Codes (height, width, 3) or (height, width) brought to a size in px, smoothly."""
    from PIL import Image

    if codes.shape[1::-1] == size:
        return codes
    return np.asarray(Image.fromarray(codes).resize(size, Image.Resampling.BICUBIC))
