"""Do things of one size and shape stand in a row, at one spacing?"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import reduce

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.figure import OWN, PULL, Figure, rounded
from critique.measures.row_followed import follow_row
from critique.measures.smoothing import Float, planes_of
from critique.photograph.scale import area_average
from critique.picture.picture import Picture, lab_at

# px of the long edge: at one of them the spacing is 9 to 12 px, so that one window serves for things of every size
# between 0.07 and 0.22 of the long edge apart. What stands closer is grass, windows and the arches of a far bridge.
LONG_EDGES = (128, 96, 72, 54)
SPACINGS = (9, 10, 11, 12)  # px
WINDOW = 9  # px, up and down and across: what is held against the next is a thing with some of the gap beside it
# px across: what is lighter or darker over more than one spacing is what lies behind, so is an edge that runs level.
TREND = 11
STILL = 2.0  # L*, a* and b*, as one distance: what varies by less in a window is no thing
ASIDE = 1  # px by which the next one may stand farther, nearer, higher or lower: a tenth of the spacing
THINGS = 6  # of 76 paintings, five in a row are as like as planted ones in one (0.5); six in none
# Things so far apart, a sixth of the width and more, needn't be six for a row to be seen. Of 76 paintings four are
# alike by 0.49 at most, of 130 photographs passed through a brush three by more than 0.63: trees, trees and clouds of
# 0.82 and more, and readers of all three named the row. Four in a wood drawn smooth come to 0.79: they count for less.
FEW, FAR_APART, FEW_COUNT_LESS = 4, (54, 40), 0.22
GOES_ON = 0.5  # likeness of two neighbours, from which a row goes on beyond its six likest


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class LikeRow:
    """The six things of a row that are likest each other, or the four where they stand far apart.

    ``likeness`` is the correlation of the two neighbours among them that are least alike, in L*, a* and b*: 1 where all
    are the same again, about 0.3 where nothing stands in a row, less by a constant for four. ``things`` is how many
    stand in it, ``spacing`` how far the next one stands (of the picture's width), ``x`` and ``y`` (0–1) the middle of
    them, ``mask`` (height, width) a box about each.
    """

    likeness: float
    things: int
    spacing: float
    x: float
    y: float
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)


def measure_like_row(picture: Picture) -> LikeRow:
    """Measure how like each other neighbours at one spacing are, of all rows that run level or nearly.

    Notes
    -----
    Normalised cross-correlation of each window with the one that stands a spacing farther, the colours that a place has
    in common with what lies to both sides taken off first.
    """
    largest = lab_at(picture, LONG_EDGES[0])
    best = LikeRow(0.0, 0, 0.0, 0.5, 0.5, np.zeros((1, 1), dtype=np.bool_))
    for long_edge in sorted({*LONG_EDGES, *FAR_APART}, reverse=True):
        lab = area_average(largest, long_edge)
        numbers = [(THINGS, 0.0)] * (long_edge in LONG_EDGES) + [(FEW, FEW_COUNT_LESS)] * (long_edge in FAR_APART)
        height, width = lab.shape[:2]
        if height < WINDOW or width <= (min(things for things, _ in numbers) - 1) * SPACINGS[0]:
            continue
        for neighbours, spacing, lower in _neighbours(lab):
            for things, less in numbers:
                likest = _likest(neighbours, things, spacing, lower) - np.float32(less)
                if likest.max(initial=0.0) > best.likeness:
                    best = _row(neighbours, likest, things, spacing, lower)
    if best.likeness <= GOES_ON:
        return best
    row = follow_row(picture, spacing=best.spacing, x=best.x, y=best.y)
    if row is None:
        return best
    likeness = best.likeness if row.things >= FEW else min(best.likeness, GOES_ON)  # fewer stand in no row
    return replace(best, likeness=likeness, things=row.things, spacing=row.spacing, mask=row.mask)


def _neighbours(lab: Float) -> Iterator[tuple[Float, int, int]]:
    """How like the window about each place (height, width) is to the next, with the spacing and its fall."""
    from scipy.ndimage import uniform_filter, uniform_filter1d

    planes = planes_of(lab)
    planes = planes - uniform_filter1d(planes, TREND, axis=2, mode="nearest")
    height, width = planes.shape[1:]
    strength = uniform_filter(np.einsum("kyx,kyx->yx", planes, planes), WINDOW, mode="constant") + np.float32(STILL**2)
    spacings = range(SPACINGS[0] - ASIDE, min(SPACINGS[-1] + ASIDE + 1, width))
    like = np.zeros((3, len(spacings), height, width), dtype=np.float32)
    for row, down in enumerate((-1, 0, 1)):
        here, there = slice(max(0, -down), height - max(0, down)), slice(max(0, down), height + min(0, down))
        for column, spacing in enumerate(spacings):
            left, right = (..., here, slice(width - spacing)), (..., there, slice(spacing, width))
            products = uniform_filter(
                np.einsum("kyx,kyx->yx", planes[left], planes[right]), WINDOW, mode="constant", output=np.float32
            )
            like[row, column][left] = products / np.sqrt(strength[left] * strength[right])
    for lower in (-1, 0, 1):
        rows = slice(max(0, lower), min(3, lower + 3))  # one px higher or lower than the row runs
        for column, spacing in enumerate(SPACINGS):
            yield like[rows, column : column + 2 * ASIDE + 1].max(axis=(0, 1)), spacing, lower


def _likest(neighbours: Float, things: int, spacing: int, lower: int) -> Float:
    """Of so many things from each place on, the likeness of the two neighbours that are least alike (height, width)."""
    height, width = neighbours.shape
    links = things - 1
    columns, fall = width - (links - 1) * spacing, (links - 1) * lower
    if columns <= 0 or abs(fall) >= height:
        return np.zeros((0, 0), dtype=np.float32)
    first, rows = max(0, -fall), height - abs(fall)
    parts = (
        neighbours[first + k * lower : first + k * lower + rows, k * spacing : k * spacing + columns]
        for k in range(links)
    )
    likest = np.zeros((height, columns), dtype=np.float32)
    likest[first : first + rows] = reduce(np.minimum, parts)
    return likest


def _row(neighbours: Float, likest: Float, things: int, spacing: int, lower: int) -> LikeRow:
    """The row with so many of this spacing in it that are ``likest``, and all that goes on with them."""
    from scipy.ndimage import maximum_filter

    height, width = neighbours.shape
    likeness = float(likest.max())
    y, x = np.unravel_index(int(likest.argmax()), likest.shape)
    last = things - 1
    before = _goes_on(neighbours, int(y), int(x), -spacing, -lower)
    beyond = _goes_on(neighbours, int(y) + last * lower, int(x) + last * spacing, spacing, lower)
    marks = np.zeros((height, width), dtype=np.bool_)
    for k in range(-before, things + beyond):
        if 0 <= y + k * lower < height and 0 <= x + k * spacing < width:
            marks[y + k * lower, x + k * spacing] = True
    return LikeRow(
        likeness=likeness,
        things=before + things + beyond,
        spacing=spacing / width,
        x=float((x + last / 2 * spacing + 0.5) / width),
        y=float((y + last / 2 * lower + 0.5) / height),
        mask=np.asarray(maximum_filter(marks, WINDOW)),
    )


def _goes_on(neighbours: Float, y: int, x: int, step: int, lower: int) -> int:
    """How many more stand like that beyond the six, to the right or, by a step below nothing, to the left.

    ``y`` and ``x`` are of the last of the six on that side.
    """
    height, width = neighbours.shape
    more = 0
    while True:
        # How like the next one to the right is is kept at the left one of the two.
        row, column = (
            (y + more * lower, x + more * step) if step > 0 else (y + (more + 1) * lower, x + (more + 1) * step)
        )
        if not (0 <= row < height and 0 <= column < width and neighbours[row, column] > GOES_ON):
            return more
        more += 1


FIGURES = (
    Figure(
        name="like_row.likeness",
        label="Like things in a row",
        meaning="how like each other neighbours in a row are, at one spacing",
        definition="Least correlation of neighbours, in L*, a* and b*, among six windows at one spacing (1: the same), "
        f"or less {FEW_COUNT_LESS:.2f} among four that stand a sixth of the width apart and more.",
        source=OWN,
        show=rounded(2),
        worth=PULL,
        jumps=True,
    ),
)
