"""Whether a line cuts the picture in half."""

from critique.advice.finding import Finding, Level
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.words.aloud import percent, sentence

LEVEL_SLOPE = 0.02  # px per px: a line flatter than this looks level


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


def light_halves(case: Case, kind: Kind) -> Finding | None:
    """Whether lights and darks share the picture equally."""
    lights = case.measures.division.lights
    if not lights.halved:
        return None
    return kind.finding(
        level="watch",
        text=sentence(
            f"lights and darks share the picture almost equally ({percent(lights.light_share)} light). "
            "Decide whether it is a light picture with darks in it, or the other way round"
        ),
        figure=lights.light_share,
        figure_text=f"{percent(lights.light_share)} light",
        norm="halved within 5 % of an even share; common practice, no source",
    )


def halving(case: Case, kind: Kind) -> Finding:
    """Whether the main line cuts the picture in half."""
    division = case.measures.division
    height = division.height
    side = "upper" if height < 0.5 else "lower"
    level: Level = "rework" if division.halved else "watch" if division.nearly_halved else "holds"
    if not division.present:
        text = "no single line divides the picture from side to side, so nothing cuts it in half"
    elif level == "rework":
        text = (
            f"the main line runs {percent(height)} of the way down and cuts the picture in two equal halves, which then "
            f"quarrel about which is the subject. {_move(case)}"
        )
    elif level == "watch":
        text = f"the main line runs {percent(height)} of the way down, close to the middle. {_move(case)}"
    else:
        where = (
            "level"
            if abs(division.slope) < LEVEL_SLOPE
            else "falling to the right"
            if division.slope > 0
            else "rising to the right"
        )
        near = (
            f"near the {_fraction(division.nearest_alternative)}"
            if abs(division.nearest_alternative - height) < 0.04
            else f"well into the {side} part"
        )
        if 0.42 <= height <= 0.58:
            text = f"the main line lies at {percent(height)} of the height, but it is too soft or too broken to read as a cut"
        else:
            winner = "lower" if height < 0.5 else "upper"
            text = (
                f"the main line, {where}, lies {percent(height)} of the way down, {near}: the {winner} part leads and "
                "the picture isn't halved"
            )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=height,
        figure_text=f"line at {percent(height)} of the height" if division.present else "no line",
        norm="halved within 5 % of the middle; common practice, no source",
    )


def _move(case: Case) -> str:
    """Which way to move the line: toward giving the busier side more room."""
    up, down = better_heights(case)
    return (
        f"Lower it to about {percent(down)} if the part above is the subject, or raise it to about {percent(up)} if the "
        "part below is; breaking it with a tree or a rise helps too"
    )


def better_heights(case: Case) -> tuple[float, float]:
    """The nearest offered height above and below the middle."""
    alternatives = case.measures.division.alternatives
    return max(height for height in alternatives if height < 0.5), min(
        height for height in alternatives if height > 0.5
    )


def _fraction(height: float) -> str:
    names = {0.333: "upper third", 0.382: "upper golden section", 0.618: "lower golden section", 0.667: "lower third"}
    return names[min(names, key=lambda known: abs(known - height))]
