"""The kinds of finding about touch and edges, set in their order by the table of `kinds.py`."""

from critique.advice import fault_limits, where
from critique.advice import touch_findings as touch
from critique.advice.kind import Kind, Part

PALE_RIMS = Kind(
    id="pale_rims",
    title="pale rims",
    spoken="the pale rim against its sky",
    virtue="edges against the sky",
    part=Part.TOUCH,
    figures=("pale_rims.length",),
    limits=fault_limits.RIMS,
    judge=touch.pale_rims,
    where=where.of_pale_rims,
    step="wet one edge against the sky and draw the sky's own colour into it, until the rim is gone",
    said_first=0.3,
)
SOFT_EDGES = Kind(
    id="soft_edges",
    title="soft edges",
    spoken="how soft all its edges are",
    virtue="crisp edges",
    part=Part.TOUCH,
    figures=("crispness.found",),
    limits=fault_limits.BLURRED,
    judge=touch.soft_edges,
    where=where.of_plainest_edges,
    step="sharpen one edge at the subject, if the painting itself is as soft as its photograph",
    said_first=0.7,
)
HARD_EDGES = Kind(
    id="hard_edges",
    title="hard edges",
    virtue="edges",
    part=Part.TOUCH,
    figures=("edges.softness", "ruled.share"),
    limits=fault_limits.SOFT,
    judge=touch.hard_edges,
    where=where.of_hard_edges,
    elsewhere={"ruled.share": where.of_ruled_edges},
    step="lose a few edges away from the subject",
    said_first=0.12,
)
OUTLINES = Kind(
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
)
EQUAL_FLECKS = Kind(
    id="equal_flecks",
    title="equal flecks",
    spoken="its flecks, alike all over",
    virtue="variety of touch",
    part=Part.TOUCH,
    figures=("detail.evenness",),
    judge=touch.equal_flecks,
    step="let a few passages go flat, on a small study first",
)
