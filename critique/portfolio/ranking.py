"""How ready a picture is for a show, compared with the others of the portfolio."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from critique.advice.finding import LEVELS, Level
from critique.portfolio.rules import Rules

MIDDLE_HALF = (25.0, 75.0)  # percentiles between which a figure is as in any landscape


@dataclass(frozen=True, slots=True)
class Standing:
    """The levels of a picture's findings under the rules, by the id of their kind; what does not matter is left out.

    ``unusual`` (0–25) is how far its figures lie outside the middle half of the reference landscapes, in
    percentiles, on average: told, and no part of the ranking, for what is unusual is no fault.
    """

    levels: Mapping[str, Level]
    unusual: float

    @property
    def rework(self) -> int:
        """How many findings need rework."""
        return self._number("rework")

    @property
    def watch(self) -> int:
        """How many are to watch."""
        return self._number("watch")

    @property
    def holds(self) -> int:
        """How many hold."""
        return self._number("holds")

    @property
    def level(self) -> Level:
        """The gravest of its levels."""
        return max(self.levels.values(), key=LEVELS.index, default="holds")

    @property
    def judged(self) -> bool:
        """Whether anything is said of it: of a blank canvas nothing is."""
        return bool(self.levels)

    @property
    def order(self) -> tuple[bool, int, int]:
        """Readiest first: the fewest to rework, then the fewest to watch; last what there is nothing to say of."""
        return not self.judged, self.rework, self.watch

    def _number(self, level: Level) -> int:
        return sum(own == level for own in self.levels.values())


def standing_of(row: Mapping[str, Any], rules: Rules) -> Standing:
    """Where a picture stands by its row."""
    levels: dict[str, Level] = {}
    outside: list[float] = []
    for finding in row["findings"]:
        level = rules.level(finding["kind"], finding["level"], finding["figure"])
        if level is None:
            continue
        levels[finding["kind"]] = level
        if (rank := finding["percentile"]) is not None:
            outside.append(max(MIDDLE_HALF[0] - rank, rank - MIDDLE_HALF[1], 0.0))
    return Standing(levels, round(sum(outside) / len(outside), 3) if outside else 0.0)
