"""Which paint of the box quiets a colour, how much of it, and what it does to value and hue on the way."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.one_thread import in_one_thread
from critique.paints.box import PaintBox
from critique.paints.expected import Expected, expected_error
from critique.paints.fading import fades_there, fading
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.paint import Paint
from critique.paints.recipes import Recipe, named, recipe
from critique.paints.whole_parts import (
    EASY_TOTAL,
    FINEST,
    LEAST_MEASURES,
    PAINT_EFFORT,
    TOUCH_EFFORT,
    measures,
    told_unit,
)
from critique.perception.cielab import lab_to_lch
from critique.perception.difference import delta_e_2000
from critique.perception.hue import turn

WHOLE_WITHIN = 1.0  # CIELAB units that an easier measure may cost
WHOLE_STEPS = 24
MOST_ADDED = 0.5  # of the mixture: what needs more paint is another mixture, not this one muted
BULK = 3.0  # CIELAB units for as much paint again as the mixture: a small addition is surer, and wastes no paint
WHITE_BULK = 0.5  # the same for white, which only holds the value
MOST_TIMES = 8  # by which a recipe is multiplied so that the addition can be measured


@dataclass(frozen=True, slots=True)
class Muting:
    """One paint added to a mixture to bring it to a quieter target."""

    paint: str
    colour_index: str
    mixture: tuple[int, ...]  # parts of the mixture's paints, in the recipe's order, multiplied where needed
    parts: int  # of the added paint, on the same scale
    white_parts: int  # added along with it to hold the value
    share: float  # of the added paint in the whole, 0–1
    bulk: float  # CIELAB units that the size of the addition counts for
    lab: tuple[float, float, float]
    chroma_before: float  # C*ab
    chroma_after: float
    value_change: float  # on the 0–10 scale; negative is darker
    hue_change: float  # degrees; positive turns toward higher hue angles
    error: float  # ΔE00 from the target, as calculated
    expected: Expected  # how far real paint is likely to land from it
    caution: str
    fading: str  # a word on it where it fades in such a mixture; else empty
    into: str  # the mixture in words, as much of it as the addition is for
    addition: str  # what to mix in, in words
    text: str
    fades: bool = field(metadata={"record": False})  # in such a mixture
    paints: tuple[Paint, ...] = field(metadata={"record": False})  # of the mixture, and what is added
    unit: int = field(default=1, metadata={"record": False})  # how many of these amounts make one part as it is told

    @property
    def heap(self) -> Fraction:
        """How many parts of the mixture it is told for."""
        return Fraction(sum(self.mixture), self.unit)


def muted(colour: ArrayLike, target: ArrayLike, box: PaintBox) -> tuple[Recipe, tuple[Muting, ...]]:
    """A likely mixture for a colour (3,), and the three paints that bring it nearest to a target (3,).

    The target usually has the colour's lightness and hue and less chroma, so that nearness to it ranks the paints by
    how little they change value and hue. The mixture is the box's own recipe, and every change is told from it.
    """
    mixture = recipe(colour, box)
    return mixture, muting_paints(mixture, target, box)


def muting_paints(mixture: Recipe, target: ArrayLike, box: PaintBox, count: int = 3) -> tuple[Muting, ...]:
    """The ``count`` paints of a box that, added to a mixture with white as needed, bring it nearest to a target.

    Paints that don't quiet it, or don't bring it nearer, are left out.
    """
    return tuple(way.told() for way in quieting_ways(mixture, target, box)[:count])


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """A paint added to a mixture in the easiest parts, and what comes of it; to say all of it takes longer."""

    mixture: Recipe
    paint: Paint
    white: Paint
    amounts: tuple[int, ...]
    parts: int
    white_parts: int
    unit: int
    lab: NDArray[np.floating]
    chroma_before: float  # C*ab
    chroma_after: float
    miss: float  # plain distance in CIELAB from the target
    bulk: float
    error: float  # ΔE00 from the target

    @in_one_thread
    def told(self) -> Muting:
        """All that is said of it."""
        mixture, paint, amounts, parts, white_parts = (
            self.mixture,
            self.paint,
            self.amounts,
            self.parts,
            self.white_parts,
        )
        total = sum(amounts)
        mixed = parts + white_parts + total
        used = (*mixture.paints, paint, self.white)
        before, after = lab_to_lch(np.array(mixture.lab)), lab_to_lch(self.lab)
        whole = [(amount, one) for amount, one in zip([*amounts, parts, white_parts], used, strict=True) if amount > 0]
        expected = expected_error(
            [amount for amount, _ in whole],
            [one for _, one in whole],
            [amount < self.unit for amount, _ in whole],
            self.error,
        )
        into, addition = _in_words(mixture, amounts, (parts, paint), (white_parts, self.white), self.unit)
        of_it = parts / mixed, sum(amount for amount, one in whole if one.is_white) / mixed
        return Muting(
            paint.name,
            paint.colour_index,
            amounts,
            parts,
            white_parts,
            of_it[0],
            self.bulk,
            (float(self.lab[0]), float(self.lab[1]), float(self.lab[2])),
            float(before[1]),
            float(after[1]),
            float(after[0] - before[0]) / 10,
            float(turn(before[2], after[2])),
            self.error,
            expected,
            paint.caution,
            fading(paint, *of_it),
            into,
            addition,
            f"Into {into} mix {addition}: chroma goes from {before[1]:.0f} to {after[1]:.0f} "
            f"and value from {before[0] / 10:.1f} to {after[0] / 10:.1f}.",
            fades_there(paint, *of_it),
            tuple(one for _, one in whole),
            self.unit,
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Amounts:
    """What may be tried with a mixture, whichever paint is added: (n,) each, in sixteenths of a part."""

    own: NDArray[np.int64]  # of the mixture's paints, as its recipe has them, (paints,)
    unit: int  # how many of those make one part
    times: NDArray[np.int64]  # that the recipe is taken
    total: NDArray[np.float64]  # of the mixture
    added: NDArray[np.int64]  # of the paint
    pale: NDArray[np.int64]  # of white
    effort: NDArray[np.float64]  # of measuring all of it

    @classmethod
    def of(cls, mixture: Recipe) -> "_Amounts":
        """Those of a mixture."""
        own = np.array(mixture.amounts)
        unit = told_unit(own)
        steps = _steps(max(EASY_TOTAL, int(own.sum()) // unit))
        added, pale = (grid.ravel() for grid in np.meshgrid(steps[1:], steps, indexing="ij"))
        times = np.repeat(np.arange(1, MOST_TIMES + 1), len(added))
        added, pale = np.tile(added, MOST_TIMES), np.tile(pale, MOST_TIMES)
        total = own.sum() * times * FINEST / unit
        sane = (total <= FINEST * EASY_TOTAL) | (times == 1)
        # A touch of the mixture, taken three times, is no touch that can be told.
        sane &= np.array([_can_be_told(own * time * FINEST // unit) for time in range(1, MOST_TIMES + 1)])[times - 1]
        sane &= (added <= MOST_ADDED * total) & (pale <= total) & ~((pale > 0) & (pale < FINEST) & (added >= FINEST))
        added, pale, times, total = added[sane], pale[sane], times[sane], total[sane]
        touches = (added < FINEST).astype(int) + ((pale > 0) & (pale < FINEST))
        effort = (total + added + pale) / FINEST + PAINT_EFFORT * (pale > 0) + 2 * TOUCH_EFFORT * touches
        return cls(own, unit, times, total, added, pale, effort)


@in_one_thread
def quieting_ways(mixture: Recipe, target: ArrayLike, box: PaintBox) -> tuple[Way, ...]:
    """Every paint of a box that quiets a mixture and brings it nearer to a target, the nearest first."""
    aim = np.asarray(target, dtype=np.float64)
    amounts = _Amounts.of(mixture)
    tried = [_tried(mixture, amounts, paint, box.white, aim) for paint in box.paints]
    before = float(_miss(np.array(mixture.lab), aim))
    quieter = [way for way in tried if way.miss < before and way.chroma_after < way.chroma_before]
    return tuple(sorted(quieter, key=lambda way: way.miss + way.bulk))


def _tried(mixture: Recipe, some: _Amounts, paint: Paint, white: Paint, aim: NDArray[np.float64]) -> Way:
    amounts, parts, white_parts, unit = _easiest(mixture, some, paint, white, aim)
    total = sum(amounts)
    lab = _labs(mixture, paint, white, np.array([parts / total]), np.array([white_parts / total]))[0]
    return Way(
        mixture,
        paint,
        white,
        amounts,
        parts,
        white_parts,
        unit,
        lab,
        chroma_before=float(lab_to_lch(np.array(mixture.lab))[1]),
        chroma_after=float(lab_to_lch(lab)[1]),
        miss=float(_miss(np.array([float(channel) for channel in lab]), aim)),
        bulk=(BULK * parts + WHITE_BULK * white_parts) / total,
        error=float(delta_e_2000(lab, aim)),
    )


def _miss(lab: NDArray[np.floating], aim: NDArray[np.float64]) -> NDArray[np.floating]:
    """Plain CIELAB distance: CIEDE2000 forgives chroma in strong colours, and chroma is what is to change."""
    return np.asarray(np.linalg.norm(lab - aim, axis=-1))


def _labs(
    mixture: Recipe, paint: Paint, white: Paint, added: NDArray[np.float64], pale: NDArray[np.float64]
) -> NDArray[np.floating]:
    """CIELAB (n, 3) of the mixture with so much paint and white to one of it."""
    own = np.tile(np.array(mixture.amounts) / sum(mixture.amounts), (len(added), 1))
    return mixture_lab(np.column_stack([own, added, pale]), [*mixture.paints, paint, white])


def _easiest(
    mixture: Recipe, tried: _Amounts, paint: Paint, white: Paint, aim: NDArray[np.float64]
) -> tuple[tuple[int, ...], int, int, int]:
    """The mixture's amounts and those of paint and white to add that are near the best and easiest to measure.

    All are whole; the last number is how many of them make one of the recipe's parts.
    """
    total, added, pale = tried.total, tried.added, tried.pale
    miss = _miss(_labs(mixture, paint, white, added / total, pale / total), aim)
    miss = miss + (BULK * added + WHITE_BULK * pale) / total
    close = np.flatnonzero(miss <= miss.min() + WHOLE_WITHIN)
    best = close[np.lexsort((miss[close], tried.effort[close]))[0]]
    scaled = [*(tried.own * tried.times[best] * FINEST // tried.unit), added[best], pale[best]]
    common = int(np.gcd.reduce(np.array([*scaled, FINEST], dtype=np.int64)))
    *amounts, parts, white_parts = (int(amount) // common for amount in scaled)
    return tuple(amounts), parts, white_parts, FINEST // common


def _can_be_told(amounts: NDArray[np.int64]) -> bool:
    """Whether amounts, in sixteenths of a part, are parts or a half, a quarter, an eighth or a sixteenth of one."""
    return bool(((amounts == 0) | (amounts >= FINEST) | (FINEST % np.maximum(amounts, 1) == 0)).all())


def _steps(most: int) -> NDArray[np.int64]:
    """Amounts worth trying, in sixteenths of a part: none, touches, and parts up to ``most``, by ratio when many."""
    whole = np.unique(np.round(np.geomspace(1, most, WHOLE_STEPS)).astype(np.int64))
    return np.concatenate([LEAST_MEASURES, FINEST * whole])


def _in_words(
    mixture: Recipe, amounts: Sequence[int], added: tuple[int, Paint], pale: tuple[int, Paint], unit: int
) -> tuple[str, str]:
    """The mixture, and what goes into it, both counted in the same parts."""
    told = measures([*amounts, added[0], pale[0]], unit)
    paints = [*mixture.paints, added[1], pale[1]]
    words = [
        f"{measure} {'of ' if measure.startswith('a ') else ''}{named(paint.name, paint.colour_index)}"
        for measure, paint in zip(told, paints, strict=True)
    ]
    into = words[0] if len(amounts) == 1 else f"{', '.join(words[: len(amounts) - 1])} and {words[len(amounts) - 1]}"
    addition = words[-2] if pale[0] == 0 else f"{words[-2]} and {words[-1]}"
    return into, addition
