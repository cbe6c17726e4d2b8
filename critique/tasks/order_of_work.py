"""In what order an aim is painted, in acrylic first, and where oil and gouache differ."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from critique.measures.values import ValuePlan
from critique.paints.box import PaintBox
from critique.tasks.accents import Accent
from critique.tasks.edges_of_aim import EdgeToPaint
from critique.tasks.passages import Passage
from critique.words.aloud import with_article
from critique.words.lists import counted, listed, listed_numbers

WORTH_A_GROUND = 0.25  # of the picture that must be green for a ground of its opposite to be worth while
EARTHS = ("red oxide", "burnt sienna", "yellow oxide", "yellow ochre", "raw sienna", "quinacridone burnt orange")
# How painters lay a picture in, and what they say of drying: common practice, no source.
OIL = (
    "In oil: thin the block-in with solvent and no medium, in moving air and as its label says, add medium as you go "
    "on (fat over lean), and keep the lights for last; colours dry nearly as they look, and what is wet can be lost "
    "into what is wet for days."
)
GOUACHE = (
    "In gouache: every wash wakes the one below, so lay big shapes once and leave them; darks dry lighter and lights "
    "dry darker, so trust the dry dab only. White is laid last and thick."
)


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of the work: what it is called, what to do, and which passages, by number in the order of painting."""

    title: str
    text: str
    passages: tuple[int, ...]


def order_of_work(
    passages: Sequence[Passage],
    accents: Sequence[Accent],
    edges: Sequence[EdgeToPaint],
    plan: ValuePlan,
    box: PaintBox,
    *,
    green_area: float,
    fresh: bool,
    bare_sky: bool = False,
) -> tuple[Stage, ...]:
    """Ground, block-in by the value plan, second pass, lights and edges, last things.

    Parameters
    ----------
    plan : the aim in three values.
    green_area : of the picture that is green, 0–1.
    fresh : whether a new canvas is begun, rather than the old painting gone over.
    bare_sky : whether its sky is faulted as bare and outshining all else: no light is laid thick in that.
    """
    masses = _masses(passages, plan)
    bare = tuple(one.number for one in passages if [part.paint for part in one.recipe.parts] == [box.white.name])
    lights = [one for one in passages if not (bare_sky and one.part == "sky")] or passages
    stages = [
        _ground(passages, box, green_area, fresh),
        Stage("Block-in", _block_in(masses, bare), tuple(one.number for mass in masses for one in mass)),
        _second([one for one in passages if one.number not in bare] or passages),
        _last(lights, accents, edges, bare),
    ]
    return tuple(stages)


def other_media() -> tuple[str, str]:
    """Where oil and gouache differ from all this."""
    return OIL, GOUACHE


def _ground(passages: Sequence[Passage], box: PaintBox, green_area: float, fresh: bool) -> Stage:
    names = [paint.name for paint in box.paints]
    earth = next((name for name in EARTHS if name in names), None)
    white_first = tuple(one.number for one in passages if one.covering.white_first)
    if fresh and earth and green_area >= WORTH_A_GROUND:
        text = f"Stain the ground with a thin wash of {earth}: what shows between the strokes then answers the greens."
    elif fresh:
        text = "Stain the ground with a thin grey of the middle value, so that lights and darks are both seen at once."
    else:
        text = (
            "The old painting is the ground: wash off dust and grease, and shave a thick ridge off with a knife. Don't "
            "sand it: who knows which paints lie in it? Let some of the old colour stand where it is right already."
        )
        if white_first:
            under = listed_numbers(white_first)
            text += f" Lay a coat of white under {under} and let it dry: their mixtures let light through."
    return Stage("Ground", text, white_first)


def _masses(passages: Sequence[Passage], plan: ValuePlan) -> list[list[Passage]]:
    """The passages of each mass of the value plan, darkest first."""
    ends = [0.0, *plan.thresholds, 10.0 + 1e-6]
    return [
        sorted((one for one in passages if low <= one.value < high), key=lambda one: one.value)
        for low, high in itertools.pairwise(ends)
    ]


def _block_in(masses: Sequence[Sequence[Passage]], bare: Sequence[int]) -> str:
    told = [
        f"{word} {listed_numbers([one.number for one in mass])} near value {_laid_at(mass):.0f}"
        for word, mass in zip(("the darks", "the middles", "the lights"), masses, strict=True)
        if mass
    ]
    below = (
        f" {listed_numbers(bare)} {'are' if len(bare) > 1 else 'is'} white alone, and nothing lies above that: lay it "
        "in now with a touch of its darker neighbour's mixture, and keep pure white for its lights at the end."
        if bare
        else ""
    )
    return (
        f"Thin paint, a big brush, no detail: {'; then '.join(told)}. Each in its own mixture, flat. Squint: if these "
        f"{counted(sum(bool(mass) for mass in masses))} values don't carry it, nothing later will. Most acrylics "
        # Makers' and painters' accounts of which colours shift most, darks or tints, contradict one another.
        "dry a shade darker, some matte ones lighter, and which of them most differs by maker: let a dab of each heap "
        "dry, and mix those a touch lighter that dry darker." + below
    )


def _laid_at(mass: Sequence[Passage]) -> float:
    """The value of a mass as it is laid in flat: the mean of its passages, their lightest strokes left for later."""
    return sum(one.value * one.share for one in mass) / sum(one.share for one in mass)


def _second(passages: Sequence[Passage]) -> Stage:
    wide = sorted(passages, key=lambda one: -one.share * (one.lightest - one.darkest))[:3]
    told = [
        f"{one.number} from {one.darkest:.0f} to {one.lightest:.0f}"
        for one in wide
        if f"{one.darkest:.0f}" != f"{one.lightest:.0f}"
    ]
    most = f" Most light and shade lies in {listed(told)} on the scale of ten." if told else ""
    text = (
        f"Fuller paint, smaller brush, dark to light: turn the flat shapes into forms.{most} Take each shape's own "
        "mixture up with white and the colour of the light on it, and down with its neighbour's darker one, not with "
        "black from the tube."
    )
    return Stage("Second pass", text, tuple(one.number for one in wide))


def _last(
    passages: Sequence[Passage], accents: Sequence[Accent], edges: Sequence[EdgeToPaint], bare: Sequence[int]
) -> Stage:
    lightest = max(passages, key=lambda one: one.lightest)
    found = [edge for edge in edges if edge.kind == "find"]
    pure = " in pure white" if lightest.number in bare else ""
    parts = [f"The lightest lights of {lightest.number}{pure}, thick"]
    if found:
        parts.append(listed([f"the edge between {edge.first} and {edge.second}" for edge in found]))
    if accents:
        touches = listed(
            [f"{with_article(one.colour)} ({one.letter} on the key, {one.place.words})" for one in accents]
        )
        parts.append(f"{'one touch each of' if len(accents) > 1 else 'one touch of'} {touches}")
    return Stage("Last", "; ".join(parts) + ". Then stop, and look at it small and upside down.", (lightest.number,))
