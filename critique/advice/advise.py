"""Everything that is said of one picture."""

from dataclasses import dataclass

from critique.advice.finding import Finding
from critique.advice.findings import all_findings
from critique.advice.judging import Case
from critique.advice.light_decides import light_decides
from critique.advice.norms import Norms, read_norms
from critique.advice.suggestion import Suggestion
from critique.advice.suggestions import offers
from critique.advice.trial import Trial, trial_of
from critique.advice.verdict import verdict
from critique.measures.measure import Measures
from critique.one_thread import in_one_thread
from critique.paints.box import PaintBox
from critique.picture.picture import Picture


@dataclass(frozen=True, slots=True)
class Advice:
    """The verdict in a few sentences, the findings behind it and the suggestions that follow from it."""

    verdict: tuple[str, ...]
    findings: tuple[Finding, ...]
    suggestions: tuple[Suggestion, ...]
    light_decides: tuple[str, ...] = ()  # ids of the findings that another light could change, where nothing tells it


def advise(picture: Picture, measures: Measures, norms: Norms | None = None, box: PaintBox | None = None) -> Advice:
    """Judge a picture by its measures, against the norms that ship with the program unless told otherwise.

    Recipes are mixed from ``box``, or from the landscape set.
    """
    return advise_by_trials(Case.of(picture, measures, norms if norms is not None else read_norms(), box))[0]


@in_one_thread  # held once for all that is measured again
def advise_by_trials(case: Case) -> tuple[Advice, tuple[Trial, ...]]:
    """The advice, and the trials that its suggestions come from, for who goes on from there."""
    before = trial_of(case)
    findings, tried = before.findings, offers(before)
    offered = tuple(offer.suggestion for offer in tried)
    advice = Advice(verdict(case, findings, offered), findings, offered, light_decides(case, findings))
    return advice, tuple(offer.after for offer in tried)


def judge(picture: Picture, measures: Measures, norms: Norms | None = None) -> tuple[Finding, ...]:
    """The findings alone, for comparisons: suggestions measure the picture again, and that takes its time."""
    return all_findings(Case.of(picture, measures, norms if norms is not None else read_norms()))
