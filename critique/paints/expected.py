"""How far a real mixture is likely to land from the colour it was mixed for.

Three things add up, as independent errors do, in squares: what the search leaves, what the theory misses, and how
surely the parts are measured out.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.paints.kubelka_munk import mixture_lab, paint_lab
from critique.paints.paint import MEASURED, OWN_DABS, Paint
from critique.perception.difference import delta_e_2000
from critique.perception.reference import read_table

# ΔE00 by which computed mixtures miss measured ones: medians over thirty films of 1 : 1 mixtures of two paints, and
# over tints of one paint with white. [tests/benchmarks/paint_accuracy.py, film_mixtures.csv]
MISSED_BY_MIXTURES, MISSED_BY_TINTS = 2.2, 1.0
# Mixtures that a little more of one paint turns into another colour are missed by more: two blues by 7, two reds by
# half a step. So each coloured paint is taken to be mistaken in its strength by so much (logarithm): with no white as
# fits those films best (pairs left out of the fit in turn are foretold better than by their median), in white as the
# measured tints stand beside published ones (median of 20). Between the two, by the white's share: an assumption, since
# no measured mixtures of two paints in white are at hand. [paint_accuracy.py; film_mixtures.csv, tint_lightness.csv]
UNSURE_ALONE, UNSURE_IN_WHITE = 0.32, 0.17
# What a paint that was not measured adds: the measured ones, each rebuilt from a disc and a published lightness, mixed
# with others, against themselves: median 2.4, 90th percentile 5.9. A tube of several pigments is known no better. A
# painter's own paint is known by dabs of that very tube: median 1.0 over random mixtures.
# [tests/benchmarks/paint_accuracy.py; tests/paints/test_paint_dabs.py]
ADDED_BY_UNMEASURED, ADDED_BY_DABS = 2.4, 1.0
# ΔE00 between a measured paint alone and an opaque disc of that pigment by another maker: the median of 23.
# Ultramarine, 15, and dioxazine, whose bronze passes for a brown, are known far worse alone than in mixtures.
# [paint_discs.csv; tests/published/test_paint_discs.py]
OTHER_MAKE = 5.0
NEARLY_ALONE = 0.6  # of a mixture: from there on what a paint is alone tells; common practice, no source
# Times what is foretold: within it lie 90 in 100 of those thirty films, their pairs left out of the fit.
NINE_IN_TEN = 2.0
# Logarithms of the parts: a scale and a clean knife; dabs judged by eye, in which touches vary twice as much.
# Common practice, no source.
BY_SCALE, BY_EYE, TOUCH_TIMES = 0.05, 0.20, 2.0


@dataclass(frozen=True, slots=True)
class Expected:
    """ΔE00 from the target within which a mixture lands as likely as not.

    All hold what the search leaves, which doesn't stray, and what the theory misses, which does.
    """

    as_calculated: float  # the parts weighed out exactly
    with_care: float  # weighed on a scale, knife wiped
    by_eye: float  # dabs of about one size in place of weight
    nine_in_ten: float  # within which nine in ten land that are mixed with care
    unmeasured: tuple[str, ...]  # paints of it that were not measured

    @property
    def swatch(self) -> str:
        """A word on what of it was not measured; empty where all was."""
        if not self.unmeasured:
            return ""
        if len(self.unmeasured) > 1:
            return "Several of its paints were not measured: mix a swatch first."
        return f"{self.unmeasured[0][:1].upper()}{self.unmeasured[0][1:]} was not measured: mix a swatch first."

    @property
    def text(self) -> str:
        """All of it in a sentence or two."""
        swatch = f" {self.swatch}" if self.unmeasured else ""
        exact, care = f"{self.as_calculated:.0f}", f"{self.with_care:.0f}"
        weighed = " or mixed with care" if care == exact else f", {care} mixed with care"
        return (
            f"Real paint strays: expect it about {exact} steps from the colour asked for, weighed exactly{weighed}, "
            f"{self.by_eye:.0f} with dabs by eye; one mixture in ten, beyond "
            f"{self.nine_in_ten:.0f}.{swatch}"
        )


def strays_in_words(expected: Sequence[Expected]) -> str:
    """How far real paint is likely to stray from several mixtures, told once; empty for none."""
    if not expected:
        return ""
    care, eye, most = (
        float(np.mean([getattr(one, name) for one in expected])) for name in ("with_care", "by_eye", "nine_in_ten")
    )
    return (
        f"Real paint strays: expect it about {care:.0f} steps from the colours asked for on average, what the paints "
        f"don't reach counted in, weighed and mixed with care, {eye:.0f} with dabs by eye; one mixture in ten, beyond "
        f"{most:.0f}."
    )


def expected_error(parts: ArrayLike, paints: Sequence[Paint], touches: Sequence[bool], rest: float) -> Expected:
    """What to expect of parts (paints,) whose calculated colour lies ``rest`` (ΔE00) from the target."""
    amounts = np.asarray(parts, dtype=np.float64)
    unmeasured = tuple(paint.name for paint in paints if added_by(paint) == ADDED_BY_UNMEASURED)
    theory = float(np.hypot(_theory(amounts, paints), doubt(amounts, paints)))
    as_calculated = float(np.hypot(rest, theory))
    strays = np.where(np.asarray(touches), TOUCH_TIMES, 1.0)
    scale, eye = (_strayed(amounts, paints, spread * strays) for spread in (BY_SCALE, BY_EYE))
    return Expected(
        as_calculated,
        float(np.hypot(as_calculated, scale)),
        float(np.sqrt(as_calculated**2 + eye**2 + _by_volume(amounts, paints) ** 2)),
        float(np.hypot(rest, NINE_IN_TEN * np.hypot(theory, scale))),
        unmeasured,
    )


def added_by(paint: Paint) -> float:
    """ΔE00 that a paint adds to what is expected of a mixture, by how it is known."""
    return {MEASURED: 0.0, OWN_DABS: ADDED_BY_DABS}.get(paint.origin, ADDED_BY_UNMEASURED)


@cache
def _discs() -> dict[str, tuple[float, float, float]]:
    return {row["paint"]: (float(row["L"]), float(row["a"]), float(row["b"])) for row in read_table("paint_discs.csv")}


@lru_cache(maxsize=256)  # the catalogue twice over
def other_make(paint: Paint) -> float | None:
    """ΔE00 between a measured paint alone and the disc of another maker; None where there is none to compare."""
    disc = _discs().get(paint.name) if paint.origin == MEASURED else None
    return None if disc is None else float(delta_e_2000(paint_lab(paint), np.array(disc)))


def doubt(parts: ArrayLike, paints: Sequence[Paint]) -> NDArray[np.float64]:
    """ΔE00 (...) that mixtures (..., paints) are doubted by, where they are nearly one paint that is known ill alone.

    Only what goes beyond the difference that two makes have in any case.
    """
    amounts = np.asarray(parts, dtype=np.float64)
    return doubt_of_shares(amounts / amounts.sum(axis=-1, keepdims=True), doubted_alone(paints))


def doubted_alone(paints: Sequence[Paint]) -> NDArray[np.float64]:
    """ΔE00 (paints,) that each is doubted by alone, beyond what two makes differ by in any case."""
    return np.array([np.sqrt(max((other_make(paint) or 0.0) ** 2 - OTHER_MAKE**2, 0.0)) for paint in paints])


def doubt_of_shares(share: ArrayLike, alone: NDArray[np.float64]) -> NDArray[np.float64]:
    """ΔE00 (...) of doubt by shares (..., paints) that add up to 1, and by what each is doubted by alone."""
    near = np.clip((np.asarray(share, dtype=np.float64) - NEARLY_ALONE) / (1 - NEARLY_ALONE), 0, 1)
    return np.asarray((alone * near).sum(axis=-1))


def trust_in_words(paint: Paint) -> str:
    """How far mixtures with a paint are to be trusted."""
    added = added_by(paint)
    measured = f"Mixtures of two paints land within about ΔE {MISSED_BY_MIXTURES:.0f} of what is calculated"
    if added == 0:
        told = f"{measured}, as likely as not: it was measured."
        away, disc = other_make(paint), _discs().get(paint.name)
        if away is None or disc is None or away <= OTHER_MAKE:
            return f"{told} Alone, another maker's tube lies {OTHER_MAKE:.0f} away."
        alone = ", ".join(f"{name} {value:.0f}" for name, value in zip(("L*", "a*", "b*"), disc, strict=True))
        return (
            f"{told} Alone, another maker's lies {away:.0f} away ({alone.replace('-', '−')}): swatch yours before "
            "you use it unmixed."
        )
    if paint.origin == OWN_DABS:
        return f"{measured}, a little more with this one: it is known by its dabs. A mixture that you made corrects it."
    more = np.hypot(added, MISSED_BY_MIXTURES)
    return f"{measured}, about {more:.0f} with this one: it was not measured. Swatch it first."


def _theory(amounts: NDArray[np.float64], paints: Sequence[Paint]) -> float:
    coloured = np.array([not paint.is_white for paint in paints]) & (amounts > 0)
    own = MISSED_BY_TINTS if coloured.any() else 0.0
    if coloured.sum() > 1:
        own = np.hypot(own, _out_of_proportion(amounts, paints, coloured))
    return float(np.hypot(own, max(added_by(paint) for paint in paints)))


def _out_of_proportion(amounts: NDArray[np.float64], paints: Sequence[Paint], coloured: NDArray[np.bool_]) -> float:
    """ΔE00 that coloured paints bring whose strengths are mistaken, the white's share being kept."""
    white = float(amounts[~coloured].sum() / amounts.sum())
    spread = UNSURE_ALONE * (1 - white) + UNSURE_IN_WHITE * white
    nudge = np.exp(spread * np.eye(len(amounts))[coloured])
    tried = np.concatenate([amounts * nudge, amounts / nudge])
    tried[:, coloured] *= amounts[coloured].sum() / tried[:, coloured].sum(axis=1, keepdims=True)
    moved = delta_e_2000(mixture_lab(tried, paints), mixture_lab(amounts, paints))
    return float(np.sqrt((moved**2).sum() / 2))


def _strayed(amounts: NDArray[np.float64], paints: Sequence[Paint], spread: NDArray[np.float64]) -> float:
    """ΔE00 that parts bring which stray, each by its own spread of ratio."""
    if len(amounts) < 2:
        return 0.0
    nudge = np.exp(np.diag(spread))
    tried = np.concatenate([amounts * nudge, amounts / nudge])
    moved = delta_e_2000(mixture_lab(tried, paints), mixture_lab(amounts, paints))
    return float(np.sqrt((moved**2).sum() / 2))


def _by_volume(amounts: NDArray[np.float64], paints: Sequence[Paint]) -> float:
    """ΔE00 between the parts by weight and the same number of dabs of one size."""
    density = np.array([paint.density for paint in paints])
    return float(delta_e_2000(mixture_lab(amounts * density, paints), mixture_lab(amounts, paints)))
