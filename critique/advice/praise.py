"""What works best in a picture, told first: what a reader would most likely name of it, and against no finding."""

import math
from collections.abc import Callable, Collection
from dataclasses import dataclass

import numpy as np

from critique.advice.grey_film import lies_under_a_film
from critique.advice.judging import Case
from critique.advice.praise_colour import accent, chord, quiet_greens, warm_among_cool
from critique.advice.praise_eye import one_leads
from critique.advice.praise_light import glow, lit_place, opening
from critique.advice.praise_shapes import distance, haze, high_line, shapes, silhouette, tones, value_reach, wide_sky
from critique.advice.seen import Seen
from critique.advice.virtue import Virtue
from critique.measures.eye_judging import near_edge_fault
from critique.perception.hue import turn_of_one
from critique.picture.places import spot

TOLD = 2  # virtues at most
LEAST = 0.06  # chance below which nothing is told: a figure's virtue and nobody's
WORTH = 0.35  # chance from which a second one is told; with 0.2 readers named 16 of 41 seconds, and denied some
ONE_PLACE = 0.12  # of the sides: two virtues of one light, so near to each other, are one
# Degrees of hue from the loudest colour, where that is criticised, and of the width and height from what stands too near
# an edge: who is told that a thing works and then that it is what holds the picture back believes neither.
SAME_COLOUR, SAME_PLACE = 35.0, 0.2


@dataclass(frozen=True, slots=True)
class Praised:
    """One kind of virtue: who finds it, which findings speak against it, and how likely a reader is to name it.

    The chance is logistic in the virtue's signs: ``bias`` and a weight for each sign.
    """

    id: str
    find: Callable[[Seen], Virtue | None]
    bias: float
    weights: tuple[float, ...] = ()
    against: frozenset[str] = frozenset()  # ids of findings that, where they are open, contradict it
    instead_of: tuple[str, ...] = ()  # virtues that say the same and better
    after: bool = False  # told where no other virtue is, or as the second

    def chance(self, virtue: Virtue) -> float:
        """How likely it is that a reader who praises the picture names this."""
        told = self.bias + sum(weight * sign for weight, sign in zip(self.weights, virtue.signs, strict=True))
        return 1 / (1 + math.exp(-told))


OF_LIGHT = frozenset({"competing_lights", "two_lights", "near_edge", "bulls_eye", "edge_pull"})
OF_COLOUR = frozenset({"dead_colour", "colour_cast", "green_cast"})
OF_EYE = OF_LIGHT | {"equal_flecks", "value_masses", "busy_foreground", "soft_edges"}
OF_GREEN = frozenset({"green_strength", "green_area", "green_evenness", "green_cast"})
# The chances are fitted to what two machine readings praise in 76 landscapes (`tests/benchmarks/praise.py`).
PRAISED: tuple[Praised, ...] = (
    Praised("lit_place", lit_place, 2.56, (0.551, -0.53, -1.903), OF_LIGHT),
    Praised("opening", opening, -2.65, (3.69, -0.047), frozenset({"value_masses", "bare_sky", "closed_darks"})),
    Praised("glow", glow, -0.66, (0.032, 0.126), OF_COLOUR | {"bare_sky", "two_lights", "competing_lights"}),
    Praised(
        "silhouette",
        silhouette,
        -2.5,
        (0.331, -2.81),
        frozenset({"value_masses", "outlines", "pale_rims", "soft_edges", "bulls_eye", "closed_darks"}),
    ),
    Praised("wide_sky", wide_sky, -5.8, (6.07, 3.25), frozenset({"halving"})),
    Praised("chord", chord, -5.66, (0.334, 0.621), OF_COLOUR | {"green_strength"}),
    Praised(
        "tones",
        tones,
        -4.4,
        (0.551,),
        frozenset({"value_masses", "value_range", "full_contrast", "bare_sky", "closed_darks"}),
        instead_of=("silhouette", "opening"),
    ),
    Praised("distance", distance, -1.1, (), frozenset({"land_distance"})),
    Praised(
        "haze",
        haze,
        -2.0,
        (),
        frozenset({"hard_edges", "soft_edges", "value_masses", "value_range", "loudest_colour", "green_strength"}),
    ),
    # Not fitted: none of the 76 has it. Readers of photographs missed it where it was left out.
    Praised("warm_among_cool", warm_among_cool, -0.4, (), OF_COLOUR | {"edge_pull"}, instead_of=("glow",)),
    Praised("accent", accent, -1.8),
    Praised("shapes", shapes, -2.44, (), frozenset({"value_masses", "value_range", "small_lights", "middle_subject"})),
    Praised("high_line", high_line, -2.94, (), frozenset({"halving"})),
    Praised("value_reach", value_reach, -5.0, (), frozenset({"value_range", "full_contrast"})),
    Praised("quiet_greens", quiet_greens, -5.4, (), OF_GREEN),
    # Not fitted: the readings of the 76 name the thing itself, a boat or a figure, which no measure can.
    Praised("one_leads", one_leads, -0.6, (), OF_EYE, after=True),
)


