"""Where the greens lie, and which of them no leaf could be."""

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from critique.measures.greens import Greens
from critique.perception.hue import YELLOW_GREEN, leaf_limit
from critique.perception.srgb import Codes
from critique.picture.picture import Picture
from critique.report.plates.photograph import greys_of, in_colour, resized
from critique.report.plates.plate import Plate
from critique.words.figures import percent

if TYPE_CHECKING:
    from PIL import Image

HATCH_STEP = 15.0  # px between the lines of the hatch
HATCH_LINE = 2.2  # px
LIGHT_LINE, DARK_LINE = 252, 24  # sRGB codes
LIGHT_GREEN = 165  # sRGB code of the middle grey above which a light line would be lost and a dark one is drawn
HATCHED = 0.4  # share of the neighbourhood beyond the limit from which on it is hatched: no confetti
NEIGHBOURHOOD = 6  # px to each side
OUTLINE = 0.8  # how dark the line around the hatch is, 0–1


def greens_plate(picture: Picture, greens: Greens) -> Plate:
    """The picture in greys with its yellow-greens in colour; those beyond the leaf limit are hatched and outlined."""
    from PIL import Image

    lab, shown = picture.lab, in_colour(picture)
    size = shown.shape[1], shown.shape[0]
    greys = greys_of(shown)
    inside = YELLOW_GREEN.contains(lab)
    # Where is told at the viewing size, what is shown there keeps the sharpness of the plate.
    part = Image.fromarray(resized(inside.astype(np.uint8) * 255, size))
    image = Image.composite(Image.fromarray(shown), Image.fromarray(greys).convert("RGB"), part)
    beyond = inside & (np.hypot(lab[..., 1], lab[..., 2]) > leaf_limit(lab[..., 0]))
    marked = False
    if beyond.any():
        where = gathered(beyond, size)
        marked = bool(where.any())
        if marked:
            _hatch(image, where, greys)
    return Plate("greens", image, _alt(greens), _caption(greens, marked))


def gathered(mask: NDArray[np.bool_], size: tuple[int, int]) -> NDArray[np.bool_]:
    """The mask (height, width) at plate size, without specks and pinholes."""
    from PIL import Image, ImageFilter

    image = Image.fromarray(mask.astype(np.uint8) * 255).resize(size, Image.Resampling.BILINEAR)
    for _ in range(2):
        image = image.filter(ImageFilter.BoxBlur(NEIGHBOURHOOD))
    return np.asarray(image) > HATCHED * 255


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


def _alt(greens: Greens) -> str:
    if greens.area_share == 0:
        return "The picture in greys: no yellow-green in it."
    return (
        f"The picture in greys with its yellow-greens left in colour: {percent(greens.area_share)} of the area, "
        f"{percent(greens.beyond_leaf_share)} hatched as beyond the leaf limit."
    )


def _caption(greens: Greens, marked: bool) -> str:
    if greens.area_share == 0:
        return "Where the greens lie. There is no yellow-green in this picture."
    if greens.beyond_leaf_share == 0:
        return "Where the greens lie; all else is in greys. None of them goes beyond the leaf limit."
    if not marked:
        return (
            "Where the greens lie; all else is in greys. Only specks of them go beyond the leaf limit, too few to mark."
        )
    return "Where the greens lie; all else is in greys. Hatched: greener than a leaf lit from the front can be."
