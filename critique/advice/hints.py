"""What a teacher might say at most of a picture that holds: one small thing, the likeliest that one would be told."""

import math
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

import numpy as np

from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.measures.closed_darks import DARK
from critique.measures.eye_judging import surely_settles
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.measures.pulls import Contrast, plain_contrast
from critique.measures.rivals import Standing
from critique.measures.smoothing import gaussian
from critique.picture.areas import MOST_OF_IT, area_of
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at
from critique.picture.places import EVERYWHERE, roughly

SHAPE = 0.012  # of the long edge, spread of a Gaussian: darks are opened by the shape and not by the stroke
STANDS_BESIDE, APART = 0.8, 0.2  # of all else that stands out; of the width and height: a rival of what leads
AT_A_GLANCE, ELSEWHERE, BORDER = 240, 0.25, 0.06  # px; of the width and height: where a rival is looked for
LEAST = 0.25  # chance that a reader says it first, below which nothing is said
# What competes is not named: of eight pictures where the two were, two readers each signed none, though that something
# competes is what they say first most often; said so, they signed it in five of six. Where one place surely leads nothing
# is said: that what lies beside it be quieter, none of sixteen readings signed, since it would fit any picture.
CHOOSE_ONE = "choose the one place that is to lead, and let the others go a step quieter"


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
    fits: Callable[[Case], bool] = lambda case: True

    def chance(self, case: Case) -> float:
        """How likely it is that a reader who looks for something to mend names this first."""
        told = self.bias + sum(weight * sign for weight, sign in zip(self.weights, self.signs(case), strict=True))
        return 1 / (1 + math.exp(-told))


def _join(case: Case) -> str:
    return "join a few of the many small lights and darks"


def _off_the_middle(case: Case) -> str:
    return "move what leads in it a step off the middle"


def _quiet_side(case: Case) -> str:
    return f"let what stands along the {case.measures.eyepath.heavier_side} edge go a little quieter"


def _one_leads(case: Case) -> str:
    return CHOOSE_ONE


def _open_darks(case: Case) -> str:
    light = gaussian(lab_at(case.picture, MAP_LONG_EDGE)[..., 0], SHAPE * MAP_LONG_EDGE, truncate=3)
    where = area_of(light < DARK)
    place = f" {where}" if where and where not in (EVERYWHERE, MOST_OF_IT) else ""
    return f"let a little light and colour into the darks{place}"


def _rival(case: Case) -> Standing | None:
    """The place that holds the eye beside the one that leads; None where nothing leads, or nothing is named apart."""
    eye = case.measures.eyepath
    if not eye.claimed:
        return None
    leads = eye.focus
    places = eye.rivals if eye.rivalry >= STANDS_BESIDE else (_strongest_elsewhere(case),)
    rival = max(places, key=lambda place: float(np.hypot(place.x - leads.x, place.y - leads.y)))
    apart = float(np.hypot(rival.x - leads.x, rival.y - leads.y)) >= APART
    return rival if apart and roughly(rival.x, rival.y) != roughly(leads.x, leads.y) else None


@kept
def _contrast(picture: Picture) -> Contrast:
    """Asked of a picture when it is decided what to say of it, and when it is said."""
    return plain_contrast(lab_at(picture, AT_A_GLANCE))


def _strongest_elsewhere(case: Case) -> Standing:
    """What stands out most from what is around it, away from what leads and from the border."""
    contrast = _contrast(case.picture).whole
    height, width = contrast.shape
    leads = case.measures.eyepath.focus
    y, x = (np.arange(height)[:, None] + 0.5) / height, (np.arange(width)[None] + 0.5) / width
    away = np.hypot(x - leads.x, y - leads.y) >= ELSEWHERE
    inside = (np.minimum(x, 1 - x) >= BORDER) & (np.minimum(y, 1 - y) >= BORDER)
    there = np.where(away & inside, contrast, 0)
    row, column = divmod(int(there.argmax()), width)
    return Standing(float(x[0, column]), float(y[row, 0]), float(there.max()) / max(float(contrast.max()), 1e-6))


# Chances fitted to what two to four machine readings would mend first in 76 landscapes (`tests/benchmarks/criticism.py`). What
# competes is spoken of where the border is calm beside the inside: what draws the eye then lies within.
HINTS: tuple[Hint, ...] = (
    Hint(
        "darks",
        "",
        _open_darks,
        -2.42,
        lambda case: (case.measures.closed_darks.dark_share,),
        (7.71,),
    ),
    Hint("small_lights", "small_lights", _join, 0.05),
    Hint("middle_subject", "middle_subject", _off_the_middle, -0.14),
    Hint("side_weight", "side_weight", _quiet_side, -1.24),
    Hint(
        "rival_place",
        "",
        _one_leads,
        -0.76,
        lambda case: (case.measures.eyepath.rivalry,),
        (0.225,),
        lambda case: surely_settles(case.measures.eyepath) is None and _rival(case) is not None,
    ),
    Hint(
        "one_leads",
        "",
        _one_leads,
        0.29,
        lambda case: (case.measures.eyepath.border_salience,),
        (-1.06,),
        lambda case: not case.measures.eyepath.claimed,  # where something leads, readers found it chosen already
    ),
)


def likeliest(case: Case, findings: Sequence[Finding]) -> Hint | None:
    """The small thing that a reader is likeliest to say; None where none is likely."""
    made = {finding.kind for finding in findings}
    there = [hint for hint in HINTS if _there(hint, made) and hint.chance(case) >= LEAST and hint.fits(case)]
    return max(there, key=lambda hint: hint.chance(case), default=None)


def told(case: Case, findings: Sequence[Finding]) -> str:
    """It in a sentence; empty where there is nothing to say."""
    hint = likeliest(case, findings)
    return f"At most, {hint.text(case)}." if hint is not None else ""


def _there(hint: Hint, made: Collection[str]) -> bool:
    return not hint.remark or hint.remark in made
