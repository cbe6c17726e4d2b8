"""Which question of the page a finding belongs to."""

from dataclasses import dataclass

from critique.advice.finding import LEVELS, Finding, Level


@dataclass(frozen=True, slots=True)
class Question:
    """One part of the page: its anchor, its heading and the words by which a finding's subject is known as its own."""

    anchor: str
    title: str
    words: tuple[str, ...]

    def asks(self, subject: str) -> bool:
        """Whether a finding on ``subject`` belongs here."""
        return any(word in subject.lower() for word in self.words)


GREENS = Question("greens", "Greens", ("green",))
VALUES = Question("values", "Values", ("value", "mass", "key", "squint", "lights and darks"))
DIVISION = Question("division", "Division", ("halving", "division", "halves", "split", "horizon", "line of the land"))
EYE_PATH = Question(
    "eye-path", "Eye path", ("eye", "focal", "focus", "edge", "corner", "border", "pull", "leading", "frame")
)
COLOURS = Question("colours", "Colours", ())  # whatever is about colour and not about green
IN_ORDER = (GREENS, VALUES, DIVISION, COLOURS, EYE_PATH)


def question_of(subject: str) -> Question:
    """The question that a subject belongs to; what none of them claims is about colour."""
    return next((question for question in (GREENS, VALUES, DIVISION, EYE_PATH) if question.asks(subject)), COLOURS)


def findings_by_question(findings: tuple[Finding, ...]) -> dict[str, tuple[Finding, ...]]:
    """Findings under their question's anchor, in the order that they were given; every question has an entry."""
    return {
        question.anchor: tuple(finding for finding in findings if question_of(finding.subject) is question)
        for question in IN_ORDER
    }


def gravest(findings: tuple[Finding, ...]) -> Level | None:
    """The level of the finding that needs most; None without findings."""
    return max((finding.level for finding in findings), key=LEVELS.index, default=None)
