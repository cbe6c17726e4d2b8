"""What a review says of the aim that lies beside its picture."""

from collections.abc import Collection
from dataclasses import dataclass
from math import isclose

from critique.advice.finding import LEVELS, Finding, Level
from critique.advice.kind import Part
from critique.advice.kinds import kind_named
from critique.advice.standing_still import figure_stands_still, level_reached, moved_otherwise, stands_still
from critique.measures.figures import figure_named
from critique.tasks.aim import Aim, crops
from critique.tasks.first_step import in_turn
from critique.tasks.review import Review
from critique.words.lists import listed


@dataclass(frozen=True, slots=True)
class Left:
    """A change that the aim does without: what it is, and why it is the painter's to decide."""

    title: str
    reason: str


def aim_shown(review: Review) -> Aim | None:
    """The aim where there is one to look at: something asks to be changed, and something was."""
    open_findings = any(finding.level != "holds" for finding in review.advice.findings)
    return review.aim if review.aim is not None and review.aim.steps and open_findings else None


def aim_told(review: Review, aim: Aim) -> str:
    """What was done, the first step first: "mute the greens, then give the lightest and darkest greens away"."""
    return ", then ".join(step.title for step in in_turn(aim.steps, review.first_step))


def levels_in_aim(aim: Aim) -> dict[str, Level]:
    """The level of every finding of the picture in the aim, by its kind; what it is judged on may be gone there.

    As it was where no figure that it stands on moved by as much as is worth a word: a limit crossed by a hair mends
    nothing. To watch where its own figure stays beyond the limit that it was to be reworked for: two thirds of green,
    quieted, are two thirds of green. Of the division as it was too where nothing was drawn anew: colour moves no line.
    """
    after = {finding.kind: finding for finding in aim.after.findings}
    return {
        finding.kind: finding.level
        if stands_still(finding.kind, aim.before.case.measures, aim.after.case.measures)
        or _only_recoloured(aim, finding.kind)
        else level_reached(finding, after.get(finding.kind))
        for finding in aim.before.findings
    }


def otherwise_told(aim: Aim) -> dict[str, str]:
    """By what else than its own figure a finding comes to another level in the aim, by its kind; those alone that do.

    Half a picture stays green where its greens grow quiet, and that is what was mended.
    """
    now = {finding.kind: finding for finding in aim.after.findings}
    levels, measures = levels_in_aim(aim), (aim.before.case.measures, aim.after.case.measures)
    told = {
        one.kind: moved_otherwise(one, now.get(one.kind), *measures)
        for one in aim.before.findings
        if levels[one.kind] != one.level
    }
    return {kind: words for kind, words in told.items() if words}


def _only_recoloured(aim: Aim, kind: str) -> bool:
    """Whether a finding is on lines, and no change of the aim draws any anew."""
    return kind_named(kind).part is Part.DIVISION and not any(crops(step.change) for step in aim.steps)


def not_asked(aim: Aim) -> frozenset[str]:
    """The kinds of finding that the aim no longer asks for, and which it doesn't mend: their own figure is as it was.

    Quieter greens want no red to relieve them, and none came in.
    """
    was, now = aim.before.case.measures, aim.after.case.measures
    there = {finding.kind for finding in aim.after.findings}
    return frozenset(
        one.kind
        for one in aim.before.findings
        if one.level != "holds"
        and one.kind not in there
        and any(
            isclose(figure.value(was), one.figure) and figure_stands_still(figure, was, now)
            for figure in map(figure_named, kind_named(one.kind).figures)
        )
    )


def mended_told(aim: Aim) -> str:
    """What the aim mends, and what it costs, in a sentence or two; empty where it does neither."""
    after, unasked = levels_in_aim(aim), not_asked(aim)
    gone = [one for one in aim.before.findings if one.level != "holds" and after[one.kind] == "holds"]
    by = otherwise_told(aim)
    mended = [_with_words(one.subject, by.get(one.kind)) for one in gone if one.kind not in unasked]
    needless = [one.subject for one in gone if one.kind in unasked]
    told = (
        f"Mended in the aim: {listed(mended)}." if mended else "",
        f"No longer asked for in it: {listed(needless)}." if needless else "",
        costs(aim),
    )
    return " ".join(part for part in told if part)


def _with_words(subject: str, words: str | None) -> str:
    return f"{subject} ({words})" if words else subject


def still_open(aim: Aim, told: Collection[str] = ()) -> str:
    """What the review finds and the aim doesn't mend, in a sentence or two; empty where there is nothing.

    ``told`` are the kinds of finding that are spoken of elsewhere on the page.

    A finding whose own figure comes within its limit is eased, though something else keeps it open.
    """
    after, by = levels_in_aim(aim), otherwise_told(aim)
    now = {finding.kind: finding for finding in aim.after.findings}
    left: list[str] = []
    eased: list[str] = []
    for one in aim.before.findings:
        if one.level != "holds" and after[one.kind] != "holds" and one.kind not in told:
            less = worse(after[one.kind], one.level) or _eased(one, now.get(one.kind))
            (eased if less else left).append(_with_words(one.subject, by.get(one.kind)) if less else one.subject)
    words = [f"Eased, and still to watch: {listed(eased)}."] if eased else []
    return " ".join([*words, *([f"Still open after this plan: {listed(left)}."] if left else [])])


def _eased(before: Finding, after: Finding | None) -> bool:
    """Whether a finding's figure stands better by its limits than it did."""
    if after is None or after.level == "rework":
        return False
    by = kind_named(before.kind).by_limits
    return LEVELS.index(by(after.figure)) < LEVELS.index(by(before.figure))


def costs(aim: Aim) -> str:
    """What holds now and doesn't in the aim, as a sentence; empty where there is nothing."""
    held = {finding.kind for finding in aim.before.findings if finding.level != "holds"}
    lost = [
        one.subject
        for one in aim.after.findings
        if one.level != "holds"
        and one.kind not in held
        and not stands_still(one.kind, aim.before.case.measures, aim.after.case.measures)
        and not _only_recoloured(aim, one.kind)
    ]
    return f"The aim costs something: look there at its {listed(lost)}." if lost else ""


def worse(before: Level, after: Level) -> bool:
    """Whether a finding stands worse in the aim."""
    return LEVELS.index(after) > LEVELS.index(before)


def left_to_decide(aim: Aim) -> tuple[Left, ...]:
    """The changes that the aim leaves to the painter."""
    return tuple(Left(one.title, one.reason) for one in aim.left_out)


def greens_told(aim: Aim) -> str:
    """How far the greens come down; empty where they were not too much."""
    return aim.greens.text if aim.greens.too_green else ""
