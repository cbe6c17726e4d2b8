"""Did a repaint change in small patches all over, which no one place tells?"""

import numpy as np

from critique.pair.change_maps import VALUE_STEP, ChangeMaps
from critique.words.figures import percent

# Of the picture that changed its value in no place large enough to be told; a careful repaint stays below.
PATCHES = 0.04
EACH_WAY = 0.25  # of that: lighter patches and darker ones
CELLS, TOUCHED = 4, 0.7  # cells along each side; part of them in which some of it lies: then it is all over
SOME = 0.01  # of a cell


def share_in_patches(maps: ChangeMaps) -> float:
    """How much of the picture, 0–1, came out lighter and darker in small patches all over; 0 where it didn't."""
    told = np.zeros(maps.value.shape, dtype=bool)
    for place in maps.places:
        if place.kind == "value":
            told |= place.mask
    for thing in maps.things:
        told |= thing.mask
    if told.all():
        return 0.0
    off = maps.value - np.median(maps.value[~told])  # what all of it moved is light, or a step of the whole
    lighter, darker = ((sign * off >= VALUE_STEP) & ~told for sign in (1, -1))
    ways = float(lighter.mean()), float(darker.mean())
    share = sum(ways)
    if share < PATCHES or min(ways) < EACH_WAY * share or not _all_over(lighter | darker):
        return 0.0
    return share


def patches_in_words(share: float) -> str:
    """That so much of the picture did, and what to look for."""
    return (
        f"All over it small patches came out lighter and darker than they were ({percent(share)} of the picture): "
        "squint, and see whether its big shapes still hold together."
    )


def _all_over(mask: np.ndarray) -> bool:
    rows = np.array_split(mask, CELLS, axis=0)
    cells = [cell for row in rows for cell in np.array_split(row, CELLS, axis=1)]
    return float(np.mean([cell.mean() >= SOME for cell in cells])) >= TOUCHED
