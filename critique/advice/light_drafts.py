"""Changes of light: distance in the greens, warm lights over cool shadows, a darker edge, values drawn apart."""

import math
from collections.abc import Iterator

import numpy as np

from critique.advice.change_green import Recede
from critique.advice.change_light import DarkenPlace, PartValues, WarmLights
from critique.advice.draft import Draft, Figure
from critique.advice.judging import Case
from critique.advice.muting import pair_of_recipes
from critique.advice.recipe_for import RecipeFor
from critique.advice.shape_drafts import PULL
from critique.advice.trial import Trial
from critique.measures.families import assign_families, family_of
from critique.perception.cielab import lch_to_lab
from critique.perception.hue import YELLOW_GREEN
from critique.perception.names import colour_name
from critique.picture.places import place_of
from critique.words.aloud import sentence

FAR_CHROMA, FAR_LIGHTER, FAR_COOLER = 0.6, 5.0, 16.0  # of the chroma, L* and degrees of the farthest green; our choice
WARMER, COOLER = (6.0, 10.0), (-1.0, -9.0)  # a*, b* that the lights and the shadows take on; our choice
DARKER, DARKENED_REACH = 16.0, 0.2  # L* at the edge, and how far in it fades, of the long edge; our choice
APART = 0.9  # values between two colours that still read across a room; common practice, no source


def _fall(case: Case) -> float:
    kinds = case.measures.green_kinds
    return kinds.near.chroma - kinds.far.chroma if kinds.near and kinds.far else math.nan


def _gap(case: Case) -> float:
    step = case.measures.neighbours.value_difference
    return abs(step) if step is not None else math.nan


FALL = Figure(
    "chroma that the green loses with distance",
    _fall,
    lambda chroma: f"{max(chroma, 0.0):.0f}" if chroma > -0.5 else f"−{-chroma:.0f}",
    rises=True,
)
HUES = Figure(
    "effective hues", lambda case: case.measures.variety.effective_hues, lambda hues: f"{hues:.1f}", rises=True
)
GAP = Figure("step of value between the two", _gap, lambda values: f"{values:.1f}", rises=True)


def recede(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Quiet, lighten and cool the far greens."""
    lab = trial.lab
    rows = np.flatnonzero(YELLOW_GREEN.contains(lab).any(axis=1))
    if len(rows) == 0:
        return
    top, bottom = (float(np.quantile(rows, rank) + 0.5) / len(lab) for rank in (0.02, 0.98))
    kinds = trial.case.measures.green_kinds
    text = (
        "let the far greens go. Toward the top of the land mix them a step greyer, half a value lighter and bluer, and "
        "keep the full green for the foreground; then the ground lies down"
    )

    def recipes() -> tuple[RecipeFor, ...]:
        if kinds.near is None or kinds.far is None:
            return ()
        near = (kinds.near.value * 10, kinds.near.chroma, kinds.near.hue)
        far = (kinds.far.value * 10 + FAR_LIGHTER, kinds.far.chroma * FAR_CHROMA, kinds.far.hue + FAR_COOLER)
        return pair_of_recipes(("Near", lch_to_lab(np.array(near))), ("Far", lch_to_lab(np.array(far))), trial.case.box)

    yield Draft.of(
        "recede_greens",
        Recede(top, bottom, FAR_CHROMA, FAR_LIGHTER, FAR_COOLER),
        sentence(text),
        (FALL,),
        ("The quieted picture, its" if quieted else "The")
        + " greens quieter, lighter and cooler the higher they lie; the foreground as it is.",
        recipes=recipes,
    )


def warm_lights(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Warm what is light and cool what is dark, so that a second hue comes in."""
    values = trial.case.measures.values
    low, high = 10 * values.percentiles["p25"], 10 * values.percentiles["p75"]
    text = (
        f"warm the lights and cool the darks. A little ochre or orange into what is lighter than value {high / 10:.1f}, "
        f"a little blue or violet into what is darker than {low / 10:.1f}; the values stay"
    )
    yield Draft.of(
        "warm_lights",
        WarmLights(low, high, COOLER, WARMER),
        sentence(text),
        (HUES,),
        "The same values, with warmer lights and cooler darks.",
        regrouped=True,
    )


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
