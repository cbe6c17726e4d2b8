"""A change tried on the picture, measured and judged again."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from critique.advice.change import Change, Lab
from critique.advice.draft import Draft
from critique.advice.finding import LEVELS, Finding
from critique.advice.findings import all_findings, finding_of
from critique.advice.judging import Case
from critique.advice.kinds import kind_named
from critique.advice.remeasured import remeasured
from critique.advice.standing_still import level_reached
from critique.measures.families import Family
from critique.measures.measure import Measures
from critique.picture.picture import Picture, picture_from_lab
from critique.words.lists import listed

SEVERITY = {level: LEVELS.index(level) for level in LEVELS}
WORST = max(SEVERITY.values())

SAME = 1e-3  # CIELAB units: a hundredth of what 8-bit codes tell apart
FEW = 16  # px: every so manieth row and column

UNMOVED = "No finding changes its level, but the figures move the right way."
AS_IT_WAS = ""  # of a picture that is the same: nothing to say


@dataclass(frozen=True, slots=True, eq=False)
class Made:
    """How a trial came about: the measures it started from, and what of them was to be taken anew."""

    of: Measures
    redrawn: bool
    regrouped: bool
    families: tuple[Family, ...] | None
    change: Change | None = None  # where it was one

    def is_as(self, other: "Made") -> bool:
        """Whether the same was asked of the very same measures."""
        asked = (self.redrawn, self.regrouped) == (other.redrawn, other.regrouped)
        return self.of is other.of and asked and self.families is other.families

    def is_by(self, change: Change, before: Measures, *, redrawn: bool) -> bool:
        """Whether it is by a change, of those measures, with the same families as before."""
        if self.change is None or self.of is not before or self.redrawn != redrawn or self.regrouped:
            return False
        own = self.change
        return (own.kind, own.strength, own.parameters) == (change.kind, change.strength, change.parameters)


@dataclass(frozen=True)
class Trial:
    """The picture with its case and findings, before or after a change; judged when its findings are asked for."""

    case: Case
    made: Made | None = None  # None of the picture as it is

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What is said of it."""
        return all_findings(self.case)

    @property
    def lab(self) -> Lab:
        """CIELAB of the picture, (height, width, 3)."""
        return self.case.picture.lab

    def level(self, kind: str) -> int:
        """Severity of a finding by its kind: 0 when it holds or isn't there."""
        return next((SEVERITY[finding.level] for finding in self.findings if finding.kind == kind), 0)

    def level_alone(self, kind: str) -> int:
        """The same, without judging the rest of it: most changes are given up by the one finding that they should mend."""
        if "findings" in self.__dict__:
            return self.level(kind)
        found = finding_of(self.case, kind_named(kind))
        return SEVERITY[found.level] if found is not None else 0

    def with_draft(self, draft: Draft) -> "Trial":
        """The same picture with a change tried on it."""
        lab = draft.change.apply(self.lab)
        return self.with_lab(
            lab, redrawn=draft.redrawn, regrouped=draft.regrouped, families=draft.families, by=draft.change
        )

    def with_change(self, change: Change, *, redrawn: bool = False, tried: Sequence["Trial"] = ()) -> "Trial":
        """The same picture with a change made; where it was ``tried`` on this very picture already, that trial."""
        measures = self.case.measures
        for trial in tried:
            if trial.made is not None and trial.made.is_by(change, measures, redrawn=redrawn):
                return trial
        return self.with_lab(change.apply(self.lab), redrawn=redrawn, reached=tried, by=change)

    def with_lab(
        self, lab: Lab, *, redrawn: bool = False, regrouped: bool = False, families: tuple[Family, ...] | None = None,
        reached: Sequence["Trial"] = (), by: Change | None = None,
    ) -> "Trial":  # fmt: skip
        """The same picture with other colours, measured and judged again as far as is asked; see ``remeasured``.

        Where another trial has ``reached`` the same colours, what was measured there serves here too; where it was
        made of the same measures in the same way, it is that trial. ``by`` is the change that makes the colours.
        """
        case, made = self.case, Made(self.case.measures, redrawn, regrouped, families, by)
        picture = picture_from_lab(lab, case.picture)
        there = next((trial for trial in reached if _same(picture, trial.case.picture)), None)
        if there is not None and there.made is not None and there.made.is_as(made):
            return there
        same = there.case if there is not None else None
        if same is not None:
            picture = same.picture
        same_size = lab.shape == self.lab.shape
        moved = float(np.abs(lab[..., 0] - self.lab[..., 0]).max()) if same_size else float("inf")
        measures = remeasured(
            picture,
            case.measures,
            moved=moved,
            redrawn=redrawn,
            regrouped=regrouped,
            families=families,
            same=same.measures if same is not None else None,
        )
        return Trial(Case.of(picture, measures, case.norms, case.box), made)


def _same(one: Picture, other: Picture) -> bool:
    """Whether two pictures differ by no more than the last digits of their colours."""
    if one.lab.shape != other.lab.shape:
        return False
    few = np.s_[::FEW, ::FEW]  # asked first: where those differ, the others need not be asked
    return all(float(np.abs(one.lab[some] - other.lab[some]).max()) <= SAME for some in (few, np.s_[:, :]))


def trial_of(case: Case, findings: tuple[Finding, ...] | None = None) -> Trial:
    """The picture as it is now, on which changes are tried: it has the viewing size already."""
    trial = Trial(case)
    if findings is not None:
        trial.__dict__["findings"] = findings  # where the property keeps what it has found
    return trial


@dataclass(frozen=True, slots=True)
class Effect:
    """What a change does to the findings: the levels won and lost, and how to say it."""

    won: int
    lost: int
    text: str
    costs: tuple[str, ...] = ()  # the findings that stand worse with it made


def effect_of(before: Trial, after: Trial, *, beside: frozenset[str] = frozenset()) -> Effect:
    """Compare the findings before and after a change, those of the kinds ``beside`` left out."""
    better, worse, costs, won, lost = [], [], [], 0, 0
    both = (*before.findings, *after.findings)
    subjects = {finding.kind: finding.subject for finding in both if finding.kind not in beside}
    was, now = ({finding.kind: finding for finding in trial.findings} for trial in (before, after))
    for kind, subject in subjects.items():
        step = before.level(kind) - after.level(kind)
        if step > 0:
            better.append(f"{subject} from {LEVELS[before.level(kind)]} to {level_reached(was[kind], now.get(kind))}")
            won += step
        elif step < 0:
            worse.append(f"{subject} from {LEVELS[before.level(kind)]} to {LEVELS[after.level(kind)]}")
            costs.append(subject)
            lost -= step
    parts = []
    if better:
        parts.append(f"It takes {listed(better)}.")
    if worse:
        parts.append(f"It costs something: {listed(worse)}.")
    same = before.case.picture is after.case.picture
    return Effect(won, lost, " ".join(parts) or (AS_IT_WAS if same else UNMOVED), tuple(costs))
