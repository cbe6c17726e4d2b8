"""What a picture becomes when the changes worth making are made: one aim, measured and judged again."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from critique.advice.change import Change, Composed, check_strength, compose
from critique.advice.change_kinds import MUTE, all_change_kinds
from critique.advice.frame import Frame
from critique.advice.leading import KIND as LEAD
from critique.advice.leading import TITLE as LEAD_TITLE
from critique.advice.leading import lead_toward, parts_in_words
from critique.advice.standing_still import stands_still
from critique.advice.suggestion import Suggestion
from critique.advice.too_green import GREY_GREENS
from critique.advice.trial import WORST, Trial, effect_of
from critique.errors import CritiqueError, WrongUsage
from critique.paints.box import PaintBox
from critique.picture.picture import Picture
from critique.tasks.greens_reached import CALM, GreensReached, bring_down, eased_in_words, enough_of, is_seen
from critique.words.lists import listed

TITLES = {
    LEAD: LEAD_TITLE,
    CALM: GREY_GREENS,
}
# Whether a lean is the painting's or its photograph's, one photograph can't tell: no repaint is planned on it.
IN_DOUBT = ("take_out_cast",)
WIDEN, GENTLY = "widen_values", 0.6  # of the change: enough for the finding to hold in the demos; looked at, our choice
# Values of the darkest and of the lightest twentieth, from which close values read as mist and as dusk: widened, either
# is gone. A haze painted for the demo has its darkest at 6.9, a sunny meadow at 3.8; our choice.
MIST_FROM, DUSK_TO = 5.0, 4.5
LED_INSTEAD = (MUTE, "less_green", "vary_greens", "take_out_cast")  # what leading the greens takes the place of
QUIETING = (LEAD, MUTE)  # what all greens are brought down by, before what is left of them is held
OWN_CHOICE_OF_GROUND = ("less_green",)  # other ground than was seen: blind readers preferred it in two pairs of seven


@dataclass(frozen=True, slots=True)
class Step:
    """A change of the aim: what it is called, what it does in words, and how far it was turned."""

    kind: str
    title: str
    text: str
    turned: float  # 1 as it was offered
    effect: str  # on the findings, made after those before it
    change: Change = field(metadata={"record": False})


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A change that the aim does without, and why."""

    kind: str
    title: str
    reason: str
    by_painter: bool = False  # who said so


