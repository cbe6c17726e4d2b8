"""A question of the painter's about a repaint with its answer, and how the figures in it are told."""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Literal

from critique.pair.comparison import Changes, FigureChange
from critique.words.figures import percent
from critique.words.lists import listed

Direction = Literal["up", "down", "both", "none"]


QuestionId = Literal["quieter", "richer", "values", "halved", "edges", "lean"]
QUESTIONS: dict[QuestionId, str] = {
    "quieter": "Is it quieter?",
    "richer": "Is it richer?",
    "values": "Do its values carry better?",
    "halved": "Is it cut in half?",
    "edges": "Does the eye stay in?",
    "lean": "Does the whole lean otherwise?",
}
STAYED: dict[QuestionId, str] = {
    "quieter": "how strong its colour is",
    "richer": "how many colours it has",
    "values": "how far its values reach",
    "halved": "where its line lies",
    "edges": "where the eye goes",
    "lean": "how the whole leans",
}
NO_CHANGE = "no_change"


@dataclass(frozen=True, slots=True)
class Answer:
    """A question with its answer. ``direction`` is up for quieter, richer, wider, calmer; down for the opposite.

    ``id`` is that of the question, ``outcome`` that of the answer: what code goes by. The rest is for people.
    """

    id: QuestionId
    outcome: str
    question: str
    direction: Direction
    short: str  # the answer in a word or two
    text: str
    aside: str = field(default="", metadata={"record": False})  # what the verdict adds of it, in a clause

    @property
    def key(self) -> tuple[QuestionId, str]:
        """Question and outcome."""
        return self.id, self.outcome


def stayed_in_words(answers: Iterable[Answer], *, alike: bool = False) -> str:
    """What the repaint left as it was, in one sentence; empty where nothing stayed.

    ``alike`` says that the verdict tells of one change of light all over: then how the whole leans isn't what stayed.
    """
    stayed = [STAYED[one.id] for one in answers if one.outcome == NO_CHANGE and not (alike and one.id == "lean")]
    return f"As it was, give or take a photograph: {listed(stayed)}." if stayed else ""


def answered(
    asked: QuestionId, outcome: str, direction: Direction, short: str, text: str, *, aside: str = ""
) -> Answer:
    """An answer to a question of the table: its title is read there."""
    return Answer(asked, outcome, QUESTIONS[asked], direction, short, text, aside)


def plain_number(decimals: int) -> Callable[[float], str]:
    """How a figure is told: with so many decimals and a true minus."""
    return lambda value: f"{value:.{decimals}f}".replace("-", "−")


FEW = 0.05  # of the picture: shares below it are told to a tenth of a percent


def _tenths(share: float) -> str:
    return f"{100 * share:.1f} %" if share >= 0.0005 else "none"


def from_to(change: FigureChange, text: Callable[[float], str] | None) -> str:
    """Such as "from 51 % to 14 %", or "by 21 %" for a figure without a unit that a painter knows (``text`` is None).

    Nothing where one picture hasn't the figure, or both read the same.
    """
    was, now = change.ends
    if math.isnan(was) or math.isnan(now):
        return ""
    if text is None:
        return f"by {abs(now / was - 1) * 100:.0f} %" if was > 0 else ""
    if text is percent:
        start, end = (percent(share) if share >= FEW else _tenths(share) for share in (was, now))
    else:
        start, end = text(was), text(now)
    return f"from {start} to {end}" if start != end else ""


Names = dict[str, tuple[str, Callable[[float], str] | None]]  # words for a figure, and how it reads


@dataclass(frozen=True, slots=True)
class Told:
    """A figure that changed, with its words and from where to where it went."""

    figure: str
    words: str
    ends: str


def figures_told(changes: Changes, names: Names, *statuses: str) -> list[Told]:
    """Those that changed so, and can be told."""
    told = [
        Told(name, words, from_to(changes[name], text))
        for name, (words, text) in names.items()
        if changes[name].status in statuses
    ]
    return [part for part in told if part.ends]


def clause(told: list[Told], verb: str) -> str:
    """Such as "colourfulness falls from 73 to 37 and the span of colour from 3300 to 1000"."""
    first, *rest = told
    return listed([f"{first.words} {verb} {first.ends}", *(f"{other.words} {other.ends}" for other in rest)])
