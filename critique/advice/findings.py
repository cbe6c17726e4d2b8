"""Every finding on one picture, in the order in which a teacher would raise them."""

from critique.advice.colour_findings import colour_findings
from critique.advice.division_findings import division_findings
from critique.advice.eye_findings import eye_findings
from critique.advice.finding import Finding
from critique.advice.green_findings import green_findings
from critique.advice.judging import Case
from critique.advice.value_findings import value_findings


def all_findings(case: Case) -> tuple[Finding, ...]:
    """Greens, values, division, colours, eye path."""
    return (
        *green_findings(case),
        *value_findings(case),
        *division_findings(case),
        *colour_findings(case),
        *eye_findings(case),
    )
