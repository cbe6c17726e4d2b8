"""Whether a picture is too green, and whether all its greens are to be greyed for that."""

from collections.abc import Iterable

from critique.advice.finding import Finding
from critique.measures.greens import Greens

TOO_STRONG = 0.015  # of the picture beyond a leaf; among landscapes the 95th percentile is 0.008
TOO_MUCH = 0.50  # of all colour that is green; among landscapes the 95th percentile is 0.40, the highest 0.61
QUIET = 25.0  # median C*ab of greens that is quiet enough: among landscapes the 95th percentile; below it sun goes out
MIDDLE_STAYS = 2.0  # C* by which the middle green goes greyer and is the same green to an eye
GREY_GREENS = "grey the strongest greens most"  # the step, as people say it


def is_too_green(greens: Greens) -> bool:
    """Whether greens are stronger than leaves in more than a few strokes, or most of its colour: a wood's are."""
    return greens.beyond_leaf_share >= TOO_STRONG or greens.chroma_share >= TOO_MUCH


def held_back_by_its_greens(greens: Greens, grave: Iterable[Finding]) -> bool:
    """Whether how much of it is green holds it back, and its greens can be greyed; ``grave`` are what holds it back.

    What an aim does then, told without composing one.
    """
    strong = greens.beyond_leaf_share >= TOO_STRONG or greens.median_chroma - QUIET >= MIDDLE_STAYS
    return is_too_green(greens) and strong and any(finding.kind == "green_area" for finding in grave)
