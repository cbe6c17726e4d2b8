"""Which few tubes carry an aim best, what they don't reach, and how they stand beside palettes of the studio."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import combinations
from math import comb

import numpy as np
from numpy.typing import NDArray

from critique.errors import PaintError
from critique.measures.families import Family
from critique.paints.box import PaintBox, box_of, default_box, measured_box
from critique.paints.catalogue import WHITE_NAME
from critique.paints.lasting import LASTING_COSTS, lasting_recipes, pale_costs, tint_fades
from critique.paints.likely import likely_error
from critique.paints.mixtures import Mixer, nearest, reach_of, small_sets
from critique.paints.neutral import neutralising_partners
from critique.paints.paint import Paint, without_shade
from critique.paints.palette import FEWEST, PaletteChoice, choose_palette, paint_burden
from critique.paints.palette_words import fading_words
from critique.paints.recipes import CLOSE, OFF, Recipe, difference_in_words, recipes
from critique.perception.reference import read_table
from critique.words.aloud import sentence
from critique.words.lists import counted, listed

WORTH_A_TUBE = 0.4  # mean ΔE00 over the picture that one tube more must win before it is worth naming
WORTH_A_FAMILY = 3.0  # or ΔE00 of one colour out of reach, of more than an accent's share
ACCENT = 0.02  # of the picture
WORKED_OUT = 6  # choices nearest by any parts, whose printed parts are tried
MOST_CHOICES = 20_000  # choices looked through for them; more, and the search's own few are taken
NEAR_TIE = 0.1  # mean ΔE00 between choices that no painter could tell apart: the fewer that harm or fade win
AS_GOOD = 0.5  # mean ΔE00 between palettes that no painter would tell apart in the picture

Float64 = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Unreached:
    """A colour of the aim that none of the paints mixes: its share, and how the nearest mixture differs."""

    name: str
    share: float
    error: float  # ΔE00
    how: str


@dataclass(frozen=True, slots=True)
class Help:
    """The one tube more that would help most: the mean ΔE00 without and with it."""

    paint: str
    label: str
    error_without: float
    error_with: float
    text: str


@dataclass(frozen=True, slots=True)
class StudioPalette:
    """A palette that painters commonly set out, on this aim: its mean ΔE00 by printed parts, and what the box lacks."""

    name: str
    paints: tuple[str, ...]
    mean_error: float
    lacking: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class AimPalette:
    """The tubes of a plan, and how far printed mixtures of them lie from the aim's colours."""

    paints: tuple[str, ...]  # beside white
    labels: tuple[str, ...]
    white: str
    mean_error: float  # ΔE00 over the families, by the printed parts
    with_care: float  # ΔE00 that real mixing is likely to miss by, mean over the families, weighed with care
    by_eye: float  # the same with dabs by eye
    tried: int  # choices; 0 where the box left none
    reason: str
    unreached: tuple[Unreached, ...]
    help: Help | None
    studio: tuple[StudioPalette, ...]
    box: PaintBox = field(metadata={"record": False})


def palette_for(families: Sequence[Family], owned: PaintBox, paints: int) -> AimPalette:
    """The ``paints`` tubes of a box that carry an aim's families best; all of them where there are no more.

    Raises
    ------
    PaintError
        When fewer than three are asked for of a larger box.
    """
    colours = np.array([family.lab for family in families], dtype=np.float64)
    shares = np.array([family.share for family in families], dtype=np.float64)
    shares = shares / shares.sum()
    tried = 0
    box, found = owned, None
    if len(owned.paints) > paints:
        if paints < FEWEST:
            raise PaintError(f"a plan of {counted(paints)} paints is not made: ask for {FEWEST} or more beside white")
        choice = choose_palette(colours, shares, owned, paints)
        tried = choice.tried
        box, found = _best_printed(_shortlist(colours, shares, owned, paints, choice), colours, shares)
    found = found or lasting_recipes(colours, box, recipes)
    errors = np.array([one.error for one in found])
    unreached = tuple(
        Unreached(family.name, family.share, one.error, difference_in_words(family.lab, one.lab))
        for family, one in zip(families, found, strict=True)
        if one.error > OFF
    )
    mean = float(errors @ shares)
    return AimPalette(
        tuple(paint.name for paint in box.paints),
        tuple(paint.label for paint in box.paints),
        box.white.name,
        mean,
        float(np.dot([one.expected.with_care for one in found], shares)),
        float(np.dot([one.expected.by_eye for one in found], shares)),
        tried,
        _reason(box, owned, mean, tried),
        unreached,
        _help(colours, shares, box, owned, unreached, mean),
        _studio(colours, shares, owned, mean, set(box.paints)),
        box,
    )


