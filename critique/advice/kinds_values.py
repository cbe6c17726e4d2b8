"""The kinds of finding about values, set in their order by the table of `kinds.py`."""

from critique.advice import fault_limits, full_contrast, where
from critique.advice import value_ends as ends
from critique.advice import value_findings as values
from critique.advice.kind import Kind, Limits, Part

VALUE_RANGE = Kind(
    id="value_range",
    title="value range",
    spoken="how far its values reach",
    part=Part.VALUES,
    figures=("values.range", "values.percentiles.p5", "values.percentiles.p95"),
    limits=Limits("below", values.RANGE_WATCH, values.RANGE_REWORK),
    judge=values.value_range,
    step="push the darks or the lights further, on a small study",
    said_first=0.25,
)
FULL_CONTRAST = Kind(
    id="full_contrast",
    title="full contrast",
    spoken="how hard its contrasts are",
    part=Part.VALUES,
    figures=("values.range",),
    limits=full_contrast.TO_THE_ENDS,
    judge=full_contrast.full_contrast,
    step="bring the darks and lights that matter least a step nearer the middle, in a small value study first",
    said_first=0.5,
)
VALUE_MASSES = Kind(
    id="value_masses",
    title="value masses",
    spoken="how its values gather",
    part=Part.VALUES,
    figures=("masses.kept", "masses.scraps"),
    judge=values.masses,
    step="join the small lights and darks into three or four shapes, in a small value study first",
    said_first=0.5,
)
SMALL_LIGHTS = Kind(
    id="small_lights",
    title="small lights and darks",
    virtue="wealth of small lights",
    part=Part.VALUES,
    figures=("masses.scraps",),
    judge=values.small_lights,
)
CLOSED_DARKS = Kind(
    id="closed_darks",
    title="closed darks",
    virtue="open darks",
    part=Part.VALUES,
    figures=("closed_darks.share",),
    limits=fault_limits.CLOSED,
    judge=ends.closed_darks,
    where=where.of_closed_darks,
    step="lay a warm dark of ultramarine and burnt sienna beside a cool one in it, in one place first",
    said_first=0.75,
)
BARE_SKY = Kind(
    id="bare_sky",
    title="bare white sky",
    spoken="its bare white sky",
    virtue="tone in the sky",
    part=Part.VALUES,
    figures=("bare_sky.share",),
    limits=fault_limits.BARE,
    judge=ends.bare_sky,
    where=where.of_bare_sky,
    step="bring the white of the sky down a little with ochre or grey, on a small study first",
)
