"""Which things of whatever outline part from what lies about them: a beast, a ship, a bush?"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.perception.ranks import quantiles_of

Float = NDArray[np.float32]
Ints = NDArray[np.intp]
Mask = NDArray[np.bool_]
Box = tuple[float, float, float, float]  # left, top, right, foot; 0–1
Cut = tuple[bool, bool, bool, bool]  # by which of the same sides of the picture it is cut
Wanted = Callable[[Box, Cut], bool]
Manner = Literal["dark", "light", "coloured"]

# Which of L*, a* and b* may part a thing from what lies about it, by which sign it is low there, and what it is then.
DIRECTIONS: tuple[tuple[int, int, Manner], ...] = (
    (0, 1, "dark"),
    (0, -1, "light"),
    *((channel, sign, "coloured") for channel in (1, 2) for sign in (1, -1)),
)
NEVER = float("inf")
STEP = 3.0  # L*, a* or b*: how finely the heights are tried at which a thing parts from what lies about it
# Of the picture. A dark thing may be large; a light or a colour that is larger is sky in a gap, or ground: one of 76
# landscapes has one of 0.29 in its middle.
SMALLEST, LARGEST = 0.006, 0.4
LARGEST_THERE: dict[Manner, float] = {"dark": LARGEST, "light": 0.25, "coloured": 0.25}
COMPACT = 0.4  # of its box that it fills
LONG_EDGE = 64  # px
GAP, BESIDE = 1, 2  # px: past its soft border, how much about it it is held against
# What lies about it is looked at by eighths, from its left over its top to its right; below may be the ground that it
# stands on. An eighth of fewer px, at the border of the picture, says nothing.
EIGHTHS, LEAST_EIGHTHS, LEAST_PX = 5, 3, 2
# What stands dark on a ground as dark, before a light sky, is looked at above it: above the first row from so far down
# (of the height) of which so much (of the width) is as dark.
GROUND_FROM, GROUND = 0.35, 0.8
OTHER = 0.2  # of the smaller one's box: what lies over less of it is another thing


@dataclass(frozen=True, slots=True, eq=False)
class Outlined:
    """One thing: its middle, box and share of the picture (0–1), and where it is.

    ``step`` (L*, a* or b*) is that from what lies about it, by the side where it is least.
    """

    manner: Manner
    step: float
    share: float
    x: float
    y: float
    box: Box
    mask: Mask

    @property
    def stands_out(self) -> float:
        return self.step * float(np.sqrt(self.share))

    @property
    def fits(self) -> bool:
        """Whether it is no larger than a thing of its manner may be."""
        return self.share <= LARGEST_THERE[self.manner]

    @property
    def is_cut(self) -> bool:
        """Whether a side of the picture cuts it."""
        return bool(self.mask[:, (0, -1)].any())

    @property
    def width(self) -> float:
        return self.box[2] - self.box[0]


def most_outstanding(things: Iterable[Outlined], least: float) -> Outlined | None:
    """The one that stands out most; None where none stands out so much."""
    best = max(things, key=lambda thing: thing.stands_out, default=None)
    return best if best is not None and best.stands_out >= least else None


def strongest_elsewhere(
    lab: Float, thing: Outlined, most: float, wanted: Wanted, *, on_dark: float = NEVER
) -> float | None:
    """How much the strongest other thing of those of `things_of` stands out; None where that is more than ``most``."""
    strongest = 0.0
    for other in things_of(lab, most, wanted, on_dark=on_dark):
        if not _is_of(other.box, thing.box):
            strongest = max(strongest, other.stands_out)
            if strongest > most:
                return None
    return strongest


def things_of(lab: Float, least: float, wanted: Wanted, *, on_dark: float = NEVER) -> Iterator[Outlined]:
    """Whatever parts from what lies about it at some height and may stand out so much, of those that are wanted.

    ``lab`` (height, width, 3) is as small as it is looked at. What stands dark on a ground as dark is one from
    ``on_dark`` on.
    """
    for channel, sign, manner in DIRECTIONS:
        low = np.float32(sign) * lab[..., channel]
        lowest, highest = quantiles_of(low, (0.01, 0.99))
        for level in np.arange(lowest + STEP, highest, STEP):
            low_there = low < level
            yield from _parted(low, low_there, manner, least, wanted)
            ground = _ground_of(low_there) if manner == "dark" and on_dark < NEVER else None
            if ground is not None:
                stands = _parted(low, low_there[:ground], manner, least, wanted)
                yield from (thing for thing in stands if thing.stands_out >= on_dark)


def _ground_of(low_there: Mask) -> int | None:
    """The first row at which a dark ground begins, that goes on nearly from side to side."""
    first = round(GROUND_FROM * len(low_there))
    rows = np.flatnonzero(low_there[first:].mean(axis=1) >= GROUND)
    return first + int(rows[0]) if len(rows) else None


def _parted(low: Float, low_there: Mask, manner: Manner, least: float, wanted: Wanted) -> Iterator[Outlined]:
    """Whatever is in one piece in these rows, and parts from what lies about it there.

    Where they are not all, but end at a ground, what stands on it.
    """
    from scipy.ndimage import find_objects, label

    height, width = low.shape
    span = float(low.max() - low.min())
    labels, _ = label(low_there)
    for number, (rows, columns) in enumerate(find_objects(labels), 1):
        box = (columns.start / width, rows.start / height, columns.stop / width, rows.stop / height)
        boxed = (box[2] - box[0]) * (box[3] - box[1])
        if boxed < SMALLEST or span * min(boxed, LARGEST) ** 0.5 < least:
            continue
        cut = (columns.start <= 1, rows.start <= 1, columns.stop >= width - 1, rows.stop >= height - 1)
        if len(low_there) in (rows.stop, height) and wanted(box, cut):
            thing = _thing(low, labels, number, (rows, columns), manner, box)
            if thing is not None:
                yield thing


def _thing(
    low: Float, labels: Ints, number: int, window: tuple[slice, slice], manner: Manner, box: Box
) -> Outlined | None:
    """What is told of one that parts there; None for a speck, a ground, or what no three sides are seen of."""
    from scipy.ndimage import binary_dilation, binary_fill_holes

    height, width = low.shape
    bare = labels[window] == number
    if bare.sum() < SMALLEST * low.size:
        return None
    there = binary_fill_holes(bare)
    share = float(there.sum()) / low.size
    if share > LARGEST or there.mean() < COMPACT:
        return None
    mask = np.zeros(low.shape, dtype=np.bool_)
    mask[window] = there
    at_y, at_x = np.nonzero(mask)
    x, y = (float(at_x.mean()) + 0.5) / width, (float(at_y.mean()) + 0.5) / height
    rows, columns = (slice(max(0, side.start - GAP - BESIDE), side.stop + GAP + BESIDE) for side in window)
    rows = slice(rows.start, min(rows.stop, len(labels)))  # the ground that it stands on isn't beside it
    near = binary_dilation(mask[rows, columns], iterations=GAP)
    ring = binary_dilation(near, iterations=BESIDE) & ~near
    beyond = low[rows, columns][ring] - np.float32(low[window][bare].mean())
    down, across = np.nonzero(ring)
    down, across = down + rows.start, across + columns.start
    angle = np.arctan2((down + 0.5) / height - y, ((across + 0.5) / width - x) * width / height)
    eighth = (np.round(angle / (np.pi / 4)).astype(np.intp) + 4) % 8  # 0 to its left, 2 above it, 4 to its right
    number_of, sum_of = np.bincount(eighth, minlength=8)[:EIGHTHS], np.bincount(eighth, beyond, 8)[:EIGHTHS]
    told = number_of >= LEAST_PX
    if told.sum() < LEAST_EIGHTHS:
        return None
    step = min(float((sum_of[told] / number_of[told]).min()), float(beyond.mean()))
    return Outlined(manner, step, share, x, y, box, mask) if step > 0 else None


def _is_of(one: Box, other: Box) -> bool:
    """Whether one box lies over so much of the other, or the other of it, that both are of one thing."""
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    smaller = min((box[2] - box[0]) * (box[3] - box[1]) for box in (one, other))
    return max(0.0, across) * max(0.0, down) >= OTHER * smaller
