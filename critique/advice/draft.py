"""A change before it is tried: why, to which colours, and what to read off afterwards."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from critique.advice.change import Change, Parameters
from critique.advice.judging import Case
from critique.advice.photograph_moves import beyond_photograph
from critique.advice.recipe_for import RecipeFor
from critique.advice.suggestion import Moved, QuietedGreen
from critique.measures.families import Family

Reading = Callable[[Case], float]
NOTHING_LEFT = "none left"
LEAST_GAIN = 0.15  # of a figure of which it isn't known how far another photograph moves it; our choice


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure that a change is meant to move: its name, how it is read off a case, how it is said, and which way.

    It reads NaN where the picture has nothing to measure it on: no green has no middle chroma.
    """

    name: str
    read: Reading
    text: Callable[[float], str]
    rises: bool = False  # whether more of it is better
    record: str = ""  # its path in the record, where it has one: by it is known how far another photograph moves it

    def moved(self, before: Case, after: Case) -> Moved:
        """The figure before and after; None where there is nothing left to measure it on."""
        first, second = self._read(before, after)
        return Moved(self.name, _known(first), _known(second), self._told(first), self._told(second))

    def gain(self, before: Case, after: Case) -> float:
        """How much of the figure was won, as a part of the larger of the two; negative when it went the wrong way.

        Where there is nothing left to measure it on, nothing was won.
        """
        return self._won(*self._read(before, after))

    def moves(self, before: Case, after: Case) -> bool:
        """Whether it goes the right way, and farther than another photograph of the same picture would take it."""
        first, second = self._read(before, after)
        gained = self._won(first, second)
        if gained <= 0:
            return False
        beyond = beyond_photograph(self.record, first, second) if self.record else None
        return gained >= LEAST_GAIN if beyond is None else beyond

    def _read(self, before: Case, after: Case) -> tuple[float, float]:
        return float(self.read(before)), float(self.read(after))

    def _won(self, first: float, second: float) -> float:
        if not (math.isfinite(first) and math.isfinite(second)):
            return 0.0
        won = second - first if self.rises else first - second
        return won / max(abs(first), abs(second), 1e-6)

    def _told(self, value: float) -> str:
        return self.text(value) if math.isfinite(value) else NOTHING_LEFT


def _known(value: float) -> float | None:
    return value if math.isfinite(value) else None


def no_recipes() -> tuple[RecipeFor, ...]:
    """For a change that no paint does."""
    return ()


@dataclass(frozen=True, slots=True)
class Draft:
    """A change to try. ``recipes`` are asked for only when the change is offered: mixing takes its time.

    ``unjudged`` are kinds of finding that could not judge before what it changes: what they say after is no cost of it.
    """

    change: Change
    text: str
    figures: tuple[Figure, ...]  # the first is its own: by it the change is worth offering or not
    caption: str
    recipes: Callable[[], tuple[RecipeFor, ...]] = no_recipes
    greens: tuple[QuietedGreen, ...] = ()
    redrawn: bool = False  # whether more than colour changes, so that division and eye path are sought again
    regrouped: bool = False  # whether its families become others, so that they and their harmony are sought again
    families: tuple[Family, ...] | None = None  # what they become, where that is known
    unjudged: frozenset[str] = frozenset()

    @classmethod
    def of(
        cls,
        kind: str,
        parameters: Parameters,
        text: str,
        figures: tuple[Figure, ...],
        caption: str,
        *,
        recipes: Callable[[], tuple[RecipeFor, ...]] = no_recipes,
        greens: tuple[QuietedGreen, ...] = (),
        redrawn: bool = False,
        regrouped: bool = False,
        families: tuple[Family, ...] | None = None,
        unjudged: frozenset[str] = frozenset(),
    ) -> "Draft":
        """A draft of a change by its kind and numbers."""
        change = Change(kind, parameters)
        return cls(change, text, figures, caption, recipes, greens, redrawn, regrouped, families, unjudged)

    def with_recipes(self) -> Change:
        """The change with its paint, as it is offered."""
        return replace(self.change, recipes=self.recipes())
