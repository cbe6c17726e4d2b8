"""Which plainly named area of a picture does a shape fill?"""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

CELLS = 24  # along each side: areas are told by halves and thirds, and a cell is a twelfth of a half
LIKE = 0.42  # of what a shape and an area cover together, that both cover: with less no area names it; chosen by eye
FILLED = 0.1  # of each third of an area's height and width, that a shape told by it covers: its words claim them all
# Of each third of the height of "two thirds", where that area itself is called dark, light or green, and not only a
# shape's place: readers spoke of the pale crag and the grey road in such areas, whose thirds had 0.40 to 0.45.
CLAIMED = 0.5
THIN = 0.35  # of the width or height: across an area so thin no thirds are asked for, a narrow sky lies along the top
WITHIN = 0.5  # of the smaller of two areas: with more of it in the other, "this against that" points at one place

MOST_OF_IT = "over most of it"
TWO_THIRDS = UPPER, LOWER = "over the upper two thirds", "over the lower two thirds"
# Each area is one or two boxes (left, top, right, bottom), as fractions of the width and height.
_AREAS: tuple[tuple[str, tuple[tuple[float, float, float, float], ...]], ...] = (
    ("along the top", ((0, 0, 1, 0.3),)),
    ("in the upper half", ((0, 0, 1, 0.5),)),
    (UPPER, ((0, 0, 1, 0.67),)),
    ("across the middle", ((0, 0.35, 1, 0.65),)),
    (LOWER, ((0, 0.33, 1, 1),)),
    ("in the lower half", ((0, 0.5, 1, 1),)),
    ("along the bottom", ((0, 0.7, 1, 1),)),
    ("down the left side", ((0, 0, 0.3, 1),)),
    ("in the left half", ((0, 0, 0.5, 1),)),
    ("down the middle", ((0.35, 0, 0.65, 1),)),
    ("in the right half", ((0.5, 0, 1, 1),)),
    ("down the right side", ((0.7, 0, 1, 1),)),
    ("down both sides", ((0, 0, 0.25, 1), (0.75, 0, 1, 1))),
    ("in the upper left", ((0, 0, 0.5, 0.5),)),
    ("in the upper right", ((0.5, 0, 1, 0.5),)),
    ("in the lower left", ((0, 0.5, 0.5, 1),)),
    ("in the lower right", ((0.5, 0.5, 1, 1),)),
    ("on the left, at mid-height", ((0, 0.33, 0.4, 0.67),)),
    ("on the right, at mid-height", ((0.6, 0.33, 1, 0.67),)),
    ("at the top, near the middle", ((0.3, 0, 0.7, 0.4),)),
    ("in the middle", ((0.28, 0.28, 0.72, 0.72),)),
    ("at the bottom, near the middle", ((0.3, 0.6, 0.7, 1),)),
    ("on the left and along the bottom", ((0, 0, 0.35, 1), (0, 0.7, 1, 1))),
    ("on the right and along the bottom", ((0.65, 0, 1, 1), (0, 0.7, 1, 1))),
    ("on the left and along the top", ((0, 0, 0.35, 1), (0, 0, 1, 0.3))),
    ("on the right and along the top", ((0.65, 0, 1, 1), (0, 0, 1, 0.3))),
    ("in both lower corners", ((0, 0.6, 0.35, 1), (0.65, 0.6, 1, 1))),
    ("in both upper corners", ((0, 0, 0.35, 0.4), (0.65, 0, 1, 0.4))),
    (MOST_OF_IT, ((0, 0, 1, 1),)),
)


