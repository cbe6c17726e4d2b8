"""What a teacher might say at most of a picture that holds: one small thing, the likeliest that one would be told."""

import math
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.picture.places import spot

SURELY_LEADS = 0.7  # strength from which a place is named as the lead: seven of eight of those are a reader's too
LEAST = 0.25  # chance that a reader says it first, below which nothing is said


@dataclass(frozen=True, slots=True)
class Hint:
    """One small thing to say: when, in which words, and how likely a reader is to say it first.

    ``remark`` is the id of a finding that must have been made, empty where none need be. The chance is logistic in
    ``signs``: ``bias`` and a weight for each.
    """

    id: str
    remark: str
    text: Callable[[Case], str]
    bias: float
    signs: Callable[[Case], tuple[float, ...]] = lambda case: ()
    weights: tuple[float, ...] = ()

    def chance(self, case: Case) -> float:
        """How likely it is that a reader who looks for something to mend names this first."""
        told = self.bias + sum(weight * sign for weight, sign in zip(self.weights, self.signs(case), strict=True))
        return 1 / (1 + math.exp(-told))


def _join(case: Case) -> str:
    return "join a few of the small lights and darks that lie all over it"


def _off_the_middle(case: Case) -> str:
    return "move what leads in it a step off the middle"


def _quiet_side(case: Case) -> str:
    return f"let what stands along the {case.measures.eyepath.heavier_side} edge go a little quieter"


def _one_leads(case: Case) -> str:
    claimed = case.measures.eyepath.claimed
    if not claimed:
        return "choose the one place that is to lead, and let the others go a step quieter"
    if claimed[0].strength < SURELY_LEADS:
        return "let one accent lead, and the others go a step quieter"
    return f"let the other accents go a step quieter, so that the one {spot(claimed[0].x, claimed[0].y)} leads"


# Chances fitted to what two machine readings would mend first in 76 landscapes (`tests/benchmarks/criticism.py`). What
# competes is spoken of where the border is calm beside the inside: what draws the eye then lies within.
HINTS: tuple[Hint, ...] = (
    Hint("small_lights", "small_lights", _join, -0.11),
    Hint("middle_subject", "middle_subject", _off_the_middle, -0.2),
    Hint("side_weight", "side_weight", _quiet_side, -0.95),
    Hint(
        "one_leads",
        "",
        _one_leads,
        1.19,
        lambda case: (case.measures.eyepath.border_salience,),
        (-1.87,),
    ),
)


def likeliest(case: Case, findings: Sequence[Finding]) -> Hint | None:
    """The small thing that a reader is likeliest to say; None where none is likely."""
    made = {finding.kind for finding in findings}
    there = [hint for hint in HINTS if _there(hint, made) and hint.chance(case) >= LEAST]
    return max(there, key=lambda hint: hint.chance(case), default=None)


def told(case: Case, findings: Sequence[Finding]) -> str:
    """It in a sentence; empty where there is nothing to say."""
    hint = likeliest(case, findings)
    return f"At most, {hint.text(case)}." if hint is not None else ""


def _there(hint: Hint, made: Collection[str]) -> bool:
    return not hint.remark or hint.remark in made
