"""How far the greens of an aim must still be brought down, and how far painters go."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from critique.advice.change import Change, Lab
from critique.advice.change_calm import Calm, GiveAway
from critique.advice.trial import Trial
from critique.measures.greens import Greens, measure_greens
from critique.picture.picture import picture_from_lab
from critique.words.aloud import sentence
from critique.words.figures import percent

CALM, GIVE = "hold_within_leaf", "give_greens_away"
TOO_STRONG = 0.015  # of the picture beyond a leaf; among landscapes the 95th percentile is 0.008
WITHIN = 0.002  # of the picture that may stay beyond: a pixel's noise, no stroke
TOO_MUCH = 0.50  # of all colour that is green; among landscapes the 95th percentile is 0.40, the highest 0.61
HALVED = 0.5
KEPT = 0.5  # of the greens' share of colour that quieting alone leaves them
LEAST_STRENGTH = 0.4  # of the quieting as it was offered
LEAF = 1.0  # the leaf limit itself
LEAST_LIMIT = 0.5  # of the leaf limit, chroma 22 in the middle values: quieter than that, grass goes grey
ALL_BUT_MIDDLE, NEXT_TO_NOTHING = 0.0, 1.6  # spreads of value away from the middle at which giving away begins
LEAST_REACH = 5.0  # L*
STEPS = 6  # of halving the span searched

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
    text: str
    changes: tuple[Change, ...] = field(metadata={"record": False})


def is_too_green(greens: Greens) -> bool:
    """Whether greens are stronger than leaves in more than a few strokes, or most of the picture's colour."""
    return greens.beyond_leaf_share >= TOO_STRONG or greens.chroma_share >= TOO_MUCH


def enough_of(change: Change, before: Trial, now: Trial) -> float:
    """How strongly greens are quieted: no further than that about half their share of colour is left.

    Paint that quiets a green may turn it to brown, and a meadow must stay one.
    """
    keep = KEPT * before.case.measures.greens.chroma_share
    if _greens(change.apply(now.lab), now).chroma_share >= keep:
        return 1.0
    low, high = LEAST_STRENGTH, 1.0
    for _ in range(STEPS):
        middle = (low + high) / 2
        kept = _greens(change.scaled(middle).apply(now.lab), now).chroma_share >= keep
        low, high = (middle, high) if kept else (low, middle)
    return round(low, 2)


def bring_down(before: Trial, now: Trial, *, leave: frozenset[str] = frozenset()) -> GreensReached:
    """The least that brings the greens within the leaf limit, and of a picture that is too green to half its colour.

    First the leaf limit; then the lightest and darkest greens are given away, no more than need be; then, where even
    that is not enough, what stays green is quieted down to ``LEAST_LIMIT``. ``leave`` holds what may not be done.
    """
    was = before.case.measures.greens
    too_green = is_too_green(was)
    wanted = HALVED * was.chroma_share if too_green else 1.0
    greens = now.case.measures.greens
    changes: list[Change] = []
    lab = now.lab
    if CALM not in leave and greens.beyond_leaf_share > WITHIN:
        changes.append(Change(CALM, Calm(LEAF)))
        lab = changes[-1].apply(lab)
        greens = _greens(lab, now)
    if GIVE not in leave and greens.chroma_share > wanted and greens.area_share > 0:
        middle, reach = greens.median_lightness, max(10 * greens.value_spread, LEAST_REACH)

        def give(start: float) -> Change:
            return Change(GIVE, GiveAway(middle, reach, start))

        start = _search(lambda start: _greens(give(start).apply(lab), now).chroma_share <= wanted)
        changes.append(give(start))
        lab = changes[-1].apply(lab)
        greens = _greens(lab, now)
    if CALM not in leave and greens.chroma_share > wanted:
        changes.append(Change(CALM, Calm(LEAST_LIMIT)))
        greens = _greens(changes[-1].apply(lab), now)
    return _reached(too_green, was, greens, tuple(changes))


def _search(enough: Callable[[float], bool]) -> float:
    """Where giving away may begin at the latest and still be enough; at the earliest, where it never is."""
    early, late = ALL_BUT_MIDDLE, NEXT_TO_NOTHING
    if not enough(early):
        return early
    for _ in range(STEPS):
        middle = (early + late) / 2
        early, late = (middle, late) if enough(middle) else (early, middle)
    return early


def _greens(lab: Lab, like: Trial) -> Greens:
    return measure_greens(picture_from_lab(lab, like.case.picture))


def _reached(too_green: bool, was: Greens, greens: Greens, changes: tuple[Change, ...]) -> GreensReached:
    share = f"from {percent(was.chroma_share)} to {percent(greens.chroma_share)} of all its colour"
    halved = greens.chroma_share <= HALVED * was.chroma_share + 1e-3
    reached: Reached = "not wanted" if not too_green else "halved" if halved else "not halved"
    if was.chroma_share == 0:
        text = "there is no green here to quiet"
    elif not too_green:
        text = f"the greens go {share}; they were not too much"
    elif halved:
        text = f"the greens go {share}, and hardly any is stronger than a leaf in the sun"
    else:
        text = (
            f"the greens go {share}: not to half. Most of this picture's colour is green, and quieter than this the "
            "grass would be grey; to go on, change what is painted: a path, dry grass, a roof, more sky"
        )
    return GreensReached(
        too_green,
        was.chroma_share,
        greens.chroma_share,
        was.beyond_leaf_share,
        greens.beyond_leaf_share,
        reached,
        sentence(text),
        changes,
    )
