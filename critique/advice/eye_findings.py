"""Whether the eye finds its place, and stays in the picture."""

from collections.abc import Callable
from typing import Literal

import numpy as np

from critique.advice.fault_limits import judge_busy_foreground
from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.centred import Centred
from critique.measures.eye_judging import (
    MIDDLE_THIRD,
    PULL_REWORK,
    PULL_WATCH,
    SIDE_TOLD,
    built_about_the_middle,
    bullseye_fault,
    corners_keep_it_in,
    in_the_middle,
    keeps_it_in,
    near_edge_fault,
    pull_fault,
    rivals_fault,
    settles_to_say,
)
from critique.measures.frame_strip import framed_sides
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.measures.middle_thing import (
    REWORK,
    SPOKEN_OF,
    MiddleThing,
    in_the_very_middle,
    middle_thing_fault,
    watched_from,
)
from critique.measures.outlined import Manner
from critique.measures.pulls import CUT_OFF, STRIP_APART, Pull
from critique.measures.two_lights import lights_compete
from critique.perception.channels import chroma_of
from critique.perception.ranks import quantiles_of
from critique.picture.picture import Picture, lab_at
from critique.picture.places import offsets, roughly, spot
from critique.words.aloud import sentence
from critique.words.figures import percent

STEP = 4  # px of the viewing size: an edge that is seen
RIM, STRIP = 0.015, 0.12  # of the width: what may be the photograph's rim, and what lies along a side
TOP_STRIP, MOST_OF_STRIP = 0.05, 0.8  # of the height along the top; of that, to be the sky's
MORE_STEPS = 1.05  # of what the inside has: with fewer, a side is quieter than that
PEAK = 0.02  # of the long edge, about the peak of a pull
SEEN_AS_STRONG = 20.0  # C*: in a quiet picture a dull brown may have the most of it, and pulls nobody's eye
# A light is pale itself, and has its colour round it: of the long edge about the peak; of the colours there; C*.
GLOW, STRONGEST, GLOWS = 0.06, 0.9, 40.0
# How often a stark thing in the middle is mended first where it is to watch, from one that is just told to one that is
# nearly to rework: before most else, as a teacher sees it first. Our choice.
SAID_FIRST = (0.5, 0.9)
# What stands there, what would quiet it, and how its step is told.
OF_MANNER: dict[Manner, tuple[str, str, Callable[[float], str]]] = {
    "dark": ("something dark", "nearer in value to", lambda step: f"{step / 10:.1f} values darker than"),
    "light": ("something light", "nearer in value to", lambda step: f"{step / 10:.1f} values lighter than"),
    "coloured": ("something in a colour of its own", "nearer in colour to", lambda step: f"ΔE {step:.0f} or more from"),
}
OF_WHAT = {"value": "contrast of light and dark", "chroma": "strong colour", "edges": "hard edges", "light": "light"}


def focal_place(case: Case, kind: Kind) -> Finding | None:
    """Where the eye settles, where that is sure."""
    eye = case.measures.eyepath
    first = settles_to_say(eye)
    if first is None:
        return None
    text = f"the eye most likely settles {roughly(first.x, first.y)}"
    if corners_keep_it_in(eye):
        text += "; the four darker corners keep it in"
    if keeps_it_in(eye):
        text += "; nothing at the edges draws it out"
    return kind.finding(
        level="holds",
        text=sentence(text),
        figure=first.strength,
        figure_text=f"{first.x:.2f} across, {first.y:.2f} down",
        norm="a guess by colour, light and edges: of 86 pictures that it was tried on a reader marked that place in 61",
    )


