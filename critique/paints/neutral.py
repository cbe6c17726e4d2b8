"""Which paint greys another best, how grey it gets, and which way the grey leans."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from critique.one_thread import in_one_thread
from critique.paints.box import PaintBox
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.paint import Paint
from critique.paints.studio import reach_effort
from critique.perception.cielab import lab_to_lch
from critique.words.hues import hue_word

WHITE_SHARE = 0.5  # of the mixture: strong paints are too dark alone for their hue to be judged
STEPS, FINER = 161, 41  # of the way, and again between the neighbours of the greyest
COUNTED_RATIOS = (4, 5, 6, 8, 10, 12, 15, 20, 30, 40)  # to one; common practice, no source
WEAKEST = 3e-3  # share of the coloured half; the path runs from here to its mirror by even steps of ratio
LEAST_OWN_CHROMA = 12.0  # C*ab of a paint in half white: a greyer one darkens or dirties rather than neutralises
OUT_OF_THE_WAY = 0.7  # C*ab that a part of effort weighs: with ultramarine a grey of C* 4 is as good as one of 3
# C*ab: beyond it a dull colour is left, as the green of ultramarine and lemon yellow. Yellow oxide and ultramarine, 8,
# is the least grey pair that painters call one; common practice, no source.
NEAR_NEUTRAL = 8.5
NO_LEAN = 1.5  # C*ab: no eye sees which way so grey a grey leans; ISCC–NBS calls it neutral
LEAST_DROP = 0.5  # the grey must have less than this share of the duller paint's own chroma to count as neutralised


@dataclass(frozen=True, slots=True)
class Grey:
    """The greyest place on the way from one paint to another in half white."""

    paint: str
    partner: str
    partner_share: float  # of the two paints' parts together, 0–1
    chroma: float  # C*ab
    hue: float  # degrees
    lab: tuple[float, float, float]
    leans: str  # the hue it leans to, in a word
    neutralises: bool  # whether the chroma falls far enough, to a near neutral, to call the two partners
    text: str


def greyest_between(paint: Paint, partner: Paint, white: Paint, light: str = "D65") -> Grey:
    """The mixture of two paints in half white that has least chroma, as it looks by ``light``."""
    share = _path()
    lab = _path_labs(paint, partner, white, share, light)
    chroma = lab_to_lch(lab)[:, 1]
    best = int(chroma.argmin())
    most = min(LEAST_DROP * min(float(chroma[0]), float(chroma[-1])), NEAR_NEUTRAL)
    share = np.linspace(share[max(best - 1, 0)], share[min(best + 1, STEPS - 1)], FINER)
    lab = _path_labs(paint, partner, white, share, light)
    chroma = lab_to_lch(lab)[:, 1]
    best = int(chroma.argmin())
    dull = next((one for one in (partner, paint) if is_nearly_grey(one, white)), None)
    return _grey(paint, partner, float(share[best]), lab[best], dull is None and float(chroma[best]) <= most, dull)


@in_one_thread
def neutralising_partners(box: PaintBox, count: int = 1, light: str = "D65") -> dict[str, tuple[Grey, ...]]:
    """For every paint of a box, the ``count`` paints that grey it best by a light: the greyest, ordinary ones first.

    A paint that nothing in the box neutralises, or that is itself nearly grey, has an empty tuple.
    """
    coloured = [paint for paint in box.paints if not is_nearly_grey(paint, box.white)]
    found: dict[str, list[Grey]] = {paint.name: [] for paint in box.paints}
    for one, other in combinations(coloured, 2):
        grey = greyest_between(one, other, box.white, light)
        if grey.neutralises:
            found[one.name].append(grey)
            found[other.name].append(_grey(other, one, 1 - grey.partner_share, np.array(grey.lab), True))
    return {name: tuple(sorted(greys, key=_readiness)[:count]) for name, greys in found.items()}


def _readiness(grey: Grey) -> tuple[float, str]:
    """How grey a pair gets, in C*ab, and how far out of the way its partner lies."""
    return grey.chroma + OUT_OF_THE_WAY * reach_effort(grey.partner), grey.partner


def _path() -> NDArray[np.float64]:
    """Shares of the partner, even in ratio, so that a strong tinter is met in small steps."""
    reach = np.log(1 / WEAKEST - 1)
    return np.asarray(1 / (1 + np.exp(-np.linspace(-reach, reach, STEPS))))


def _path_labs(
    paint: Paint, partner: Paint, white: Paint, share: NDArray[np.float64], light: str
) -> NDArray[np.float64]:
    coloured = 1 - WHITE_SHARE
    parts = np.stack([coloured * (1 - share), coloured * share, np.full_like(share, WHITE_SHARE)], axis=1)
    return np.asarray(mixture_lab(parts, [paint, partner, white], light))


def is_nearly_grey(paint: Paint, white: Paint) -> bool:
    """Whether a paint in half white has so little colour that it can't be greyed, nor grey another: whites, blacks."""
    own = mixture_lab([1 - WHITE_SHARE, WHITE_SHARE], [paint, white])
    return float(lab_to_lch(own)[1]) < LEAST_OWN_CHROMA


def _grey(
    paint: Paint,
    partner: Paint,
    share: float,
    lab: NDArray[np.float64],
    neutralises: bool,
    dull: Paint | None = None,
) -> Grey:
    _, chroma, hue = (float(value) for value in lab_to_lch(lab))
    leans = hue_word(hue)
    grey = "a plain grey" if chroma < NO_LEAN else f"chroma {chroma:.0f}, leaning {leans}"
    text = (
        f"{partner.name} greys {paint.name} ({_ratio(share, partner, paint)}, in as much white) down to {grey}."
        if neutralises
        else f"{dull.name} is nearly grey itself: it dulls {(paint if dull is partner else partner).name} by taking "
        "its place, not as its opposite."
        if dull is not None
        else f"{partner.name} does not neutralise {paint.name}: on the way its chroma stays above {chroma:.0f}, "
        f"toward {leans}."
    )
    return Grey(
        paint.name, partner.name, share, chroma, hue, (float(lab[0]), float(lab[1]), float(lab[2])), leans,
        neutralises, text,
    )  # fmt: skip


def _ratio(share: float, partner: Paint, paint: Paint) -> str:
    """Such as "1 part phthalo green to 4 of pyrrole red"."""
    one, other = share, 1 - share
    counted = (1, 2, 3, *COUNTED_RATIOS)
    choices: Sequence[tuple[int, int]] = [(1, n) for n in counted] + [(n, 1) for n in counted[1:]] + [(2, 3), (3, 2)]
    a, b = min(choices, key=lambda pair: abs(np.log(pair[0] / pair[1]) - np.log(one / other)))
    return f"{a} part{'s' if a > 1 else ''} {_short(partner, paint)} to {b} of {_short(paint, partner)}"


def _short(paint: Paint, other: Paint) -> str:
    """A paint's name without what stands in brackets, where that tells it from the other."""
    short = paint.name.split(" (")[0]
    return paint.name if short == other.name.split(" (")[0] else short
