"""Does one thing stand upright in the very middle of a picture, small or large, dark, light or of a colour?"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.figure import OWN, Figure, rounded
from critique.measures.middle_outline import LEAST_STEP as OUTLINED_STEP
from critique.measures.middle_outline import STANDS_OUT as OUTLINED_STANDS_OUT
from critique.measures.middle_outline import outlined_in_the_middle
from critique.measures.outlined import DIRECTIONS, STEP, Manner, Outlined
from critique.measures.rivals import answered
from critique.measures.smoothing import gaussian
from critique.perception.ranks import quantiles_of
from critique.picture.picture import Picture, lab_at

Float = NDArray[np.float32]
Mask = NDArray[np.bool_]
Ints = NDArray[np.intp]

LONG_EDGE = 128  # px
MELTED = 0.006  # of the long edge, spread of a Gaussian: leaves and strokes melt, a mast doesn't
NARROW, WIDE = 0.04, 0.4  # of the width: a thing, not a stroke, and no wood and no ground
REACH = 0.03  # of the width: so far from the middle a row of it may lie and still be found
BENT = 0.06  # of the width: so far from the middle the middle of a row that stands free may lie
CENTRED = 0.04  # of the width, for all of it
# Of the width, the spread of the middles of a dark thing's rows: a tower, a stone, a fir stand on their foot, and have
# up to 0.016 where code puts them; trees on a slope, one dark with it, have 0.027 and more.
WANDERS = 0.022
# Of the height: so near its middle a light or a colour must lie. A dark thing may be tall and cross it; there (so
# near it) it is half as wide as it is on the whole.
ABOUT_HEIGHT, NEAR_MIDDLE, AS_WIDE = 0.1, 0.04, 0.5
GAP, BESIDE = 0.01, 0.04  # of the width: past its soft border, how much to either side a row of it is held against
SHORT, HOLES = 0.1, 0.015  # of the height: the least that must stand free; gaps between branches that are none
FREE = 0.5  # of its height that must stand free: the rest may have a wood or a hill as dark beside it
FEW = 0.25  # of its rows, those that stand out least: the others have more
# Parts of that step by which it stands out above and below. A dark thing may grow from the ground, or over the top
# edge; a light that goes on above is sky in a gap, and below it is water or a road.
CLOSED_ABOVE, CLOSED_ABOVE_LIGHT, CLOSED_BELOW = 0.4, 0.7, 0.3
TOP = 0.03  # of the height: what comes so near leaves over the top edge
ELSEWHERE = (0.14, 0.86, 0.03, 0.14)  # of the width: from where to where, how closely, and how far from the middle
# From where on it is to watch and to rework, and the step (L*, or a* or b*) that it must have. Of 76 landscapes and 130
# other untouched pictures none has a dark one alone that stands out by more than 3.0, a lone oak on a plain, but for a
# mill, of which a reader allowed that; and no light or colour more than 3.5, a man in a white shirt.
WATCH: dict[Manner, float] = {"dark": 4.3, "light": 5.0, "coloured": 3.5}
LEAST_STEP: dict[Manner, float] = {"dark": 15.0, "light": 20.0, "coloured": 10.0}
REWORK = 9.0  # stark and large: twice as much as any of 76 landscapes has alone
# What stands alone has little company: of what it stands out by, how much the strongest like it off the middle does,
# times how much of its colour lies far from it. A sky as white as a house, or trees that stand out as much as a blacker
# stone, are one without the other. All shadows of a picture are dark, so that no more than so much counts of them. A
# house put there has 0.13 at most, one between two like it 0.16, a cow among others 0.22; a dark thing beside one like
# it 0.42 and more; a colour put there 0.05 at most, tulips among tulips 0.087.
COMPANY: dict[Manner, float] = {"dark": 0.4, "light": 0.14, "coloured": 0.085}
COUNTS: dict[Manner, float] = {"dark": 0.64, "light": 1.0, "coloured": 1.0}
SPOKEN_OF = 2.5  # by the same step and as much alone: a lone oak on a plain, of which two machine readings spoke


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class MiddleThing:
    """What stands most in the very middle; places are 0–1 from the left and the top.

    ``stands_out`` is its ``step`` from what lies to either side (L*, or a* or b*, that three quarters of its rows that
    stand free have) times the root of its ``share`` of the picture (0–1): how stark times how large. 0 where nothing
    stands there. ``elsewhere`` is the same of the strongest like it off the middle, ``answered`` how much (0–1) of its
    colour lies far from it; neither is sought (0) for one too slight to be spoken of. ``outlined`` says that it is told
    by its whole outline, and has no company. ``mask`` (height, width) is where it is.
    """

    stands_out: float
    elsewhere: float
    step: float
    share: float
    x: float
    y: float
    manner: Manner
    answered: float
    outlined: bool
    mask: Mask = field(metadata={"record": False}, repr=False)


def measure_middle_thing(picture: Picture) -> MiddleThing:
    """Look for it as darker, lighter, or of more red, green, yellow or blue than all beside it."""
    lab = gaussian(lab_at(picture, LONG_EDGE), MELTED * LONG_EDGE, truncate=3)
    best = MiddleThing(0.0, 0.0, 0.0, 0.0, 0.5, 0.5, "dark", 0.0, False, np.zeros(lab.shape[:2], dtype=np.bool_))
    strongest: Float | None = None
    for channel, sign, manner in DIRECTIONS:
        low = np.float32(sign) * lab[..., channel]
        for runs in _runs_at_each_level(low, 0.5):
            for thing in _things(low, runs, manner):
                if thing.stands_out > best.stands_out and _over_the_middle(thing, runs):
                    best, strongest = thing, low
    if strongest is not None and best.stands_out >= SPOKEN_OF:
        best = replace(best, elsewhere=_elsewhere(strongest, best.manner), answered=answered(lab, best.x, best.y))
        if middle_thing_fault(best) is not None:
            return best
    outlined = outlined_in_the_middle(lab)
    if outlined is not None and middle_thing_fault(whole := _whole(*outlined)) is not None:
        return whole
    return best


def _whole(thing: Outlined, elsewhere: float) -> MiddleThing:
    """What is told by its whole outline."""
    return MiddleThing(
        thing.stands_out, elsewhere, thing.step, thing.share, thing.x, thing.y, thing.manner, 0.0, True, thing.mask
    )


def _elsewhere(low: Float, manner: Manner) -> float:
    """How much the strongest like it stands out off the middle."""
    start, end, step, off = ELSEWHERE
    places = [float(x) for x in np.arange(start, end + step / 2, step) if abs(x - 0.5) >= off]
    others = (_things(low, runs, manner) for x in places for runs in _runs_at_each_level(low, x))
    return max((thing.stands_out for things in others for thing in things), default=0.0)


@dataclass(frozen=True, slots=True, eq=False)
class _Runs:
    """Of each row, whether it is low at ``x``, from where to where that goes on, and whether it stands free there."""

    x: float
    there: Mask
    left: Ints
    right: Ints
    free: Mask


def _runs_at_each_level(low: Float, x: float) -> Iterator[_Runs]:
    """A field (height, width) at every level that may part what is low at ``x`` from the rest."""
    height, width = low.shape
    gap, beside = _sides(width)
    lowest, highest = quantiles_of(low, (0.01, 0.99))
    for level in np.arange(lowest + STEP, highest, STEP):
        there, left, right = _runs(low < level, x)
        wide = right - left
        free = there & (wide >= NARROW * width) & (wide <= WIDE * width)
        free &= (left >= gap + beside) & (right <= width - gap - beside)
        free &= np.abs((left + right) / 2 - x * width) <= BENT * width
        if free.sum() >= SHORT * height:
            yield _Runs(x, there, left, right, free)


def _runs(mask: Mask, x: float) -> tuple[Mask, Ints, Ints]:
    """Of each row, whether a mask has anything at ``x``, and from where to where that goes on without a break."""
    width = mask.shape[1]
    middle, reach = int(x * width), round(REACH * width)
    near = mask[:, middle - reach : middle + reach + 1]
    off = np.where(near, np.abs(np.arange(-reach, reach + 1)), width)
    at = (middle - reach + off.argmin(axis=1)).astype(np.int16)[:, None]
    columns = np.arange(width, dtype=np.int16)  # small numbers, of which a processor compares many at a time
    left = np.where(mask | (columns > at), np.int16(-1), columns).max(axis=1).astype(np.intp) + 1
    right = np.where(mask | (columns < at), np.int16(width), columns).min(axis=1).astype(np.intp)
    return np.asarray(near.any(axis=1)), left, right


def _things(low: Float, runs: _Runs, manner: Manner) -> Iterator[MiddleThing]:
    """What stands there at one level, each from the first to the last of its rows that stand free."""
    height, width = low.shape
    gap, beside = _sides(width)
    sums = np.concatenate([np.zeros((height, 1)), np.cumsum(low, axis=1, dtype=np.float64)], axis=1)
    for top, foot in _stretches(runs.there, max(2, round(HOLES * height))):
        rows = top + np.flatnonzero(runs.free[top:foot])
        if len(rows) < SHORT * height or len(rows) < FREE * (rows[-1] + 1 - rows[0]):
            continue
        left, right = runs.left[rows], runs.right[rows]
        before = _mean(sums, rows, left - gap - beside, left - gap)
        after = _mean(sums, rows, right + gap, right + gap + beside)
        step = quantiles_of(np.minimum(before, after) - _mean(sums, rows, left, right), (FEW,))[0]
        middles = (left + right) / (2 * width)
        across = float(np.average(middles, weights=right - left))
        stands = manner != "dark" or float(middles.std()) <= WANDERS
        if step <= 0 or not stands or abs(across - runs.x) > CENTRED:
            continue
        if not _is_closed(low, rows, left, right, step, manner):
            continue
        mask = np.zeros((height, width), dtype=np.bool_)
        columns = np.arange(width)
        mask[rows] = (columns >= left[:, None]) & (columns < right[:, None])
        share = float(mask.mean())
        down = float(np.average(rows + 0.5, weights=right - left) / height)
        yield MiddleThing(step * share**0.5, 0.0, step, share, across, down, manner, 0.0, False, mask)


def _over_the_middle(thing: MiddleThing, runs: _Runs) -> bool:
    """Whether it lies over the very middle, and no thinner there than elsewhere, as a crown on its stem does."""
    height = len(thing.mask)
    rows = np.flatnonzero(thing.mask.any(axis=1))
    middle = slice(round((0.5 - NEAR_MIDDLE) * height), round((0.5 + NEAR_MIDDLE) * height) + 1)
    there = (runs.right - runs.left) * runs.there
    usual = float(np.median(there[rows]))
    if abs(thing.y - 0.5) <= ABOUT_HEIGHT:
        return True
    crosses = rows[0] <= height / 2 <= rows[-1] and float(np.median(there[middle])) >= AS_WIDE * usual
    return thing.manner == "dark" and crosses


def _is_closed(low: Float, rows: Ints, left: Ints, right: Ints, step: float, manner: Manner) -> bool:
    """Whether it ends above, and a light or a colour below too."""
    gap, beside = _sides(low.shape[1])
    top, foot = int(rows[0]), int(rows[-1]) + 1
    columns = slice(int(np.median(left)), int(np.median(right)))
    own = float(low[rows, columns].mean())

    def stands_out(strip: Float) -> float:
        return (float(strip.mean()) - own) / step if strip.size else 0.0

    above = stands_out(low[max(0, top - gap - beside) : max(0, top - gap), columns])
    if manner == "dark":
        return above >= CLOSED_ABOVE or top < TOP * len(low)
    return above >= CLOSED_ABOVE_LIGHT and stands_out(low[foot + gap : foot + gap + beside, columns]) >= CLOSED_BELOW


def _stretches(there: Mask, holes: int) -> Iterator[tuple[int, int]]:
    """From which to which row it goes on, gaps of so many left out of account."""
    rows = np.flatnonzero(there)
    breaks = np.flatnonzero(np.diff(rows) > holes + 1)
    yield from zip(rows[np.r_[0, breaks + 1]].tolist(), (rows[np.r_[breaks, len(rows) - 1]] + 1).tolist(), strict=True)


def _sides(width: int) -> tuple[int, int]:
    """How many px past the border of a row, and how many more, it is held against."""
    return max(1, round(GAP * width)), max(2, round(BESIDE * width))


def _mean(sums: NDArray[np.float64], rows: Ints, start: Ints, end: Ints) -> NDArray[np.float64]:
    """The mean of so many columns of each row, by what has been summed up to each."""
    return np.asarray((sums[rows, end] - sums[rows, start]) / (end - start))


def in_the_very_middle(thing: MiddleThing, *, stands_out: float) -> bool:
    """Whether it stands out so much, by a step that is seen, and alone."""
    least = OUTLINED_STEP if thing.outlined else LEAST_STEP[thing.manner]
    if thing.stands_out < stands_out or thing.step < least:
        return False
    company = thing.elsewhere * min(thing.answered, COUNTS[thing.manner])
    return thing.outlined or company <= COMPANY[thing.manner] * thing.stands_out


def watched_from(thing: MiddleThing) -> float:
    """From where on it is to watch."""
    return OUTLINED_STANDS_OUT if thing.outlined else WATCH[thing.manner]


def middle_thing_fault(thing: MiddleThing) -> Literal["watch", "rework"] | None:
    """Whether what stands there takes all to itself; what is told by its outline is to watch at most."""
    if not in_the_very_middle(thing, stands_out=watched_from(thing)):
        return None
    return "rework" if thing.stands_out >= REWORK and not thing.outlined else "watch"


FIGURES = (
    Figure(
        name="middle_thing.stands_out",
        label="Stands out in the middle by",
        meaning=f"the starker and larger the more; below {SPOKEN_OF:.1f} it isn't spoken of",
        definition="Of one thing in the very middle, darker, lighter or of another colour than all beside it: that "
        "step, in L*, a* or b*, times the root of its share of the picture.",
        source=OWN,
        unit="L*",
        show=rounded(1),
        worth=1.0,
        jumps=True,
    ),
)
