"""What a teacher might say at most of a picture that holds: one small thing, the likeliest that one would be told."""

import math
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.measures.closed_darks import DARK
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.measures.smoothing import gaussian
from critique.picture.areas import area_aside
from critique.picture.picture import lab_at

SHAPE = 0.012  # of the long edge, spread of a Gaussian: darks are opened by the shape and not by the stroke
LITTLE = 0.01  # of the picture: so little black is as good as none
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
    light = gaussian(lab_at(case.picture, MAP_LONG_EDGE)[..., 0], SHAPE * MAP_LONG_EDGE, truncate=3)
    return f"let a little light and colour into the darks{area_aside(light < DARK)}"


# Chances fitted to what two to four machine readings would mend first in 76 landscapes, and two in 104 pictures most of which
# are photographs through a paint filter (`tests/benchmarks/criticism.py`). Darks are opened where they are near black: of 20
# pictures in which that is said first, by a fit that didn't know their set, 13 have a reader who would mend them first.
HINTS: tuple[Hint, ...] = (
    Hint(
        "darks",
        "",
        _open_darks,
        3.16,
        lambda case: (math.log(case.measures.closed_darks.black + LITTLE),),
        (1.319,),
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
