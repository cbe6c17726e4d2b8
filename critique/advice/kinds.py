"""Every kind of finding that there is, gravest first, as a teacher would raise them: the one table of them."""

from collections.abc import Iterable
from contextvars import ContextVar

from critique.advice import cast_findings as casts
from critique.advice import colour_findings as colours
from critique.advice import colour_run, fault_limits, where
from critique.advice import division_findings as division
from critique.advice import eye_findings as eye
from critique.advice import green_answered as answered
from critique.advice import green_evenness as evens
from critique.advice import green_findings as greens
from critique.advice import touch_findings as touch
from critique.advice import value_findings as values
from critique.advice.finding import Finding
from critique.advice.kind import Kind, Limits, Part
from critique.measures import eye_judging
from critique.measures.rivals import RIVALS

KINDS: tuple[Kind, ...] = (
    Kind(
        id="green_strength",
        title="green strength",
        spoken="how strong its greens are",
        part=Part.GREENS,
        figures=("greens.beyond_leaf_share", "greens.median_chroma", "greens.p95_chroma"),
        limits=Limits("above", greens.BEYOND_WATCH, greens.BEYOND_REWORK),
        judge=greens.strength,
        gone=greens.strength_gone,
        step="grey the strongest greens with a little red earth or violet, on a small study first",
        said_first=0.25,
    ),
    Kind(
        id="green_area",
        title="green area",
        spoken="how much of it is green",
        part=Part.GREENS,
        figures=("greens.area_share", "greens.chroma_share", "greens.reads_as_green_share"),
        limits=Limits("above", greens.AREA_WATCH, greens.AREA_REWORK),
        judge=greens.area,
        step="turn some of the green to ochre, earth or blue-grey, on a small study first",
        said_first=0.15,
    ),
    Kind(
        id="green_evenness",
        title="evenness of greens",
        spoken="how alike its greens are",
        virtue="variety of greens",
        part=Part.GREENS,
        figures=("greens.evenness", "greens.area_share", "greens.median_chroma", "greens.hue_spread"),
        limits=Limits("above", evens.EVEN_WATCH, evens.EVEN_REWORK),
        judge=evens.evenness,
        gone=evens.evenness_gone,
        step="break the green, yellower in the light and greyer in the shade, in one passage first",
    ),
    Kind(
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
    ),
    Kind(
        id="value_range",
        title="value range",
        spoken="how far its values reach",
        part=Part.VALUES,
        figures=("values.range", "values.percentiles.p5", "values.percentiles.p95"),
        limits=Limits("below", values.RANGE_WATCH, values.RANGE_REWORK),
        judge=values.value_range,
        step="push the darks or the lights further, on a small study",
        said_first=0.3,
    ),
    Kind(
        id="value_masses",
        title="value masses",
        spoken="how its values gather",
        part=Part.VALUES,
        figures=("masses.kept", "masses.scraps"),
        judge=values.masses,
        step="join the small lights and darks into three or four shapes, in a small value study first",
        said_first=0.3,
    ),
    Kind(
        id="small_lights",
        title="small lights and darks",
        virtue="wealth of small lights",
        part=Part.VALUES,
        figures=("masses.scraps",),
        judge=values.small_lights,
    ),
    Kind(
        id="closed_darks",
        title="closed darks",
        virtue="open darks",
        part=Part.VALUES,
        figures=("closed_darks.share",),
        limits=fault_limits.CLOSED,
        judge=values.closed_darks,
        where=where.of_closed_darks,
        step="lay a warm dark beside a cool one where it is closed, in one place first",
        said_first=0.75,
    ),
    Kind(
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
    ),
    Kind(
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
    ),
    Kind(
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
    ),
    Kind(
        id="edge_pull",
        title="pull at an edge",
        spoken="what pulls at an edge",
        virtue="corners and sides",
        part=Part.EYE_PATH,
        figures=("eyepath.strongest_pull.strength",),
        limits=Limits("above", eye_judging.PULL_WATCH, eye_judging.PULL_REWORK),
        judge=eye.edge_pull,
        step="quiet what stands at that edge, and look again from across the room",
    ),
    Kind(
        id="hard_edges",
        title="hard edges",
        virtue="edges",
        part=Part.TOUCH,
        figures=("edges.softness",),
        limits=fault_limits.SOFT,
        judge=touch.hard_edges,
        step="lose a few edges away from the subject",
        said_first=0.12,
    ),
    Kind(
        id="outlines",
        title="outlines",
        virtue="shapes without outlines",
        part=Part.TOUCH,
        figures=("outlines.length",),
        limits=fault_limits.OUTLINES,
        judge=touch.outlines,
        where=where.of_outlines,
        step="paint over a few of the dark lines from one side, away from the subject first",
        said_first=0.03,
    ),
    Kind(
        id="equal_flecks",
        title="equal flecks",
        spoken="its flecks, alike all over",
        virtue="variety of touch",
        part=Part.TOUCH,
        figures=("detail.evenness",),
        judge=touch.equal_flecks,
        step="let a few passages go flat, on a small study first",
    ),
    Kind(
        id="bulls_eye",
        title="bull's-eye",
        spoken="the one thing in its very middle",
        virtue="place of the subject",
        part=Part.EYE_PATH,
        figures=("eyepath.focus.x", "eyepath.focus.y"),
        limits=Limits("above", eye_judging.BULLSEYE_WATCH, eye_judging.BULLSEYE_REWORK),
        judge=eye.bulls_eye,
        step="try the subject off the middle, or an answer to it elsewhere, in a small study",
    ),
    Kind(
        id="middle_subject",
        title="subject in the middle",
        virtue="stillness in the middle",
        part=Part.EYE_PATH,
        figures=("eyepath.focus.x", "eyepath.focus.y"),
        judge=eye.middle_subject,
    ),
    Kind(
        id="water_level",
        title="level water",
        spoken="a long edge that may want to lie level",
        part=Part.DIVISION,
        figures=("water_level.tilt",),
        limits=fault_limits.TILT,
        judge=division.water_level,
        step="hold a ruler to that edge",
        said_first=0.0,
    ),
    Kind(
        id="symmetry",
        title="left like right",
        spoken="how alike left and right are",
        virtue="left against right",
        part=Part.DIVISION,
        figures=("symmetry.likeness",),
        limits=fault_limits.ALIKE,
        judge=division.symmetry,
        step="make one side larger, darker or nearer, in a small study first",
    ),
    Kind(
        id="halving",
        title="halving",
        spoken="where its line lies",
        virtue="division",
        part=Part.DIVISION,
        figures=("division.height", "division.near_middle", "division.strength"),
        judge=division.halving,
        step="try the line higher and lower, in two small studies",
        said_first=0.0,
    ),
    Kind(
        id="upright_halves",
        title="left and right halves",
        spoken="the upright near its middle",
        virtue="left and right parts",
        part=Part.DIVISION,
        figures=("division.strength",),
        judge=division.upright_halves,
        step="overlap the upright edge with something, in a small study first",
    ),
    Kind(
        id="land_distance",
        title="distance",
        spoken="how far its distance lies back",
        part=Part.COLOURS,
        figures=("land_distance.lighter", "land_distance.cooler", "land_distance.calmer"),
        judge=colours.land_distance,
        where=where.of_far_land,
        step="cool and grey what lies at the horizon a step, on a small study first",
        said_first=0.0,
    ),
    Kind(
        id="busy_foreground",
        title="busy foreground",
        spoken="its busy foreground",
        virtue="foreground",
        part=Part.EYE_PATH,
        figures=("detail.foreground_marks", "detail.foreground"),
        limits=fault_limits.BUSY,
        judge=eye.busy_foreground,
        step="mass the foreground into a few larger strokes, on a small study first",
    ),
    Kind(
        id="even_foreground",
        title="even foreground",
        spoken="its even foreground",
        virtue="what lies in front",
        part=Part.EYE_PATH,
        figures=("even_foreground.spread",),
        limits=fault_limits.EVEN_GROUND,
        judge=touch.even_foreground,
        where=where.of_foreground,
        step="lay a light or a shadow, a path or a change of colour across the foreground, in a small study first",
        said_first=0.6,
    ),
    Kind(
        id="competing_lights",
        title="competing places",
        spoken="the two places that compete",
        virtue="one place that leads",
        part=Part.EYE_PATH,
        figures=("eyepath.focus.x", "eyepath.focus.y"),
        limits=Limits("above", RIVALS, eye_judging.RIVALS_REWORK),
        judge=eye.competing,
        step="take a little contrast from one of the two places, on a small study first",
    ),
    Kind(
        id="two_lights",
        title="two lights",
        spoken="the two lights that compete",
        virtue="one light",
        part=Part.EYE_PATH,
        figures=("two_lights.stands_out",),
        judge=eye.two_lights,
        where=where.of_two_lights,
        step="lower one of the two lights by a value or two, on a small study first",
    ),
    Kind(
        id="near_edge",
        title="subject near an edge",
        spoken="what stands so near its edge",
        virtue="room around the subject",
        part=Part.EYE_PATH,
        figures=("eyepath.focus.x", "eyepath.focus.y"),
        judge=eye.near_edge,
        step="give what stands there more room, in a small study first",
        said_first=0.2,
    ),
    Kind(
        id="side_weight",
        title="weight at a side",
        part=Part.EYE_PATH,
        figures=("eyepath.side_weight",),
        judge=eye.side_weight,
    ),
    Kind(
        id="green_relief",
        title="relief for the green",
        spoken="what answers its green",
        part=Part.GREENS,
        figures=("greens.area_share", "greens.relief_share", "greens.median_chroma"),
        limits=Limits("below", answered.RELIEF_WATCH),
        judge=answered.relief,
        gone=answered.relief_gone,
        step="let a little red earth or violet into the shadows, in one place first",
        said_first=0.03,
    ),
    Kind(
        id="green_neighbours",
        title="green against its neighbours",
        part=Part.GREENS,
        figures=("greens.median_lightness", "values.percentiles.p50", "greens.mean_hue"),
        judge=colours.neighbours,
        gone=colours.neighbours_gone,
    ),
    Kind(
        id="focal_place",
        title="focal place",
        part=Part.EYE_PATH,
        figures=("eyepath.focus.x", "eyepath.focus.y"),
        judge=eye.focal_place,
    ),
    Kind(
        id="colour_run",
        title="run of colours",
        part=Part.COLOURS,
        figures=("harmony.distance", "variety.effective_hues", "harmony.warm_share"),
        judge=colour_run.run_of_colours,
    ),
)

# A context's own table and never the process's: what one thread adds, no other sees.
TABLE: ContextVar[tuple[Kind, ...]] = ContextVar("kinds", default=KINDS)


def all_kinds() -> tuple[Kind, ...]:
    """The kinds that hold here, in the order of a review."""
    return TABLE.get()


def kind_of(finding: Finding) -> Kind:
    """The kind of a finding; raises KeyError for one that no table has."""
    return kind_named(finding.kind)


def kind_named(name: str) -> Kind:
    """The kind with that id, title or virtue, as a painter would write it; raises KeyError when there is none."""
    kinds = all_kinds()
    found = next((kind for kind in kinds if kind.id == name), None)
    found = found or next((kind for kind in kinds if name in (kind.title, kind.called("holds"))), None)
    if found is None:
        raise KeyError(name)
    return found


def in_order(ids: Iterable[str]) -> list[str]:
    """Ids of kinds, each once, in the order of a review; those that no table has come last, by name."""
    wanted = set(ids)
    known = [kind.id for kind in all_kinds() if kind.id in wanted]
    return [*known, *sorted(wanted.difference(known))]
