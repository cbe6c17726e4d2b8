"""Changes that quiet, trade or vary the greens, or take a green cast out.

Each maker gets the picture as it is tried on, and whether its greens were quieted in this review; it gives the drafts
worth trying, none where the picture has nothing to change.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from critique.advice.cast_findings import green_cast_owner
from critique.advice.change_green import YELLOWEST, Mute, Uncast
from critique.advice.change_guided import LightGreens
from critique.advice.draft import Draft, Figure
from critique.advice.green_light import OLIVE, light_map
from critique.advice.green_strength import RAW_WATCH, raw_greens
from critique.advice.judging import Case
from critique.advice.muting import pair_of_recipes
from critique.advice.recipe_for import RecipeFor
from critique.advice.recipe_words import near_its_value
from critique.advice.small_map import SmallMap
from critique.advice.strong_greens import KEPT_CHROMA, is_bluer, may_be_sunlit, quieted_greens, strong_area
from critique.advice.suggestion import QuietedGreen
from critique.advice.trial import WORST, Trial
from critique.measures.greens import Greens
from critique.measures.land_greens import MAP_LONG_EDGE, land_green_share, sure_sky
from critique.paints.box import PaintBox, default_box
from critique.paints.recipes import recipe
from critique.perception.cielab import lch_to_lab
from critique.perception.hue import YELLOW_GREEN, circular_mean, hue_of, turn
from critique.picture.areas import area_of, same_frame
from critique.picture.picture import lab_at
from critique.picture.places import place_of
from critique.words.aloud import sentence
from critique.words.figures import number, percent
from critique.words.lists import counted, listed

LEAN_RANK = 75  # percentile of the landscapes' lean toward green that warming aims at: no further than need be
WARM_TURN, COOL_TURN = 15.0, 10.0  # degrees that lights and shadows of a green are turned, see green_light.py
LANDSCAPES_KEEP = 98  # percentile of the landscapes up to which a green isn't muted
MUTED_GREYING = 0.3  # of its greying: the mixtures have greyed them
MUTED_LIGHT = 0.75  # how much of the light and distance a quieted green is given: variety, not one drab
STRAWEST = 60.0  # degrees: grass that is to go to straw is turned whatever its hue
SAME_HUE = 8.0  # degrees: a green so near to a strong one is of the same tube; our choice
STRAW_HUE, STRAW_CHROMA = 88.0, 26.0  # dry grass in the sun: between ochre and straw; common practice, no source

AREA = Figure(
    "green area",
    lambda case: land_green_share(case.picture, case.measures.parts),
    percent,
    record="greens.area_share",
)
BEYOND = Figure(
    "green beyond a leaf",
    lambda case: case.measures.greens.beyond_leaf_share,
    percent,
    record="greens.beyond_leaf_share",
)
RAW = Figure("green bluer than a leaf", lambda case: float(raw_greens(case).mean()), percent)
CHROMA = Figure(
    "middle chroma of the green",
    lambda case: case.measures.greens.median_chroma,
    lambda c: f"{c:.0f}",
    record="greens.median_chroma",
)
EVENNESS = Figure(
    "part of the green that is one green", lambda case: case.measures.greens.evenness, percent, record="greens.evenness"
)
SPREAD = Figure(
    "spread of green hues",
    lambda case: case.measures.greens.hue_spread,
    lambda degrees: number(degrees, 0, "°"),
    rises=True,
    record="greens.hue_spread",
)
LEAN = Figure(
    "lean of the whole (a*: below 0 is green)",
    lambda case: case.measures.cast.mean.a,
    number,
    rises=True,
    record="cast.mean.a",
)


def mute(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Quiet the strong greens with paint, each with its own mixture."""
    lab = trial.lab
    figures, norms = trial.case.measures.greens, trial.case.norms
    raw = RAW.read(trial.case) >= RAW_WATCH
    if not raw and not any(
        getattr(figures, name) > norms.at(f"greens.{name}", LANDSCAPES_KEEP)
        for name in ("beyond_leaf_share", "median_chroma")
    ):
        return  # sunlit, and no stronger than landscapes are: muted it would go brown
    if not raw and may_be_sunlit(trial.case) and trial.level_alone("green_strength") < WORST:
        return  # readers liked such greens better as they were
    greens = quieted_greens(trial.case)
    if not greens:
        return
    first = greens[0]
    moved = max(abs(green.target.lightness - green.source.lightness) / 10 for green in greens)
    if len(greens) == 1:
        what = (
            f"Take the strong one from chroma {first.source.chroma:.0f} to about {first.target.chroma:.0f} and "
            f"{near_its_value(moved)} ({first.source.lightness / 10:.1f})"
        )
    else:
        values = listed(
            [f"value {green.source.lightness / 10:.1f} ({percent(green.share)} of the picture)" for green in greens]
        )
        what = f"The strong ones lie about {values}: quiet each and {near_its_value(moved)}"
    strong = strong_area(lab, trial.case.measures.parts)
    text = f"mute the greens {area_of(strong) or place_of(strong)}. {what}, so that the drawing of light and shade stays{_unaided(greens, trial.case.box)}"
    mixtures = "that mixture in its strong greens" if len(greens) == 1 else "those mixtures in its strong greens"
    paints = tuple(green.paint for green in greens if green.paint is not None)
    # The hue of the mixtures is what light and distance then vary; they are olive enough.
    hue = circular_mean([green.target.hue for green in greens])
    hues = replace(trial.case.measures.greens, mean_hue=min(OLIVE, hue))
    quiet = replace(trial.case, measures=replace(trial.case.measures, greens=hues))
    yield Draft.of(
        "mute_greens",
        Mute(
            KEPT_CHROMA,
            tuple((green.source.lch, green.target.lch) for green in greens),
            SmallMap.of(light_map(quiet, amount=MUTED_LIGHT, greying=MUTED_GREYING, vary=True)),
            _with_land(trial.case, greens) if raw else None,
        ),
        sentence(text),
        (RAW, CHROMA, AREA) if raw else (BEYOND, CHROMA, AREA),
        f"The picture with {mixtures}; all other colours as they are.",
        recipes=lambda: paints,
        greens=greens,
        # a flat green so blue is as flat when it has come among the yellow-greens, whose evenness is judged
        unjudged=frozenset({"green_evenness"}) if raw else frozenset(),
    )


