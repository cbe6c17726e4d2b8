"""How the recipes of a change are told: the one place where they become words."""

from collections.abc import Sequence

from critique.advice.recipe_for import RecipeFor
from critique.paints.muting import Muting
from critique.paints.recipes import OFF, named
from critique.perception.cielab import lch_of
from critique.words.aloud import sentence, with_article
from critique.words.figures import percent
from critique.words.painters import foliage_word

SWATCH_FIRST = "Parts by weight, predicted from measured matte acrylics: mix a test swatch and let it dry first."
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


def _instead(one: RecipeFor) -> str:
    """The other paints that would do, each with where it leads; those that last before one that fades."""
    ways = [
        f"{named(way.paint, way.colour_index)} (chroma {way.chroma_after:.0f}, {_value(way)})" for way in one.instead
    ]
    if not ways:
        return ""
    fades = one.adds is not None and one.adds.fading and not any(way.fading for way in one.instead)
    first = "where it must last, take" if fades else "or take"
    return sentence(f"{first} {' or '.join(ways)}")
