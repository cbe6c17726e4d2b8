"""What a kind of finding is: its name, its part of the page, the figures and limits that it stands on, who judges it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING, Literal

from critique.advice.finding import Finding, Level
from critique.measures.measure import Measures

if TYPE_CHECKING:
    from critique.advice.judging import Case
    from critique.advice.where import Where

Direction = Literal["above", "below"]


class Part(StrEnum):
    """The parts of a review, in the order of the page."""

    GREENS = "greens"
    VALUES = "values"
    DIVISION = "division"
    COLOURS = "colours"
    EYE_PATH = "eye_path"
    TOUCH = "touch"


@dataclass(frozen=True, slots=True)
class Limits:
    """From where on a finding's figure is to watch or to rework; None where the figure alone doesn't decide that."""

    direction: Direction  # the side that is too far
    watch: float | None = None
    rework: float | None = None

    def level(self, figure: float) -> Level:
        """The level of a figure by these limits alone; a figure that is not there (NaN) holds."""
        for name, limit in (("rework", self.rework), ("watch", self.watch)):
            if limit is not None and (figure > limit if self.direction == "above" else figure < limit):
                return "rework" if name == "rework" else "watch"
        return "holds"


def holds_for_want_of(measures: Measures) -> str:
    """A finding that always has something to be judged on."""
    return ""


def by_its_figure_alone(was: Measures, now: Measures) -> str:
    """A finding whose level nothing but its own figure moves."""
    return ""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of finding.

    Parameters
    ----------
    id : how data knows it, such as ``green_area``: in records, rules and columns of code. It never changes.
    title : how people know it where it is criticised, such as "halving".
    part : the part of the page that it stands in.
    figures : the figures that it stands on, as two pictures are compared by: first the one that its findings carry
        unless they name another. A level that moves while none of them moves by more than a photograph could is on
        the edge.
    judge : what makes the finding of a picture; None where the picture gives no cause to judge.
    limits : of its figure; None where whether it is so or not is all there is to it, as for a place in the picture.
    gone : why it holds though what it asks for wasn't done, since what it is judged on is gone; empty when it was done.
    otherwise : what else came to be better or worse in a later picture, asked where its own figure stays on the side of
        its limits that it was on: as many greens, but quieter ones. Empty where nothing else did.
    where : its place in the picture; None, or giving None, where the plate of its part shows that, or it lies all over.
    elsewhere : the same of a finding that stands on another figure than the kind's first, by the name of that figure.
    virtue : how people know it where it holds, such as "division": "halving holds" would read as if the fault stayed.
        Empty where the title names no fault and serves for both.
    spoken : what a verdict calls it where it is open, to follow "look once more at"; empty where "its" and the title do.
    step : what to try first where it is open and no suggestion is made; empty for a kind that never is.
    step_known : the same where a grey beside the painting has told its light; empty where ``step`` serves for both.
    said_first : how often a teacher who looks at a picture where it is to watch would mend it first: in so much of two
        machine readings each of 200 pictures, photographs through a paint filter and paintings, where 4 or more had it;
        a second thing named counts half. Drawn a third of the way to a tenth where few had it. What teachers mend first
        only beside other things keeps what it has where it stands alone: outlines, and a lean to green.
    """

    id: str
    title: str
    part: Part
    figures: tuple[str, ...]
    judge: "Callable[[Case, Kind], Finding | None]"
    limits: Limits | None = None
    gone: Callable[[Measures], str] = holds_for_want_of
    otherwise: Callable[[Measures, Measures], str] = by_its_figure_alone
    where: "Callable[[Measures], Where | None] | None" = None
    elsewhere: "Mapping[str, Callable[[Measures], Where | None]]" = field(default_factory=dict, hash=False)
    virtue: str = ""
    spoken: str = ""
    step: str = ""
    step_known: str = ""
    said_first: float = 0.1

    def called(self, level: Level) -> str:
        """What a finding of this kind is called at a level: by its fault where it is open, by its virtue where it holds."""
        return self.virtue or self.title if level == "holds" else self.title

    def finding(
        self,
        *,
        level: Level,
        text: str,
        figure: float,
        figure_text: str,
        norm: str,
        percentile: float | None = None,
        said_first: float | None = None,
        stands_on: str | None = None,
        limit: float | None = None,
        spoken: str | None = None,
    ) -> Finding:
        """A finding of this kind; ``said_first`` where it is mended first more or less often than others of it.

        ``stands_on`` and ``limit`` are of ``figure``, where it isn't the kind's first or was held to another limit;
        ``spoken`` where a verdict calls it otherwise than others of the kind.
        """
        subject = self.called(level)
        return Finding(
            self.id, subject, level, text, figure, figure_text, norm, percentile, said_first, stands_on, limit, spoken
        )

    def place_of(self, finding: Finding, measures: Measures) -> "Where | None":
        """Where a finding of this kind lies; None where its part's plate shows that, or it lies all over."""
        asked = self.elsewhere.get(finding.stands_on or "", self.where)
        return None if asked is None else asked(measures)

    def by_limits(self, figure: float) -> Level:
        """The level of a figure by this kind's limits; without any it holds."""
        return self.limits.level(figure) if self.limits is not None else "holds"

    def limit_of(self, level: Level) -> float | None:
        """The limit beyond which a figure is at a level; None where there is none."""
        if self.limits is None:
            return None
        return self.limits.rework if level == "rework" else self.limits.watch
