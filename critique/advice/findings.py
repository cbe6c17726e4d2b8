"""Every finding on one picture, in the order in which a teacher would raise them."""

from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kinds import all_kinds


def all_findings(case: Case) -> tuple[Finding, ...]:
    """What each kind of finding says of the picture; a kind without cause says nothing."""
    found = (kind.judge(case, kind) for kind in all_kinds())
    return tuple(finding for finding in found if finding is not None)
