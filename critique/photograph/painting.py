"""The painting in a photograph: found or given, cropped and seen square on, or the whole file left as it is."""

from dataclasses import dataclass, field, replace
from typing import Literal

from critique.perception.srgb import Float
from critique.photograph.canvas import Canvas, find_canvas
from critique.photograph.corners import ALL, Corners
from critique.photograph.photograph import Photograph
from critique.photograph.proportions import Size, proportion
from critique.photograph.straighten import straightened, straightened_size

How = Literal["whole", "found", "given", "unsure", "asked whole"]


@dataclass(frozen=True, slots=True, eq=False)
class Painting:
    """What of a photograph is judged.

    ``photograph`` is that part, as a photograph of its own; ``how`` says whether the file is all painting ("whole"), a
    canvas was found and cropped ("found"), its corners were given, nothing was cropped for want of sureness ("unsure"),
    or the whole was asked for. ``canvas`` is what was found, None when nothing was looked for. ``proportion`` is width
    for height, None where nothing was cropped.
    """

    photograph: Photograph = field(repr=False)
    how: How
    corners: Corners
    canvas: Canvas | None
    proportion: float | None

    @property
    def cropped(self) -> bool:
        """Whether what is judged is not the whole file."""
        return self.how in ("found", "given")


def painting_of(
    photograph: Photograph, *, corners: Corners | None = None, whole: bool = False, size: Size | None = None
) -> Painting:
    """Find the painting in a photograph and crop to it.

    Parameters
    ----------
    corners : given ones overrule what would be found.
    whole : judge the whole file; nothing is looked for.
    size : the canvas's own, for its true proportion.

    Notes
    -----
    A file that is all painting comes back as the very object that was given, so its findings stay the same to the byte.
    """
    if whole:
        return Painting(photograph, "asked whole", ALL, None, None)
    if corners is not None:
        return _cropped(photograph, "given", corners, None, size)
    canvas = find_canvas(photograph.light)
    if canvas.whole or not canvas.sure:
        return Painting(photograph, "whole" if canvas.whole else "unsure", ALL, canvas, None)
    return _cropped(photograph, "found", canvas.corners, canvas, size)


def _cropped(photograph: Photograph, how: How, corners: Corners, canvas: Canvas | None, size: Size | None) -> Painting:
    height, width, _ = photograph.light.shape
    shape = proportion(corners, photograph.original_width, photograph.original_height, size, photograph.file)
    wide, high = straightened_size(corners, photograph.original_width, photograph.original_height, shape)
    light = _light(photograph.light, corners, straightened_size(corners, width, height, shape))
    part = replace(photograph, light=light, original_width=wide, original_height=high)
    return Painting(part, how, corners, canvas, shape)


def _light(light: Float, corners: Corners, size: tuple[int, int]) -> Float:
    return straightened(light, corners, size)
