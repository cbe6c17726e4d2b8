"""The numbered passages of an aim: where each lies, what it is mixed from and how it is laid."""

from collections.abc import Sequence, Set
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import word_of
from critique.paints.at_easel import easel_recipes
from critique.paints.box import PaintBox, default_box
from critique.paints.lasting import PALE, holds_fading, lasting_recipes, tubes_for
from critique.paints.little_heap import LITTLE_ML, few_parts
from critique.paints.recipes import Recipe, recipes
from critique.paints.value_first import loses_value, value_kept
from critique.perception.cielab import as_three, lab_to_lch, lab_to_srgb8
from critique.perception.difference import delta_e_2000
from critique.perception.names import colour_names
from critique.perception.reference import read_table
from critique.perception.srgb import hex_of
from critique.picture.picture import Picture, lab_at
from critique.picture.places import Place, place_of
from critique.tasks.accents import Accent, accents_of, number_at
from critique.tasks.canvas_size import CanvasSize
from critique.tasks.covering import Covering, covering
from critique.tasks.mother_mixtures import Mother, mothers
from critique.tasks.passage_names import passage_names
from critique.tasks.places_of_colour import LONG_EDGE, Places, places_of

Float64 = NDArray[np.float64]

OF_ONE_PART = 0.75  # of a passage that lies in a part for it to be named by that
MUCH = 0.4  # of the picture: a passage so large may lie all over it
# Chance of being sky, over a passage. A snow mountain, a lit range, sails and a wooded bank that were called sky have
# 0.42 to 0.72; of 40 passages of sky in sixteen pictures three have as little, and lose the word.
A_SKY = 0.75
ONE_MIXTURE = 2.5  # ΔE00 between places that are painted from one heap: told apart only side by side


@dataclass(frozen=True, slots=True)
class Passage:
    """One connected place of the aim. Values are L*/10; ``at`` is where its number stands, 0–1 from the upper left."""

    number: int
    name: str
    colour: str  # ISCC–NBS name
    place: Place
    part: str  # sky, far, middle, near, water; empty where it isn't known
    share: float
    value: float
    darkest: float  # a tenth of it is darker
    lightest: float  # a tenth of it is lighter
    lab: tuple[float, float, float]
    srgb: str
    at: tuple[float, float]
    recipe: Recipe
    same_as: int | None  # the passage whose mixture it shares, by number
    mother: Mother | None
    covering: Covering
    millilitres: float  # one full coat, what stays on brush and palette counted in
    heap: float  # millilitres to mix of its mixture, with what other passages take from it; 0 where it has no own
    rounded: float  # ΔE00 that few parts cost, where it is too little paint for the nearest recipe; else 0
    neighbours: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Needed:
    """How much of one tube a plan takes, in ml, for one full coat of everything."""

    paint: str
    label: str
    millilitres: float


@dataclass(frozen=True, slots=True)
class Passages:
    """The key of an aim: its passages in the order of their numbers, its accents, and what the tubes must give."""

    passages: tuple[Passage, ...]
    accents: tuple[Accent, ...]
    tubes: tuple[Needed, ...]
    mean_error: float  # ΔE00 between the passages and their printed mixtures, over the area
    places: Places = field(metadata={"record": False})