@dataclass(frozen=True, slots=True)
class Aim:
    """The picture as it is meant to be repainted: ``composed`` makes it at any size, strip by strip."""

    steps: tuple[Step, ...]
    left_out: tuple[LeftOut, ...]
    greens: GreensReached
    effect: str  # all of it together, on the findings
    composed: Composed = field(metadata={"record": False})
    before: Trial = field(metadata={"record": False}, repr=False)
    after: Trial = field(metadata={"record": False}, repr=False)
    not_turned: tuple[str, ...] = ()  # titles of changes that the painter turned, and that there was no cause to make

    @property
    def picture(self) -> Picture:
        """It at the size at which pictures are measured."""
        return self.after.case.picture


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the painter takes, leaves and turns, by id or title of a change; and the picture led toward."""

    take: tuple[str, ...] = ()
    leave: tuple[str, ...] = ()
    turned: Mapping[str, float] = field(default_factory=dict)
    like: Picture | None = None
    like_everything: bool = False


def aim_of(
    before: Trial,
    offered: Sequence[Suggestion],
    wanted: Wanted,
    box: PaintBox | None = None,
    tried: Sequence[Trial] = (),
) -> Aim:
    """Compose the changes that a review offers into one aim.

    Quieting comes first, since others were measured on the quieted picture. A change that was not asked for is left
    out where, made after the others, it costs the findings more than it wins. A picture that is too green is quieted
    until it keeps within the leaf limit and its greens' part of all colour is halved, or they are quiet. What was
    ``tried`` already, on the way to the offers, need not be measured again.

    Raises
    ------
    WrongUsage
        When what is asked can't be, whatever the picture; see :func:`asked_of`.
    CritiqueError
        When a change that is to be made has nothing to do here.
    """
    take, leave, turned = asked_of(wanted)
    steps: list[Step] = []
    left: list[LeftOut] = []
    now = before
    for change, title, text in _candidates(before, offered, take, wanted, box):
        why = _left_because(change, before, take, leave, wanted)
        if why:
            left.append(LeftOut(change.kind, title, why, by_painter=change.kind in leave))
            continue
        by = turned.get(change.kind)
        if by is None:
            by = enough_of(change, before, now) if change.kind == MUTE else _part(change, before)
        made = change.scaled(by)
        after = _with(now, made, tried)
        same_frame = now.lab.shape == after.lab.shape  # a crop is seen
        asked = change.kind in take or change.kind in turned or change.kind == LEAD
        if not asked and same_frame and not is_seen(now.lab, after.lab):
            left.append(LeftOut(change.kind, title, "it would hardly be seen here"))
            continue
        effect = effect_of(now, after)
        if not asked and effect.lost > effect.won:
            left.append(
                LeftOut(change.kind, title, f"made after the others it costs more than it wins: {listed(effect.costs)}")
            )
            continue
        if not asked and steps and effect.won == 0:
            left.append(LeftOut(change.kind, title, "after the others it mends nothing more"))
            continue
        if by == GENTLY and not asked:
            text += " Here it is done a good half of the way; go on if the painting wants it."
        steps.append(Step(change.kind, title, text, by, effect.text, made))
        now = after
    reached = bring_down(before, now, leave=frozenset(leave))
    for change in reached.changes:
        made = change.scaled(turned.get(change.kind, 1.0))
        after = _with(now, made)
        effect = effect_of(now, after)
        greens = now.case.measures.greens, after.case.measures.greens
        text = eased_in_words(*greens, quieted=any(step.kind == MUTE for step in steps))
        steps.append(Step(change.kind, TITLES[change.kind], text, made.strength, effect.text, made))
        now = after
    composed = compose([step.change for step in steps])
    if steps:
        now = before.with_lab(composed.apply(before.lab), redrawn=True, regrouped=True, reached=(now,))
    whole = effect_of(before, now, beside=_hardly_moved(before, now))
    told = {one.kind for one in steps} | {one.kind for one in left}
    not_turned = tuple(title for kind, title in change_titles().items() if kind in turned.keys() - told)
    return Aim(tuple(steps), tuple(left), reached, whole.text, composed, before, now, not_turned)


def _hardly_moved(before: Trial, after: Trial) -> frozenset[str]:
    """The findings that came to another level though their figures are as they were, by kind: told of no move."""
    was, now = before.case.measures, after.case.measures
    kinds = {finding.kind for finding in (*before.findings, *after.findings)}
    return frozenset(kind for kind in kinds if before.level(kind) != after.level(kind) and stands_still(kind, was, now))


def _candidates(
    before: Trial, offered: Sequence[Suggestion], take: set[str], wanted: Wanted, box: PaintBox | None
) -> list[tuple[Change, str, str]]:
    """Changes with their titles and texts in the order of making: led or quieted first, crops last."""
    found = [(one.change, one.subject, one.text) for one in offered if one.change is not None]
    held = {change.kind for change, _, _ in found}
    for kind in all_change_kinds():
        if kind.id in take - held:
            draft = next(iter(kind.make(before, False)), None)
            if draft is None:
                raise CritiqueError(f"there is nothing here to {kind.title}")
            found.append((draft.with_recipes(), kind.title, draft.text))
    if wanted.like is not None:
        led = lead_toward(before.case.picture, wanted.like, everything=wanted.like_everything, box=box)
        what = "all colours" if wanted.like_everything else "the greens"
        parts = parts_in_words(led)
        each = f", {parts}" if parts else ""
        text = f"Lead {what} toward those of {wanted.like.file}{each}; values and drawing stay your own."
        found.insert(0, (led, LEAD_TITLE, text))
    order = {kind.id: place for place, kind in enumerate(all_change_kinds())}
    first = {LEAD: -2, MUTE: -1}
    quieted = {kind.id for kind in all_change_kinds() if kind.quieted_first}

    def rank(one: tuple[Change, str, str]) -> tuple[int, int]:
        change = one[0]
        group = first.get(change.kind, 0 if change.kind in quieted else 2 if crops(change) else 1)
        return group, order.get(change.kind, 0)

    return sorted(found, key=rank)


def crops(change: Change) -> bool:
    """Whether a change moves what is drawn, or cuts something off the picture."""
    whole = Frame(100, 100)
    return change.parameters.frame_left(whole, 1.0) != whole


def _left_because(change: Change, before: Trial, take: set[str], leave: set[str], wanted: Wanted) -> str:
    if change.kind in leave:
        return "you left it"
    if change.kind in take:
        return ""
    if wanted.like is not None and change.kind in LED_INSTEAD:
        return "the greens are led toward the other picture instead"
    if change.kind in OWN_CHOICE_OF_GROUND:
        return "dry grass or bare earth in place of green is another subject: take it on purpose if you mean to"
    if crops(change):
        return "it draws the picture anew: take it on purpose if you mean to"
    if change.kind in IN_DOUBT and before.case.measures.cast.owner != "painting":
        return "the lean may be the photograph's: hold the painting beside a grey card first"
    air = _air(before)
    if change.kind == WIDEN and air:
        return f"{air} is close in value on purpose: take it if you meant none"
    if not _wanted_enough(change, before):
        return "what it mends may be meant as it is, and the change may cost more than it wins"
    return ""


def _air(before: Trial) -> str:
    """What close values may be meant as; empty where they are neither all light nor all dark."""
    percentiles = before.case.measures.values.percentiles
    return "mist" if percentiles["p5"] >= MIST_FROM else "dusk" if percentiles["p95"] <= DUSK_TO else ""


def _part(change: Change, before: Trial) -> float:
    """How far a change is made that nobody turned: values that are only to watch go part of the way, or darks close."""
    return GENTLY if change.kind == WIDEN and before.level("value_range") < WORST else 1.0


def _wanted_enough(change: Change, before: Trial) -> bool:
    """Whether a change is trusted, or mends what is to rework; of others blind readers preferred few at `watch`."""
    kind = next((one for one in all_change_kinds() if one.id == change.kind), None)
    return kind is None or kind.trusted or any(before.level(mends) == WORST for mends in kind.mends)


def _with(trial: Trial, change: Change, tried: Sequence[Trial] = ()) -> Trial:
    """The picture with one change more, measured and judged again: its drawing only where more than hues change."""
    return trial.with_change(change, redrawn=not change.parameters.turns, tried=tried)


def asked_of(wanted: Wanted) -> tuple[set[str], set[str], dict[str, float]]:
    """The ids of the changes that are taken and that are left, and how many times as strong others are made.

    What is turned to nothing is left: nothing of it is made, so nothing of it is told.

    Raises
    ------
    WrongUsage
        One line, when a change is named that there is none of, is both taken and left or turned, is turned twice, or
        by what no change can be made: known before anything is read.
    """
    titles = change_titles()
    take, leave = ({_named(name, titles) for name in names} for names in (wanted.take, wanted.leave))
    turned: dict[str, float] = {}
    for name, by in wanted.turned.items():
        kind = _named(name, titles)
        if kind in turned:
            raise WrongUsage(f"{titles[kind]} can't be turned twice: say how strong it is to be once")
        check_strength(by)
        turned[kind] = float(by)
    leave |= {kind for kind, by in turned.items() if by == 0}
    turned = {kind: by for kind, by in turned.items() if by > 0}
    for other, what in ((take, "taken"), (turned.keys(), "turned")):
        if both := sorted(titles[kind] for kind in leave & other):
            raise WrongUsage(f"{listed(both)} can't be both {what} and left: say one of the two")
    return take, leave, turned


def change_titles() -> dict[str, str]:
    """The title of every change that can be asked for by name, by its id."""
    return {**{kind.id: kind.title for kind in all_change_kinds()}, **TITLES}


def _named(name: str, titles: Mapping[str, str]) -> str:
    """The id that a person means by an id or a title, written with spaces, hyphens or underscores."""

    def bare(text: str) -> str:
        return " ".join(text.lower().replace("_", " ").replace("-", " ").split())

    found = [id for id, title in titles.items() if bare(name) in (bare(id), bare(title))]
    if not found:
        raise WrongUsage(f"there is no change called {name!r}: there are {listed(sorted(titles))}")
    return found[0]
