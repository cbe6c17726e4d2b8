"""Changes that quiet, trade or vary the greens, or take a green cast out."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.draft import Draft, Figure
from critique.advice.finding import Target
from critique.advice.muting import LCh, PaintedMuting, painted_muting, pair_recipe, repaint_greens
from critique.advice.places import place_of
from critique.advice.previews import (
    EARTH_CHROMA,
    EARTH_HUE,
    STRAW_CHROMA,
    STRAW_HUE,
    shift_cast,
    trade_greens,
    vary_greens,
)
from critique.advice.trial import Trial
from critique.advice.wording import percent, sentence
from critique.measures.greens import Greens
from critique.perception.cielab import lab_to_lch, lab_to_srgb8, lch_to_lab
from critique.perception.hue import YELLOW_GREEN, beyond_leaf
from critique.perception.munsell import munsell_notation
from critique.perception.names import colour_name
from critique.perception.srgb import hex_of

KEPT_CHROMA = 12.0  # C*: greens this quiet are left as they are; the middle landscape's green
MUTED_MEDIAN_RANK = 90  # percentile of the landscapes' median green chroma that muting aims at
MUTING_TRIES = 3  # times that paint is asked for, each time for a quieter colour
MUTED_NEAR = 2.0  # C* above the aim that is near enough
TRADE_FROM, TRADE_FULL = 0.7, 1.4  # standard deviations of the green's value: about two fifths of it is traded
WARM_TURN, COOL_TURN = 14.0, 26.0  # degrees that lights and shadows of an even green are turned; common practice

AREA = Figure("green area", lambda case: case.measures.greens.area_share, percent)
BEYOND = Figure("beyond a leaf", lambda case: case.measures.greens.beyond_leaf_share, percent)
CHROMA = Figure("middle chroma of the green", lambda case: case.measures.greens.median_chroma, lambda c: f"{c:.0f}")
EVENNESS = Figure("evenness", lambda case: case.measures.greens.evenness, percent)
SPREAD = Figure("spread of green hues", lambda case: case.measures.greens.hue_spread, lambda degrees: f"{degrees:.0f}°")
LEAN = Figure(
    "mean a* (below 0 is green)", lambda case: case.measures.cast.mean.a, lambda a: f"{a:.1f}".replace("-", "−")
)


def target_of(lch: tuple[float, float, float]) -> Target:
    """A colour with all its names."""
    lab = lch_to_lab(np.array(lch))
    return Target(
        float(lch[0]), float(lch[1]), float(lch[2]), munsell_notation(lab), colour_name(lab), hex_of(lab_to_srgb8(lab))
    )


def mute(trial: Trial) -> Draft:
    """Quiet the strong greens with paint."""
    lab, case = trial.lab, trial.case
    greens = case.measures.greens
    beyond = beyond_leaf(lab)
    chosen = beyond if beyond.mean() > 0.001 else YELLOW_GREEN.contains(lab)
    L, C, h = (float(part) for part in lab_to_lch(np.median(lab[chosen], axis=0)))
    wanted = case.norms.at("greens.median_chroma", MUTED_MEDIAN_RANK)
    ratio = float(np.clip((wanted - KEPT_CHROMA) / max(greens.median_chroma - KEPT_CHROMA, 1.0), 0.1, 0.85))
    source, aim = (L, C, h), (L, KEPT_CHROMA + (C - KEPT_CHROMA) * ratio, h)
    painted = _painted(source, aim)
    made = painted.made if painted else aim
    text = (
        f"mute the greens {place_of(chosen)}. Take the strong one from chroma {C:.0f} to about {made[1]:.0f} and stay "
        f"near its value ({L / 10:.1f}), so that the drawing of light and shade stays"
    )
    return Draft(
        "mute the greens",
        "green strength",
        sentence(text),
        repaint_greens(lab, KEPT_CHROMA, source, made),
        (BEYOND, CHROMA, AREA),
        "The picture with that mixture in its strong greens; all other colours as they are.",
        recipe=lambda: painted.recipe if painted else None,
        source=target_of(source),
        target=target_of(made),
    )


def _painted(source: LCh, aim: LCh) -> PaintedMuting | None:
    """The paint that brings ``source`` nearest to ``aim``; asked for more where it stops short, as paint often does."""
    asked = aim
    best: PaintedMuting | None = None
    for _ in range(MUTING_TRIES):
        painted = painted_muting(lch_to_lab(np.array(source)), lch_to_lab(np.array(asked)))
        if painted is None or (best and abs(painted.made[1] - aim[1]) >= abs(best.made[1] - aim[1])):
            break
        best = painted
        short = painted.made[1] - aim[1]
        if short <= MUTED_NEAR:
            break
        asked = (asked[0], max(asked[1] - short, 2.0), asked[2])
    return best


def trade(trial: Trial, after_muting: bool) -> Draft:
    """Turn part of the green to straw and warm grey."""
    greens = trial.case.measures.greens
    middle, spread = greens.median_lightness, 10 * max(greens.value_spread, 0.5)
    start, full = TRADE_FROM * spread, TRADE_FULL * spread
    first = "once the greens are quiet, give some of them away" if after_muting else "give some of the green away"
    text = (
        f"{first}. Let what is lighter than about value {(middle + start) / 10:.1f} go to straw and ochre, and what is "
        f"darker than {(middle - start) / 10:.1f} to a warm grey; what stays green then reads as green"
    )

    def recipe() -> str:
        return pair_recipe(
            ("Straw for the lights", lch_to_lab(np.array([min(middle + full, 88), STRAW_CHROMA, STRAW_HUE]))),
            ("Warm grey for the shadows", lch_to_lab(np.array([max(middle - full, 15), EARTH_CHROMA, EARTH_HUE]))),
        )

    return Draft(
        "less green",
        "green area",
        sentence(text),
        trade_greens(trial.lab, middle, start, full),
        (AREA, BEYOND, CHROMA),
        ("The quieted picture, its" if after_muting else "The")
        + " lit greens turned to straw and the dark ones to a warm grey; the middle greens stay.",
        recipe=recipe,
    )


def vary(trial: Trial) -> Draft:
    """Warm the lit greens and cool the shaded ones."""
    greens = trial.case.measures.greens
    middle, reach = greens.median_lightness, 10 * max(greens.value_spread, 0.5)
    text = (
        "vary the greens by light. Turn the lit ones about a step toward yellow and the shaded ones two steps toward "
        "blue-green, even where you see no difference: the eye reads that as sun and air"
    )

    def recipe() -> str:
        return pair_recipe(
            ("In the light", _green_at(greens, middle + reach, -WARM_TURN)),
            ("In the shade", _green_at(greens, middle - reach, COOL_TURN)),
        )

    return Draft(
        "vary the greens",
        "evenness of greens",
        sentence(text),
        vary_greens(trial.lab, middle, reach, WARM_TURN, COOL_TURN),
        (EVENNESS, SPREAD),
        "The same values, with warmer greens in the light and cooler ones in the shade.",
        recipe=recipe,
    )


def _green_at(greens: Greens, lightness: float, turned: float) -> NDArray[np.floating]:
    """The middle green at another lightness, turned by some degrees of hue."""
    return lch_to_lab(np.array([lightness, greens.median_chroma, greens.mean_hue + turned]))


def uncast(trial: Trial) -> Draft:
    """Take a lean toward green out: the photograph's by its greys, the painting's by warming the whole."""
    cast = trial.case.measures.cast
    if cast.likely == "photograph":
        a, b = min(cast.most_neutral.a, 0.0), cast.most_neutral.b
        text = (
            "take the cast out of the photograph before you touch the painting: this is the picture with its greys made "
            "grey"
        )
    else:
        a, b = cast.mean.a - trial.case.norms.at("cast.greenness", 50) * -1, 0.0
        text = (
            "warm the whole: red in the greys and the lights, or a thin warm glaze. This is the picture with its lean "
            "brought to that of the middle landscape"
        )
    return Draft(
        "take out the green cast",
        "green cast",
        sentence(text),
        shift_cast(trial.lab, a, b),
        (LEAN, AREA),
        "The picture with the lean toward green taken out.",
    )