def _with_land(case: Case, greens: Sequence[QuietedGreen]) -> SmallMap:
    """Where the land lies, and what has a hue of its strong greens: what mirrors them, or was taken for water."""
    lab, parts = lab_at(case.picture, MAP_LONG_EDGE), case.measures.parts
    hue = hue_of(lab[..., 1], lab[..., 2])
    alike = np.any([np.abs(turn(green.source.hue, hue)) <= SAME_HUE for green in greens], axis=0)
    land = same_frame(parts.mask("near", "middle", "far"), lab.shape)
    return SmallMap.of((land | (alike & ~sure_sky(parts, lab.shape))).astype(np.float32))


def _unaided(greens: Sequence[QuietedGreen], box: PaintBox | None) -> str:
    """What is said where nothing in the box, added to a green, quiets it and leaves it one, or makes it a leaf's."""
    if any(is_bluer(green.source.hue) for green in greens):
        return ". No one paint added to so blue a green makes a leaf of it: mix a leaf's green afresh, and lay it over"
    without = [green.target.lch for green in greens if green.paint is None]
    if not without:
        return ""
    which = "it" if len(greens) == 1 else "them" if len(without) == len(greens) else f"{counted(len(without))} of them"
    afresh = [recipe(lch_to_lab(np.array(quiet)), box or default_box()) for quiet in without]
    if all(one.within_reach for one in afresh):
        return f". No one paint of this box quiets {which} and leaves a green: mix the quiet green afresh"
    if any(YELLOW_GREEN.contains(np.array(one.lab)) for one in afresh):
        return f". No paint of this box quiets {which}, and it mixes no green so quiet"
    return ". This box mixes no green: that takes a tube of green, or a blue and a yellow"


def trade(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Turn sunlit ground to dry grass; trees stay green."""
    greens = trial.case.measures.greens
    if greens.area_share == 0:
        return
    first = "once the greens are quiet, give some of them away" if quieted else "give some of the green away"
    text = (
        f"{first}. Let the grass in the sun go to straw and ochre, in a few broad passages of the middle distance, and keep "
        "the green for trees and shadows; what stays green then reads as green"
    )

    def recipes() -> tuple[RecipeFor, ...]:
        light = min(greens.median_lightness + 8, 88)
        return pair_of_recipes(
            ("Straw for the grass in the sun", lch_to_lab(np.array([light, STRAW_CHROMA, STRAW_HUE]))),
            ("Green for what stays", _green_at(greens, greens.median_lightness - 6, 4.0)),
            trial.case.box,
        )

    yield Draft.of(
        "less_green",
        LightGreens(WARM_TURN, COOL_TURN, STRAWEST, SmallMap.of(light_map(trial.case, straw=1.0, amount=0.5))),
        sentence(text),
        (AREA, BEYOND, CHROMA),
        ("The quieted picture, its" if quieted else "The") + " sunlit grass turned to straw; the trees stay green.",
        recipes=recipes,
    )


def vary(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Vary the greens by light and by distance."""
    greens = trial.case.measures.greens
    if greens.area_share == 0:
        return
    text = (
        "vary the greens by light and distance. Yellow and lighter where the sun lies on the ground, darker and bluer in the "
        "trees, greyer toward the horizon, deep again at your feet: no one mixture for all of it"
    )

    def recipes() -> tuple[RecipeFor, ...]:
        middle, reach = greens.median_lightness, 10 * max(greens.value_spread, 0.5)
        return pair_of_recipes(
            ("In the light", _green_at(greens, middle + reach, -WARM_TURN)),
            ("In the shade", _green_at(greens, middle - reach, COOL_TURN)),
            trial.case.box,
        )

    yield Draft.of(
        "vary_greens",
        LightGreens(WARM_TURN, COOL_TURN, YELLOWEST, SmallMap.of(light_map(trial.case))),
        sentence(text),
        (EVENNESS, SPREAD),
        ("The quieted picture, its" if quieted else "The")
        + " greens warm in the light, dark and cool in the trees, grey toward the horizon.",
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
