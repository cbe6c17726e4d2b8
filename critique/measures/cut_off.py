"""Is something even, with a hard border and unlike all beside it, cut off by an edge of the picture?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.salience import Float
from critique.perception.channels import over_channels

# What stands across an edge is compared with what a blur leaves around it, and a large thing at an edge fills its own
# surround: the larger it is, the less it seems to differ. So it is also looked for by its border.
EVEN = 3.0  # ΔE*ab from a pixel to the next, at 400 px: more, and another photograph joins or parts strokes of a master
AT_EDGE = 3  # px: so near to an edge it is cut by it
LEAST, MOST = 0.0008, 0.08  # of the picture: smaller is a brush mark, larger is sky or ground
BESIDE = (3, 5)  # px beyond its border: what it is unlike, past the softness of the edge itself
ALMOST_ALL = 15  # percentile of how far what lies beside it differs: a cloud, a bank or a crown melts somewhere
FEWEST = 6  # px beside it, to be compared
# A small shape of a colour that the picture is full of is a gap in a cloud or in a hedge, and pulls nobody out: of the
# picture below which a shape is small, ΔE*ab within which a colour is the same, and how much of the picture has it.
SMALL, SAME, FULL_OF_IT = 0.003, 12.0, 0.14
AWAY = 8  # px from the shape where that is counted


@dataclass(frozen=True, slots=True)
class CutOff:
    """The even shape at an edge that is most unlike what lies beside it, by how many ΔE*ab; its middle is 0–1.

    ``share`` is its part of the picture, 0–1.
    """

    x: float
    y: float
    apart: float
    share: float
    sides: tuple[str, ...]  # of the picture that it touches


def cut_off(lab: Float) -> CutOff | None:
    """Find it in a picture of about 400 px, ``lab`` (height, width, 3) CIELAB; None where nothing even lies there."""
    from scipy.ndimage import find_objects, label

    height, width = lab.shape[:2]
    pieces, number = label(_steps(lab) < EVEN)
    share = np.bincount(pieces.ravel(), minlength=number + 1) / pieces.size
    deep = AT_EDGE
    borders = {"left": pieces[:, :deep], "right": pieces[:, -deep:], "top": pieces[:deep], "bottom": pieces[-deep:]}
    touching = {side: set(np.unique(border).tolist()) - {0} for side, border in borders.items()}
    asked = [piece for piece in sorted(set().union(*touching.values())) if LEAST <= share[piece] <= MOST]
    place = np.zeros(number + 1, dtype=np.intp)  # of each among those: the boxes of all the specks are not asked for
    place[asked] = np.arange(1, len(asked) + 1)
    found = None
    for piece, box in zip(asked, find_objects(place[pieces], len(asked)), strict=True):
        (top, left), near = _about(box)
        mask = pieces[near] == piece
        apart = _apart(lab[near], mask)
        if found is not None and apart <= found.apart:
            continue
        if share[piece] >= SMALL or not _full_of_it(lab, pieces == piece):
            y, x = np.nonzero(mask)
            middle = ((x.mean() + left + 0.5) / width, (y.mean() + top + 0.5) / height)
            sides = tuple(side for side in borders if piece in touching[side])
            found = CutOff(float(middle[0]), float(middle[1]), apart, float(share[piece]), sides)
    return found


def _steps(lab: Float) -> Float:
    """The larger step of colour from each pixel to any of its four neighbours, in ΔE*ab."""
    down, across = (np.sqrt(over_channels(np.square(np.diff(lab, axis=axis)))) for axis in (0, 1))
    steps = np.zeros(lab.shape[:2], dtype=np.float32)
    for at, step in ((np.s_[:-1], down), (np.s_[1:], down), (np.s_[:, :-1], across), (np.s_[:, 1:], across)):
        steps[at] = np.maximum(steps[at], step)
    return steps


def _full_of_it(lab: Float, mask: NDArray[np.bool_]) -> bool:
    """Whether much of the picture away from a shape has its colour."""
    from scipy.ndimage import binary_dilation

    same = over_channels(np.square(lab - np.median(lab[mask], axis=0))) <= SAME**2
    away = ~binary_dilation(mask, iterations=AWAY)
    return float((same & away).mean()) >= FULL_OF_IT


def _about(box: tuple[slice, slice]) -> tuple[tuple[int, int], tuple[slice, slice]]:
    """A box widened by what is looked at beside it, with its first row and column."""
    off = BESIDE[1] + 2
    top, left = max(0, box[0].start - off), max(0, box[1].start - off)
    return (top, left), np.s_[top : box[0].stop + off, left : box[1].stop + off]


def _apart(lab: Float, mask: NDArray[np.bool_]) -> float:
    """How far almost all that lies beside a shape differs from it."""
    from scipy.ndimage import binary_dilation

    within, beyond = (binary_dilation(mask, iterations=reach) for reach in BESIDE)
    beside = lab[beyond & ~within]
    if len(beside) < FEWEST:
        return 0.0
    return float(np.percentile(np.sqrt(over_channels(np.square(beside - np.median(lab[mask], axis=0)))), ALMOST_ALL))
