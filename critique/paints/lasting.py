"""Recipes in which nothing is let down with white that fades there, wherever other tubes do nearly as well."""

from collections.abc import Callable, Collection
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.paints.box import FEWEST_PAINTS, PaintBox
from critique.paints.fading import fades_there, white_among
from critique.paints.recipes import Recipe

LASTING_COSTS = 2.0  # ΔE00 farther off that a tint may be for it to last: just seen side by side; our choice
PALE = 60.0  # L* of a colour that is mostly white: makers rate tints of L* 69 [ASTM D4303, from memory]; our choice

Make = Callable[[NDArray[np.float64], PaintBox], list[Recipe]]


def lasting_recipes(targets: ArrayLike, box: PaintBox, make: Make, sparing: Collection[int] = ()) -> list[Recipe]:
    """The recipes that ``make`` gives for colours (n, 3), those whose tint would fade from the rest of the box.

    ``sparing`` are rows, such as skies, that do without what fades in pale tints however much of it they would hold.
    """
    aims = np.asarray(targets, dtype=np.float64)
    found = make(aims, box)
    last = tuple(paint for paint in box.paints if not paint.fades_pale)
    if len(last) < FEWEST_PAINTS or len(last) == len(box.paints):
        return found
    fading = [row for row, one in enumerate(found) if tint_fades(one) or (row in sparing and holds_fading(one))]
    if fading:
        for row, other in zip(fading, make(aims[fading], replace(box, paints=last)), strict=True):
            if other.error <= found[row].error + LASTING_COSTS:
                found[row] = other
    return found


def tubes_for(one: Recipe, box: PaintBox, *, sparing: bool = False) -> PaintBox:
    """Of a box, what a recipe may be changed with: nothing that fades, where it is a pale one, or a sky's, without."""
    if (sparing or one.target_lab[0] >= PALE) and not holds_fading(one):
        return replace(box, paints=tuple(paint for paint in box.paints if not paint.fades_pale))
    return box


def tint_fades(one: Recipe) -> bool:
    """Whether it holds a paint that fades as it is let down there, though not by itself."""
    shares = [part.share for part in one.parts]
    white = white_among(one.paints, shares)
    mixed = zip(one.paints, shares, strict=True)
    return any(fades_there(paint, share, white) for paint, share in mixed if not paint.fades)


def holds_fading(one: Recipe) -> bool:
    """Whether any of its paints fades in pale tints."""
    return any(paint.fades_pale for paint in one.paints)


def pale_costs(aims: NDArray[np.floating], sets: ArrayLike, box: PaintBox) -> NDArray[np.float32]:
    """ΔE00 (sets, colours) that a set of paints, by number, costs a pale colour for holding what fades in its tints."""
    fades = np.array([paint.fades_pale for paint in box.with_white])
    held = np.asarray(fades[np.asarray(sets, dtype=np.intp)].any(axis=1))
    return (LASTING_COSTS * held[:, None] * (np.asarray(aims)[:, 0] >= PALE)[None]).astype(np.float32)
