"""Which few paints of a box carry a picture.

Every choice of N paints is tried: the error of a choice for a colour is the least among its sets of three with white,
so the sets of three are solved once and the choices only look them up.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from math import comb

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.errors import PaintError
from critique.one_thread import in_one_thread
from critique.paints.at_easel import easel_recipes
from critique.paints.box import PaintBox
from critique.paints.calm import calm_greens
from critique.paints.cautions import cautions_for
from critique.paints.gamut import climbed_green, hull_area, pair_lab, pair_number, strongest_green, support
from critique.paints.lasting import lasting_recipes, pale_costs
from critique.paints.likely import likely_error
from critique.paints.mixtures import Index, Reach, nearest
from critique.paints.paint import Paint
from critique.paints.palette_words import CALMEST, CLOSEST, WIDEST, Carried, Proposal, gives_up, reason
from critique.paints.recipes import LARGEST_KEPT, Recipe, reaches_of
from critique.perception.hue import GREEN_FAMILY, YELLOW_GREEN

FEWEST, MOST = 3, 6  # paints beside white
MOST_CHOICES = 1_000_000  # tried one by one; six of thirty are 593,775
EXTENDED = 1_000  # best choices of one paint fewer that are extended when there are more than that
LIGHTS = 72.0  # L* from which the band's yellow side is its strongest
GIVEN_UP = 1.5  # mean ΔE00 that calmer greens or a wider gamut may cost: less than is just seen between two dabs
WIDER = 0.02  # of the whole box's gamut that a widest palette must span beyond the closest: less is no more room
LEAST_GREEN = 16.0  # C*ab that the calmest palette must still reach: the median green of painted landscapes is 13
NEAR_TIE = 0.1  # mean ΔE00 between choices that no painter could tell apart: the fewer that harm or fade win
CHUNK = 50_000  # choices looked up at a time
MOST_COLOURS = 64  # families that a choice is judged by

Float = NDArray[np.floating]


@dataclass(frozen=True, slots=True)
class PaletteChoice:
    """Limited palettes for one picture, different in kind, with the number of choices that were tried."""

    paints: int
    tried: int
    exhaustive: bool
    proposals: tuple[Proposal, ...]


@in_one_thread
def choose_palette(
    colours: ArrayLike,
    shares: ArrayLike,
    box: PaintBox,
    paints: int = 4,
    most_choices: int = MOST_CHOICES,
    kinds: Sequence[str] = (CLOSEST, CALMEST, WIDEST),
) -> PaletteChoice:
    """Choose ``paints`` paints of a box that, with its white, carry a picture's colours.

    Parameters
    ----------
    colours : (n, 3) CIELAB D65 of the picture's families, or of its families after muting.
    shares : (n,) their shares of the picture; they need not sum to 1.
    paints : 3 to 6 beside white.
    most_choices : how many choices are tried one by one; beyond it the best smaller choices are extended.
    kinds : which proposals are worked out, beside the closest, which all are held to.

    Returns
    -------
    PaletteChoice
        Up to three proposals: closest, calmest greens, widest gamut. No two hold the same paints, and a widest is
        offered only where it reaches farther than the closest.

    Raises
    ------
    PaintError
        When the box holds fewer paints than asked for, or colours and shares don't fit together.
    """
    aims, weights = _checked(colours, shares, box, paints)
    table = _solve(aims, weights, box)
    choices, exhaustive = _choices(table, len(box.paints), paints, most_choices)
    judged = _judge(choices, table)
    picked = {kind: index for kind, index in _pick(judged).items() if kind == CLOSEST or kind in kinds}
    printed = {kind: _printed(judged.choices[index], table) for kind, index in picked.items()}
    figures = {kind: judged.figures(index, printed[kind], table.weights) for kind, index in picked.items()}
    proposals = [
        _proposal(kind, judged.choices[index], printed[kind], figures[kind], figures[CLOSEST], table)
        for kind, index in picked.items()
    ]
    return PaletteChoice(paints, len(choices), exhaustive, tuple(proposals))


def paint_burden(paint: Paint) -> int:
    """What speaks against a paint where another does as well: that it harms, fades, or fades in pale tints."""
    return bool(paint.hazards) + paint.fades + paint.fades_pale


def _checked(colours: ArrayLike, shares: ArrayLike, box: PaintBox, paints: int) -> tuple[Float, Float]:
    aims, weights = np.asarray(colours, dtype=np.float64), np.asarray(shares, dtype=np.float64)
    if not FEWEST <= paints <= MOST:
        raise PaintError(f"a palette of {paints} paints is not offered: ask for {FEWEST} to {MOST} beside white")
    if len(box.paints) < paints:
        raise PaintError(
            f"the paint box {box.name!r} holds {len(box.paints)} paints beside white: too few to choose {paints} from"
        )
    if aims.ndim != 2 or aims.shape[1] != 3 or not 1 <= len(aims) <= MOST_COLOURS or weights.shape != (len(aims),):
        raise PaintError(f"a palette is chosen for 1 to {MOST_COLOURS} colours, each with its share")
    if not (np.isfinite(aims).all() and np.isfinite(weights).all()) or weights.min() < 0 or weights.sum() <= 0:
        raise PaintError("a palette wants finite colours, and shares that are not negative")
    return aims, weights / weights.sum()


@dataclass(frozen=True, slots=True, eq=False)
class _Table:
    """What each set of three paints with white can do, from which every choice is looked up."""

    box: PaintBox
    aims: Float  # (colours, 3)
    weights: Float  # (colours,)
    error: Float  # (triples, colours), ΔE00 by which real paint is likely to miss, and what it costs to fade
    calm_error: Float  # the same for the calmed colours
    green: Float  # (triples,)
    support: Float  # (triples, directions)
    number: Index  # (paints, paints, paints): which triple three paints in rising order are


def _solve(aims: Float, weights: Float, box: PaintBox) -> _Table:
    count = len(box.paints)
    reach = reaches_of(box)[2]
    triples = reach.sets
    calm = calm_greens(aims)
    loud = np.flatnonzero((calm != aims).any(axis=1))
    asked = np.concatenate([aims, calm[loud]])
    likely = likely_error(reach, nearest(reach, asked), asked, box.with_white) + pale_costs(asked, triples, box)
    error = likely[:, : len(aims)].astype(np.float32)
    calm_error = error.copy()
    calm_error[:, loud] = likely[:, len(aims) :]
    number = np.zeros((count, count, count), np.intp)
    number[tuple(triples[:, :3].T)] = np.arange(len(triples))
    green, reaches = _rims_of(box)
    return _Table(box, aims, weights, error, calm_error, green, reaches, number)


def _rims_of(box: PaintBox) -> tuple[Float, Float]:
    """The rims of what a box's sets of three mix to, which no picture changes."""
    return _kept_rims(box) if len(box.paints) <= LARGEST_KEPT else _made_rims(box)


