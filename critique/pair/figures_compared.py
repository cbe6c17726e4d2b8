"""Which figures of a review are held against each other when two pictures are compared."""

import math
from dataclasses import dataclass
from functools import reduce
from typing import Any, Literal

from critique.measures.measure import Measures
from critique.perception.hue import turn

ENOUGH_GREEN = 0.02  # of the picture: figures on the quality of less green than this jump with every photograph
PLAIN_LINE = 0.62  # strength of a line that both pictures must have before its place is compared; as for halving

Scale = Literal["difference", "ratio", "angle"]
Needs = Literal["nothing", "green", "all greens", "line"]


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: its path in the record, and how a change of it is counted.

    A 'difference' is later less earlier, a 'ratio' its natural logarithm (for figures whose scatter grows with them),
    an 'angle' the turn in degrees. ``needs`` is what both pictures must have for the figure to mean something, and
    ``worth`` the least change worth a word, on the figure's own scale: some figures hold so still under a camera that
    their smallest change is real, and no painter would see it. A figure that ``jumps`` is found by choosing one thing
    among several (a line, a place, a mass, a count), and another choice by a hair moves it far.
    """

    name: str
    scale: Scale = "difference"
    needs: Needs = "nothing"
    worth: float = 0.0
    jumps: bool = False

    @property
    def group(self) -> str:
        """The measure that it belongs to."""
        return self.name.split(".", 1)[0]

    def of(self, measures: Measures) -> float:
        """The figure; NaN when the picture has nothing to measure it on."""
        if not self._found_in(measures):
            return math.nan
        found: Any = measures
        return float(reduce(_step, self.name.split("."), found))

    def change(self, before: float, after: float) -> float:
        """From ``before`` to ``after``, on the figure's own scale; NaN when one of them is missing."""
        if self.scale == "angle":
            return float(turn(before, after))
        if self.scale == "ratio":
            if math.isnan(before) or math.isnan(after):
                return math.nan
            return math.log((after + SMALL) / (before + SMALL))
        return after - before

    def _found_in(self, measures: Measures) -> bool:
        if self.needs == "green":
            return measures.greens.area_share >= ENOUGH_GREEN
        if self.needs == "all greens":
            return measures.greens.family.area_share >= ENOUGH_GREEN
        if self.needs == "line":
            return measures.division.strength >= PLAIN_LINE
        return True


SMALL = 1.0  # added to both sides of a ratio, so that next to nothing over nothing is no change


def _step(value: Any, name: str) -> Any:
    if isinstance(value, dict):
        return value[name]
    if isinstance(value, tuple):
        return value[int(name)]
    return getattr(value, name)


# The least changes worth a word; common practice, no source.
AREA, SPECKS = 0.02, 0.01  # of the picture, or of its chroma
PART, MASS = 0.08, 0.05  # of the green, of the line or of the lights; of the picture
VALUE, LIGHTNESS = 0.2, 2.0  # values; L*
MASSES, STRENGTH = 0.03, 0.03  # of what three masses or the line explain
HEIGHT, SLOPE = 0.03, 0.04  # of the height; px a px
TENTH = 0.08  # of the logarithm: about a twelfth more or less
HUE, LEAN = 2.0, 1.0  # degrees; C*
NAMES, LINES = 5.5, 3.5  # counts: six names, four lines, because each is counted or not by a hair
PLACE, PULL = 0.05, 0.15  # of the picture's sides; of the focal place's strength
PAIR = 0.08  # of the two-colour model's scale

FIGURES = (
    Figure("greens.area_share", worth=AREA),
    Figure("greens.chroma_share", worth=AREA),
    Figure("greens.beyond_leaf_share", worth=SPECKS),
    Figure("greens.median_lightness", needs="green", worth=LIGHTNESS),
    Figure("greens.median_chroma", "ratio", "green", worth=TENTH),
    Figure("greens.p95_chroma", "ratio", "green", worth=TENTH),
    Figure("greens.mean_hue", "angle", "green", worth=HUE),
    Figure("greens.hue_spread", needs="green", worth=HUE),
    Figure("greens.value_spread", needs="green", worth=VALUE),
    Figure("greens.evenness", needs="green", worth=PART, jumps=True),
    Figure("greens.relief_share", worth=AREA),
    Figure("greens.family.area_share", worth=AREA),
    Figure("greens.family.chroma_share", worth=AREA),
    Figure("greens.family.median_chroma", "ratio", "all greens", worth=TENTH),
    Figure("values.percentiles.p5", worth=VALUE),
    Figure("values.percentiles.p50", worth=VALUE),
    Figure("values.percentiles.p95", worth=VALUE),
    Figure("values.mean", worth=VALUE),
    Figure("values.range", worth=VALUE),
    Figure("values.plans.0.separation", worth=MASSES),
    Figure("values.plans.1.separation", worth=MASSES),
    Figure("values.plans.2.separation", worth=MASSES),
    Figure("values.largest_mass", worth=MASS, jumps=True),
    Figure("division.height", needs="line", worth=HEIGHT, jumps=True),
    Figure("division.strength", worth=STRENGTH, jumps=True),
    Figure("division.straightness", needs="line", worth=PART, jumps=True),
    Figure("division.slope", needs="line", worth=SLOPE, jumps=True),
    Figure("division.near_middle", needs="line", worth=PART, jumps=True),
    Figure("division.value_step", needs="line", worth=VALUE, jumps=True),
    Figure("division.lights.light_share", worth=PART, jumps=True),
    Figure("harmony.distance", worth=HUE, jumps=True),
    Figure("harmony.pair_harmony", worth=PAIR, jumps=True),
    Figure("harmony.warm_share", worth=PART),
    Figure("variety.effective_hues", "ratio", worth=TENTH),
    Figure("variety.hull_area", "ratio", worth=TENTH),
    Figure("variety.names", worth=NAMES, jumps=True),
    Figure("variety.colourfulness", "ratio", worth=TENTH),
    Figure("cast.mean.a", worth=LEAN),
    Figure("cast.mean.b", worth=LEAN),
    Figure("cast.mean.chroma", worth=LEAN),
    Figure("cast.lightest.chroma", worth=LEAN),
    Figure("cast.most_neutral.chroma", worth=LEAN),
    Figure("eyepath.focus.x", worth=PLACE, jumps=True),
    Figure("eyepath.focus.y", worth=PLACE, jumps=True),
    Figure("eyepath.from_middle", worth=PLACE, jumps=True),
    Figure("eyepath.from_thirds", worth=PLACE, jumps=True),
    Figure("eyepath.framing", worth=VALUE),
    Figure("eyepath.border_framing", worth=VALUE),
    Figure("eyepath.strongest_pull.strength", worth=PULL, jumps=True),
    Figure("eyepath.lines_toward", worth=LINES, jumps=True),
    Figure("eyepath.lines_out", worth=LINES, jumps=True),
)


def figure_named(name: str) -> Figure:
    """The figure of that path in the record."""
    return next(figure for figure in FIGURES if figure.name == name)