def competing(case: Case, kind: Kind) -> Finding | None:
    """Whether two places want to be the subject."""
    rivals = rivals_fault(case.measures.eyepath, kind.by_limits)
    if rivals is None:
        return None
    level, *places = rivals
    first, second = (spot(place.x, place.y) for place in places)
    if first == second:
        return None
    text = f"two places hold the eye about as much, {first} and {second}, and it goes from one to the other"
    if level == "watch":
        text += ". They may answer each other; if only one is meant, take a little contrast or colour from the other"
    else:
        text += " and back. Decide which is the subject, and take contrast or colour from the other"
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=case.measures.eyepath.rivalry,
        figure_text=f"the weaker stands out {case.measures.eyepath.rivalry:.1f} times as much as anything else",
        norm="found in one of the 76 landscapes",
        stands_on="eyepath.rivalry",
    )


def two_lights(case: Case, kind: Kind) -> Finding | None:
    """Whether two lights that are alike stand apart, and no other is as strong."""
    lights = case.measures.two_lights
    if not lights_compete(lights) or rivals_fault(case.measures.eyepath) is not None:
        return None
    first, second = spot(lights.x1, lights.y1), spot(lights.x2, lights.y2)
    if first == second:
        return None
    text = (
        f"two lights stand apart, {first} and {second}, both lighter than almost all about them, and the eye goes from one to "
        "the other. Decide which is the light of the picture, and lower the other by a value or two, or let it melt into what "
        "lies about it"
    )
    return kind.finding(
        level="watch",
        text=sentence(text),
        figure=lights.stands_out,
        figure_text=f"the weaker is {lights.step / 10:.1f} values lighter than what lies about it",
        norm="one of the 76 landscapes has two such lights; common practice, no source",
    )


def edge_pull(case: Case, kind: Kind) -> Finding | None:
    """What draws the eye out over an edge."""
    eye = case.measures.eyepath
    found = pull_fault(eye, kind.by_limits)
    if found is None:
        return None
    level, pull = found
    if pull.kind == "chroma" and not _is_strong(case, pull):
        return None
    framed = sides_of_frame(case.picture, pull)
    if not framed and pull.kind == "light" and _is_sky(case, pull):
        return None
    if framed:
        level = "watch"
        text = (
            f"an even strip runs along the {framed[0]} edge. Is it frame or wall that the photograph was left with? Then crop "
            "it away and look again; if it is painted, it draws the eye out of the picture"
        )
    else:
        text = (
            f"the {pull.place} {'draws' if level == 'rework' else 'may draw'} the eye out of the picture: "
            f"{_how_it_pulls(pull)}. Soften or quiet it, so that it is seen last"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=pull.strength,
        figure_text=f"{pull.place}, {_by_how_much(pull)}",
        norm=f"{case.standing('eyepath.strongest_pull.strength')}; named from {PULL_WATCH:.1f} on",
        percentile=case.percentile("eyepath.strongest_pull.strength"),
    )