def same_frame(mask: NDArray[np.bool_], shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """A mask of another size brought to a shape (height, width), by the nearest pixel."""
    rows = np.arange(shape[0]) * mask.shape[0] // shape[0]
    columns = np.arange(shape[1]) * mask.shape[1] // shape[1]
    return np.asarray(mask[rows][:, columns])


def area_of(weight: ArrayLike, *, claimed: bool = False) -> str:
    """The words for the area that a shape (height, width) fills best, such as "along the bottom"; empty without one.

    The area is the one that shares most with the shape of what the two cover together (Jaccard's index). Where it is
    ``claimed``, the sentence says what the area is, and two thirds are named only where each third of them is so.
    """
    best, likeness = _best(_in_cells(np.asarray(weight, dtype=np.float32)), claimed=claimed)
    return _AREAS[best][0] if likeness >= LIKE else ""


def area_in_part(weight: ArrayLike) -> str:
    """The same of a part of the picture: empty too where the words would say everywhere."""
    area = area_of(weight)
    return area if area != MOST_OF_IT else ""


def area_aside(weight: ArrayLike) -> str:
    """Those words to follow a noun, a space before them; empty without any."""
    area = area_in_part(weight)
    return f" {area}" if area else ""


def filled(weight: ArrayLike) -> float:
    """How much of the area that a sentence claims for a shape it covers, 0–1."""
    cells = _in_cells(np.asarray(weight, dtype=np.float32))
    area = _areas()[_best(cells, claimed=True)[0]]
    return float((area * cells).sum() / area.sum())


def areas_apart(one: str, other: str) -> bool:
    """Whether two named areas can be set against each other: neither lies mostly in the other, but in all of it."""
    names = [name for name, _ in _AREAS]
    if one == MOST_OF_IT:
        return other != MOST_OF_IT
    first, second = (_areas()[names.index(name)] for name in (one, other))
    shared = float((first * second).sum()) / float(min(first.sum(), second.sum()))
    return shared <= WITHIN


def _best(cells: NDArray[np.float32], *, claimed: bool = False) -> tuple[int, float]:
    """Which area a shape is most like, and how like."""
    areas = _areas()
    shared = np.minimum(areas, cells).sum(axis=(1, 2))
    reaches = [bool((thirds @ cells.ravel() >= (least if claimed else FILLED)).all()) for thirds, least in _thirds()]
    shared[~np.asarray(reaches)] = 0
    likeness = shared / np.maximum(np.maximum(areas, cells).sum(axis=(1, 2)), 1e-6)
    best = int(likeness.argmax())
    return best, float(likeness[best])


def _cells() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The middles of the cells from the top (CELLS, 1) and from the left (1, CELLS), 0–1."""
    middle = (np.arange(CELLS) + 0.5) / CELLS
    return middle[:, None], middle[None, :]


@cache
def _areas() -> NDArray[np.float32]:
    """Every area as cells (n, CELLS, CELLS), 0 or 1."""
    y, x = _cells()
    maps = []
    for _, boxes in _AREAS:
        inside = [(x >= left) & (x <= right) & (y >= top) & (y <= bottom) for left, top, right, bottom in boxes]
        maps.append(np.any(inside, axis=0))
    return np.asarray(maps, dtype=np.float32)


@cache
def _thirds() -> tuple[tuple[NDArray[np.float32], NDArray[np.float32]], ...]:
    """For every area the thirds that a shape told by it must reach, and how much of each it claims (thirds,).

    Each third is a mean over its cells, all of them (thirds, CELLS²).

    Each of an area's boxes is cut into thirds of its width and of its height, but not across a thin one.
    """
    y, x = _cells()
    found = []
    for name, boxes in _AREAS:
        thirds, least = [], []
        for left, top, right, bottom in boxes:
            for start, stop in ((0, 1 / 3), (1 / 3, 2 / 3), (2 / 3, 1)):
                wide, high = right - left, bottom - top
                if wide > THIN:
                    thirds.append(_box(y, x, left + start * wide, top, left + stop * wide, bottom))
                    least.append(FILLED)
                if high > THIN:
                    thirds.append(_box(y, x, left, top + start * high, right, top + stop * high))
                    least.append(CLAIMED if name in TWO_THIRDS else FILLED)
        maps = np.asarray([third.ravel() / third.sum() for third in thirds], dtype=np.float32)
        found.append((maps, np.asarray(least, dtype=np.float32)))
    return tuple(found)


def _box(
    y: NDArray[np.float64], x: NDArray[np.float64], left: float, top: float, right: float, bottom: float
) -> NDArray[np.bool_]:
    """The cells in a box, without those on its right and lower border."""
    return (x >= left) & (x < right) & (y >= top) & (y < bottom)


def _in_cells(weight: NDArray[np.float32]) -> NDArray[np.float32]:
    """Means of a map over CELLS x CELLS cells, or over its pixels where it has fewer."""
    for axis in (0, 1):
        number = weight.shape[axis]
        first = np.arange(CELLS) * number // CELLS
        size = np.maximum(np.diff(first, append=number), 1)  # where there are fewer px, several cells share one
        weight = np.add.reduceat(weight, first, axis=axis) / size.reshape((-1, 1) if axis == 0 else (1, -1))
    return np.asarray(weight, dtype=np.float32)
