"""Changes of light: distance in the greens, warm lights over cool shadows, a darker edge, values drawn apart."""

import math
from collections.abc import Iterator

import numpy as np

from critique.advice.change_light import DarkenPlace, PartValues
from critique.advice.draft import Draft, Figure
from critique.advice.judging import Case
from critique.advice.muting import pair_of_recipes
from critique.advice.recipe_for import RecipeFor
from critique.advice.shape_drafts import PULL
from critique.advice.trial import Trial
from critique.measures.families import assign_families, family_of
from critique.perception.names import colour_name
from critique.picture.places import place_of
from critique.words.aloud import sentence

DARKER, DARKENED_REACH = 16.0, 0.2  # L* at the edge, and how far in it fades, of the long edge; our choice
APART = 0.9  # values between two colours that still read across a room; common practice, no source


def _gap(case: Case) -> float:
    step = case.measures.neighbours.value_difference
    return abs(step) if step is not None else math.nan


GAP = Figure("step of value between the two", _gap, lambda values: f"{values:.1f}", rises=True)


def darken_edge(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Darken the place at the edge that pulls."""
    pull = trial.case.measures.eyepath.strongest_pull
    text = (
        f"darken the {pull.place} by a value and a half, fading toward the middle, and leave its colour alone. Darker "
        "edges hold the eye in"
    )
    yield Draft.of(
        "darken_edge",
        DarkenPlace(pull.x, pull.y, DARKENED_REACH, DARKER),
        sentence(text),
        (PULL,),
        f"The {pull.place} darker; all else as it is.",
        redrawn=True,
    )


def part_values(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Draw a green and the colour beside it apart in value."""
    case, lab = trial.case, trial.lab
    near, families = case.measures.neighbours, case.measures.families
    if near.green is None or near.other is None or near.value_difference is None:
        return
    green, other = families[near.green], families[near.other]
    darker = near.value_difference <= 0 if abs(near.value_difference) > 0.1 else green.lab[0] < 50
    way = "darker" if darker else "lighter"
    step = APART - abs(near.value_difference)
    shift = np.array([-10 * step if darker else 10 * step, 0, 0])
    owned = assign_families(lab, families) == near.green
    text = (
        f"part the {green.name} {place_of(owned)} from the {other.name} beside it. Take the green {step:.1f} of a value "
        f"{way} and leave both hues as they are"
    )

    def recipes() -> tuple[RecipeFor, ...]:
        return pair_of_recipes(
            ("The green as it is", np.array(green.lab)),
            (f"A step {way}", lab[owned].mean(axis=0) + shift),
            case.box,
        )

    shifted = np.array(green.lab) + shift
    after = list(families)
    after[near.green] = family_of(shifted, green.share, colour_name(shifted))
    yield Draft.of(
        "part_values",
        PartValues(tuple(family.lab for family in families), near.green, float(shift[0])),
        sentence(text),
        (GAP,),
        f"The {green.name} {way}, its hue as it was.",
        recipes=recipes,
        regrouped=True,
        families=tuple(after),
    )


def pulls_by_light(trial: Trial) -> bool:
    """Whether what pulls at the edge pulls by its light: then it is darkened first, and softened if that fails."""
    return trial.case.measures.eyepath.strongest_pull.kind == "light"
