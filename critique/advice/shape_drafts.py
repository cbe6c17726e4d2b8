"""Changes of the division and of the range of values."""

from collections.abc import Iterator

import numpy as np

from critique.advice.change_light import Widen
from critique.advice.change_shape import MoveLine
from critique.advice.draft import Draft, Figure
from critique.advice.frame import RIGID
from critique.advice.trial import Trial
from critique.words.aloud import sentence
from critique.words.figures import percent

LEVEL, STRAIGHT = 0.04, 0.7  # px per px, and of the width: a line that can be moved as a whole
FARTHEST = 0.2  # of the height that a line is moved at most

HEIGHT = Figure("height of the line", lambda case: case.measures.division.height, percent)
OFF_MIDDLE = Figure(
    "distance from the middle",
    lambda case: abs(case.measures.division.height - 0.5),
    lambda away: percent(away),
    rises=True,
    record="division.height",
)
RANGE = Figure(
    "range of values",
    lambda case: case.measures.values.range,
    lambda value: f"{value:.1f}",
    rises=True,
    record="values.range",
)


def move_line(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Move the line up or down in the same format; only where nothing that holds the eye is bent by it."""
    division, eye = trial.case.measures.division, trial.case.measures.eyepath
    if not division.present or abs(division.slope) > LEVEL or division.straightness < STRAIGHT:
        return
    detail = np.abs(np.diff(trial.lab[..., 0], axis=0)).mean(axis=1)
    row = round(division.height * len(detail))
    above, below = float(detail[:row].mean()) if row else 0.0, float(detail[row:].mean())
    # The plainer side gives way, and the line goes no farther than need be.
    aims = sorted(
        (aim for aim in division.alternatives if abs(aim - division.height) <= FARTHEST),
        key=lambda aim: ((aim > division.height) != (above > below), abs(aim - division.height)),
    )
    for aim in aims:
        if any(abs(place.y - division.height) > RIGID + 0.05 and place.strength > 0.3 for place in eye.claimed):
            continue  # what holds the eye would be stretched
        way, room = ("down", "sky") if aim > division.height else ("up", "ground")
        text = (
            f"move the line {way}, to about {percent(aim)} of the way down, and give the {room} the room. Draw it again in the "
            "same format: what stands on the line keeps its size, and the far parts give way"
        )
        yield Draft.of(
            "move_division",
            MoveLine(division.height, aim),
            sentence(text),
            (OFF_MIDDLE, HEIGHT),
            f"The line {percent(aim)} of the way down, the format as it was.",
            redrawn=True,
        )


def widen(trial: Trial, quieted: bool) -> Iterator[Draft]:
    """Spread the values wider."""
    values = trial.case.measures.values
    low, high = 10 * values.percentiles["p5"], 10 * values.percentiles["p95"]
    grow = max(10 * trial.case.norms.at("values.range", 25) - (high - low), 0.0)
    room_below, room_above = max(low - 8, 0.0), max(94 - high, 0.0)
    down = min(room_below, grow * room_below / max(room_below + room_above, 1e-6))
    to_low, to_high = low - down, min(high + grow - down, 94.0)
    text = (
        f"push the darks to about value {to_low / 10:.1f} and the lights to {to_high / 10:.1f}, the darkest darks and "
        "lightest lights only where you want to be looked at"
    )
    yield Draft.of(
        "widen_values",
        Widen(low, high, to_low, to_high),
        sentence(text),
        (RANGE,),
        "The same picture with its values spread wider.",
        redrawn=True,
    )
