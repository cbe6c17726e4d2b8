"""A change tried on a small copy of the picture, measured and judged again."""

from dataclasses import dataclass, replace

from critique.advice.change import Lab
from critique.advice.draft import Draft
from critique.advice.finding import LEVELS, Finding
from critique.advice.findings import all_findings
from critique.advice.judging import Case
from critique.measures.cast import measure_cast
from critique.measures.division import measure_division
from critique.measures.eyepath import measure_eyepath
from critique.measures.families import Family, measure_families
from critique.measures.green_kinds import measure_green_kinds
from critique.measures.greens import measure_greens
from critique.measures.harmony import measure_harmony
from critique.measures.histogram import picture_histogram
from critique.measures.measure import Measures
from critique.measures.neighbours import measure_neighbours
from critique.measures.values import measure_values
from critique.measures.variety import measure_variety
from critique.picture.picture import Picture, lab_at, picture_from_lab
from critique.words.lists import listed

TRIAL_LONG_EDGE = 640  # px: what a page shows of a preview; before and after are both measured at this size
SEVERITY = {level: LEVELS.index(level) for level in LEVELS}

# Ids of the kinds of finding by what people call them.
KIND_IDS = {
    "evenness of greens": "green_evenness",
    "distance in the greens": "green_distance",
    "green against its neighbours": "green_neighbours",
    "relief for the green": "green_relief",
    "run of colours": "colour_run",
    "edges and corners": "edges",
}


def kind_id(finding: Finding) -> str:
    """The id of a finding's kind."""
    own: str = getattr(finding, "kind", "")
    return own or KIND_IDS.get(finding.subject, finding.subject.replace(" ", "_"))


@dataclass(frozen=True, slots=True)
class Trial:
    """A small copy of the picture with its case and findings, before or after a change."""

    case: Case
    findings: tuple[Finding, ...]

    @property
    def lab(self) -> Lab:
        """CIELAB of the copy, (height, width, 3)."""
        return self.case.picture.lab

    def level(self, kind: str) -> int:
        """Severity of a finding by its kind: 0 when it holds or isn't there."""
        return next((SEVERITY[finding.level] for finding in self.findings if kind_id(finding) == kind), 0)

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
            cast=measure_cast(picture),
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


def trial_of(case: Case) -> Trial:
    """The copy on which changes are tried, as the picture is now.

    Only the greens depend on the size at which they are measured; all else is sought on smaller copies still.
    """
    small = picture_from_lab(lab_at(case.picture, TRIAL_LONG_EDGE), case.picture)
    return _judged(small, replace(case.measures, greens=measure_greens(small)), case)


def _judged(picture: Picture, measures: Measures, like: Case) -> Trial:
    case = Case.of(picture, measures, like.norms, like.box)
    return Trial(case, all_findings(case))


@dataclass(frozen=True, slots=True)
class Effect:
    """What a change does to the findings: the levels won and lost, and how to say it."""

    won: int
    lost: int
    text: str


def effect_of(before: Trial, after: Trial) -> Effect:
    """Compare the findings before and after a change."""
    better, worse, won, lost = [], [], 0, 0
    subjects = {kind_id(finding): finding.subject for finding in (*before.findings, *after.findings)}
    for kind, subject in subjects.items():
        step = before.level(kind) - after.level(kind)
        if step > 0:
            better.append(f"{subject} from {LEVELS[before.level(kind)]} to {LEVELS[after.level(kind)]}")
            won += step
        elif step < 0:
            worse.append(f"{subject} from {LEVELS[before.level(kind)]} to {LEVELS[after.level(kind)]}")
            lost -= step
    parts = []
    if better:
        parts.append(f"It takes {listed(better)}.")
    if worse:
        parts.append(f"It costs something: {listed(worse)}.")
    return Effect(won, lost, " ".join(parts) or "No finding changes its level, but the figures move the right way.")