@lru_cache(maxsize=2)  # the painter's box and the default one
def _kept_rims(box: PaintBox) -> tuple[Float, Float]:
    return _made_rims(box)


def _made_rims(box: PaintBox) -> tuple[Float, Float]:
    reach = reaches_of(box)[2]
    return _rims(reach, reach.sets, len(box.paints))


def _rims(reach: Reach, triples: Index, count: int) -> tuple[Float, Float]:
    """Strongest yellow-green (triples,) and reach (triples, directions): of the lattice, and finely of pairs."""
    lab = pair_lab(reach.mixer, count)
    pair_green, pair_reach = strongest_green(lab), support(lab)
    green, reaches = strongest_green(reach.lab), support(reach.lab)
    for one, other in ((0, 1), (0, 2), (1, 2)):
        number = pair_number(triples[:, one], triples[:, other], count)
        green, reaches = np.maximum(green, pair_green[number]), np.maximum(reaches, pair_reach[number])
    chroma = np.hypot(reach.lab[..., 1], reach.lab[..., 2])
    inside = YELLOW_GREEN.contains(reach.lab)
    # The band's border rises with lightness, so that its strongest colour may lie on the rim of the lights or below it.
    for part in (inside, inside & (reach.lab[..., 0] >= LIGHTS)):
        start = np.where(part, chroma, 0).argmax(axis=1)
        climbed = climbed_green(reach.mixer, triples, reach.parts_at(np.arange(len(triples)), start))
        green = np.maximum(green, climbed)
    return green, reaches


def _choices(table: _Table, count: int, paints: int, most_choices: int) -> tuple[Index, bool]:
    """Every choice of paints, (choices, paints); or, when they are too many, extensions of the best smaller ones."""
    if paints == FEWEST or comb(count, paints) <= most_choices:
        return np.array(list(combinations(range(count), paints)), dtype=np.intp), True
    smaller, _ = _choices(table, count, paints - 1, most_choices)
    best = np.argsort(_mean_error(smaller, table, table.error), kind="stable")[:EXTENDED]
    longer = {
        tuple(sorted((*row, extra))) for row in smaller[best].tolist() for extra in range(count) if extra not in row
    }
    return np.array(sorted(longer), dtype=np.intp), False


def _triples_of(choices: Index, table: _Table) -> Index:
    """Numbers (choices, triples) of the sets of three that each choice holds."""
    within = combinations(range(choices.shape[1]), 3)
    return np.stack([table.number[choices[:, i], choices[:, j], choices[:, k]] for i, j, k in within], axis=1)


