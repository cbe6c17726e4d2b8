"""How a plan's mixtures are told on a page and, shorter, on the sheet for the easel."""

from collections.abc import Sequence
from dataclasses import dataclass

from critique.paints.fading import fading_in
from critique.paints.paint import without_shade
from critique.paints.recipes import OFF, Recipe
from critique.paints.whole_parts import told_unit
from critique.tasks.mother_mixtures import Mother
from critique.tasks.passages import Passage, Passages
from critique.words.aloud import sentence

FRACTIONS = {0.5: "½", 0.25: "¼", 0.125: "⅛", 0.0625: "1/16"}
MORE_TO_MIX = 1.2  # times what is laid: less is within what stays on the palette
PLAIN = {"titanium white": "white", "zinc white": "zinc white"}
DROPPED = (" opaque",)  # what parts no two paints


@dataclass(frozen=True, slots=True)
class Card:
    """A passage as the sheet shows it."""

    number: int
    name: str
    srgb: str
    made: str  # sRGB of the mixture
    value: str
    mixture: str
    start: str
    cover: str
    millilitres: str
    to_mix: str  # of its heap, for all that is painted from it; empty where it has none of its own
    off: str  # that these tubes come no nearer to its colour; empty where they do
    fades: str  # that a paint fades in such a mixture; empty where they last
    shared: bool  # whether it has no mixture of its own


def card_of(passage: Passage) -> Card:
    """The short form: parts before short names, largest first."""
    start = ""
    if passage.same_as is not None:
        start = f"the heap of {passage.same_as}"
    elif passage.mother is not None:
        start = short_start(passage.mother)
    return Card(
        passage.number,
        passage.name[:1].upper() + passage.name[1:],
        passage.srgb,
        passage.recipe.srgb,
        f"{passage.value:.0f}",
        short_mixture(passage.recipe),
        start,
        _cover(passage),
        ml_of(passage),
        ml(passage.heap) if passage.heap > 0 else "",
        "as near as these tubes come" if passage.recipe.error > OFF else "",
        " ".join(fading_in(passage.recipe.paints, [part.share for part in passage.recipe.parts])),
        passage.same_as is not None,
    )


def short_mixture(recipe: Recipe) -> str:
    """Such as "9 white · 2 ultramarine blue · ¼ hansa yellow"."""
    return " · ".join(short_parts(recipe))


def short_parts(recipe: Recipe) -> tuple[str, ...]:
    """Each part by itself; the steps in white after them, where it is let down."""
    if recipe.let_down is not None:
        strong, steps = recipe.let_down.strong, recipe.let_down.steps
        if len(strong) == 1:
            told = [f"1 {short_name(strong[0][0])} in {steps[0]} white"]
            steps = steps[1:]
        else:
            told = [f"{_number(parts)} {short_name(paint)}" for paint, parts in strong]
        return (*told, *(f"then 1 of that in {step} white" for step in steps))
    unit = told_unit(recipe.amounts)
    parts = sorted(recipe.parts, key=lambda part: -part.parts)
    return tuple(f"{_number(part.parts / unit)} {short_name(part.paint)}" for part in parts)


def short_start(mother: Mother) -> str:
    """Such as "2 of 8 + ½ phthalo green"."""
    added = " + ".join(f"{_number(one.parts)} {short_name(one.paint)}" for one in mother.added)
    return f"{_number(mother.parts)} of {mother.start} + {added}"


def short_name(paint: str) -> str:
    """A paint's name as it is called at the easel."""
    name = without_shade(paint)
    for word in DROPPED:
        name = name.removesuffix(word)
    return PLAIN.get(name, name)


def _number(parts: float) -> str:
    return FRACTIONS.get(parts, f"{parts:g}")


def paints_used(passages: Passages) -> frozenset[str]:
    """The paints that any mixture of a plan holds, touches and what is added to a heap counted in."""
    recipes = [*(one.recipe for one in passages.passages), *(touch.recipe for touch in passages.accents)]
    added = [part.paint for one in passages.passages if one.mother is not None for part in one.mother.added]
    return frozenset([*(part.paint for recipe in recipes for part in recipe.parts), *added])


def mixing_order(passages: Sequence[Passage]) -> list[int]:
    """The mixtures in the order in which each has what it starts from, the largest first; a tube alone is none."""
    mixed = (one for one in passages if one.same_as is None and len(one.recipe.parts) > 1)
    own = sorted(mixed, key=lambda one: -one.heap)  # with what others take from it
    firsts = [one.number for one in own if one.mother is None]
    return [*firsts, *(one.number for one in own if one.mother is not None)]


def _cover(passage: Passage) -> str:
    cover = passage.covering
    if cover.white_first:
        return "white first"
    return cover.opacity if cover.coats == 1 else f"{cover.opacity}, {cover.coats or 'many'} coats"


def ml(millilitres: float) -> str:
    """An amount of paint as a painter squeezes it out."""
    if millilitres < 0.75:
        return "under 1 ml"
    return f"{millilitres:.0f} ml"


def ml_of(passage: Passage) -> str:
    """How much of it is laid, and how much to mix where others are painted from the same heap."""
    laid = ml(passage.millilitres)
    if passage.same_as is None and passage.heap >= MORE_TO_MIX * passage.millilitres and ml(passage.heap) != laid:
        return f"{laid}, mix {ml(passage.heap)}: others take from it"
    return laid


def span_in_words(passage: Passage) -> str:
    """Such as "value 5.2 (4 to 6)"; its middle alone where it hardly spreads."""
    low, high = f"{passage.darkest:.0f}", f"{passage.lightest:.0f}"
    spread = f" ({low} to {high})" if low != high else ""
    return f"value {passage.value:.1f}{spread}"


def start_in_words(passage: Passage) -> str:
    """The same as a sentence; empty where the mixture begins afresh."""
    if passage.same_as is not None:
        return f"From the heap of {passage.same_as}."
    return sentence(passage.mother.text) if passage.mother is not None else ""
