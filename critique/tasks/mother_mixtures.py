"""From which mixture that is on the palette already another is got, and what must be added to it."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from critique.paints.box import PaintBox
from critique.paints.mixtures import Mixer
from critique.paints.paint import Paint
from critique.paints.recipes import Recipe, named
from critique.paints.whole_parts import TOUCH_SHARE, TOUCHES
from critique.perception.difference import delta_e_2000
from critique.words.lists import listed

MEASURES = (0.25, 0.5, 1.0, 2.0, 3.0, 4.0, 6.0)  # parts of a paint that are added
OF_MOTHER = (1.0, 2.0, 4.0, 8.0)  # parts of the mixture that they are added to
LEAST_MOTHER = 0.25  # of the whole: with less of it, one begins afresh
WHITES = (5.0, 8.0, 10.0, 12.0)  # parts of white to one of the mixture, where it is let down and nothing else is added
LOSES = 0.8  # ΔE00 that it may lie farther from the colour than the recipe of its own
NEAR_ENOUGH = 2.0  # ΔE00 within which it is taken in any case
ADDED_EFFORT, PART_EFFORT = 0.6, 0.06  # ΔE00 that one paint more, and one part more, are worth
MOST_TAKEN = 1.0  # of what the mother is mixed for anyway: beyond it she is mixed for the other, and runs out
FEWEST_PAINTS = 3  # white counted, of a recipe that is worth getting from another

Float64 = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Added:
    """A paint that is added, in parts; a part is as large as one of the mixture."""

    paint: str
    colour_index: str
    parts: float


@dataclass(frozen=True, slots=True)
class Mother:
    """To ``parts`` of the mixture of passage ``start`` add ``added``; ``error`` is ΔE00 from the colour wanted."""

    start: int
    parts: float
    added: tuple[Added, ...]
    lab: tuple[float, float, float]
    error: float
    text: str


def mothers(
    own: Sequence[Recipe],
    targets: Float64,
    touching: NDArray[np.bool_],
    order: Sequence[int],
    box: PaintBox,
    *,
    millilitres: Float64,
) -> list[Mother | None]:
    """For each colour the neighbour's mixture to begin from, None where its own recipe is as quick.

    Parameters
    ----------
    own : their recipes, from ``box`` alone.
    targets : (n, 3) CIELAB.
    touching : (n, n), which lie beside each other.
    order : in which they are mixed: one may only begin from an earlier one.
    millilitres : (n,) of each, as much as is mixed of it for its own places.
    """
    heaps = _Heaps.of(own, box)
    left = MOST_TAKEN * np.asarray(millilitres, dtype=np.float64)
    found: list[Mother | None] = [None] * len(own)
    for position, number in enumerate(order):
        if len(own[number].parts) < FEWEST_PAINTS:
            continue
        starts = [
            # A chain of mixtures strays, and none of it can be mixed again by itself.
            heaps.let_down(start, targets[number], millilitres[number], left[start])
            for start in order[:position]
            if touching[number, start] and found[start] is None
        ]
        farthest = max(own[number].error + LOSES, NEAR_ENOUGH)
        near = [start for start in starts if start is not None and start.error <= farthest]
        if near:
            best = min(near, key=lambda start: start.effort)
            left[best.start] -= best.taken
            found[number] = heaps.mother(best)
    return found


@dataclass(frozen=True, slots=True)
class _Start:
    """The least effort by which one mixture is made into another colour."""

    effort: float  # ΔE00, with what the paints and parts added are worth
    start: int  # the mixture begun from
    row: int  # of the additions
    error: float  # ΔE00
    taken: float  # millilitres of the mixture


@dataclass(frozen=True, slots=True)
class _Heaps:
    """The mixtures on the palette, and all that may be added to each."""

    paints: Sequence[Paint]
    mixer: Mixer
    shares: Float64  # (n, paints) of each mixture
    amounts: Float64  # (m, paints), parts added
    of_mother: Float64  # (m,), parts of the mixture
    mixed: dict[int, NDArray[np.float32]]  # what a mixture becomes with each addition, once asked for

    @classmethod
    def of(cls, own: Sequence[Recipe], box: PaintBox) -> "_Heaps":
        paints = box.with_white
        place = {paint.name: number for number, paint in enumerate(paints)}
        shares = np.zeros((len(own), len(paints)))
        for row, one in enumerate(own):
            for part in one.parts:
                shares[row, place[part.paint]] = part.share
        return cls(paints, Mixer.of(paints), shares, *_additions(len(paints)), {})

    def let_down(self, start: int, target: Float64, millilitres: float, left: float) -> _Start | None:
        """How mixture ``start`` is best made into ``target``; None where there is not enough ``left`` of it."""
        error = delta_e_2000(self._mixed(start), target)
        parts = self.amounts.sum(axis=1)
        effort = error + ADDED_EFFORT * (self.amounts > 0).sum(axis=1) + PART_EFFORT * (parts + self.of_mother)
        taken = millilitres * (self.of_mother / (self.of_mother + parts))
        effort[taken > left] = np.inf
        row = int(effort.argmin())
        if not np.isfinite(effort[row]):
            return None
        return _Start(float(effort[row]), start, row, float(error[row]), float(taken[row]))

    def mother(self, best: _Start) -> Mother:
        """The same in whole measures, as it is told."""
        amounts, of_mother = self.amounts[best.row], float(self.of_mother[best.row])
        times = _times(amounts, of_mother)
        added = tuple(
            Added(self.paints[paint].name, self.paints[paint].colour_index, times * float(amounts[paint]))
            for paint in np.argsort(-amounts, kind="stable")
            if amounts[paint] > 0
        )
        parts, number = times * of_mother, best.start + 1
        light, a, b = self._mixed(best.start)[best.row].tolist()
        return Mother(number, parts, added, (light, a, b), best.error, _in_words(number, parts, added))

    def _mixed(self, start: int) -> NDArray[np.float32]:
        if start not in self.mixed:
            everything = np.tile(np.arange(len(self.paints)), (len(self.amounts), 1))
            parts = self.of_mother[:, None] * self.shares[start] + self.amounts
            self.mixed[start] = self.mixer.lab(everything, parts.astype(np.float32))
        return self.mixed[start]


def _additions(paints: int) -> tuple[Float64, Float64]:
    """What may be added: parts (n, paints) of one paint or two, white the last of them, and of the mixture (n,)."""
    rows: list[NDArray[np.float64]] = []
    for chosen in [(one,) for one in range(paints)] + list(combinations(range(paints), 2)):
        grid = np.array(np.meshgrid(*([MEASURES] * len(chosen)), indexing="ij")).reshape(len(chosen), -1).T
        full = np.zeros((len(grid), paints))
        full[:, list(chosen)] = grid
        rows.append(full)
    amounts = np.concatenate(rows)
    amounts = np.tile(amounts, (len(OF_MOTHER), 1))
    of_mother = np.repeat(np.array(OF_MOTHER), len(amounts) // len(OF_MOTHER))
    # White lets a mixture down; more of other colours than there is of it is another mixture.
    enough = of_mother / (of_mother + amounts.sum(axis=1)) >= LEAST_MOTHER
    enough &= of_mother >= amounts[:, :-1].sum(axis=1)
    # A cloud is white with a little of the sky in it: of that no painter mixes a strong heap to let it down twice.
    paler = np.zeros((len(WHITES), paints))
    paler[:, -1] = WHITES
    return np.concatenate([amounts[enough], paler]), np.concatenate([of_mother[enough], np.ones(len(WHITES))])


def _times(added: Float64, of_mother: float) -> int:
    """What all parts are told times: half as much as of the mixture is no touch, and is counted in parts."""
    for times in (1, 2):
        less = added[(added > 0) & (times * added < 1)]
        if (less <= TOUCH_SHARE * (of_mother + added.sum())).all():
            return times
    return round(1 / min(MEASURES))


def _in_words(start: int, parts: float, added: Sequence[Added]) -> str:
    told = listed([f"{_parts(one.parts)} {named(one.paint, one.colour_index)}" for one in added])
    return f"start from {start}: to {_parts(parts, of=False)} of it add {told}"


def _parts(parts: float, of: bool = True) -> str:
    if parts < 1:
        return f"a touch ({TOUCHES[round(1 / parts)]} part){' of' if of else ''}"
    return "1 part" if parts == 1 else f"{parts:g} parts"
