"""How far the greens of an aim must still be brought down, and how far painters go."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from critique.advice.change import Change, Lab
from critique.advice.change_calm import Calm
from critique.advice.frame import Frame
from critique.advice.too_green import MIDDLE_STAYS, QUIET, TOO_STRONG, is_too_green
from critique.advice.trial import SEVERITY, Trial
from critique.measures.greens import Greens, green_strength, measure_greens
from critique.measures.land_greens import sure_sky
from critique.perception.channels import chroma_of
from critique.perception.difference import delta_e_2000
from critique.perception.green_weight import green_weight
from critique.perception.hue import YELLOW_GREEN
from critique.picture.picture import as_shown, picture_from_lab
from critique.words.aloud import sentence
from critique.words.figures import percent

CALM = "hold_within_leaf"
CALM_MENDS = ("green_strength", "green_area")  # the kinds of finding
WITHIN = 0.002  # of the picture that may stay beyond: a pixel's noise, no stroke
HALVED = 0.5
KEPT = 0.5  # of the greens' share of colour that quieting alone leaves them
LEAST_STRENGTH = 0.4  # of the quieting as it was offered
LEAF = 1.0  # the leaf limit itself
LEAST_LIMIT = 0.7  # of the leaf limit, chroma 31 in the middle values: held below that, blind readers found grass dead
USUAL = 0.40  # of all colour that is green, the 95th percentile among landscapes: no need to go lower
STEPS = 6  # of halving the span searched
# Findings: a sun or a cream sky makes a picture seem too green to neither.
STRENGTH, AREA = "green_strength", "green_area"
SEEN_CHANGE, SEEN_AREA = 2.0, 0.01  # ΔE00 that an eye sees side by side, and of the picture: less is no step
# ΔE00 and of the picture: so small a place is seen too when it moves so far. Of 210 aims three change by it, in which a
# red spot at an edge is quieted, and looked better for it; a raw roof of as little needs no rule of its own.
SEEN_FAR, SEEN_SPOT = 8.0, 0.002
SEEN_STEP, SEEN_DOUBT = 4, 2.0  # px: a sixteenth of a picture tells, unless that is within a factor of two of the bar
SEEN = 0.03  # of all colour: the greens' part moved by less is nothing that an eye would see

Reached = Literal["not wanted", "halved", "not halved"]


@dataclass(frozen=True, slots=True)
class GreensReached:
    """The greens before and in the aim, and the changes that brought them there after those that were offered."""

    too_green: bool
    chroma_share_before: float
    chroma_share_after: float
    beyond_leaf_before: float
    beyond_leaf_after: float
    reached: Reached
    text: str  # empty where their part of the colour stays as it was
    changes: tuple[Change, ...] = field(metadata={"record": False})


def enough_of(change: Change, before: Trial, now: Trial) -> float:
    """How strongly greens are quieted: until about half their share of colour is left, or they are quiet.

    Paint that quiets a green may turn it to brown or grey, and a meadow in the sun must stay one.
    """
    keep = KEPT * before.case.measures.greens.chroma_share

    full = change.parameters.on(now.lab, Frame(*now.lab.shape[:2]))

    counts, beside = _where_it_counts(now.lab, (now.lab != full).any(-1))
    lab, whole = now.lab[counts][None], full[counts][None]

    def still_more(by: float) -> bool:
        made = change.parameters.turned_up(lab, whole, change.strength * by)
        share, middle = green_strength(as_shown(made), beside=beside)
        return share >= keep and middle >= QUIET

    if still_more(1.0):
        return 1.0
    return round(_highest(LEAST_STRENGTH, 1.0, still_more), 2)


def bring_down(before: Trial, now: Trial, *, leave: frozenset[str] = frozenset()) -> GreensReached:
    """The least that brings greens within the leaf limit, and those of a too green picture toward half its colour.

    The strongest greens are held, at first below the leaf limit, then, where greens are still a larger part of all
    colour than in other landscapes, as far below it as ``LEAST_LIMIT``. Hues and values stay. Giving greens away, the
    light ones to straw and the dark ones to blue-grey or brown, halves their part of any picture; of twenty such aims a
    reader who didn't know which was which preferred two. ``leave`` holds what may not be done.
    """
    was = before.case.measures.greens
    too_green = is_too_green(was) and (before.level(STRENGTH) > 0 or before.level(AREA) >= SEVERITY["rework"])
    greens = now.case.measures.greens
    if CALM in leave:
        return _reached(too_green, was, greens, ())

    wanted = max(HALVED * was.chroma_share, USUAL) if too_green else 1.0

    counts, beside = _where_it_counts(now.lab, green_weight(now.lab) > 0)
    lab = now.lab[counts][None]

    def enough(limit: float) -> bool:
        share, middle = green_strength(as_shown(Change(CALM, Calm(limit)).apply(lab)), beside=beside)
        return share <= wanted or middle <= QUIET

    limit = LEAF
    if not enough(LEAF):
        limit = _search(enough)
    elif not too_green or greens.beyond_leaf_share <= WITHIN:
        return _reached(too_green, was, greens, ())
    change = Change(CALM, Calm(round(limit, 2)))
    made = change.apply(now.lab)
    if not is_seen(now.lab, made, ~sure_sky(now.case.measures.parts, made.shape)):
        return _reached(too_green, was, greens, ())
    after = _greens(made, now)
    strongest = max(was.beyond_leaf_share, greens.beyond_leaf_share)
    quieter = greens.median_chroma - after.median_chroma >= MIDDLE_STAYS  # what is green all over stays all of it
    if strongest < TOO_STRONG and not quieter and greens.chroma_share - after.chroma_share < SEEN:
        return _reached(too_green, was, greens, ())
    return _reached(too_green, was, after, (change,), floor=limit <= LEAST_LIMIT or _at_rest(after))


def eased_in_words(now: Greens, after: Greens, *, quieted: bool) -> str:
    """What such a change of greens does, in a sentence; ``quieted`` is whether they were muted before it.

    Held below the leaf limit all greens go greyer: leaves are spoken of only where some pass them and the rest stays.
    """
    stays = now.median_chroma - after.median_chroma < MIDDLE_STAYS
    if stays and now.beyond_leaf_share > WITHIN:
        still = "are still" if quieted else "are"
        return f"Grey the greens that {still} stronger than a leaf in the sun, the strongest most; keep their values."
    further = " a little further" if quieted else ""
    was, becomes = (greens.p95_chroma if stays else greens.median_chroma for greens in (now, after))
    told = f"{was:.0f} to {becomes:.0f} {'where they are strongest' if stays else 'at the middle'}"
    return f"Grey the greens{further}, the strongest most, from chroma {told}; keep their values."


def _where_it_counts(lab: Lab, moves: NDArray[np.bool_]) -> tuple[NDArray[np.bool_], float]:
    """Where a change ``moves`` anything or a green is (height, width), and the sum of the chroma everywhere else.

    A search for how strongly a change is made needs to look at no other pixels.
    """
    counts = moves | YELLOW_GREEN.contains(lab)
    chroma = chroma_of(lab)
    return counts, float(chroma.sum(where=~counts, dtype=np.float64))


def is_seen(before: Lab, after: Lab, where: NDArray[np.bool_] | None = None) -> bool:
    """Whether a change moves more than a few strokes by more than an eye overlooks, or a small place far.

    Anywhere, or ``where`` it counts (height, width).
    """
    share = _moved_share(before, after, where, SEEN_STEP)
    if SEEN_AREA / SEEN_DOUBT < share < SEEN_AREA * SEEN_DOUBT:  # too near to be told from a part of the pixels
        share = _moved_share(before, after, where, 1)
    return share >= SEEN_AREA or _moved_share(before, after, where, 1, SEEN_FAR) >= SEEN_SPOT


def _moved_share(
    before: Lab, after: Lab, where: NDArray[np.bool_] | None, step: int, far: float = SEEN_CHANGE
) -> float:
    """The part of every ``step``-th pixel of every ``step``-th row that moves so ``far`` (ΔE00)."""
    part = np.s_[::step, ::step]
    moved = delta_e_2000(before[part], after[part]) >= far
    return float((moved if where is None else moved & where[part]).mean())


def _at_rest(greens: Greens) -> bool:
    """Whether greens were stopped where quieter ones would go grey."""
    return greens.median_chroma <= QUIET * 1.05


def _search(enough: Callable[[float], bool]) -> float:
    """The highest limit that is enough; the lowest, where none is."""
    return _highest(LEAST_LIMIT, LEAF, enough) if enough(LEAST_LIMIT) else LEAST_LIMIT


def _highest(low: float, high: float, holds: Callable[[float], bool]) -> float:
    """The highest of a span that holds, where ``high`` doesn't, by halving the span; ``low``, where none does."""
    for _ in range(STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low


def _greens(lab: Lab, like: Trial) -> Greens:
    return measure_greens(picture_from_lab(lab, like.case.picture))


def _reached(
    too_green: bool, was: Greens, greens: Greens, changes: tuple[Change, ...], *, floor: bool = False
) -> GreensReached:
    """What came of it in words; ``floor`` is whether more was wanted and would have made grass grey."""
    was_part, part = percent(was.chroma_share), percent(greens.chroma_share)
    share = f"of all its colour, weighed by strength, the greens hold {was_part} now and {part} in the aim"
    halved = greens.chroma_share <= HALVED * was.chroma_share + 1e-3
    usual = greens.chroma_share <= USUAL + 1e-3
    reached: Reached = "not wanted" if not too_green else "halved" if halved else "not halved"
    if was.chroma_share == 0:
        text = "there is no green here to quiet"
    elif was.chroma_share - greens.chroma_share < SEEN:
        text = ""  # they are as much of it as they were: nothing to tell
    elif not too_green:
        text = f"{share}; they were not too much"
    elif halved:
        text = f"{share}, where hardly any is stronger than a leaf in the sun"
    elif usual:
        text = (
            f"{share}, no larger a part than in other landscapes. It is their strength that comes down: hardly any is "
            "stronger than a leaf in the sun there"
        )
    elif floor and was.median_chroma > QUIET * 1.2:
        text = (
            f"{share}. Most of this picture's colour is green, and quieter than this the grass would be grey; to go "
            "on, something else must be painted where green is now"
        )
    else:
        leaf = (
            ", though hardly any of it is stronger than a leaf in the sun"
            if greens.beyond_leaf_share < TOO_STRONG
            else ""
        )
        text = f"{share}. It stays a green picture{leaf}"
    return GreensReached(
        too_green,
        was.chroma_share,
        greens.chroma_share,
        was.beyond_leaf_share,
        greens.beyond_leaf_share,
        reached,
        sentence(text) if text else "",
        changes,
    )
