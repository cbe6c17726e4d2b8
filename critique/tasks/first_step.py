"""What to do first: one answer, which a review gives and its plan keeps to."""

from collections.abc import Sequence
from dataclasses import dataclass

from critique.advice.change_kinds import all_change_kinds
from critique.advice.finding import Finding
from critique.advice.gravity import to_rework
from critique.advice.suggestion import Suggestion
from critique.advice.verdict import turn_of
from critique.tasks.aim import QUIETING, Aim, Step
from critique.tasks.greens_reached import CALM, CALM_MENDS
from critique.words.aloud import sentence


@dataclass(frozen=True, slots=True)
class FirstStep:
    """The change to make first. ``in_aim`` is false where the aim leaves it to the painter, for the ``reason``."""

    kind: str
    title: str
    moved: str  # what it was measured to do to the picture, as a sentence; empty where that wasn't tried alone
    in_aim: bool
    reason: str

    @property
    def text(self) -> str:
        """What to do first, in sentences."""
        first = f"First step: {self.title}." if self.in_aim else f"First step, if you agree: {self.title}."
        why = "" if self.in_aim else f"It is left to you, since {self.reason}."
        return " ".join(part for part in (first, self.moved, why) if part)


def first_step(offered: Sequence[Suggestion], aim: Aim, findings: Sequence[Finding]) -> FirstStep | None:
    """The aim's change that mends what holds the picture back most, or else its first; without any the first offered.

    None where there is neither. A change that the painter left is no step any more, nor one that mends only what next
    to no teacher mends first, nor one left to the painter that mends another thing than the verdict tells first: the
    verdict then says what to try.
    """
    by_kind = {one.kind: one for one in offered}
    if aim.steps:
        grave = {finding.kind for finding in findings if to_rework(finding)}
        made = next((step for step in aim.steps if grave.intersection(mended_by(step.kind))), aim.steps[0])
        if made.kind == CALM:  # it goes on from where the greens were quieted to
            made = next((step for step in aim.steps if step.kind in QUIETING), made)
        return FirstStep(made.kind, made.title, _moved(by_kind.get(made.kind)), True, "")
    reasons = {one.kind: one.reason for one in aim.left_out if not one.by_painter}
    for one in offered:
        if one.kind in reasons and turn_of(findings, mended_by(one.kind)) == "first":
            return FirstStep(one.kind, one.subject, _moved(one), False, reasons[one.kind].removesuffix("."))
    return None


def in_turn(steps: Sequence[Step], first: FirstStep | None) -> tuple[Step, ...]:
    """The steps of an aim as they are told: what is to be done first ahead of the others, which keep their order."""
    return tuple(sorted(steps, key=lambda step: first is None or step.kind != first.kind))


def mended_by(change: str) -> tuple[str, ...]:
    """The kinds of finding that a change mends."""
    if change == CALM:
        return CALM_MENDS
    return next((kind.mends for kind in all_change_kinds() if kind.id == change), ())


def _moved(offer: Suggestion | None) -> str:
    if offer is None or not offer.changes:
        return ""
    change = next((one for one in offer.changes if one.before_text != one.after_text), offer.changes[0])
    return sentence(f"tried on this picture: {change.figure}, from {change.before_text} to {change.after_text}")
