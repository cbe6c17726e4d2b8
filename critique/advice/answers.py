"""The painter's questions about a repaint, answered in a sentence or two each."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from critique.advice.comparison import Changes, FigureChange
from critique.advice.wording import listed, percent, sentence
from critique.measures.measure import Measures

Direction = Literal["up", "down", "both", "none"]


@dataclass(frozen=True, slots=True)
class Answer:
    """A question with its answer. ``direction`` is up for quieter, richer, wider, calmer; down for the opposite."""

    question: str
    direction: Direction
    short: str  # the answer in a word or two
    text: str


def answers(changes: Changes, before: Measures, after: Measures) -> tuple[Answer, ...]:
    """Is it quieter, is it richer, do its values reach, is it halved, does the eye stay, did its colour lean?"""
    return (
        _quieter(changes),
        _richer(changes),
        _values(changes, before, after),
        _division(changes, before, after),
        _edges(changes),
        _lean(changes, before, after),
    )


def _plain(decimals: int, factor: float = 1.0) -> Callable[[float], str]:
    return lambda value: f"{value * factor:.{decimals}f}".replace("-", "−")


def _from_to(change: FigureChange, text: Callable[[float], str]) -> str:
    """Such as "from 51 % to 14 %"; nothing where one picture hasn't the figure, or both read the same."""
    was, now = change.ends
    if math.isnan(was) or math.isnan(now):
        return ""
    start, end = text(was), text(now)
    return f"from {start} to {end}" if start != end else ""


def _told(changes: Changes, names: dict[str, tuple[str, Callable[[float], str]]], status: str) -> list[tuple[str, str]]:
    """Words and figures of those that changed so."""
    told = [
        (words, _from_to(changes[name], text))
        for name, (words, text) in names.items()
        if changes[name].status == status
    ]
    return [part for part in told if part[1]]


def _clause(told: list[tuple[str, str]], verb: str) -> str:
    """Such as "colourfulness falls from 73 to 37 and the span of colour from 3300 to 1000"."""
    (words, figures), *rest = told
    return listed([f"{words} {verb} {figures}", *(f"{other} {its}" for other, its in rest)])


LOUDNESS: dict[str, tuple[str, Callable[[float], str]]] = {
    "greens.area_share": ("the area of yellow-green", percent),
    "greens.beyond_leaf_share": ("green beyond what a front-lit leaf reaches", percent),
    "greens.median_chroma": ("the middle chroma of the greens", _plain(0)),
    "greens.p95_chroma": ("the chroma of their strongest", _plain(0)),
    "variety.colourfulness": ("colourfulness", _plain(0)),
}


def _quieter(changes: Changes) -> Answer:
    question = "Is it quieter?"
    lower, higher = _told(changes, LOUDNESS, "less"), _told(changes, LOUDNESS, "more")
    if lower and not higher:
        return Answer(question, "up", "quieter", sentence(f"yes: {_clause(lower, 'falls')}"))
    if higher and not lower:
        return Answer(question, "down", "louder", sentence(f"no, it is louder: {_clause(higher, 'rises')}"))
    if lower and higher:
        text = f"in part: {_clause(lower, 'falls')}; but {_clause(higher, 'rises')}"
        return Answer(question, "both", "in part", sentence(text))
    return Answer(
        question, "none", "no change", "No change: its greens and its colour are as strong as they were, give or take a photograph."
    )  # fmt: skip


VARIETY: dict[str, tuple[str, Callable[[float], str]]] = {
    "variety.effective_hues": ("the number of hues", _plain(1)),
    "variety.hull_area": ("the span of colour", _plain(0)),
    "variety.names": ("the number of named colours", _plain(0)),
    "variety.colourfulness": ("colourfulness", _plain(0)),
}


def _richer(changes: Changes) -> Answer:
    question = "Is it richer?"
    higher, lower = _told(changes, VARIETY, "more"), _told(changes, VARIETY, "less")
    still = len(VARIETY) - len(higher) - len(lower)
    rest = f"; {_count(still)} of the four counts of variety didn't move" if 0 < still < 4 else ""
    if higher and not lower:
        return Answer(question, "up", "richer", sentence(f"yes: {_clause(higher, 'rises')}{rest}"))
    if lower and not higher:
        return Answer(question, "down", "poorer", sentence(f"no, it has less variety: {_clause(lower, 'falls')}{rest}"))
    if higher and lower:
        text = f"it depends on what you count: {_clause(higher, 'rises')}, while {_clause(lower, 'falls')}{rest}"
        return Answer(question, "both", "by some counts", sentence(text))
    text = "No change: by all four counts of variety it has as many colours as it had."
    return Answer(question, "none", "no change", text)


def _count(number: int) -> str:
    return {1: "one", 2: "two", 3: "three"}.get(number, str(number))


