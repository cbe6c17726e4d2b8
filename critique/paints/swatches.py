"""How swatches that a painter gives in words, figures or a photograph become the dabs of a paint."""

from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike

from critique.errors import PaintError
from critique.paints.box_file import Mixed, OwnPaint
from critique.paints.catalogue import titanium_white
from critique.paints.dabs import USUAL_WHITE_PARTS, Dab, dabs_from_photograph
from critique.perception.cielab import as_three, srgb8_to_lab

Numbers = tuple[float, ...]
Reader = Callable[[Path], ArrayLike]


def numbers_of(text: str, count: int) -> Numbers:
    """So many numbers out of "0.2, 0.5"; ValueError otherwise."""
    try:
        found = tuple(float(part) for part in text.replace("−", "-").split(","))
    except ValueError:
        found = ()
    if len(found) != count:
        shown = "L,a,b or '#rrggbb'" if count == 3 else "x,y from 0 to 1"
        raise ValueError(f"{text!r} is not {shown}")
    return found


def colour_of(text: str) -> Numbers:
    """L*, a*, b* out of "24,-14,10" or "#283e2a"; ValueError otherwise."""
    digits = text.strip().lstrip("#")
    if text.strip().startswith("#") and len(digits) == 6:
        try:
            codes = np.frombuffer(bytes.fromhex(digits), dtype=np.uint8)
        except ValueError:
            raise ValueError(f"{text!r} is not L,a,b or '#rrggbb'") from None
        return tuple(float(value) for value in srgb8_to_lab(codes))
    return numbers_of(text, 3)


def mixed_of(text: str) -> Mixed:
    """A mixture out of "3:1 white 38,-20,13": parts of the paint, of what, and the colour; ValueError otherwise."""
    pieces = text.split()
    try:
        parts, other_parts = (float(part) for part in pieces[0].split(":"))
        lab = as_three(colour_of(pieces[-1]))
    except (ValueError, IndexError):
        raise ValueError(f"{text!r} is not such as '3:1 white 38,-20,13'") from None
    if len(pieces) < 3 or min(parts, other_parts) <= 0:
        raise ValueError(f"{text!r} is not such as '3:1 white 38,-20,13'")
    return Mixed(parts, " ".join(pieces[1:-1]), other_parts, lab)


def own_paint(
    name: str,
    masstone: Numbers | None = None,
    tint: Numbers | None = None,
    white_parts: float = USUAL_WHITE_PARTS,
    third: Numbers | None = None,
    third_white_parts: float | None = None,
    photo: Path | None = None,
    masstone_at: Numbers | None = None,
    tint_at: Numbers | None = None,
    white_at: Numbers | None = None,
    pigment: str = "",
    colour_index: str = "",
    opacity: str = "",
    hazard: str = "",
    mixed: Sequence[Mixed] = (),
    read: Reader | None = None,
) -> OwnPaint:
    """A painter's own paint from two colours, or from two spots and white marked in a photograph.

    Colours are L*, a*, b*; spots are x, y in fractions from the top left. ``read`` gives the Lab (height, width, 3) of
    a photograph: paint knows no pictures.

    Raises
    ------
    PaintError
        When there are not two dabs, or some are given both ways.
    UnreadablePicture
        When the photograph can't be read.
    """
    spots = (masstone_at, tint_at, white_at)
    if photo is None and any(spot is not None for spot in spots):
        raise PaintError(f"{name}: spots are marked but there is no photograph", mend="swatch_photograph")
    if photo is not None:
        if masstone is not None or tint is not None:
            raise PaintError(f"{name}: give its dabs as colours or in a photograph, not both")
        dabs = _photographed(name, photo, spots, white_parts, read)
    else:
        dabs = _measured(name, masstone, tint, white_parts)
    if third is not None:
        if third_white_parts is None:
            raise PaintError(f"{name}: say how much white the third dab holds", mend="third_white")
        dabs.append(Dab(as_three(third), third_white_parts))
    return OwnPaint(name, tuple(dabs), pigment, colour_index, opacity, hazard, tuple(mixed))


def _measured(name: str, masstone: Numbers | None, tint: Numbers | None, white_parts: float) -> list[Dab]:
    if masstone is None or tint is None:
        missing = "masstone" if masstone is None else "tint"
        raise PaintError(f"{name}: its {missing} is missing", mend="swatch_dabs")
    return [Dab(as_three(masstone)), Dab(as_three(tint), white_parts)]


def _photographed(
    name: str,
    photo: Path,
    spots: tuple[Numbers | None, ...],
    white_parts: float,
    read: Reader | None,
) -> list[Dab]:
    if any(spot is None for spot in spots):
        raise PaintError(f"{name}: mark three spots in the photograph", mend="swatch_spots")
    masstone, tint, white = ((spot[0], spot[1]) for spot in spots if spot is not None)
    if read is None:
        raise PaintError(f"{name}: a photograph is given and no way to read it")
    return dabs_from_photograph(read(photo), masstone, tint, white, titanium_white(), white_parts)
