"""The mixtures of a plan, read back from its folder, so that their spectra are known."""

from pathlib import Path
from typing import Any

from critique.errors import CritiqueError, PaintError
from critique.paints.box import find_paint
from critique.paints.recipes import Recipe, recipe_of
from critique.text_file import TextFault, json_of, read_text

RECORD = "plan.json"
WITHIN = "plan"  # the plan's folder in the painting's own


def mixtures_of_plan(folder: Path) -> tuple[Recipe, ...]:
    """The recipe of every passage whose paints are in the catalogue; a painter's own paints are in no plan's record.

    ``folder`` is the plan's own or the painting's, in which the plan's lies.

    Raises
    ------
    CritiqueError
        When there is no plan, or it can't be read.
    """
    try:
        own = folder / WITHIN / RECORD
        record = json_of(read_text(own if own.is_file() else folder / RECORD))
        passages = [one["recipe"] for one in record["passages"]["passages"]]
    except (TextFault, KeyError, TypeError) as error:
        raise CritiqueError(
            f"{folder}: holds no plan that can be read: give the folder of one", mend="plan_folder"
        ) from error
    found = (_mixture(recipe) for recipe in passages)
    return tuple(one for one in found if one is not None)


def _mixture(recipe: dict[str, Any]) -> Recipe | None:
    try:
        paints = [find_paint(part["paint"]) for part in recipe["parts"]]
        amounts = [float(part["parts"]) for part in recipe["parts"]]
    except (PaintError, KeyError, TypeError, ValueError):
        return None
    return recipe_of(amounts, paints, recipe["target_lab"]) if sum(amounts) > 0 else None
