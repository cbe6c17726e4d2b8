"""Which finding holds a picture back most: by its level, then by how far it lies beyond its limit."""

from collections.abc import Iterable

from critique.advice.finding import LEVELS, Finding
from critique.advice.kinds import all_kinds, kind_of
from critique.advice.photograph_moves import photographs_away

# Kinds of finding for which alone no picture is kept from a wall: common practice, no source; and far land that comes
# forward, which none of eight readings of four such pictures would mend first, and three of six of three others.
SMALL_MATTERS = frozenset({"halving", "upright_halves", "near_edge", "green_relief", "colour_cast", "land_distance"})
SLIGHT = SMALL_MATTERS - {"colour_cast"}  # at most to watch beside others; a lean to rework is seen by anyone
STILL_SPOKEN_OF = 0.1  # a slight matter to rework comes before what is to watch and mended first by next to no teacher
UNMEASURED = 1.0  # photographs beyond: what a kind without a limit or a known spread counts as; our choice
MOST = 20.0  # photographs: beyond this it is plain, and no plainer


def gravest_first(findings: Iterable[Finding]) -> list[Finding]:
    """Findings by level, then by how many times another photograph's move they lie beyond the level's limit.

    What is only to watch, and a slight matter however far it goes, comes in the order in which a teacher would speak of
    it: closed darks before a line in the middle. What is as plain comes in that order too, and equal ones stay in the
    order of the table.
    """
    return sorted(
        findings, key=lambda finding: (-weight(finding), -spoken_of(finding), -beyond(finding), -said_first(finding))
    )


def weight(finding: Finding) -> int:
    """How grave it is for the picture: by its level, a slight matter at most to watch."""
    level = LEVELS.index(finding.level)
    return min(level, LEVELS.index("watch")) if finding.kind in SLIGHT else level


def spoken_of(finding: Finding) -> float:
    """How often a teacher mends it first; all that is grave alike."""
    if to_rework(finding):
        return 1.0
    said = said_first(finding)
    return max(said, STILL_SPOKEN_OF) if finding.level == "rework" else said


def said_first(finding: Finding) -> float:
    """How often a teacher mends it first where it is to watch."""
    return kind_of(finding).said_first if finding.said_first is None else finding.said_first


def to_rework(finding: Finding) -> bool:
    """Whether it is grave enough to be mended whatever was meant."""
    return weight(finding) == LEVELS.index("rework")


def beyond(finding: Finding) -> float:
    """How far a finding lies beyond the limit that its figure went past, in what another photograph moves that by."""
    kind = next((kind for kind in all_kinds() if kind.id == finding.kind), None)
    if kind is None or kind.limits is None:
        return UNMEASURED
    limit = kind.limit_of(finding.level) if finding.limit is None else finding.limit
    if limit is None:
        return UNMEASURED
    past = finding.figure - limit if kind.limits.direction == "above" else limit - finding.figure
    # A limit of another figure than the kind's may be one that its own is too low or too high for.
    own = finding.limit is not None and finding.stands_on is not None
    if past < 0 and not own:  # named by something else than its figure alone
        return UNMEASURED
    away = photographs_away(finding.stands_on or kind.figures[0], limit, finding.figure)
    return UNMEASURED if away is None else min(away, MOST)
