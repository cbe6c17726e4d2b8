"""Which paint of the box quiets a colour, how much of it, and what it does to value and hue on the way."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.paints.box import PaintBox
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.paint import Paint
from critique.paints.recipes import Recipe, recipe
from critique.perception.cielab import lab_to_lch
from critique.perception.difference import delta_e_2000
from critique.perception.hue import turn

ADDED = np.geomspace(2e-3, 1.0, 60)  # of the added paint to one of the mixture: from a touch to as much again
WHITENED = np.concatenate([[0.0], np.geomspace(0.02, 0.5, 20)])  # of white along with it, to hold the value
WHOLE_WITHIN = 1.5  # CIELAB units that whole numbers may cost
MOST_TIMES = 12  # by which a recipe is multiplied so that the addition is a whole part


@dataclass(frozen=True, slots=True)
class Muting:
    """One paint added to a mixture to bring it to a quieter target."""

    paint: str
    colour_index: str
    mixture: tuple[int, ...]  # parts of the mixture's paints, in the recipe's order, multiplied where needed
    parts: int  # of the added paint
    white_parts: int  # added along with it to hold the value
    share: float  # of the added paint in the whole, 0–1
    lab: tuple[float, float, float]
    chroma_before: float  # C*ab
    chroma_after: float
    value_change: float  # on the 0–10 scale; negative is darker
    hue_change: float  # degrees; positive turns toward higher hue angles
    error: float  # ΔE00 from the target
    caution: str
    text: str


def muted(colour: ArrayLike, target: ArrayLike, box: PaintBox, count: int = 3) -> tuple[Recipe, tuple[Muting, ...]]:
    """A likely mixture for a colour (3,), and the ``count`` paints that bring it nearest to a target (3,).

    The target usually has the colour's lightness and hue and less chroma, so that nearness to it ranks the paints by
    how little they change value and hue. The mixture is the box's own recipe, and every change is told from it.
    """
    mixture = recipe(colour, box)
    return mixture, muting_paints(mixture, target, box, count)


def muting_paints(mixture: Recipe, target: ArrayLike, box: PaintBox, count: int = 3) -> tuple[Muting, ...]:
    """The ``count`` paints of a box that, added to a mixture with white as needed, bring it nearest to a target.

    Paints that don't bring it nearer are left out.
    """
    aim = np.asarray(target, dtype=np.float64)
    held = {part.paint for part in mixture.parts}
    found = [_added(mixture, paint, box.white, aim) for paint in box.paints if paint.name not in held]
    before = float(_miss(np.array(mixture.lab), aim))
    miss = [float(_miss(np.array(one.lab), aim)) for one in found]
    order = sorted(range(len(found)), key=miss.__getitem__)
    return tuple(found[index] for index in order if miss[index] < before)[:count]


def _added(mixture: Recipe, paint: Paint, white: Paint, aim: NDArray[np.float64]) -> Muting:
    added, pale = (grid.ravel() for grid in np.meshgrid(ADDED, WHITENED, indexing="ij"))
    miss = _miss(_labs(mixture, paint, white, added, pale), aim)
    best = int(miss.argmin())
    times, parts, white_parts = _whole(mixture, paint, white, (added[best], pale[best]), aim, float(miss[best]))
    amounts = tuple(amount * times for amount in mixture.amounts)
    total = sum(amounts)
    lab = _labs(mixture, paint, white, np.array([parts / total]), np.array([white_parts / total]))[0]
    before, after = lab_to_lch(np.array(mixture.lab)), lab_to_lch(lab)
    return Muting(
        paint.name,
        paint.colour_index,
        amounts,
        parts,
        white_parts,
        parts / (parts + white_parts + total),
        (float(lab[0]), float(lab[1]), float(lab[2])),
        float(before[1]),
        float(after[1]),
        float(after[0] - before[0]) / 10,
        float(turn(before[2], after[2])),
        float(delta_e_2000(lab, aim)),
        paint.caution,
        _in_words(mixture, amounts, (parts, paint), (white_parts, white), before, after),
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


def _whole(
    mixture: Recipe,
    paint: Paint,
    white: Paint,
    ratios: tuple[float, float],
    aim: NDArray[np.float64],
    best: float,
) -> tuple[int, int, int]:
    """The least multiple of the mixture, with whole parts of paint and white, that comes near enough to the best."""
    found = (1, 1, 0)
    nearest = np.inf
    for times in range(1, MOST_TIMES + 1):
        total = sum(mixture.amounts) * times
        parts, white_parts = max(1, round(ratios[0] * total)), round(ratios[1] * total)
        lab = _labs(mixture, paint, white, np.array([parts / total]), np.array([white_parts / total]))
        miss = float(_miss(lab, aim)[0])
        if miss < nearest:
            found, nearest = (times, parts, white_parts), miss
        if miss <= best + WHOLE_WITHIN:
            break
    return found


def _in_words(
    mixture: Recipe,
    amounts: Sequence[int],
    added: tuple[int, Paint],
    pale: tuple[int, Paint],
    before: NDArray[np.floating],
    after: NDArray[np.floating],
) -> str:
    into = ", ".join(f"{amount} {part.paint}" for amount, part in zip(amounts, mixture.parts, strict=True))
    more = " and ".join(
        f"{parts} part{'s' if parts > 1 else ''} {paint.name}" for parts, paint in (added, pale) if parts > 0
    )
    return (
        f"Into {into} mix {more}: chroma goes from {before[1]:.0f} to {after[1]:.0f} "
        f"and value from {before[0] / 10:.1f} to {after[0] / 10:.1f}."
    )
