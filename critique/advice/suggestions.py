"""What to change first: every change is tried, measured and judged again, and offered by what it does."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from critique.advice.cast_findings import green_cast_owner
from critique.advice.change import Change
from critique.advice.change_kind import ChangeKind
from critique.advice.change_kinds import MUTE, all_change_kinds
from critique.advice.draft import Draft
from critique.advice.finding import Finding
from critique.advice.gravity import SMALL_MATTERS, spoken_of, weight
from critique.advice.judging import Case
from critique.advice.suggestion import Suggestion
from critique.advice.trial import SEVERITY, WORST, Effect, Trial, effect_of, trial_of
from critique.picture.picture import without_kept

MOST_SUGGESTIONS = 5  # more is a list and not advice


@dataclass(frozen=True)
class Offer:
    """A change that was tried: for which finding, on which picture, and what came of it.

    Its own figure is measured first, and the whole picture only where that moves: most changes end there.
    """

    kind: ChangeKind
    mends: str  # the id of the kind of finding
    base: Trial
    draft: Draft
    after: Trial
    upon: tuple[Change, ...]  # what had been changed before

    @cached_property
    def effect(self) -> Effect:
        """What it does to the findings."""
        return effect_of(self.base, self.after, beside=self.draft.unjudged)

    @cached_property
    def worth(self) -> float:
        """Levels won less levels lost, and something for its own figure; 0 when it is not worth offering.

        A change that moves its own figure less than another photograph would, that leaves the finding at its level
        unless that is the worst, or that loses as much as it wins, is worth nothing.
        """
        base, after = self.base.case, self.after.case
        figure = self.draft.figures[0]
        if not figure.moves(base, after):
            return 0.0
        level = self.base.level(self.mends)
        mended = level - self.after.level_alone(self.mends)
        if self.kind.worst_only and level < WORST:
            return 0.0
        if mended < 0 or (mended == 0 and level < WORST):
            return 0.0
        moved = figure.gain(base, after)
        if self.effect.lost and self.effect.won <= self.effect.lost:
            return 0.0
        # A cast of which nobody can tell whose it is is asked about, and no ground for a repaint.
        if self.mends == "green_cast" and green_cast_owner(self.base.case.measures.cast) == "either":
            return 0.0
        return self.kind.part_of_worth * (self.effect.won - self.effect.lost + min(max(moved, 0.0), 1.0) / 2)

    @property
    def suggestion(self) -> Suggestion:
        """It as it is told."""
        return Suggestion(
            self.kind.title,
            self.draft.text,
            tuple(figure.moved(self.base.case, self.after.case) for figure in self.draft.figures),
            change=self.draft.with_recipes(),
            upon=self.upon,
            effect=self.effect.text,
            greens=self.draft.greens,
            preview=without_kept(self.after.case.picture),
            preview_caption=self.draft.caption,
        )


def suggestions(case: Case, findings: tuple[Finding, ...]) -> tuple[Suggestion, ...]:
    """Changes for the findings that don't hold; none for a picture that holds."""
    return tuple(offer.suggestion for offer in offers(trial_of(case, findings)))


def offers(before: Trial) -> tuple[Offer, ...]:
    """The changes that are suggested, each as it was tried.

    What mends a finding that is to rework comes first, and of those no small matter, then what a teacher would mend
    first, as the verdict says; then the change that does most.

    Each is tried on a small copy of the picture.
    """
    open_kinds = [finding.kind for finding in before.findings if SEVERITY[finding.level] > 0]
    if not open_kinds:
        return ()
    found = list(_offers(before, open_kinds))
    muting = max((offer.worth for offer in found if offer.kind.id == MUTE), default=float("inf"))
    order = {kind.id: place for place, kind in enumerate(all_change_kinds())}

    mended = {finding.kind: finding for finding in before.findings}

    def rank(offer: Offer) -> tuple[int, bool, float, float, int]:
        # What was tried on the quieted picture comes after the quieting.
        worth, mends = min(offer.worth, muting) if offer.upon else offer.worth, mended[offer.mends]
        return -weight(mends), mends.kind in SMALL_MATTERS, -spoken_of(mends), -worth, order[offer.kind.id]

    once: dict[str, Offer] = {}  # a change that mends two findings is offered for the one that it does more for
    for offer in sorted(found, key=rank):
        once.setdefault(offer.kind.id, offer)
    return tuple(once.values())[:MOST_SUGGESTIONS]


def _offers(trial: Trial, open_kinds: list[str]) -> Iterator[Offer]:
    """For each open finding the first change that is worth offering."""
    quieted = trial
    upon: tuple[Change, ...] = ()
    for mends in sorted(open_kinds, key=lambda kind: not _quiets(kind)):
        for offer in _tries(trial, quieted, upon, mends):
            if offer.kind.id == MUTE:
                # Where the greens are too strong they are quieted first, and what follows is measured from there.
                quieted, upon = offer.after, (offer.draft.with_recipes(),)
            if offer.worth > 0:
                yield offer
                break


def _quiets(finding: str) -> bool:
    """Whether a kind of finding is mended by quieting the greens."""
    return any(finding in kind.mends for kind in all_change_kinds() if kind.id == MUTE)


def _tries(trial: Trial, quieted: Trial, upon: tuple[Change, ...], mends: str) -> Iterator[Offer]:
    """The changes that may mend a kind of finding, tried one at a time, on the picture or on the quieted one."""
    kinds = [kind for kind in all_change_kinds() if mends in kind.mends]
    for kind in sorted(kinds, key=lambda kind: not kind.eager(trial)):
        base = quieted if kind.quieted_first else trial
        drafts: Iterable[Draft] = kind.make(base, bool(upon))
        for draft in drafts:
            after = base.with_draft(draft)
            yield Offer(kind, mends, base, draft, after, upon if kind.quieted_first else ())
