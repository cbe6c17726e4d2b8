"""The kinds of finding about colours, set in their order by the table of `kinds.py`."""

from critique.advice import cast_findings as casts
from critique.advice import colour_findings as colours
from critique.advice import colour_run, fault_limits, where
from critique.advice.kind import Kind, Limits, Part

GREEN_CAST = Kind(
    id="green_cast",
    title="green cast",
    spoken="its lean to green",
    virtue="green balance",
    part=Part.COLOURS,
    figures=("cast.mean.a",),
    limits=Limits("above", casts.GREENNESS_WATCH, casts.GREENNESS_REWORK),
    judge=casts.green_cast,
    step="hold it beside a grey card in daylight, before any colour is changed",
    step_known="let red and violet into the greys and the lights, on a small study first",
    said_first=0.06,
)
DEAD_COLOUR = Kind(
    id="dead_colour",
    title="dead colour",
    spoken="the life of its colour",
    virtue="life of the colour",
    part=Part.COLOURS,
    figures=("loudest.strong",),
    limits=fault_limits.DEAD,
    judge=colours.dead_colour,
    step="give one place a colour of its own",
    said_first=0.0,
)
LOUDEST_COLOUR = Kind(
    id="loudest_colour",
    title="loudest colour",
    virtue="strongest colour",
    part=Part.COLOURS,
    figures=("loudest.excess",),
    limits=fault_limits.LOUD,
    judge=colours.loudest_colour,
    where=where.of_loudest,
    step="grey the loudest colour a little, on a small study first",
    said_first=0.05,
)
COLOUR_CAST = Kind(
    id="colour_cast",
    title="colour cast",
    spoken="the lean of its colours",
    virtue="colour balance",
    part=Part.COLOURS,
    figures=("cast.mean.a", "cast.mean.b", "cast.mean.chroma"),
    judge=casts.colour_cast,
    step="hold it beside a grey card in daylight, before any colour is changed",
    step_known="try one cooler or warmer place in it, on a small study first",
    said_first=0.0,
)
LAND_DISTANCE = Kind(
    id="land_distance",
    title="distance",
    spoken="how far its distance lies back",
    part=Part.COLOURS,
    figures=("land_distance.lighter", "land_distance.cooler", "land_distance.calmer"),
    judge=colours.land_distance,
    where=where.of_far_land,
    step="cool and grey what lies at the horizon a step, on a small study first",
    said_first=0.2,
)
COLOUR_RUN = Kind(
    id="colour_run",
    title="run of colours",
    part=Part.COLOURS,
    figures=("harmony.distance", "variety.effective_hues", "harmony.warm_share"),
    judge=colour_run.run_of_colours,
)
