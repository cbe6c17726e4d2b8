"""Whether a line cuts the picture in half, whether water lies level, and whether left is like right."""

from critique.advice.fault_limits import judge_symmetry, judge_water
from critique.advice.finding import Finding, Level
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.advice.room import room_for
from critique.measures.division import Division
from critique.measures.division_judging import halving_fault
from critique.words.aloud import sentence
from critique.words.figures import percent

INSIDE = 0.1  # of the height; with so much more sky than lies over a line, it lies within
SEEN, PLAIN = 0.55, 0.75  # straightness or strength of a line that two readers named too in about four of five pictures
EQUAL = 0.02  # of the height from the middle within which both halves look equal; common practice, no source
SURE_WATER = 0.3  # sureness of the water from which its edge is one: under a headland it had 0.1
NEAR = 0.08  # of the height: a line so near to the middle is not told as one that lies well
# Part of the width of an edge near the middle. Readers of 260 pictures drew their line within 0.04 of the middle in 20 of
# 180 of which nothing was told to cut them; with such an edge, or a line that nearly halves, in 13 of 57, else in 7 of 123.
UNSURE_EDGE = 0.6


def upright_halves(case: Case, kind: Kind) -> Finding | None:
    """Whether an upright edge parts the picture near its middle."""
    vertical = case.measures.division.vertical
    if not vertical.halved:
        return None
    return kind.finding(
        level="watch",
        text=sentence(
            f"an upright edge parts the picture {percent(vertical.position)} of the way across, near "
            "its middle. Let one side win: overlap it, or move it a hand's breadth"
        ),
        figure=vertical.position,
        figure_text=f"{percent(vertical.position)} of the width",
        norm="halved within 5 % of the middle; common practice, no source",
    )


def halving(case: Case, kind: Kind) -> Finding:
    """Whether the main line cuts the picture in half."""
    division = case.measures.division
    fault = halving_fault(division)
    height = division.height
    level: Level = fault or "holds"
    if level == "rework":
        text = (
            f"the main line runs straight across {percent(height)} of the way down and cuts the picture {_halves(height)}: "
            f"let one of them win. {_move(case)}"
        )
    elif (
        level == "watch" and not division.halved and division.cut is not None
    ):  # one of several edges of the land: nothing says that it leads
        text = (
            f"an edge in the land runs nearly level {percent(height)} of the way down, close to the middle. If it reads as one "
            "line from side to side, it may cut the picture in two: let something overlap it, or move it off the middle"
        )
    elif level == "watch":
        move = _move(case)
        text = (
            f"the main line runs {percent(height)} of the way down, close to the middle. About one landscape in six has its "
            f"line there and holds; if yours feels cut in two, {move[0].lower()}{move[1:]}"
        )
    elif division.present and _is_plain(division) and abs(height - 0.5) > NEAR and not _in_the_sky(case):
        winner = "lower" if height < 0.5 else "upper"
        text = f"the main line lies {percent(height)} of the way down: the {winner} part leads and the picture isn't halved"
    elif division.nearly_halved or division.edge_near_middle >= UNSURE_EDGE:
        text = "no line is sure to cut it in half; if you see one run through the middle, let one side win"
    else:
        text = "nothing cuts it in half"  # slopes that cross, a wood, a gorge: nobody speaks of a line there
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=height,
        figure_text=f"line {percent(height)} of the way down" if division.present or fault else "no line",
        norm="halved by a plain, straight line within 5 % of the middle; common practice, no source",
    )


def _in_the_sky(case: Case) -> bool:
    """Whether the line lies well inside of the sky, along clouds: nobody calls that the main one."""
    return case.measures.division.height < case.measures.parts.sky_share - INSIDE


def _is_plain(division: Division) -> bool:
    """Whether a line is so plain that anyone would call it the main one."""
    return division.straightness >= SEEN and division.strength >= PLAIN


def _halves(height: float) -> str:
    return (
        "in two equal halves" if abs(height - 0.5) <= EQUAL else "nearly in half, into two parts of much the same size"
    )


def water_level(case: Case, kind: Kind) -> Finding | None:
    """Whether water runs downhill."""
    water = case.measures.water_level
    level = judge_water(water, kind.by_limits)
    if level == "holds":
        return None
    side = "right" if water.tilt > 0 else "left"
    sure = water.wet and case.measures.parts.water_sureness >= SURE_WATER
    if level == "rework" and not sure:
        level = "watch"  # a shore that comes nearer may fall, and nothing but the edge says that it is water
    text = (
        f"a long edge runs downhill to the {side}, by {abs(water.tilt):.0f} degrees. If it is the far edge of water, or of a "
        "plain, rule it level again, or turn the photograph if it was the camera that tilted; a shore that comes nearer may "
        "fall"
        if level == "watch" and not sure
        else f"the far edge of the water, or of the plain, runs downhill to the {side}, by {abs(water.tilt):.0f} degrees. Water "
        "lies level: rule that edge again, or turn the photograph if it was the camera that tilted"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=abs(water.tilt),
        figure_text=f"falls {abs(water.tilt):.1f}° to the {side}",
        norm="water lies level; a photograph may be askew by two degrees",
    )


def symmetry(case: Case, kind: Kind) -> Finding | None:
    """Whether left and right are alike."""
    found = case.measures.symmetry
    level = judge_symmetry(found, kind.by_limits)
    if level == "holds":
        return None
    if level == "watch":
        text = (
            "left and right answer each other like wings about a middle: formal, and still. If it should move, part them "
            "further, in size, in value or in how near they stand, or shift the middle"
        )
    else:
        text = (
            "left and right are nearly the same shapes in the same values, so the picture stands still. Let one side win: "
            "make one mass larger, darker or nearer, or move the middle off the middle"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=found.likeness,
        figure_text=f"left like right by {found.likeness:.2f} (1 is a mirror image)",
        norm=case.standing("symmetry.likeness"),
        percentile=case.percentile("symmetry.likeness"),
    )


def _move(case: Case) -> str:
    """Which way to move the line, as the change does that is offered for it."""
    up, down = better_heights(case)
    room = room_for(case)
    verb, height, other, instead = ("Lower", down, "raise", up) if room.way == "down" else ("Raise", up, "lower", down)
    told = f"{verb} it to about {percent(height)} of the way down"
    if room.sure and not room.guessed:
        return f"{told}, since {room.reason}"
    return f"{told}, or {other} it to {percent(instead)} if the other part is your subject"


def better_heights(case: Case) -> tuple[float, float]:
    """The nearest offered height above and below the middle."""
    alternatives = case.measures.division.alternatives
    return max(height for height in alternatives if height < 0.5), min(
        height for height in alternatives if height > 0.5
    )
