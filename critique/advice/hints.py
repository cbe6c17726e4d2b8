"""What a teacher might say at most of a picture that holds: one small thing, the likeliest that one would be told."""

import math
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.something_there import in_greys
from critique.measures.dark_mass import measure_dark_mass
from critique.picture.pieces import most_of_it_lies

SMALL = 0.005  # of the picture: so small a dark mass is as good as none
LEAST = 0.25  # chance that a reader says it first, below which nothing is said
# That one place be chosen to lead is not said: it would fit any picture, and of 42 pictures that nothing else was said of
# seven have a reader who would mend that first; where a ship leads readers called it false.


@dataclass(frozen=True, slots=True)
class Hint:
    """One small thing to say: where, in which words, and how likely a reader is to say it first.

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
    return "join a few of the many small lights and darks"


def _off_the_middle(case: Case) -> str:
    return "move what leads in it a step off the middle"


def _open_darks(case: Case) -> str:
    lies = most_of_it_lies(measure_dark_mass(case.picture).mask)
    what = "light" if in_greys(case.picture) else "light and colour"
    return f"let a little {what} into the darks{f' {lies}' if lies else ''}"


def _signs_of_darks(case: Case) -> tuple[float, ...]:
    """How large the largest dark mass is."""
    return (math.log(measure_dark_mass(case.picture).share + SMALL),)


# Chances fitted to what two to four machine readings would mend first in 76 landscapes, and two in 104 pictures most of which
# are photographs through a paint filter (`tests/benchmarks/criticism.py`). Darks are opened where one mass of them is large:
# of 112 pictures in which they aren't named otherwise 27 have one of an eighth or more, and that is where they are likely
# enough. In 23 of these one of two readers who were asked would open it, or perhaps, and in 22 one of four did so first.
HINTS: tuple[Hint, ...] = (
    Hint(
        "darks",
        "",
        _open_darks,
        1.30,
        _signs_of_darks,
        (1.17,),
    ),
    Hint("small_lights", "small_lights", _join, -0.60),
    Hint("middle_subject", "middle_subject", _off_the_middle, -0.79),
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
