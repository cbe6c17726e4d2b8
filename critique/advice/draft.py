"""A change before it is tried: what to do, to which colours, and what to read off afterwards."""

from collections.abc import Callable
from dataclasses import dataclass

from critique.advice.finding import Change, QuietedGreen
from critique.advice.judging import Case
from critique.advice.previews import Lab
from critique.measures.families import Family

Reading = Callable[[Case], float]


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure that a change is meant to move: its name, how it is read off a case, how it is said, and which way."""

    name: str
    read: Reading
    text: Callable[[float], str]
    rises: bool = False  # whether more of it is better

    def change(self, before: Case, after: Case) -> Change:
        """The figure before and after."""
        first, second = float(self.read(before)), float(self.read(after))
        return Change(self.name, first, second, self.text(first), self.text(second))

    def gain(self, before: Case, after: Case) -> float:
        """How much of the figure was won, as a part of the larger of the two; negative when it went the wrong way."""
        first, second = float(self.read(before)), float(self.read(after))
        won = second - first if self.rises else first - second
        return won / max(abs(first), abs(second), 1e-6)


@dataclass(frozen=True, slots=True)
class Draft:
    """A change to try. ``recipe`` is asked for only when the change is offered: mixing takes its time."""

    subject: str
    mends: str  # the subject of the finding that called for it
    text: str
    lab: Lab
    figures: tuple[Figure, ...]
    caption: str
    recipe: Callable[[], str | None] = lambda: None
    greens: tuple[QuietedGreen, ...] = ()
    redrawn: bool = False  # whether more than colour changes, so that division and eye path are sought again
    regrouped: bool = False  # whether its families become others, so that they and their harmony are sought again
    families: tuple[Family, ...] | None = None  # what they become, where that is known
