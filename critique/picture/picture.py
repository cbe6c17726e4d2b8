"""What the rest of the program knows of a photograph or painting."""

from dataclasses import dataclass, field, replace
from weakref import WeakKeyDictionary

import numpy as np

from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.perception.srgb import Codes, Float, linear_to_srgb8, srgb8_to_linear
from critique.photograph.camera_blur import LEAST, blur_of, recovered
from critique.photograph.fine_scale import finely_scaled
from critique.photograph.limits import DRAWN_LONG_EDGE, VIEWED_LONG_EDGE
from critique.photograph.photograph import NO_PROFILE, Photograph
from critique.photograph.scale import area_average, scaled_size
from critique.picture.view import View


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class Picture:
    """A picture ready to be measured, at most 640 px along its long edge: what the eye sees of it across a room.

    ``lab`` is (height, width, 3) float32, CIELAB under D65; ``srgb`` the same in 8-bit sRGB codes. ``drawn`` are the
    codes of up to 1600 px, for drawing only: no figure is read off them. The other fields describe the file as it was
    stored, as in :class:`~critique.photograph.photograph.Photograph`.
    """

    lab: Float = field(metadata={"record": False}, repr=False)
    srgb: Codes = field(metadata={"record": False}, repr=False)
    drawn: Codes = field(metadata={"record": False}, repr=False)
    file: str
    original_width: int
    original_height: int
    format: str
    mode: str
    profile: str
    bits: int
    notes: tuple[str, ...] = ()
    transparent: float = 0.0
    view: View | None = None  # what of the photograph is judged; None where nothing was looked for

    def __post_init__(self) -> None:
        """Its arrays are read-only: what is found of it is kept, and would stay as it was found."""
        for array in (self.lab, self.srgb, self.drawn):
            array.setflags(write=False)

    @property
    def height(self) -> int:
        """Of ``lab``, in px."""
        return int(self.lab.shape[0])

    @property
    def width(self) -> int:
        """Of ``lab``, in px."""
        return int(self.lab.shape[1])


def picture_of(photograph: Photograph, view: View | None = None) -> Picture:
    """The picture that a photograph shows, at the viewing size; ``view`` says what of the file that is."""
    drawn = linear_to_srgb8(area_average(photograph.light, DRAWN_LONG_EDGE))
    viewed = _viewed(photograph)
    blur = blur_of(viewed) if view is not None and view.cropped else 0.0
    viewed = recovered(viewed, blur)
    return Picture(
        lab=linear_to_lab(viewed),
        srgb=linear_to_srgb8(viewed) if blur or viewed.shape != photograph.light.shape else drawn,
        drawn=drawn,
        file=photograph.file,
        original_width=photograph.original_width,
        original_height=photograph.original_height,
        format=photograph.format,
        mode=photograph.mode,
        profile=photograph.profile,
        bits=photograph.bits,
        notes=(
            *photograph.notes,
            *(
                (f"the camera's blur, {blur:.1f} px at that size, was undone before measuring",)
                if blur >= LEAST
                else ()
            ),
        ),
        transparent=photograph.transparent,
        view=view,
    )


def _viewed(photograph: Photograph) -> Float:
    """The light at the viewing size, by Lanczos' filter (three lobes).

    An area average would blur the finest detail once more each time that a picture is saved larger or smaller, and a
    file of 6000 px would then measure otherwise than the same picture at 640 px (tests/benchmarks/sizes.py).
    """
    light = photograph.light
    size = scaled_size(photograph.original_height, photograph.original_width, VIEWED_LONG_EDGE)
    return light if light.shape[:2] == size else finely_scaled(light, size)


# Several measures ask for the same small copy; it goes when its picture goes.
_smaller: WeakKeyDictionary[Picture, dict[int, Float]] = WeakKeyDictionary()
LIGHT = 0  # no long edge: the picture's linear light, from which each small copy is averaged


def picture_from_srgb(srgb8: Codes, file: str = "synthetic") -> Picture:
    """A Picture of 8-bit sRGB codes (height, width, 3)."""
    codes = np.ascontiguousarray(srgb8, dtype=np.uint8)
    height, width, _ = codes.shape
    return picture_of(Photograph(srgb8_to_linear(codes), file, width, height, "array", "RGB", NO_PROFILE, 8))


def as_shown(lab: Float) -> Float:
    """Colours (height, width, 3) as a picture of them has them: what no screen can show is moved to what one can."""
    return _shown(lab)[0]


def _shown(lab: Float) -> tuple[Float, Float]:
    """The same, and its linear light; only the colours that are moved are reckoned anew."""
    linear = lab_to_linear(lab)
    beyond = np.abs(linear - np.float32(0.5)) > np.float32(0.5)
    outside = beyond[..., 0] | beyond[..., 1] | beyond[..., 2]
    np.clip(linear, 0, 1, out=linear)
    shown = np.array(lab, dtype=np.float32)
    shown[outside] = linear_to_lab(linear[outside])
    return shown, linear


def picture_from_lab(lab: Float, like: Picture) -> Picture:
    """The picture ``like`` with other colours, for previews: ``lab`` (height, width, 3) is clipped to sRGB.

    The clipped colours keep their full precision; only what no screen can show is moved.
    """
    shown, linear = _shown(lab)
    codes = linear_to_srgb8(linear)
    picture = replace(like, lab=shown, srgb=codes, drawn=codes)
    _smaller[picture] = {LIGHT: linear}
    return picture


def without_kept(picture: Picture) -> Picture:
    """The same picture without the small copies and answers kept of it: several times what it takes by itself.

    For one that is to be looked at and no longer to be measured.
    """
    return replace(picture)


def lab_at(picture: Picture, long_edge: int) -> Float:
    """CIELAB of the picture scaled to ``long_edge`` px, averaged in linear light: (height, width, 3), read-only.

    A picture that is small enough already gives its own ``lab``.
    """
    if max(picture.height, picture.width) <= long_edge:
        return picture.lab
    copies = _smaller.setdefault(picture, {})
    if long_edge not in copies:
        if LIGHT not in copies:
            copies[LIGHT] = lab_to_linear(picture.lab)
        copies[long_edge] = linear_to_lab(area_average(copies[LIGHT], long_edge))
        copies[long_edge].setflags(write=False)
    return copies[long_edge]
