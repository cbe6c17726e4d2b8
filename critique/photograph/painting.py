"""The painting in a photograph: found or given, cropped and seen square on, or the whole file left as it is."""

from dataclasses import dataclass, field, replace
from typing import Literal

from critique.perception.srgb import Float
from critique.photograph.canvas import Canvas, find_canvas
from critique.photograph.canvas_other import Other, other_canvas
from critique.photograph.corners import ALL, Corners, checked_corners
from critique.photograph.fitness import Fitness, fitness_of
from critique.photograph.light_asked import NOTHING_ASKED, LightAsked
from critique.photograph.photograph import Photograph
from critique.photograph.proportions import Size, proportion
from critique.photograph.reference_places import is_chart, laid_over, without_reference
from critique.photograph.righting import Lighting, Righting, righting_of
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
    righting: Righting | None = None  # what was done about the light; None where nothing was asked nor seen
    fitness: tuple[Fitness, ...] = ()  # what the camera did, told by the light as it was photographed
    other: Other | None = None  # a picture that hangs beside the canvas that was found

    @property
    def lighting(self) -> Lighting | None:
        """What was done about the light, for the record."""
        return None if self.righting is None else self.righting.told

    @property
    def cropped(self) -> bool:
        """Whether what is judged is not the whole file."""
        return self.how in ("found", "given")


def painting_of(
    photograph: Photograph,
    *,
    corners: Corners | None = None,
    whole: bool = False,
    size: Size | None = None,
    light: LightAsked = NOTHING_ASKED,
) -> Painting:
    """Find the painting in a photograph and crop to it.

    Parameters
    ----------
    corners : given ones overrule what would be found.
    whole : judge the whole file; nothing is looked for.
    size : the canvas's own, for its true proportion.
    light : by what the light is put right.

    Raises
    ------
    CritiqueError
        One line, when the corners that are given can't be a canvas's.

    Notes
    -----
    A file that is all painting comes back as the very object that was given, so its findings stay the same to the byte.
    """
    if whole:
        return _uncropped(photograph, "asked whole", None, light)
    if corners is not None:
        return _cropped(photograph, "given", checked_corners(corners, photograph.file), None, size, light)
    searched = without_reference(photograph.light, light)
    canvas = canvas_in(searched)
    if canvas.whole:
        return _uncropped(photograph, "whole", canvas, light)
    if canvas.sure:
        painting = _cropped(photograph, "found", canvas.corners, canvas, size, light)
    else:
        painting = _uncropped(photograph, "unsure", canvas, light)
    return replace(painting, other=other_canvas(searched, canvas))


def canvas_in(light: Float) -> Canvas:
    """The canvas in a photograph; a chart that nobody named isn't one."""
    canvas = find_canvas(light)
    if canvas.whole or not is_chart(light, canvas.corners):
        return canvas
    return find_canvas(laid_over(light, canvas.corners))


def in_proportion(photograph: Photograph, found: Painting, size: Size, light: LightAsked = NOTHING_ASKED) -> Painting:
    """A painting that was cropped out of a photograph, in the true proportion of its size."""
    return replace(_cropped(photograph, found.how, found.corners, found.canvas, size, light), other=found.other)


def _uncropped(photograph: Photograph, how: How, canvas: Canvas | None, asked: LightAsked) -> Painting:
    fitness = _fitness(photograph.light, photograph, None, surround=how == "unsure")
    if not (asked.referenced or asked.even):
        return Painting(photograph, how, ALL, canvas, None, fitness=fitness)
    righting = righting_of(photograph.light, asked, None)
    if righting.balance is not None:
        photograph = replace(photograph, light=righting.on_photograph(photograph.light))
    return Painting(photograph, how, ALL, canvas, None, righting, fitness)


def _cropped(
    photograph: Photograph, how: How, corners: Corners, canvas: Canvas | None, size: Size | None, asked: LightAsked
) -> Painting:
    height, width, _ = photograph.light.shape
    stored = photograph.original_width, photograph.original_height
    shape = proportion(corners, *stored, size, photograph.file, focal=photograph.focal)
    wide, high = straightened_size(corners, *stored, shape)
    righting = righting_of(photograph.light, asked, corners)
    light = straightened(photograph.light, corners, straightened_size(corners, width, height, shape))
    part = replace(photograph, light=light, original_width=wide, original_height=high, focal=None)
    fitness = _fitness(light, part, righting.told)
    part = replace(part, light=righting.on_canvas(light, corners))
    return Painting(part, how, corners, canvas, shape, righting, fitness)


def _fitness(
    light: Float, photograph: Photograph, lighting: Lighting | None, *, surround: bool = False
) -> tuple[Fitness, ...]:
    long_edge = max(photograph.original_width, photograph.original_height)
    left = lighting is not None and lighting.likely and lighting.evened not in ("evened", "evened by a guess")
    falloff = lighting.falloff if lighting is not None and left else None
    cropped, sure = lighting is not None, lighting is not None and lighting.one_wall
    return fitness_of(light, long_edge=long_edge, straightened=cropped, surround=surround, falloff=falloff, sure=sure)
