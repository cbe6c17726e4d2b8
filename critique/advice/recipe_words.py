"""How the recipes of a change are told: the one place where they become words."""

from collections.abc import Sequence
from fractions import Fraction

from critique.advice.recipe_for import RecipeFor
from critique.paints.cautions import cautions_for
from critique.paints.muting import Muting
from critique.paints.recipes import OFF
from critique.perception.cielab import lch_of
from critique.words.aloud import sentence, with_article
from critique.words.figures import percent
from critique.words.painters import foliage_word

SWATCH_FIRST = "Parts by weight, predicted from measured matte acrylics: mix a test swatch and let it dry first."
_AS_MUCH = {Fraction(1, 2): "half", Fraction(2): "twice", Fraction(3): "three times", Fraction(4): "four times"}
SAME_VALUE = 0.15  # values: less than this is no change worth telling
HELD = 0.3  # values: more of a change is no value held, whatever white goes in against it; our choice


def recipes_in_words(recipes: Sequence[RecipeFor]) -> str | None:
    """All recipes of a change in one paragraph, each after what it is for; None when there is none."""
    if not recipes:
        return None
    return " ".join([*(sentence(f"{_use(one)}: {recipe_in_words(one)}") for one in recipes), SWATCH_FIRST])


def recipe_in_words(one: RecipeFor) -> str:
    """One recipe, without what it is for."""
    return f"{one.recipe.text}." if one.adds is None else _added(one, one.adds)


def cautions_in_words(recipes: Sequence[RecipeFor]) -> tuple[str, ...]:
    """What to mind with the paints of some recipes, as sentences: each substance once, worst first."""
    return tuple(sentence(caution.text) for caution in cautions_for(paint for one in recipes for paint in one.paints))


def _use(one: RecipeFor) -> str:
    return one.use if one.share is None else f"{one.use}, {percent(one.share)} of the picture"


def steps_at_palette(one: RecipeFor) -> tuple[tuple[str, str], ...]:
    """What is done at the palette for one recipe, in order: what each step is called, and the step.

    The heap that lies there or is mixed first, what goes into it, the dab that it makes, and what would do instead.
    """
    way = one.adds
    if way is None:
        return (("Paint", recipe_in_words(one)),)
    others = _others(one, way)
    names = ["To last, add" if _must_last(one) else "Or add", *["or"] * len(others)][: len(others)]
    steps = (
        ("Your green", _heap(one, way)),
        ("Add", _addition(way)),
        ("Test dab", f"{_dab(way)}. {way.fading}".strip() if way.fading else _dab(way)),
        *zip(names, others, strict=True),
    )
    return tuple((name, sentence(text)) for name, text in steps)


def _added(one: RecipeFor, way: Muting) -> str:
    """The same in one paragraph."""
    heap = _heap(one, way)
    green = sentence(f"it is {heap}" if one.recipe.error <= OFF else heap)
    what = f"Mix in {_addition(way)}: that makes {_dab(way)}."
    return " ".join(part for part in (green, what, way.fading, _instead(one, way)) if part)


def _heap(one: RecipeFor, way: Muting) -> str:
    if one.recipe.error <= OFF:
        return f"likely something near {way.into}"
    return f"the {one.box} box mixes no green as strong as that; the nearest is {way.into}"


def _addition(way: Muting) -> str:
    if not way.white_parts:
        return way.addition
    return f"{way.addition} {'to hold its value' if abs(way.value_change) <= HELD else 'to hold some of its value'}"


def near_its_value(moved: float) -> str:
    """What is asked of the value of a green that is quieted, and by whose paint it moves so far on the 0–10 scale."""
    return "stay near its value" if moved <= HELD else "stay as near its value as the paint lets you"


def _dab(way: Muting) -> str:
    """What a paint makes of the heap."""
    return f"{with_article(foliage_word(*lch_of(way.lab)))}, chroma {way.chroma_after:.0f}, {_value(way)}"


def _value(way: Muting) -> str:
    if abs(way.value_change) < SAME_VALUE:
        return "with the value as it was"
    return f"{abs(way.value_change):.1f} of a value {'darker' if way.value_change < 0 else 'lighter'}"


def _measured_for(first: Muting, way: Muting) -> str:
    """What another paint takes, in parts, for the mixture as it was told; for more or less of it where that is easier."""
    times = way.heap / first.heap
    if times == 1:
        return way.addition
    much = _AS_MUCH.get(times)
    return f"{way.addition} to {f'{much} as much of the mixture' if much else way.into}"


def _others(one: RecipeFor, first: Muting) -> list[str]:
    """The other paints that would do, each with where it leads."""
    return [
        f"{_measured_for(first, way)} (chroma {way.chroma_after:.0f}, {_value(way)}"
        f"{'; it fades in such a tint' if way.fades else ''})"
        for way in one.instead
    ]


def _must_last(one: RecipeFor) -> bool:
    """Whether what is added fades, and none of the others does."""
    return one.adds is not None and one.adds.fades and not any(way.fades for way in one.instead)


def _instead(one: RecipeFor, first: Muting) -> str:
    """The others in a sentence; those that last before one that fades."""
    ways = _others(one, first)
    return (
        sentence(f"{'where it must last, take' if _must_last(one) else 'or take'} {' or '.join(ways)}") if ways else ""
    )
