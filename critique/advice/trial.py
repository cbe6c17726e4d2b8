"""A change tried on the picture, measured and judged again."""

from dataclasses import dataclass, replace

import numpy as np

from critique.advice.change import Lab
from critique.advice.draft import Draft
from critique.advice.finding import LEVELS, Finding
from critique.advice.findings import all_findings
from critique.advice.judging import Case
from critique.measures.cast import measure_cast
from critique.measures.closed_darks import measure_closed_darks
from critique.measures.detail import measure_detail
from critique.measures.division import measure_division
from critique.measures.edges import measure_edges
from critique.measures.eyepath import measure_eyepath
from critique.measures.families import Family, measure_families
from critique.measures.green_kinds import measure_green_kinds
from critique.measures.greens import measure_greens
from critique.measures.harmony import measure_harmony
from critique.measures.histogram import picture_histogram
from critique.measures.hue_peaks import measure_hue_peaks
from critique.measures.land_distance import measure_land_distance
from critique.measures.loudest import measure_loudest
from critique.measures.masses import measure_masses
from critique.measures.measure import Measures
from critique.measures.neighbours import measure_neighbours
from critique.measures.values import measure_values
from critique.measures.variety import measure_variety
from critique.picture.picture import Picture, picture_from_lab
from critique.words.lists import listed

SEVERITY = {level: LEVELS.index(level) for level in LEVELS}

UNMOVED = "No finding changes its level, but the figures move the right way."
DRAWN_OTHERWISE = 1.0  # L*: a change that moves no value farther leaves masses, darks, edges and touch as they are


@dataclass(frozen=True, slots=True)
class Trial:
    """The picture with its case and findings, before or after a change."""

    case: Case
    findings: tuple[Finding, ...]

    @property
    def lab(self) -> Lab:
        """CIELAB of the picture, (height, width, 3)."""
        return self.case.picture.lab

    def level(self, kind: str) -> int:
        """Severity of a finding by its kind: 0 when it holds or isn't there."""
        return next((SEVERITY[finding.level] for finding in self.findings if finding.kind == kind), 0)

    def with_draft(self, draft: Draft) -> "Trial":
        """The same picture with a change tried on it."""
        lab = draft.change.apply(self.lab)
        return self.with_lab(lab, redrawn=draft.redrawn, regrouped=draft.regrouped, families=draft.families)

    def with_lab(
        self, lab: Lab, *, redrawn: bool = False, regrouped: bool = False, families: tuple[Family, ...] | None = None
    ) -> "Trial":
        """The same picture with other colours, measured and judged again.

        A change of colour leaves the drawing where it is: the division and the eye path are sought again only in a
        picture that is ``redrawn`` (cropped, or changed in value or in one place). Families, and what is said of them,
        stay as they are unless it is ``regrouped``; ``families`` are what they become, where that is known.
        """
        picture = picture_from_lab(lab, self.case.picture)
        measures = replace(
            self.case.measures,
            greens=measure_greens(picture),
            green_kinds=measure_green_kinds(picture),
            values=measure_values(picture, self.case.measures.families),
            land_distance=measure_land_distance(picture, self.case.measures.parts),
            loudest=measure_loudest(picture),
            hue_peaks=measure_hue_peaks(picture),
            cast=measure_cast(picture),
        )
        if lab.shape != self.lab.shape or float(np.abs(lab[..., 0] - self.lab[..., 0]).max()) > DRAWN_OTHERWISE:
            measures = replace(
                measures,
                masses=measure_masses(picture),
                closed_darks=measure_closed_darks(picture),
                edges=measure_edges(picture),
                detail=measure_detail(picture),
            )
        if regrouped:
            measures = _regrouped(picture, measures, families)
        if redrawn:
            measures = replace(measures, division=measure_division(picture), eyepath=measure_eyepath(picture))
        return _judged(picture, measures, self.case)


def _regrouped(picture: Picture, measures: Measures, families: tuple[Family, ...] | None) -> Measures:
    histogram = picture_histogram(picture)
    families = families or measure_families(picture)
    return replace(
        measures,
        families=families,
        values=measure_values(picture, families),
        neighbours=measure_neighbours(picture, families),
        harmony=measure_harmony(picture, families, histogram),
        variety=measure_variety(picture, histogram),
    )


def trial_of(case: Case, findings: tuple[Finding, ...] | None = None) -> Trial:
    """The picture as it is now, on which changes are tried: it has the viewing size already."""
    return Trial(case, all_findings(case) if findings is None else findings)


def _judged(picture: Picture, measures: Measures, like: Case) -> Trial:
    case = Case.of(picture, measures, like.norms, like.box)
    return Trial(case, all_findings(case))


@dataclass(frozen=True, slots=True)
class Effect:
    """What a change does to the findings: the levels won and lost, and how to say it."""

    won: int
    lost: int
    text: str
    costs: tuple[str, ...] = ()  # the findings that stand worse with it made


def effect_of(before: Trial, after: Trial) -> Effect:
    """Compare the findings before and after a change."""
    better, worse, costs, won, lost = [], [], [], 0, 0
    subjects = {finding.kind: finding.subject for finding in (*before.findings, *after.findings)}
    for kind, subject in subjects.items():
        step = before.level(kind) - after.level(kind)
        if step > 0:
            better.append(f"{subject} from {LEVELS[before.level(kind)]} to {LEVELS[after.level(kind)]}")
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
    return Effect(won, lost, " ".join(parts) or UNMOVED, tuple(costs))
