"""Changes of the division and of the range of values."""

from collections.abc import Iterator

from critique.advice.change_light import Widen
from critique.advice.change_shape import MoveLine
from critique.advice.draft import Draft, Figure
from critique.advice.frame import RIGID
from critique.advice.judging import Case
from critique.advice.room import room_for
from critique.advice.trial import Trial
from critique.measures.division import lines_of
from critique.words.aloud import sentence
from critique.words.figures import percent

LEVEL, STRAIGHT = 0.04, 0.7  # px per px, and of the width: a line that can be moved as a whole
NEAR_MIDDLE = 0.04  # of the height: a line that lies farther from the middle won too little by being moved, to readers
FARTHEST = 0.2  # of the height that a line is moved at most

OPEN_ABOVE = 0.78  # of what lies higher than moves with the line: trees and houses that reach into it would be bent

SAME = 0.02  # of the height: an edge so near to where a line was drawn is that line

END_MOVES = 3.0  # L*: what moves an end of the values by less is not seen

RANGE = Figure(
    "range of values",
    lambda case: case.measures.values.range,
    lambda value: f"{value:.1f}",
    rises=True,
    record="values.range",
)


def line_moved(height: float, to: float) -> tuple[Figure, ...]:
    """The figures of a line that is moved: that same line is looked for again, wherever else another would be found."""

    def found(case: Case) -> float:
        near = [line.y for line in lines_of(case.picture) if min(abs(line.y - height), abs(line.y - to)) <= SAME]
        measured = case.measures.division.height
        if abs(measured - height) <= SAME or abs(measured - to) <= SAME or not near:
            return measured
        return near[0]

    return (
        Figure(
            "distance from the middle",
            lambda case: abs(found(case) - 0.5),
            percent,
            rises=True,
            record="division.height",
        ),
        Figure("height of the line", found, percent),
    )


def move_line(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Move the line up or down in the same format; only where nothing that holds the eye is bent by it."""
    division, eye = trial.case.measures.division, trial.case.measures.eyepath
    if not division.present or abs(division.slope) > LEVEL or division.straightness < STRAIGHT:
        return
    if abs(division.height - 0.5) > NEAR_MIDDLE:
        return
    sky = trial.case.measures.parts.mask("sky")
    if sky[: max(round((division.height - RIGID) * len(sky)), 1)].mean() < OPEN_ABOVE:
        return
    room = room_for(trial.case)
    # The line goes no farther than need be; where only plainness speaks for a way, the other is tried too.
    aims = sorted(
        (aim for aim in division.alternatives if abs(aim - division.height) <= FARTHEST),
        key=lambda aim: ((aim > division.height) != (room.way == "down"), abs(aim - division.height)),
    )
    for aim in aims:
        way = "down" if aim > division.height else "up"
        if way != room.way and room.sure:
            continue
        if any(abs(place.y - division.height) > RIGID + 0.05 and place.strength > 0.3 for place in eye.claimed):
            continue  # what holds the eye would be stretched
        why = f"{room.reason}: give the {room.winner} the room" if way == room.way else "give the other part the room"
        text = (
            f"move the line {way}, to about {percent(aim)} of the way down; {why}. Draw it again in the "
            "same format: what stands on the line keeps its size, and the far parts give way"
        )
        yield Draft.of(
            "move_division",
            MoveLine(division.height, aim),
            sentence(text),
            line_moved(division.height, aim),
            f"The line {percent(aim)} of the way down, the format as it was.",
            redrawn=True,
        )


def _ends_pushed(low: float, high: float, to_low: float, to_high: float) -> str:
    """What is to be done at either end of the values, L*; an end that stays where it is isn't told to move."""
    darks, lights = low - to_low >= END_MOVES, to_high - high >= END_MOVES
    if darks == lights:
        return (
            f"push the darks to about value {to_low / 10:.1f} and the lights to {to_high / 10:.1f}, the darkest darks and "
            "lightest lights only where you want to be looked at"
        )
    end, to, most = ("darks", to_low, "darkest") if darks else ("lights", to_high, "lightest")
    other = "lights" if darks else "darks"
    return (
        f"push the {end} to about value {to / 10:.1f}, the {most} only where you want to be looked at; the {other} may stay "
        "as they are"
    )


def widen(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Spread the values wider."""
    values = trial.case.measures.values
    low, high = 10 * values.percentiles["p5"], 10 * values.percentiles["p95"]
    grow = max(10 * trial.case.norms.at("values.range", 25) - (high - low), 0.0)
    room_below, room_above = max(low - 8, 0.0), max(94 - high, 0.0)
    down = min(room_below, grow * room_below / max(room_below + room_above, 1e-6))
    to_low, to_high = low - down, min(high + grow - down, 94.0)
    text = _ends_pushed(low, high, to_low, to_high)
    yield Draft.of(
        "widen_values",
        Widen(low, high, to_low, to_high),
        sentence(text),
        (RANGE,),
        "The same picture with its values spread wider.",
        redrawn=True,
    )
