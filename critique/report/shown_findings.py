"""The findings as the page shows them: what asks to be changed beside its place, and what holds."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from critique.advice.finding import LEVELS, Finding
from critique.advice.kind import Part
from critique.advice.kinds import kind_of
from critique.report.plates.colours import strip_only
from critique.report.plates.plate import Plate
from critique.report.plates.review_plates import ReviewPlates
from critique.tasks.review import Review

Layout = Literal["led", "half", "broad", "several", "words"]
ORDER: tuple[Layout, ...] = ("led", "half", "several", "broad", "words")
BROAD = 3.0  # width by height from which a plate needs the page's whole width
NO_GREEN = 0.02  # of the picture: of less a map of the greens shows a grey picture
VALUES_SHOWN = 1  # of the plans in two, three and five values, the one beside a finding: three


@dataclass(frozen=True, slots=True)
class Shown:
    """Findings that one plate shows the place of, and how the two lie on the page.

    "led" is broad with the words beside the plate, "half" one of two columns, "broad" as broad as both; "words" are
    findings without a plate, which stand together.
    """

    plates: tuple[Plate, ...]
    findings: tuple[Finding, ...]
    layout: Layout = "half"


def open_findings(findings: Sequence[Finding], plates: ReviewPlates) -> tuple[Shown, ...]:
    """What to look at, gravest first; findings that lie in one place share its plate."""
    graver = sorted(
        (finding for finding in findings if finding.level != "holds"),
        key=lambda finding: -LEVELS.index(finding.level),
    )
    groups: dict[str, tuple[tuple[Plate, ...], list[Finding]]] = {}
    for finding in graver:
        plate = _plate_of(finding, plates)
        key = plate.name if plate is not None else finding.kind
        groups.setdefault(key, ((plate,) if plate is not None else (), []))[1].append(finding)
    return _laid_out([Shown(shown, tuple(found)) for shown, found in groups.values()], led=True)


def holding(review: Review, plates: ReviewPlates, shown: Sequence[Shown]) -> tuple[Shown, ...]:
    """What holds, by the parts of a review, with every plate that has something to show and isn't there already."""
    findings = review.advice.findings
    there = {plate.name for group in shown for plate in group.plates}
    if review.measures.greens.area_share < NO_GREEN:
        there.add(plates.greens.name)
    groups = []
    for part in Part:
        held = tuple(one for one in findings if one.level == "holds" and kind_of(one).part is part)
        left = tuple(plate for plate in _of_part(part, plates) if plate.name not in there)
        if held or left:
            groups.append(Shown(left, held))
    return _laid_out(groups, led=False)


def _laid_out(groups: Iterable[Shown], *, led: bool) -> tuple[Shown, ...]:
    """The first leads, where one should; then two share a row, an odd one leads too, and what is broad comes last.

    Where none leads they flow in two columns. Findings without a plate would leave holes beside those that have one.
    """
    laid: list[Shown] = []
    groups = list(groups)
    bare = tuple(finding for group in groups if not group.plates for finding in group.findings)
    groups = [group for group in groups if group.plates]
    for place, group in enumerate(groups):
        layout: Layout = "broad" if any(plate.width > BROAD * plate.height for plate in group.plates) else "half"
        if len(group.plates) > 1:
            layout = "several"
        elif led and place == 0 and group.plates and layout == "half":
            layout = "led"
        laid.append(replace(group, layout=layout))
    if bare:
        laid.append(Shown((), bare, "words"))
    laid.sort(key=lambda group: ORDER.index(group.layout))
    halves = [place for place, group in enumerate(laid) if group.layout == "half"]
    if led and len(halves) % 2:
        laid[halves[-1]] = replace(laid[halves[-1]], layout="led")
    return tuple(laid)


def _plate_of(finding: Finding, plates: ReviewPlates) -> Plate | None:
    own = plates.places.get(finding.kind)
    if own is not None:
        return own
    part = kind_of(finding).part
    found = _of_part(part, plates)
    return found[VALUES_SHOWN if part is Part.VALUES else 0] if found else None


def _of_part(part: Part, plates: ReviewPlates) -> tuple[Plate, ...]:
    return {
        Part.GREENS: (plates.greens,),
        Part.VALUES: plates.plans,
        Part.DIVISION: (plates.division,),
        Part.COLOURS: (strip_only(plates.strip),),
        Part.EYE_PATH: (plates.eyepath,),
        Part.TOUCH: (),
    }[part]
