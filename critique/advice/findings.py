"""Every finding on one picture, in the order in which a teacher would raise them."""

from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kind import Kind, Part
from critique.advice.kinds import all_kinds
from critique.advice.something_there import in_greys, one_colour

OF_COLOUR = frozenset({Part.GREENS, Part.COLOURS})  # parts of a review that a picture in greys gives no cause for


def all_findings(case: Case) -> tuple[Finding, ...]:
    """What each kind of finding says of the picture; a kind without cause says nothing, and of a blank none has any."""
    found = (finding_of(case, kind) for kind in all_kinds())
    return tuple(finding for finding in found if finding is not None)


def finding_of(case: Case, kind: Kind) -> Finding | None:
    """What one kind of finding says of the picture."""
    if one_colour(case.picture) or (kind.part in OF_COLOUR and in_greys(case.picture)):
        return None
    return kind.judge(case, kind)
