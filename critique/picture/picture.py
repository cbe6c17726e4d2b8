"""What the rest of the program knows of a photograph or painting."""

from dataclasses import dataclass, field, replace
from weakref import WeakKeyDictionary

import numpy as np

from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.perception.srgb import Codes, Float, linear_to_srgb8, srgb8_to_linear
from critique.picture.limits import LONG_EDGE
from critique.picture.scale import area_average

NO_PROFILE = "none, taken as sRGB"


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class Picture:
    """A picture ready to be measured, at most 1600 px along its long edge.

    ``lab`` is (height, width, 3) float32, CIELAB under D65; ``srgb`` the same in 8-bit sRGB codes, for drawing.
    The other fields describe the file as it was stored: ``file`` is its name without the folder (with anything
    that cannot be printed escaped), the original sizes are in px after orientation, ``mode`` is the kind of
    channels (such as 'RGB' or 'CMYK'), ``bits`` those of one channel, ``notes`` plain sentences on how it was read.
    """

    lab: Float = field(metadata={"record": False}, repr=False)
    srgb: Codes = field(metadata={"record": False}, repr=False)
    file: str
    original_width: int
    original_height: int
    format: str
    mode: str
    profile: str
    bits: int
    notes: tuple[str, ...] = ()

    @property
    def height(self) -> int:
        """Of ``lab``, in px."""
        return int(self.lab.shape[0])

    @property
    def width(self) -> int:
        """Of ``lab``, in px."""
        return int(self.lab.shape[1])


def picture_from_srgb(srgb8: Codes, file: str = "synthetic") -> Picture:
    """A Picture of 8-bit sRGB codes (height, width, 3); scaled only where it exceeds 1600 px."""
    codes = np.ascontiguousarray(srgb8, dtype=np.uint8)
    height, width, _ = codes.shape
    linear = area_average(srgb8_to_linear(codes), LONG_EDGE)
    return Picture(
        lab=linear_to_lab(linear),
        srgb=linear_to_srgb8(linear),
        file=file,
        original_width=width,
        original_height=height,
        format="array",
        mode="RGB",
        profile=NO_PROFILE,
        bits=8,
    )


def picture_from_lab(lab: Float, like: Picture) -> Picture:
    """The picture ``like`` with other colours, for previews: ``lab`` (height, width, 3) is clipped to sRGB.

    The clipped colours keep their full precision; only what no screen can show is moved.
    """
    linear = np.clip(lab_to_linear(lab), 0, 1)
    return replace(like, lab=linear_to_lab(linear), srgb=linear_to_srgb8(linear))


# Several measures ask for the same small copy; it goes when its picture goes.
_smaller: WeakKeyDictionary[Picture, dict[int, Float]] = WeakKeyDictionary()


def lab_at(picture: Picture, long_edge: int) -> Float:
    """CIELAB of the picture scaled to ``long_edge`` px, averaged in linear light: (height, width, 3), read-only.

    A picture that is small enough already gives its own ``lab``.
    """
    if max(picture.height, picture.width) <= long_edge:
        return picture.lab
    copies = _smaller.setdefault(picture, {})
    if long_edge not in copies:
        linear = area_average(lab_to_linear(picture.lab), long_edge)
        copies[long_edge] = linear_to_lab(linear)
        copies[long_edge].setflags(write=False)
    return copies[long_edge]
