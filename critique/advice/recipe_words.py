"""How the recipes of a change are told: the one place where they become words."""

from collections.abc import Sequence
from fractions import Fraction

from critique.advice.recipe_for import RecipeFor
from critique.paints.muting import Muting
from critique.paints.recipes import OFF
from critique.perception.cielab import lch_of
from critique.words.aloud import sentence, with_article
from critique.words.figures import percent
from critique.words.painters import foliage_word

SWATCH_FIRST = "Parts by weight, predicted from measured matte acrylics: mix a test swatch and let it dry first."
_AS_MUCH = {Fraction(1, 2): "half", Fraction(2): "twice", Fraction(3): "three times", Fraction(4): "four times"}
SAME_VALUE = 0.15  # values: less than this is no change worth telling


def recipes_in_words(recipes: Sequence[RecipeFor]) -> str | None:
    """All recipes of a change in one paragraph, each after what it is for; None when there is none."""
    if not recipes:
        return None
    return " ".join([*(sentence(f"{_use(one)}: {recipe_in_words(one)}") for one in recipes), SWATCH_FIRST])


def recipe_in_words(one: RecipeFor) -> str:
    """One recipe, without what it is for."""
    return f"{one.recipe.text}." if one.adds is None else _added(one, one.adds)


def cautions_in_words(recipes: Sequence[RecipeFor]) -> tuple[str, ...]:
    """What to mind with the paints of some recipes, each once, as sentences."""
    return tuple(dict.fromkeys(sentence(caution) for one in recipes for caution in one.cautions))


def _use(one: RecipeFor) -> str:
    return one.use if one.share is None else f"{one.use}, {percent(one.share)} of the picture"


def _added(one: RecipeFor, way: Muting) -> str:
    green = (
        f"It is likely something near {way.into}."
        if one.recipe.error <= OFF
        else f"The {one.box} box mixes no green as strong as that; the nearest is {way.into}."
    )
    holding = " to hold its value" if way.white_parts else ""
    what = (
        f"Mix in {way.addition}{holding}: that makes {with_article(foliage_word(*lch_of(way.lab)))}, chroma "
        f"{way.chroma_after:.0f}, {_value(way)}."
    )
    return " ".join(part for part in (green, what, way.fading, _instead(one)) if part)


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


def _instead(one: RecipeFor) -> str:
    """The other paints that would do, each with where it leads; those that last before one that fades."""
    ways = [
        f"{_measured_for(one.adds, way)} (chroma {way.chroma_after:.0f}, {_value(way)}"
        f"{'; it fades in such a tint' if way.fades else ''})"
        for way in one.instead
        if one.adds is not None
    ]
    if not ways:
        return ""
    fades = one.adds is not None and one.adds.fades and not any(way.fades for way in one.instead)
    first = "where it must last, take" if fades else "or take"
    return sentence(f"{first} {' or '.join(ways)}")