def _shortlist(
    colours: Float64, shares: Float64, owned: PaintBox, paints: int, choice: PaletteChoice
) -> list[PaintBox]:
    """Palettes worth working out: the search's own, the next nearest, and those of the studio that the box holds."""
    chosen = [tuple(sorted(owned.paints.index(paint) for paint in one.box.paints)) for one in choice.proposals]
    names = [paint.name for paint in owned.paints]
    for _, studio in studio_sets():
        if len(studio) == paints and set(studio) <= set(names):
            chosen.append(tuple(sorted(names.index(name) for name in studio)))
    if comb(len(owned.paints), paints) <= MOST_CHOICES:
        chosen += _nearest_choices(colours, shares, owned, paints)
    boxes = [tuple(owned.paints[number] for number in one) for one in dict.fromkeys(chosen)]
    return [PaintBox("the plan's", each, owned.white) for each in boxes]


def _nearest_choices(colours: Float64, shares: Float64, owned: PaintBox, paints: int) -> list[tuple[int, ...]]:
    """The few choices whose mixtures, of any parts, come nearest: each colour by the best three of a choice."""
    triples = list(combinations(range(len(owned.paints)), 3))
    reach = reach_of(Mixer.of(owned.with_white), small_sets(len(owned.paints), 3))
    error = likely_error(reach, nearest(reach, colours), colours, owned.with_white)
    error = error + pale_costs(colours, reach.sets, owned)
    number = {triple: row for row, triple in enumerate(triples)}
    choices = list(combinations(range(len(owned.paints)), paints))
    within = np.array([[number[triple] for triple in combinations(choice, 3)] for choice in choices])
    means = error[within].min(axis=1) @ shares
    return [choices[row] for row in np.argsort(means, kind="stable")[:WORKED_OUT]]


def _best_printed(boxes: Sequence[PaintBox], colours: Float64, shares: Float64) -> tuple[PaintBox, list[Recipe]]:
    """The palette whose printed parts, mixed with care, are likely to land nearest: what a painter really gets.

    A search over mixtures of any parts prefers strong tinters, of which a hair more is another colour.
    """

    def likely(found: list[Recipe]) -> float:
        return float(np.dot([one.expected.with_care + LASTING_COSTS * tint_fades(one) for one in found], shares))

    worked = [(box, lasting_recipes(colours, box, recipes)) for box in boxes]
    least = min(likely(found) for _, found in worked)
    close = [(box, found) for box, found in worked if likely(found) <= least + NEAR_TIE]
    return min(close, key=lambda one: (sum(map(paint_burden, one[0].paints)), likely(one[1])))


def _reason(box: PaintBox, owned: PaintBox, mean: float, tried: int) -> str:
    """Why these, in painter's words: what they do for one another."""
    names = [_short(paint.name) for paint in box.paints]
    if tried:
        first = (
            f"of all {tried:,} ways to choose {counted(len(names))} from your box"
            if owned is not default_box()
            else (f"of all {tried:,} ways to choose {counted(len(names))} of the {owned.name} set")
        )
        first = f"{first}, these are likely to come nearest to the aim"
    else:
        first = f"these are all that the box holds, and the plan keeps to them: {listed(names)}"
    told, seen = [], set()
    for name, partners in neutralising_partners(box).items():
        for grey in partners:
            pair = frozenset((name, grey.partner))
            if pair not in seen:
                seen.add(pair)
                told.append(f"{_short(grey.partner)} greys {_short(name)}")
    greys = f" {sentence('; '.join(told))}" if told else " No two of them grey each other: a neutral takes three."
    near = "closely" if mean <= CLOSE else "near" if mean <= OFF else "only roughly"
    carry = f"Together they carry its main colours {near}: {mean:.1f} steps away on average by calculation."
    return " ".join([f"{sentence(first)}{greys}", carry, *fading_words(box.paints)])


def _short(name: str) -> str:
    return without_shade(name)