def passages_of(
    aim: Picture,
    original: Picture | None,
    box: PaintBox,
    canvas: CanvasSize,
    parts: NDArray[np.str_] | None = None,
    *,
    holding: Sequence[tuple[float, float]] = (),
    sky: NDArray[np.floating] | None = None,
) -> Passages:
    """The passages of an aim, each with its mixture from ``box`` alone.

    Parameters
    ----------
    original : what was painted before and is painted over; None for a new canvas, or where the frame was cut.
    holding : where the eye is held, x and y as fractions: the touch there comes before others.
    parts : (height, width) names of the parts of the picture, of any size; None where they aren't known.
    sky : (height, width) how likely each of those places is sky, 0–1; None where that isn't known.
    """
    found = places_of(aim)
    colours, shares = found.colours(), found.shares()
    alike = _alike(colours, shares)
    thick, left_over = coat("full")
    millilitres = canvas.area * shares * thick / 10 * (1 + left_over)
    lies_in = _parts_of(found, parts)
    # What may be sky is mixed of what lasts, however it is called.
    skies = {first for first, part in zip(alike, lies_in, strict=True) if part == "sky"}
    part_of = [part if part != "sky" or _called_sky(found, row, sky) else "" for row, part in enumerate(lies_in)]
    mixed, costs = _mixed(colours, shares, alike, box, millilitres, skies)
    own = [mixed[first] for first in alike]
    touching = found.touching() > 0
    heaps = np.zeros(found.count)
    np.add.at(heaps, alike, millilitres)
    starts = mothers(own, colours, _heaps_touching(touching, alike), sorted(set(alike)), box, millilitres=heaps)
    starts = _lasting(starts, own, skies | {first for first in alike if own[first].target_lab[0] >= PALE}, box)
    mixed_of = _to_mix(heaps, starts)
    below = _below(original, found)
    spots = [number_at(found.labels == number) for number in range(found.count)]
    spread = [np.percentile(found.lab[..., 0][found.labels == number], (10, 90)) / 10 for number in range(found.count)]
    where = [_lying(found.labels == number) for number in range(found.count)]
    words = colour_names(colours)
    spoken = [
        word_of((float(L), float(chroma), float(hue)), in_sky=float(part == "sky"))
        for (L, chroma, hue), part in zip(lab_to_lch(colours), part_of, strict=True)
    ]
    names = passage_names(colours, shares, part_of, where, spoken)
    passages = tuple(
        Passage(
            number + 1,
            names[number],
            words[number],
            where[number],
            part_of[number],
            float(shares[number]),
            float(colours[number, 0]) / 10,
            float(spread[number][0]),
            float(spread[number][1]),
            as_three(colours[number]),
            hex_of(lab_to_srgb8(colours[number].astype(np.float32))),
            spots[number],
            own[number],
            alike[number] + 1 if alike[number] != number else None,
            starts[number],
            covering(own[number], below[number] if below else None),
            float(millilitres[number]),
            float(mixed_of[number]),
            costs.get(alike[number], 0.0),
            tuple(int(other) + 1 for other in np.flatnonzero(touching[number])),
        )
        for number in range(found.count)
    )
    accents = accents_of(found, box, holding)
    errors = delta_e_2000(np.array([one.lab for one in own]), colours)
    return Passages(passages, accents, _tubes(passages, box, canvas), float(errors @ shares), found)


def _lying(mask: NDArray[np.bool_]) -> Place:
    """Where a passage lies; one that winds through the picture, and is little of it, where its number stands."""
    place = place_of(mask)
    if not place.everywhere or mask.mean() >= MUCH:
        return place
    x, y = number_at(mask)
    return Place(("top", "middle", "bottom")[min(int(3 * y), 2)], ("left", "centre", "right")[min(int(3 * x), 2)])


def _alike(colours: Float64, shares: Float64) -> list[int]:
    """For each place the first, by number, of those of nearly its colour: all have its mixture."""
    first = list(range(len(shares)))
    for number in np.argsort(-shares, kind="stable"):
        if first[number] != number:
            continue
        near = delta_e_2000(colours[number], colours) < ONE_MIXTURE
        for other in np.flatnonzero(near):
            if first[other] == other and shares[other] <= shares[number]:
                first[other] = int(number)
    lowest = {one: min(number for number, of in enumerate(first) if of == one) for one in set(first)}
    return [lowest[one] for one in first]


def _heaps_touching(touching: NDArray[np.bool_], alike: Sequence[int]) -> NDArray[np.bool_]:
    """Which heaps have places beside each other (n, n), each by the number of its first place."""
    heaps = np.zeros_like(touching)
    for one, other in np.argwhere(touching):
        heaps[alike[one], alike[other]] = True
    np.fill_diagonal(heaps, False)
    return heaps


def _to_mix(heaps: Float64, starts: Sequence[Mother | None]) -> Float64:
    """Millilitres (n,) to mix of each heap: for its own places, and for what begins from it."""
    whole = heaps.copy()
    for heap, start in zip(heaps, starts, strict=True):
        if start is not None:
            whole[start.start - 1] += heap * start.parts / (start.parts + sum(one.parts for one in start.added))
    return whole