def _mean_error(choices: Index, table: _Table, error: Float, weights: Float | None = None) -> Float:
    """Area-weighted mean ΔE00 (choices,), each colour mixed by the best of the choice's triples."""
    found = np.empty(len(choices), np.float32)
    heavy = (table.weights if weights is None else weights).astype(np.float32)
    for start in range(0, len(choices), CHUNK):
        triples = _triples_of(choices[start : start + CHUNK], table)
        least = error[triples[:, 0]]
        for column in triples.T[1:]:
            np.minimum(least, error[column], out=least)
        found[start : start + CHUNK] = least @ heavy
    return found


@dataclass(frozen=True, slots=True, eq=False)
class _Judged:
    """Every choice of paints with its figures."""

    choices: Index
    error: Float
    calm_error: Float
    green_error: Float  # mean over the picture's greens alone, calmed; 0 when it has none
    green: Float
    area: Float
    box_area: float
    burden: Index  # how many of its paints harm or fade

    def figures(self, index: int, printed: Sequence[Recipe], weights: Float) -> dict[str, float]:
        """What is told of a choice, its errors those of its printed parts."""
        return {
            "error": float(np.dot([one.error for one in printed], weights)),
            "likely": float(np.dot([one.expected.as_calculated for one in printed], weights)),
            "green": float(self.green[index]),
            "gamut": float(self.area[index]) / self.box_area,
        }


def _judge(choices: Index, table: _Table) -> _Judged:
    error = _mean_error(choices, table, table.error)
    same = table.calm_error is table.error or np.array_equal(table.calm_error, table.error)
    calm_error = error if same else _mean_error(choices, table, table.calm_error)
    greens = np.where(GREEN_FAMILY.contains(table.aims), table.weights, 0)
    green_error = _mean_error(choices, table, table.calm_error, greens / max(greens.sum(), 1e-12))
    green = np.empty(len(choices), np.float32)
    area = np.empty(len(choices))
    for start in range(0, len(choices), CHUNK):
        span = slice(start, start + CHUNK)
        triples = _triples_of(choices[span], table)
        green[span] = table.green[triples].max(axis=1)
        reach = table.support[triples[:, 0]]
        for column in triples.T[1:]:
            np.maximum(reach, table.support[column], out=reach)
        area[span] = hull_area(reach)
    burden = np.array([paint_burden(paint) for paint in table.box.paints])
    box_area = float(hull_area(table.support.max(axis=0)))
    return _Judged(choices, error, calm_error, green_error, green, area, box_area, burden[choices].sum(axis=1))


def _pick(judged: _Judged) -> dict[str, int]:
    """Which choice to offer of each kind; a kind is left out when no choice is fit for it."""
    picked: dict[str, int] = {}
    near = np.flatnonzero(judged.error <= judged.error.min() + NEAR_TIE)
    picked[CLOSEST] = int(near[np.lexsort((judged.error[near], judged.burden[near]))[0]])
    calm = judged.green_error <= judged.green_error.min() + GIVEN_UP  # the greens must still be there, only quieter
    calm &= judged.green >= LEAST_GREEN
    _offer(picked, CALMEST, judged.calm_error, -judged.green, calm)
    wider = judged.area >= judged.area[picked[CLOSEST]] + WIDER * judged.box_area
    _offer(picked, WIDEST, judged.error, judged.area, wider)
    return picked


def _offer(picked: dict[str, int], kind: str, error: Float, merit: Float, allowed: NDArray[np.bool_]) -> None:
    """Add the choice of most merit among those that are allowed, affordable and not yet offered."""
    taken = np.isin(np.arange(len(error)), list(picked.values()))
    affordable = np.flatnonzero((error <= error.min() + GIVEN_UP) & allowed & ~taken)
    if len(affordable):
        picked[kind] = int(affordable[np.lexsort((error[affordable], -merit[affordable]))[0]])


def _palette_box(kind: str, choice: Index, table: _Table) -> PaintBox:
    return PaintBox(f"{kind} palette", tuple(table.box.paints[number] for number in choice), table.box.white)


def _printed(choice: Index, table: _Table) -> list[Recipe]:
    """The recipes, in the parts that are told, for the picture's colours: what a choice really delivers."""
    return lasting_recipes(table.aims, _palette_box(CLOSEST, choice, table), easel_recipes)


def _proposal(
    kind: str,
    choice: Index,
    printed: Sequence[Recipe],
    figures: Mapping[str, float],
    closest: Mapping[str, float],
    table: _Table,
) -> Proposal:
    carried = tuple(
        Carried.of(one.target_lab, one.lab, one.error, float(weight))
        for one, weight in zip(printed, table.weights, strict=True)
    )
    box = _palette_box(kind, choice, table)
    return Proposal(
        kind,
        tuple(paint.name for paint in box.paints),
        tuple(paint.label for paint in box.paints),
        box.white.name,
        figures["error"],
        max(family.error for family in carried),
        figures["green"],
        figures["gamut"],
        carried,
        reason(kind, figures, closest),
        gives_up(kind, figures, closest, carried, box.paints),
        tuple(caution.text for caution in cautions_for(box.with_white)),
        box,
    )
