"""The kinds of finding about where the eye goes, set in their order by the table of `kinds.py`."""

from critique.advice import eye_findings as eye
from critique.advice import fault_limits, where
from critique.advice import row_findings as rows
from critique.advice import touch_findings as touch
from critique.advice.kind import Kind, Limits, Part
from critique.advice.near_edge_finding import near_edge
from critique.measures import eye_judging, rivals

EDGE_PULL = Kind(
    id="edge_pull",
    title="pull at an edge",
    spoken="what pulls at an edge",
    virtue="corners and sides",
    part=Part.EYE_PATH,
    figures=("eyepath.strongest_pull.strength",),
    limits=Limits("above", eye_judging.PULL_WATCH, eye_judging.PULL_REWORK),
    judge=eye.edge_pull,
    step="quiet what stands at that edge, and look again from across the room",
)
BULLS_EYE = Kind(
    id="bulls_eye",
    title="bull's-eye",
    spoken="the one thing in its very middle",
    virtue="place of the subject",
    part=Part.EYE_PATH,
    figures=("eyepath.focus.x", "eyepath.focus.y", "middle_thing.stands_out"),
    limits=Limits("above", eye_judging.BULLSEYE_WATCH, eye_judging.BULLSEYE_REWORK),
    judge=eye.bulls_eye,
    where=where.of_middle_thing,
    step="try the subject off the middle, or an answer to it elsewhere, in a small study",
)
MIDDLE_SUBJECT = Kind(
    id="middle_subject",
    title="subject in the middle",
    virtue="stillness in the middle",
    part=Part.EYE_PATH,
    figures=("eyepath.focus.x", "eyepath.focus.y", "middle_thing.stands_out"),
    judge=eye.middle_subject,
)
LIKE_ROW = Kind(
    id="like_row",
    title="like things in a row",
    spoken="its row of like things",
    virtue="variety in what stands in a row",
    part=Part.EYE_PATH,
    figures=("like_row.likeness",),
    limits=fault_limits.LIKE_ROW,
    judge=rows.like_row,
    where=where.of_like_row,
    step="let two of the row grow together and leave one gap, in a small study first",
    said_first=0.7,
)
BUSY_FOREGROUND = Kind(
    id="busy_foreground",
    title="busy foreground",
    spoken="its busy foreground",
    virtue="foreground",
    part=Part.EYE_PATH,
    figures=("detail.foreground_marks", "detail.foreground"),
    limits=fault_limits.BUSY,
    judge=eye.busy_foreground,
    step="mass the foreground into a few larger strokes, on a small study first",
)
EVEN_FOREGROUND = Kind(
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
)
COMPETING_LIGHTS = Kind(
    id="competing_lights",
    title="competing places",
    spoken="the two places that compete",
    virtue="one place that leads",
    part=Part.EYE_PATH,
    figures=("eyepath.focus.x", "eyepath.focus.y"),
    limits=Limits("above", rivals.RIVALS, eye_judging.RIVALS_REWORK),
    judge=eye.competing,
    step="take a little contrast from one of the two places, on a small study first",
)
TWO_LIGHTS = Kind(
    id="two_lights",
    title="two lights",
    spoken="the two lights that compete",
    virtue="one light",
    part=Part.EYE_PATH,
    figures=("two_lights.stands_out",),
    judge=eye.two_lights,
    where=where.of_two_lights,
    step="lower one of the two lights by a value or two, on a small study first",
)
NEAR_EDGE = Kind(
    id="near_edge",
    title="subject near an edge",
    spoken="what stands so near its edge",
    virtue="room around the subject",
    part=Part.EYE_PATH,
    figures=("eyepath.focus.x", "eyepath.focus.y"),
    judge=near_edge,
    where=where.of_near_edge,
    step="give it more room on that side, or answer it farther in, in a small study first",
    said_first=0.1,
)
SIDE_WEIGHT = Kind(
    id="side_weight",
    title="weight at a side",
    part=Part.EYE_PATH,
    figures=("eyepath.side_weight",),
    judge=eye.side_weight,
)
FOCAL_PLACE = Kind(
    id="focal_place",
    title="focal place",
    part=Part.EYE_PATH,
    figures=("eyepath.focus.x", "eyepath.focus.y"),
    judge=eye.focal_place,
)