def _values(changes: Changes, before: Measures, after: Measures) -> Answer:
    question = "Do its values carry better?"
    reach, holds = changes["values.range"], changes["values.plans.1.separation"]
    told = [
        (words, _from_to(changes[name], text))
        for name, words, text in (
            ("values.range", "the reach of values", _plain(1)),
            ("values.percentiles.p5", "the darks", _plain(1)),
            ("values.percentiles.p50", "the middle value", _plain(1)),
            ("values.percentiles.p95", "the lights", _plain(1)),
            ("values.plans.1.separation", "the contrast that three masses hold", percent),
        )
        if changes[name].changed
    ]
    told = [part for part in told if part[1]]
    key = f"it was {_key(before)}; it is {_key(after)}" if told and _key(before) != _key(after) else ""
    up = [change for change in (reach, holds) if change.status == "more"]
    down = [change for change in (reach, holds) if change.status == "less"]
    if not told:
        return Answer(question, "none", "no change", "No change: darks, middle and lights lie where they lay.")
    text = sentence(_clause(told, "go" if told[0][0] in ("the darks", "the lights") else "goes")) + (
        f" {sentence(key)}" if key else ""
    )
    if up and not down:
        return Answer(question, "up", "wider" if reach.status == "more" else "clearer", text)
    if down and not up:
        return Answer(question, "down", "narrower" if reach.status == "less" else "less clear", text)
    return Answer(question, "both", "moved", text)


def _key(measures: Measures) -> str:
    return f"{measures.values.key} key, {measures.values.spread}"


def _division(changes: Changes, before: Measures, after: Measures) -> Answer:
    question = "Is it cut in half?"
    was, now = before.division, after.division
    names = ("division.height", "division.strength", "division.near_middle")
    moved = changes.any_of(*names)
    halves = {True: "cuts it in half", False: "doesn't cut it in half"}
    if not moved:
        if not now.present:
            text = "No change: no line divides either of them."
        elif was.halved != now.halved:
            text = f"The line lies where it lay, at {percent(now.height)} of the height, on the edge of halving the picture."
        else:
            text = f"No change: the line lies at {percent(now.height)} of the height and {halves[now.halved]}."
        return Answer(question, "none", "no change", text)
    direction: Direction = "none" if was.halved == now.halved else "up" if was.halved else "down"
    if changes["division.height"].changed:
        text = f"the line moved from {percent(was.height)} to {percent(now.height)} of the height"
    elif was.present and not now.present:
        text = f"the line at {percent(was.height)} of the height is gone"
    elif now.present and not was.present:
        text = f"a line now divides it at {percent(now.height)} of the height"
    else:
        text = f"the line at {percent(now.height)} of the height parts it {'more' if changes['division.strength'].status == 'more' else 'less'} plainly"
    if direction == "up":
        return Answer(
            question, direction, "no longer", sentence(f"no longer: {text}, and nothing cuts the picture in half")
        )
    if direction == "down":
        return Answer(question, direction, "now it is", sentence(f"now it is: {text} and cuts the picture in half"))
    still = "still" if now.halved else "no, as before"
    whole = "still halved" if now.halved else "not halved, before or after"
    return Answer(question, direction, still, sentence(f"{whole}: {text}"))


def _edges(changes: Changes) -> Answer:
    question = "Does the eye stay in?"
    pull, frame = changes["eyepath.strongest_pull.strength"], changes["eyepath.framing"]
    parts = []
    if pull.changed:
        parts.append(f"the strongest pull at an edge, beside the focal place, goes {_from_to(pull, percent)}")
    if frame.changed:
        parts.append(f"the corners are {_darker(frame.ends[1])} than the middle; they were {_darker(frame.ends[0])}")
    if changes.any_of("eyepath.focus.x", "eyepath.focus.y", "eyepath.from_middle"):
        parts.append("the eye settles elsewhere")
    if not parts:
        return Answer(
            question,
            "none",
            "no change",
            "No change: the eye settles where it settled, and the edges pull as they did.",
        )
    better = pull.status == "less" or frame.status == "more"
    worse = pull.status == "more" or frame.status == "less"
    direction: Direction = "up" if better and not worse else "down" if worse and not better else "both"
    short = {"up": "better", "down": "less", "both": "otherwise"}[direction]
    return Answer(question, direction, short, sentence(listed(parts)))


def _darker(framing: float) -> str:
    """How the corners stand against the middle; ``framing`` is in values, above 0 for darker corners."""
    return f"{abs(framing):.1f} {'darker' if framing >= 0 else 'lighter'}"


def _lean(changes: Changes, before: Measures, after: Measures) -> Answer:
    question = "Does the whole lean otherwise?"
    names = ("cast.mean.a", "cast.mean.b", "cast.mean.chroma")
    if not changes.any_of(*names):
        return Answer(question, "none", "no change", "No change: stirred together, its colours lean as they leaned.")
    was, now = before.cast.mean, after.cast.mean
    text = (
        f"stirred together it leaned to {was.word} by {was.chroma:.0f}, and now to {now.word} by {now.chroma:.0f}"
        if was.word != now.word
        else f"stirred together it leans to {now.word}, {now.chroma:.0f} where it was {was.chroma:.0f}"
    )
    green = changes["cast.mean.a"]
    direction: Direction = (
        "up" if green.status == "more" and now.a <= 0 else "down" if green.status == "less" and now.a < 0 else "both"
    )
    short = {"up": "less green", "down": "greener", "both": "otherwise"}[direction]
    return Answer(question, direction, short, sentence(text))