def _help(
    colours: Float64, shares: Float64, box: PaintBox, owned: PaintBox, unreached: Sequence[Unreached], mean: float
) -> Help | None:
    """The tube that brings the aim nearest beside those of the plan: one that the painter owns, before any other.

    Told by printed parts, as the plan's own ``mean`` is: the search's mixtures of any parts meet nearly everything.
    """
    out = {paint.name for paint in box.with_white}
    others = tuple(paint for paint in owned.paints if paint.name not in out)
    if own := _most_help(colours, shares, box, others, unreached):
        said = "one tube more of your box" if owned is not default_box() else "one tube more"
        return _helps(said, own, mean, _printed_with(own, colours, shares, box))
    held = {paint.name for paint in owned.with_white}
    known = {paint.name: paint for each in (default_box(), measured_box()) for paint in each.paints}
    more = tuple(paint for name, paint in known.items() if name not in held)
    bought = _most_help(colours, shares, box, more, unreached)
    return _helps("one tube more", bought, mean, _printed_with(bought, colours, shares, box)) if bought else None


def _printed_with(tube: Paint, colours: Float64, shares: Float64, box: PaintBox) -> float:
    """Mean ΔE00 by printed parts with one tube more."""
    more = PaintBox(box.name, (*box.paints, tube), box.white)
    return float(np.dot([one.error for one in lasting_recipes(colours, more, recipes)], shares))


def _helps(said: str, paint: Paint, before: float, after: float) -> Help | None:
    if round(before - after, 1) <= 0:
        return None  # what any parts would win, parts that can be measured don't
    text = (
        f"{said} would help most: {paint.label}. With it the mixtures lie {after:.1f} steps from the aim on "
        f"average in place of {before:.1f}"
    )
    return Help(paint.name, paint.label, before, after, sentence(text))


def _most_help(
    colours: Float64, shares: Float64, box: PaintBox, candidates: Sequence[Paint], unreached: Sequence[Unreached]
) -> Paint | None:
    """The one of some tubes that helps most; None where none is worth it."""
    if not candidates:
        return None
    own = len(box.paints)
    mixer = Mixer.of((*box.paints, *candidates, box.white))
    white = own + len(candidates)
    size = min(own, 3)
    base = small_sets(own, size)
    base[:, -1] = white
    without = nearest(reach_of(mixer, base), colours).error.min(axis=0)
    pairs = small_sets(own, min(own, 2))[:, :-1]
    sets = np.array([(*pair, own + number, white) for number in range(len(candidates)) for pair in pairs.tolist()])
    error = nearest(reach_of(mixer, sets), colours).error.reshape(len(candidates), len(pairs), len(colours))
    least = np.minimum(error.min(axis=1), without)
    means = least @ shares
    hazard = np.array([0.05 * bool(paint.hazards) for paint in candidates])
    best = int((means + hazard).argmin())
    before, after = float(without @ shares), float(means[best])
    won = float((without - least[best])[shares >= ACCENT].max(initial=0.0))
    if before - after < WORTH_A_TUBE and not (unreached and won >= WORTH_A_FAMILY):
        return None
    return candidates[best]


def studio_sets() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Palettes as painters commonly set them out: what they are called, and their paints beside white."""
    return tuple((row["palette"], tuple(row["paints"].split(";"))) for row in read_table("studio_palettes.csv"))


def _studio(
    colours: Float64, shares: Float64, owned: PaintBox, best: float, held: set[object]
) -> tuple[StudioPalette, ...]:
    names = {paint.name for paint in owned.with_white} | {WHITE_NAME}
    found = []
    for name, paints in studio_sets():
        box = box_of(paints, name)
        if set(box.paints) == held:
            continue
        mean = float(np.dot([one.error for one in lasting_recipes(colours, box, recipes)], shares))
        lacking = tuple(paint for paint in paints if paint not in names)
        found.append(StudioPalette(name, paints, mean, lacking, _beside(mean, best, lacking)))
    return tuple(sorted(found, key=lambda one: one.mean_error))


def _beside(mean: float, best: float, lacking: Sequence[str]) -> str:
    how = "nearer" if mean <= best - AS_GOOD else "as near" if mean <= best + AS_GOOD else "farther off"
    text = f"{how}: {mean:.1f} steps away"
    return f"{text}; the box has no {listed([_short(one) for one in lacking])}" if lacking else text
