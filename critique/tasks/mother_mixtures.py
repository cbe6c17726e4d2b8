"""From which mixture that is on the palette already another is got, and what must be added to it."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from critique.paints.box import PaintBox
from critique.paints.mixtures import Mixer
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
    paints = box.with_white
    mixer = Mixer.of(paints)
    place = {paint.name: number for number, paint in enumerate(paints)}
    amounts, of_mother = _additions(len(paints))
    found: list[Mother | None] = [None] * len(own)
    mixed: dict[int, NDArray[np.float32]] = {}
    base = np.zeros((len(own), len(paints)))
    for row, one in enumerate(own):
        for part in one.parts:
            base[row, place[part.paint]] = part.share
    everything = np.tile(np.arange(len(paints)), (len(amounts), 1))
    taken = of_mother / (of_mother + amounts.sum(axis=1))
    left = MOST_TAKEN * np.asarray(millilitres, dtype=np.float64)
    for position, number in enumerate(order):
        if len(own[number].parts) < FEWEST_PAINTS:
            continue
        best: tuple[float, int, int, float] | None = None
        for mother in order[:position]:
            if not touching[number, mother] or found[mother] is not None:
                continue  # a chain of mixtures strays, and none of it can be mixed again by itself
            if mother not in mixed:
                parts = of_mother[:, None] * base[mother] + amounts
                mixed[mother] = mixer.lab(everything, parts.astype(np.float32))
            error = delta_e_2000(mixed[mother], targets[number])
            effort = error + ADDED_EFFORT * (amounts > 0).sum(axis=1) + PART_EFFORT * (amounts.sum(axis=1) + of_mother)
            effort[millilitres[number] * taken > left[mother]] = np.inf
            row = int(effort.argmin())
            if not np.isfinite(effort[row]):
                continue
            if error[row] <= max(own[number].error + LOSES, NEAR_ENOUGH) and (best is None or effort[row] < best[0]):
                best = (float(effort[row]), mother, row, float(error[row]))
        if best is not None:
            _, mother, row, missed = best
            left[mother] -= millilitres[number] * taken[row]
            lab = mixed[mother][row]
            times = _times(amounts[row], float(of_mother[row]))
            added = tuple(
                Added(paints[paint].name, paints[paint].colour_index, times * float(amounts[row, paint]))
                for paint in np.argsort(-amounts[row], kind="stable")
                if amounts[row, paint] > 0
            )
            parts_of = times * float(of_mother[row])
            found[number] = Mother(
                mother + 1,
                parts_of,
                added,
                (float(lab[0]), float(lab[1]), float(lab[2])),
                missed,
                _in_words(mother + 1, parts_of, added),
            )
    return found


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
    enough = of_mother / (of_mother + amounts.sum(axis=1)) >= LEAST_MOTHER
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
