"""One picture for the same colours, so that tests which look at one scene measure it once.

What is found of a picture is kept as long as the picture is; a scene that every test makes anew is measured anew.
"""

from functools import lru_cache

import numpy as np

from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

MOST = 16  # pictures held at a time: a test file asks for the same ones near each other


def one_picture(srgb) -> Picture:
    """The picture of sRGB codes (height, width, 3), the same object for the same codes; its arrays can't be changed."""
    codes = np.ascontiguousarray(srgb, dtype=np.uint8)
    return _picture(codes.tobytes(), codes.shape)


def one_of_lab(lab) -> Picture:
    """The same of colours in CIELAB (height, width, 3)."""
    return one_picture(lab_to_srgb8(lab))


@lru_cache(maxsize=MOST)
def _picture(codes: bytes, shape: tuple[int, ...]) -> Picture:
    picture = picture_from_srgb(np.frombuffer(codes, dtype=np.uint8).reshape(shape))
    for shared in (picture.lab, picture.srgb, picture.drawn):
        shared.setflags(write=False)
    return picture