def what_works(case: Case, open_kinds: Collection[str]) -> list[str]:
    """The best of it, at most two reasons; ``open_kinds`` are the ids of what is criticised."""
    unblamed = virtues(case, open_kinds)
    found = [(kind, virtue) for kind, virtue in unblamed if not _blamed(case, virtue, open_kinds)]
    return [virtue.text for _, virtue in chosen(found)]


def chosen(found: list[tuple[Praised, Virtue]]) -> list[tuple[Praised, Virtue]]:
    """Those of the virtues found that are told: the likeliest, and a second one that is likely and lies elsewhere."""
    there = {kind.id for kind, _ in found}
    found = [(kind, virtue) for kind, virtue in found if there.isdisjoint(kind.instead_of)]
    found.sort(key=lambda one: (one[0].after, -one[0].chance(one[1])))
    told: list[tuple[Praised, Virtue]] = []
    for kind, virtue in found:
        if kind.chance(virtue) < LEAST:
            continue
        if not told or (kind.chance(virtue) >= WORTH and not any(_one_place(virtue, other) for _, other in told)):
            told.append((kind, virtue))
    return told[:TOLD]


def virtues(case: Case, open_kinds: Collection[str] = ()) -> list[tuple[Praised, Virtue]]:
    """Every virtue that a picture has, in the order of the table, but those that an open finding speaks against."""
    seen = Seen.of(case)
    asked = ((kind, kind.find(seen)) for kind in PRAISED if kind.against.isdisjoint(open_kinds))
    return [(kind, virtue) for kind, virtue in asked if virtue is not None]


def _blamed(case: Case, virtue: Virtue, open_kinds: Collection[str]) -> bool:
    """Whether a virtue praises the very colour or place that is criticised."""
    if virtue.hues and "value_range" in open_kinds and lies_under_a_film(case):
        return True  # colours that are said to lie under a grey film carry nothing
    if "loudest_colour" in open_kinds:
        loudest = case.measures.loudest.hue
        if any(abs(turn_of_one(hue, loudest)) <= SAME_COLOUR for hue in virtue.hues):
            return True
    fault = near_edge_fault(case.measures.eyepath) if "near_edge" in open_kinds else None
    if fault is None or virtue.at is None:
        return False
    return bool(np.hypot(virtue.at[0] - fault.x, virtue.at[1] - fault.y) <= SAME_PLACE)


def _one_place(virtue: Virtue, other: Virtue) -> bool:
    if virtue.at is None or other.at is None:
        return False
    if spot(*virtue.at) == spot(*other.at):
        return True
    return bool(np.hypot(virtue.at[0] - other.at[0], virtue.at[1] - other.at[1]) <= ONE_PLACE)
