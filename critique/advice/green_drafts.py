"""Changes that quiet, trade or vary the greens, or take a green cast out.

Each maker gets the picture as it is tried on, and whether its greens were quieted in this review; it gives the drafts
worth trying, none where the picture has nothing to change.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from critique.advice.cast_findings import green_cast_owner
from critique.advice.change_green import Mute, Trade, Uncast, Vary
from critique.advice.draft import Draft, Figure
from critique.advice.muting import pair_of_recipes
from critique.advice.previews import EARTH_CHROMA, EARTH_HUE, STRAW_CHROMA, STRAW_HUE
from critique.advice.recipe_for import RecipeFor
from critique.advice.strong_greens import KEPT_CHROMA, quieted_greens, strong_area
from critique.advice.trial import Trial
from critique.measures.greens import Greens
from critique.perception.cielab import lch_to_lab
from critique.picture.places import place_of
from critique.words.aloud import percent, sentence
from critique.words.lists import counted

LEAN_RANK = 75  # percentile of the landscapes' lean toward green that warming aims at: no further than need be
TRADE_FROM, TRADE_FULL = 0.7, 1.4  # standard deviations of the green's value: about two fifths of it is traded
WARM_TURN, COOL_TURN = 14.0, 26.0  # degrees that lights and shadows of an even green are turned; common practice

AREA = Figure("green area", lambda case: case.measures.greens.area_share, percent)
BEYOND = Figure("green beyond a leaf", lambda case: case.measures.greens.beyond_leaf_share, percent)
CHROMA = Figure("middle chroma of the green", lambda case: case.measures.greens.median_chroma, lambda c: f"{c:.0f}")
EVENNESS = Figure("evenness", lambda case: case.measures.greens.evenness, percent)
SPREAD = Figure(
    "spread of green hues", lambda case: case.measures.greens.hue_spread, lambda degrees: f"{degrees:.0f}°", rises=True
)
LEAN = Figure(
    "mean a* (below 0 is green)",
    lambda case: case.measures.cast.mean.a,
    lambda a: f"{a:.1f}".replace("-", "−"),
    rises=True,
)


def mute(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Quiet the strong greens with paint, each with its own mixture."""
    lab = trial.lab
    greens = quieted_greens(trial.case)
    if not greens:
        return
    first = greens[0]
    if len(greens) == 1:
        what = (
            f"Take the strong one from chroma {first.source.chroma:.0f} to about {first.target.chroma:.0f} and stay near "
            f"its value ({first.source.lightness / 10:.1f})"
        )
    else:
        what = f"There are {counted(len(greens))} that are too strong; quiet each and stay near its value"
    text = f"mute the greens {place_of(strong_area(lab))}. {what}, so that the drawing of light and shade stays"
    mixtures = "that mixture in its strong greens" if len(greens) == 1 else "those mixtures in its strong greens"
    paints = tuple(green.paint for green in greens if green.paint is not None)
    yield Draft.of(
        "mute_greens",
        Mute(KEPT_CHROMA, tuple((green.source.lch, green.target.lch) for green in greens)),
        sentence(text),
        (BEYOND, CHROMA, AREA),
        f"The picture with {mixtures}; all other colours as they are.",
        recipes=lambda: paints,
        greens=greens,
    )


def trade(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Turn part of the green to straw and warm grey."""
    greens = trial.case.measures.greens
    if greens.area_share == 0:
        return
    middle, spread = greens.median_lightness, 10 * max(greens.value_spread, 0.5)
    start, full = TRADE_FROM * spread, TRADE_FULL * spread
    first = "once the greens are quiet, give some of them away" if quieted else "give some of the green away"
    text = (
        f"{first}. Let what is lighter than about value {(middle + start) / 10:.1f} go to straw and ochre, and what is "
        f"darker than {(middle - start) / 10:.1f} to a warm grey; what stays green then reads as green"
    )

    def recipes() -> tuple[RecipeFor, ...]:
        return pair_of_recipes(
            ("Straw for the lights", lch_to_lab(np.array([min(middle + full, 88), STRAW_CHROMA, STRAW_HUE]))),
            ("Warm grey for the shadows", lch_to_lab(np.array([max(middle - full, 15), EARTH_CHROMA, EARTH_HUE]))),
            trial.case.box,
        )

    yield Draft.of(
        "less_green",
        Trade(middle, start, full),
        sentence(text),
        (AREA, BEYOND, CHROMA),
        ("The quieted picture, its" if quieted else "The")
        + " lit greens turned to straw and the dark ones to a warm grey; the middle greens stay.",
        recipes=recipes,
    )


def vary(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Warm the lit greens and cool the shaded ones."""
    greens = trial.case.measures.greens
    if greens.area_share == 0:
        return
    middle, reach = greens.median_lightness, 10 * max(greens.value_spread, 0.5)
    text = (
        "vary the greens by light. Turn the lit ones about a step toward yellow and the shaded ones two steps toward "
        "blue-green, even where you see no difference: the eye reads that as sun and air"
    )

    def recipes() -> tuple[RecipeFor, ...]:
        return pair_of_recipes(
            ("In the light", _green_at(greens, middle + reach, -WARM_TURN)),
            ("In the shade", _green_at(greens, middle - reach, COOL_TURN)),
            trial.case.box,
        )

    yield Draft.of(
        "vary_greens",
        Vary(middle, reach, WARM_TURN, COOL_TURN),
        sentence(text),
        (EVENNESS, SPREAD),
        ("The quieted picture, its" if quieted else "The")
        + " greens warmer in the light and cooler in the shade; the values as they are.",
        recipes=recipes,
    )


def _green_at(greens: Greens, lightness: float, turned: float) -> NDArray[np.floating]:
    """The middle green at another lightness, turned by some degrees of hue."""
    return lch_to_lab(np.array([lightness, greens.median_chroma, greens.mean_hue + turned]))


def uncast(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Take a lean toward green out: the photograph's by its greys, the painting's by warming the whole.

    Where the greens are too strong the cast is theirs: muting takes it out, a shift would redden the sky.
    """
    cast = trial.case.measures.cast
    owner = green_cast_owner(cast)
    if quieted and owner != "photograph":
        return
    if owner == "photograph":
        a, b = min(cast.most_neutral.a, 0.0), cast.most_neutral.b
        text = (
            "take the cast out of the photograph before you touch the painting: this is the picture with its greys made "
            "grey"
        )
    else:
        a, b = cast.mean.a - trial.case.norms.at("cast.greenness", LEAN_RANK) * -1, 0.0
        first = "hold it beside a grey card in daylight; if the lean is the painting's, " if owner == "either" else ""
        text = (
            f"{first}warm the whole: red in the greys and the lights, or a thin warm glaze. This is the picture with its "
            "lean brought to where three in four landscapes stay"
        )
    yield Draft.of(
        "take_out_cast",
        Uncast(a, b),
        sentence(text),
        (LEAN, AREA),
        "The picture with the lean toward green taken out.",
    )
