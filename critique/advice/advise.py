"""Everything that is said of one picture."""

from dataclasses import dataclass

from critique.advice.finding import Finding, Suggestion
from critique.measures.measure import Measures
from critique.picture.picture import Picture


@dataclass(frozen=True, slots=True)
class Advice:
    """The verdict in a few sentences, the findings behind it and the suggestions that follow from it."""

    verdict: tuple[str, ...]
    findings: tuple[Finding, ...]
    suggestions: tuple[Suggestion, ...]


def advise(picture: Picture, measures: Measures) -> Advice:
    """Judge a picture by its measures."""
    raise NotImplementedError