def _mixed(
    colours: Float64,
    shares: Float64,
    alike: Sequence[int],
    box: PaintBox,
    millilitres: Float64,
    skies: Set[int] = frozenset(),
) -> tuple[dict[int, Recipe], dict[int, float]]:
    """The recipe of each place that has its own, for the mean of all that share it; and what few parts cost (ΔE00).

    ``skies`` are heaps for the sky: what fades in pale tints is kept out of them as out of every tint that it would
    fade in, unless nothing else comes near.
    """
    firsts = sorted(set(alike))
    members = [[number for number, first in enumerate(alike) if first == one] for one in firsts]
    targets = np.array([np.average(colours[each], axis=0, weights=shares[each]) for each in members])
    sparing = {row for row, first in enumerate(firsts) if first in skies}
    mixed = dict(zip(firsts, lasting_recipes(targets, box, _recipes, sparing), strict=True))
    costs = {}
    for first, each, target in zip(firsts, members, targets, strict=True):
        if float(millilitres[each].sum()) < LITTLE_ML:
            few = few_parts(mixed[first], target, tubes_for(mixed[first], box, sparing=first in skies))
            if few is not mixed[first] and not loses_value(few, mixed[first]):
                costs[first] = max(few.error - mixed[first].error, 0.0)
                mixed[first] = few
    return mixed, costs


def _recipes(targets: Float64, box: PaintBox) -> list[Recipe]:
    return value_kept(targets, box, easel_recipes)


def _lasting(
    starts: Sequence[Mother | None], own: Sequence[Recipe], pale: Set[int], box: PaintBox
) -> list[Mother | None]:
    """The heaps to begin from, but none that holds what fades for a sky or a tint whose own recipe is without."""

    def brings(number: int) -> bool:
        start = starts[number]
        return holds_fading(own[number]) if start is None else brings(start.start - 1) or _adds_fading(start, box)

    return [
        None if start is not None and number in pale and not holds_fading(own[number]) and brings(number) else start
        for number, start in enumerate(starts)
    ]


def _adds_fading(start: Mother, box: PaintBox) -> bool:
    return any(box.find(one.paint).fades_pale for one in start.added)


def coat(kind: str) -> tuple[float, float]:
    """Thickness in mm of a coat ("thin", "full"), and the part of it that is mixed and never laid."""
    row = next(row for row in read_table("coat_thickness.csv") if row["coat"] == kind)
    return float(row["millimetres"]), float(row["left_over"])


def _below(original: Picture | None, found: Places) -> list[Recipe] | None:
    """What was painted where each passage lies, as a mixture that looks so."""
    if original is None:
        return None
    old = lab_at(original, LONG_EDGE)
    if old.shape != found.lab.shape:
        return None
    return recipes(Places(found.labels, np.asarray(old, dtype=np.float32)).colours(), default_box())


def _parts_of(found: Places, parts: NDArray[np.str_] | None) -> list[str]:
    """The part that each passage lies in; empty where it lies in several, or in none that is sure."""
    if parts is None:
        return [""] * found.count
    here = _at_places(found, parts)
    told = []
    for number in range(found.count):
        names, counts = np.unique(here[found.labels == number], return_counts=True)
        told.append(str(names[counts.argmax()]) if counts.max() >= OF_ONE_PART * counts.sum() else "")
    return told


def _called_sky(found: Places, number: int, sky: NDArray[np.floating] | None) -> bool:
    """Whether a passage of the sky is sure enough by itself: what is more of a guess is called by its colour alone."""
    return sky is None or float(_at_places(found, sky)[found.labels == number].mean()) >= A_SKY


def _at_places(found: Places, values: NDArray[Any]) -> NDArray[Any]:
    """A map of any size (height, width), at the places of the passages."""
    height, width = found.labels.shape
    rows = (np.arange(height) + 0.5) / height * values.shape[0]
    columns = (np.arange(width) + 0.5) / width * values.shape[1]
    return np.asarray(values[rows.astype(int)][:, columns.astype(int)])


def _tubes(passages: Sequence[Passage], box: PaintBox, canvas: CanvasSize) -> tuple[Needed, ...]:
    """What each tube must give, by volume; white for where it is laid first counted in."""
    density = {paint.name: paint.density for paint in box.with_white}
    volume = dict.fromkeys(density, 0.0)
    for passage in passages:
        bulk = {part.paint: part.share / density[part.paint] for part in passage.recipe.parts}
        for paint, part in bulk.items():
            volume[paint] += passage.millilitres * part / sum(bulk.values())
        if passage.covering.white_first:
            volume[box.white.name] += passage.millilitres
    return tuple(Needed(paint.name, paint.label, volume[paint.name]) for paint in box.with_white)
