"""The kinds of finding about greens, set in their order by the table of `kinds.py`."""

from critique.advice import colour_findings as colours
from critique.advice import green_answered as answered
from critique.advice import green_area as areas
from critique.advice import green_evenness as evens
from critique.advice import green_share
from critique.advice import green_strength as strengths
from critique.advice.kind import Kind, Limits, Part

GREEN_STRENGTH = Kind(
    id="green_strength",
    title="green strength",
    spoken="how strong its greens are",
    part=Part.GREENS,
    figures=("greens.beyond_leaf_share", "greens.median_chroma", "greens.p95_chroma"),
    limits=Limits("above", strengths.BEYOND_WATCH, strengths.BEYOND_REWORK),
    judge=strengths.strength,
    gone=strengths.strength_gone,
    otherwise=strengths.quieter_all_over,
    step="grey the strongest greens with a little red earth or violet, on a small study first",
    said_first=0.25,
)
GREEN_AREA = Kind(
    id="green_area",
    title="green area",
    spoken="how much of it is green",
    part=Part.GREENS,
    figures=("greens.area_share", "greens.chroma_share", "greens.reads_as_green_share"),
    limits=Limits("above", areas.AREA_WATCH, areas.AREA_REWORK),
    judge=areas.area,
    otherwise=areas.quieter_in_its_place,
    step="turn some of the green to ochre, earth or blue-grey, on a small study first",
    said_first=0.5,
)
GREEN_EVENNESS = Kind(
    id="green_evenness",
    title="evenness of greens",
    spoken="how alike its greens are",
    virtue="variety of greens",
    part=Part.GREENS,
    figures=("greens.evenness", "greens.area_share", "greens.median_chroma", "greens.hue_spread"),
    limits=Limits("above", evens.EVEN_WATCH, evens.EVEN_REWORK),
    judge=evens.evenness,
    gone=evens.evenness_gone,
    otherwise=green_share.over_another_part,
    step="break the green, yellower in the light and greyer in the shade, in one passage first",
    said_first=0.6,
)
GREEN_RELIEF = Kind(
    id="green_relief",
    title="relief for the green",
    spoken="what answers its green",
    part=Part.GREENS,
    figures=("greens.area_share", "greens.relief_share", "greens.median_chroma"),
    limits=Limits("below", answered.RELIEF_WATCH),
    judge=answered.relief,
    gone=answered.relief_gone,
    otherwise=green_share.over_another_part,
    step="let a little red earth or violet into the shadows, in one place first",
    said_first=0.03,
)
GREEN_NEIGHBOURS = Kind(
    id="green_neighbours",
    title="green against its neighbours",
    part=Part.GREENS,
    figures=("greens.median_lightness", "values.percentiles.p50", "greens.mean_hue"),
    judge=colours.neighbours,
    gone=colours.neighbours_gone,
)
