"""The parts of the page, and which findings each has."""

from dataclasses import dataclass

from critique.advice.finding import LEVELS, Finding, Level
from critique.advice.kind import Part
from critique.advice.kinds import kind_of


@dataclass(frozen=True, slots=True)
class Question:
    """One part of the page: its anchor and its heading."""

    anchor: str
    title: str


QUESTIONS: dict[Part, Question] = {
    Part.GREENS: Question("greens", "Greens"),
    Part.VALUES: Question("values", "Values"),
    Part.DIVISION: Question("division", "Division"),
    Part.COLOURS: Question("colours", "Colours"),
    Part.EYE_PATH: Question("eye-path", "Eye path"),
    Part.TOUCH: Question("touch", "Edges and touch"),
}


def findings_by_part(findings: tuple[Finding, ...]) -> dict[Part, tuple[Finding, ...]]:
    """Findings under their part, in the order that they were given; every part has an entry."""
    return {part: tuple(finding for finding in findings if kind_of(finding).part is part) for part in Part}


def gravest(findings: tuple[Finding, ...]) -> Level | None:
    """The level of the finding that needs most; None without findings."""
    return max((finding.level for finding in findings), key=LEVELS.index, default=None)
