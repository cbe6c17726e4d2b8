"""What a file shows, as light: before anyone asks whether it is all painting, and before it is judged."""

from dataclasses import dataclass, field

from critique.perception.srgb import Float

NO_PROFILE = "none, taken as sRGB"


@dataclass(frozen=True, slots=True, eq=False)
class Photograph:
    """A decoded file, upright and colour-managed.

    ``light`` is (height, width, 3) float32, linear sRGB light, averaged to at most ``DRAWN_LONG_EDGE`` px. The other
    fields describe the file as it was stored: ``file`` is its name without the folder (with anything that cannot be
    printed escaped), the original sizes are in px after orientation, ``mode`` is the kind of channels (such as 'RGB'
    or 'CMYK'), ``bits`` those of one channel, ``notes`` plain sentences on how it was read, ``focal`` the
    camera's focal length in long edges of the photograph, None where it noted none, ``transparent`` the part of the
    file (0–1) that had no colour of its own and was laid over white.
    """

    light: Float = field(repr=False)
    file: str
    original_width: int
    original_height: int
    format: str
    mode: str
    profile: str
    bits: int
    notes: tuple[str, ...] = ()
    focal: float | None = None
    transparent: float = 0.0
