"""Where the greens lie, and which of them no leaf could be."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from critique.advice.finding import Finding
from critique.advice.green_strength import RAW_WATCH, beyond_any_leaf
from critique.advice.kinds_green import GREEN_STRENGTH
from critique.measures.land_greens import MAP_LONG_EDGE, far_beyond_leaf, land_greens, raw_land_greens
from critique.measures.measure import Measures
from critique.perception.hue import YELLOW_GREEN
from critique.perception.srgb import Codes
from critique.picture.picture import Picture, lab_at
from critique.report.plates.photograph import greys_of, in_colour, resized
from critique.report.plates.plate import Plate
from critique.words.figures import percent

if TYPE_CHECKING:
    from PIL import Image

HATCH_STEP = 15.0  # px between the lines of the hatch
HATCH_LINE = 2.2  # px
LIGHT_LINE, DARK_LINE = 252, 24  # sRGB codes
LIGHT_GREEN = 165  # sRGB code of the middle grey above which a light line would be lost and a dark one is drawn
HATCHED = 0.2  # share of the neighbourhood beyond the limit, below which it is specks and no place: no confetti
NEIGHBOURHOOD = 6  # px of the plate to each side
# To where a blue begins: a bank stood in greys beside the words that it is mostly blue-green.
COOL_TOO = replace(YELLOW_GREEN, name="greens of grass and foliage", end=220.0)
OUTLINE = 0.8  # how dark the line around the hatch is, 0–1


def greens_plate(
    picture: Picture, measures: Measures | None = None, findings: Iterable[Finding] | None = None
) -> Plate:
    """The picture in greys with its yellow-greens in colour; what the finding calls too strong is hatched.

    The hatch covers as much as the finding counts; where none of ``findings`` tells of their strength, of greens in the
    shade or among reds, nothing is hatched. Where it is measured a sky that is sure stays grey, and a field of raw
    green that is bluer than leaves is shown with the others, as is what of grass and foliage is a cool green.
    """
    from PIL import Image

    lab, shown = picture.lab, in_colour(picture)
    parts = measures.parts if measures is not None else None
    size = shown.shape[1], shown.shape[0]
    greys = greys_of(shown)
    inside = land_greens(lab, parts) if parts is not None else YELLOW_GREEN.contains(lab)
    if measures is not None:
        inside = inside | (COOL_TOO.contains(lab) & measures.reads_as_green.where(lab.shape))
    view = lab_at(picture, MAP_LONG_EDGE)
    beyond = beyond_any_leaf(view, measures) if measures is not None else far_beyond_leaf(view)
    bluer = False
    if parts is not None:
        raw = raw_land_greens(view, parts)
        bluer = float(raw.mean()) >= RAW_WATCH
        if bluer:
            inside, beyond = inside | raw_land_greens(lab, parts), beyond | raw
    # Where is told at the viewing size, what is shown there keeps the sharpness of the plate.
    part = Image.fromarray(resized(inside.astype(np.uint8) * 255, size))
    image = Image.composite(Image.fromarray(shown), Image.fromarray(greys).convert("RGB"), part)
    told = findings is None or any(finding.kind == GREEN_STRENGTH.id for finding in findings)
    marked = False
    if beyond.any() and told:
        where = gathered(beyond, size)
        marked = bool(where.any())
        if marked:
            _hatch(image, where, greys)
    share, strong = float(inside.mean()), float(beyond.mean())
    return Plate("greens", image, _alt(share, strong, told), _caption(share, strong if told else None, marked, bluer))


def gathered(mask: NDArray[np.bool_], size: tuple[int, int]) -> NDArray[np.bool_]:
    """Where a mask (height, width) gathers, at plate size: as much of the picture as it covers, less its specks."""
    from PIL import Image, ImageFilter

    image = Image.fromarray(mask.astype(np.uint8) * 255)
    for _ in range(2):
        image = image.filter(ImageFilter.BoxBlur(NEIGHBOURHOOD * max(image.size) / max(size)))
    image = image.resize(size, Image.Resampling.BILINEAR)
    dense = np.asarray(image)
    below = np.cumsum(image.histogram())  # of codes: no need to sort a million of them
    least = np.searchsorted(below, np.ceil((1 - float(mask.mean())) * (dense.size - 1)), side="right")
    return np.asarray((dense >= max(float(least), 1.0)) & (dense > HATCHED * 255))


def _hatch(image: "Image.Image", where: NDArray[np.bool_], greys: Codes) -> None:
    """Draw a slanting hatch and an outline ``where`` (height, width) on an image."""
    from PIL import Image

    light_greens = np.median(greys[where]) > LIGHT_GREEN
    line = DARK_LINE if light_greens else LIGHT_LINE  # one tone a plate: two of them flicker
    inked = np.where(where, _slanting(where.shape), np.uint8(0))
    image.paste((line, line, line), mask=Image.fromarray(inked))
    outline = outlined(where).astype(np.uint8) * np.uint8(round(255 * OUTLINE))
    image.paste((DARK_LINE, DARK_LINE, DARK_LINE), mask=Image.fromarray(outline))


def _slanting(shape: tuple[int, ...]) -> NDArray[np.uint8]:
    """How much of each pixel the slanting lines cover, 0–255: the same for all whose row and column add up alike."""
    height, width = shape
    across = np.arange(height + width, dtype=np.float32) / np.float32(2**0.5)
    from_line = np.abs(across % HATCH_STEP - HATCH_STEP / 2)
    covered = np.rint(np.clip(HATCH_LINE / 2 + 0.5 - from_line, 0, 1) * 255).astype(np.uint8)
    return np.lib.stride_tricks.sliding_window_view(covered, width)[:height]


def outlined(where: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """The pixels of a mask that touch what is outside of it, two px deep."""
    kept = np.pad(where, 2, mode="edge")
    height, width = where.shape
    inner = where.copy()
    for down, right in ((0, 2), (4, 2), (2, 0), (2, 4), (1, 1), (1, 3), (3, 1), (3, 3)):
        inner &= kept[down : down + height, right : right + width]
    return np.asarray(where & ~inner)


def _alt(share: float, strong: float, told: bool) -> str:
    if share == 0:
        return "The picture in greys: no yellow-green in it."
    if not told:
        return f"The picture in greys with its greens left in colour: {percent(share)} of the area."
    return (
        f"The picture in greys with its greens left in colour: {percent(share)} of the area, "
        f"{percent(strong)} hatched as well beyond any leaf."
    )


def _caption(share: float, strong: float | None, marked: bool, bluer: bool) -> str:
    """What is told of these shares of the picture; ``strong`` is None where nothing is said of their strength."""
    if share == 0:
        return "Where the greens lie. There is no yellow-green in this picture."
    if strong is None:
        return "Where the greens lie; all else is in greys."
    if strong == 0:
        return "Where the greens lie; all else is in greys. None of them goes beyond what leaves can be."
    if not marked:
        return "Where the greens lie; all else is in greys. Only specks of them go beyond any leaf, too few to mark."
    than = "stronger or bluer than any leaf" if bluer else "stronger than any leaf lit from the front"
    return f"Where the greens lie; all else is in greys. Hatched: {than}."