def _is_strong(case: Case, pull: Pull) -> bool:
    """Whether what lies about the peak of a pull has a strong colour, or such a glow round it."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    away = np.hypot(*offsets(lab.shape, pull.x, pull.y)) / max(lab.shape[:2])
    chroma = chroma_of(lab)
    glow = quantiles_of(chroma[away <= GLOW], (STRONGEST,))[0]
    return bool(chroma[away <= PEAK].mean() >= SEEN_AS_STRONG or glow >= GLOWS)


def _is_sky(case: Case, pull: Pull) -> bool:
    """Whether what is light along the top is the sky itself: that is where its light is."""
    sky = case.measures.parts.mask("sky")
    return pull.sides == ("top",) and bool(sky[: max(1, round(TOP_STRIP * len(sky)))].mean() >= MOST_OF_STRIP)


def side_weight(case: Case, kind: Kind) -> Finding | None:
    """What stands along a side and holds the eye there, where it is sure and no stronger thing is said of an edge."""
    eye = case.measures.eyepath
    if eye.side_weight < SIDE_TOLD or pull_fault(eye) is not None or near_edge_fault(eye) is not None:
        return None
    if not _something_stands(case, eye.heavier_side):
        return None
    text = (
        f"what stands along the {eye.heavier_side} edge is strong. See whether it frames the picture, as it may, or holds "
        "the eye there"
    )
    return kind.finding(
        level="holds",  # a remark: what frames a picture is rarely a fault
        text=sentence(text),
        figure=eye.side_weight,
        figure_text=f"{eye.side_weight:+.1f} for upright edges and light at the {eye.heavier_side} edge beside the inside".replace(
            "-", "−"
        ),
        norm="a reader spoke of an edge in all of 18 paintings that were left out of the fit and came out so sure",
    )


def _something_stands(case: Case, side: str) -> bool:
    """Whether a side has more steps of value across it than the inside, the very rim of the photograph left out."""
    light = case.picture.lab[..., 0]
    light = light[:, ::-1] if side == "right" else light
    width = light.shape[1]
    steps = np.abs(light[:, STEP:] - light[:, :-STEP])
    rim, strip = round(RIM * width), round(STRIP * width)
    inside = float(steps[:, strip : width - strip].mean(dtype=np.float64))
    return float(steps[:, rim:strip].mean(dtype=np.float64)) >= MORE_STEPS * inside


def _how_it_pulls(pull: Pull) -> str:
    if pull.kind == "light" and len(pull.sides) == 1:
        return "a light strip along it stands out from all that lies beside it"
    if pull.kind == "bars":
        return "something thin and upright there outdoes every upright line farther in"
    if pull.kind == "strip":
        ends = "from side to side" if pull.sides in (("top",), ("bottom",)) else "from top to foot"
        return f"a strip of one colour, unlike what lies beside it, runs along it {ends}"
    if pull.kind == "cut off":
        return "a shape of one colour, unlike what lies beside it, is cut off there"
    outdoes = "outdoes everything" if pull.strength > PULL_REWORK else "stands out as much as anything"
    return f"its {OF_WHAT[pull.kind]} {outdoes} farther in"


def _by_how_much(pull: Pull) -> str:
    if pull.kind == "bars":
        return "thin bars, more than twice the strongest upright inside"
    if pull.kind == "strip":
        return f"a strip, ΔE {STRIP_APART:.0f} or more from most of what lies beside it"
    if pull.kind == "cut off":
        return f"ΔE {pull.strength * CUT_OFF:.0f} or more from most of what lies beside it"
    return f"{pull.strength:.2f} times the strongest contrast inside"


def sides_of_frame(picture: Picture, pull: Pull) -> list[str]:
    """The sides along which what pulls may be no part of the painting: a strip, even from end to end."""
    framed = framed_sides(picture.lab)
    return [side for side in pull.sides if side in framed]


def bulls_eye(case: Case, kind: Kind) -> Finding | None:
    """Whether a lone subject sits dead centre, or one thing that is stark and large."""
    thing, fault = middle_thing_fault(case.measures.middle_thing), bullseye_fault(case.measures.eyepath, kind.by_limits)
    if thing is not None and (thing == "rework" or fault != "rework"):
        return _stark_in_the_middle(case.measures.middle_thing, thing, kind)
    if fault is None or rivals_fault(case.measures.eyepath) is not None:
        return None  # where two places compete, the eye has another to go to
    text = (
        "what stands out most sits in the very middle, like the black of a target. Move it off the middle, or give it an "
        "answer elsewhere"
        if fault == "rework"
        else "what stands out most sits near the middle of the picture. If the eye stays there as on the black of a target, move "
        "it to one side, or strengthen what answers it elsewhere"
    )
    eye = case.measures.eyepath
    if fault == "watch" and built_about_the_middle(eye):
        return _built_about_the_middle(eye.centred, kind)
    beside, stands_on = max((eye.dominance, "eyepath.dominance"), (eye.large.strength, "eyepath.large.strength"))
    return kind.finding(
        level=fault,
        text=sentence(text),
        figure=beside,
        figure_text=f"{beside:.1f} times the strongest contrast elsewhere",
        norm="none of the 76 landscapes has one; common practice, no source",
        stands_on=stands_on,
    )


def _built_about_the_middle(centred: Centred, kind: Kind) -> Finding:
    text = (
        "what stands out most sits in the very middle, and what lies to its left is like what lies to its right, so that the "
        "eye stays there as on the black of a target. Move it to one side, and give one side more than the other"
    )
    return kind.finding(
        level="watch",
        text=sentence(text),
        figure=centred.share,
        figure_text=f"{percent(centred.share)} of what differs from its own row lies in the middle third",
        norm="none of the 76 landscapes is built so; common practice, no source",
        stands_on="eyepath.centred.share",
        limit=MIDDLE_THIRD[0],
    )


def _stark_in_the_middle(thing: MiddleThing, level: Literal["watch", "rework"], kind: Kind) -> Finding:
    it, nearer, step = OF_MANNER[thing.manner]
    if level == "rework":
        text = (
            f"{it} stands large in the very middle and takes the picture to itself: all else is left to its two sides. Move it "
            f"well to one side, or make it smaller and {nearer} what lies about it"
        )
    else:
        text = (
            f"{it} stands alone in the very middle, and the eye stops there. If the picture isn't to be about that alone, move "
            f"it to one side, or bring it {nearer} what lies about it"
        )
    some = "one of the 76 landscapes has" if thing.outlined else "none of the 76 landscapes has"
    sure = (thing.stands_out - watched_from(thing)) / (REWORK - watched_from(thing))
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=thing.stands_out,
        figure_text=f"{step(thing.step)} what lies beside it, on {percent(thing.share)} of the picture",
        norm=f"{some} one so stark and large alone; common practice, no source",
        said_first=SAID_FIRST[0] + (SAID_FIRST[1] - SAID_FIRST[0]) * min(sure, 1),
        stands_on="middle_thing.stands_out",
        limit=REWORK if level == "rework" else watched_from(thing),
    )


def middle_subject(case: Case, kind: Kind) -> Finding | None:
    """Whether what leads stands in the middle of the width, where nothing stronger is said of it: a remark."""
    eye, thing = case.measures.eyepath, case.measures.middle_thing
    if bullseye_fault(eye) is not None or middle_thing_fault(thing) is not None:
        return None
    place = in_the_middle(eye) if settles_to_say(eye) is not None else None
    if place is None and not in_the_very_middle(thing, stands_out=SPOKEN_OF):
        return None  # where a wreck and a ship lead as much, nothing that leads stands in the middle
    across = place.x if place is not None else thing.x
    text = (
        "what leads stands in the middle of the width; a step to one side it would be livelier, if it isn't the stillness "
        "that was meant"
    )
    return kind.finding(
        level="holds",  # a remark: many a lone tree stands there on purpose
        text=sentence(text),
        figure=across,
        figure_text=f"{across:.2f} across",
        norm="readers spoke of it in two of three landscapes where it is so",
    )


def busy_foreground(case: Case, kind: Kind) -> Finding | None:
    """Whether the foreground is busier than the subject."""
    detail = case.measures.detail
    level = judge_busy_foreground(detail, kind.by_limits)
    if level == "holds":
        return None
    if level == "watch":
        text = (
            "the foreground is full of small marks that no larger shape gathers, more than the rest of the picture, and may "
            "hold the eye before the subject does. A few larger strokes and softer edges there would let it pass on"
        )
        figure = f"{detail.foreground_to_rest:.1f} times as busy as all that lies above"
    else:
        text = (
            "the foreground is busier than anything above it, and the eye stays caught in it. Mass it: a few large "
            "strokes, softer edges, and only here and there a blade or a stone"
        )
        figure = f"{detail.foreground:.1f} times as busy as the busiest place above"
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=detail.foreground_marks,
        figure_text=figure,
        norm=f"small marks {case.standing('detail.foreground_marks')}",
        percentile=case.percentile("detail.foreground_marks"),
    )
