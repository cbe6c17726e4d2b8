"""The critique of one picture, end to end."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from critique.advice.advise import Advice, advise_by_trials
from critique.advice.judging import Case
from critique.advice.norms import Norms, read_norms
from critique.advice.trial import Trial, trial_of
from critique.advice.verdict import may_be_left, verdict
from critique.measures.figures import measures_record
from critique.measures.measure import Measures, measure_picture
from critique.paints.box import PaintBox
from critique.photograph.corners import Corners
from critique.photograph.light_asked import NOTHING_ASKED, LightAsked
from critique.picture.picture import Picture
from critique.picture.read import read_picture
from critique.plain import json_line, plain
from critique.records import heading
from critique.steps import step
from critique.tasks.aim import Aim, Wanted, aim_of
from critique.tasks.first_step import FirstStep, first_step, mended_by
from critique.tasks.palette import LimitedStudy, study_for_review


@dataclass(frozen=True, slots=True)
class Review:
    """A picture, what was measured of it, what a teacher would say, and what it would be with that done.

    ``aim`` is the one that a plan starts from; ``limited`` is how a few paints would carry the picture as it is.
    """

    picture: Picture
    measures: Measures
    advice: Advice
    limited: LimitedStudy | None = None  # None where it wasn't asked for
    held_to: str = ""  # the pictures that it was judged against
    aim: Aim | None = None  # None where it wasn't asked for

    @property
    def first_step(self) -> FirstStep | None:
        """What to do first; None without an aim, or where nothing is to be done."""
        if self.aim is None:
            return None
        return first_step(self.advice.suggestions, self.aim, self.advice.findings)

    def as_dict(self) -> dict[str, Any]:
        """The record: what ``report.json`` holds."""
        return {
            **heading(),
            "picture": plain(self.picture),
            "held_to": self.held_to,
            **measures_record(self.measures),
            "verdict": list(self.advice.verdict),
            "findings": plain(self.advice.findings),
            "light_decides": list(self.advice.light_decides),
            "suggestions": [offer.as_dict() for offer in self.advice.suggestions],
            **({"aim": plain(self.aim)} if self.aim is not None else {}),
            **({"repaint_study": plain(self.limited)} if self.limited is not None else {}),
        }

    def as_line(self) -> str:
        """The record as one line of JSON."""
        return json_line(self.as_dict())


def review_picture(
    picture: Picture,
    norms: Norms | None = None,
    box: PaintBox | None = None,
    study: bool = False,
    *,
    aim: bool = False,
) -> Review:
    """Measure a picture that has been read, and judge it.

    Parameters
    ----------
    norms : what it is judged against; those that ship with the program unless told otherwise.
    box : the paints that recipes are mixed from; the landscape set unless told otherwise.
    study : whether to choose a limited palette too, and repaint the picture with it.
    aim : whether to compose the changes that are offered into one picture, as a plan does.
    """
    step("Measuring")
    measures = measure_picture(picture)
    norms = norms if norms is not None else read_norms()
    with ThreadPoolExecutor(1) as beside:  # neither needs the other, and most of both is array work on its own core
        painted = beside.submit(study_for_review, picture, measures.families, measures.greens, box) if study else None
        step("Judging, and trying changes")
        advice, tried = advise_by_trials(Case.of(picture, measures, norms, box))
        if aim:
            step("Composing the aim")
        aimed = _aim(Case.of(picture, measures, norms, box), advice, tried) if aim else None
        limited = painted.result() if painted is not None else None
    told = _with_aim(Case.of(picture, measures, norms, box), advice, aimed)
    return Review(picture, measures, told, limited, norms.origin, aimed)


def _with_aim(case: Case, advice: Advice, aim: Aim | None) -> Advice:
    """The advice, whose last sentence names the first step as the plan does, and the first what that mends."""
    if aim is None or may_be_left(advice.findings):
        return advice
    first = first_step(advice.suggestions, aim, advice.findings)
    if first is None:
        return advice
    told = advice.verdict
    if not advice.suggestions or advice.suggestions[0].kind != first.kind:
        told = verdict(case, advice.findings, advice.suggestions, mended_by(first.kind))
    return replace(advice, verdict=(*told[:-1], first.text))


def _aim(case: Case, advice: Advice, tried: tuple[Trial, ...]) -> Aim:
    return aim_of(trial_of(case, advice.findings), advice.suggestions, Wanted(), case.box, tried)


def review_file(
    path: str | Path,
    norms: Norms | None = None,
    box: PaintBox | None = None,
    study: bool = False,
    *,
    aim: bool = False,
    corners: Corners | None = None,
    whole: bool = False,
    light: LightAsked = NOTHING_ASKED,
) -> Review:
    """Read, measure and judge a picture file; see :func:`review_picture`.

    Parameters
    ----------
    corners, whole, light : which part of a photograph is the painting, and by what its light is put right; see
        :func:`~critique.picture.read.read_picture`.

    Raises
    ------
    UnreadablePicture
        When the file cannot be read as a picture.
    """
    step("Reading")
    return review_picture(read_picture(path, corners=corners, whole=whole, light=light), norms, box, study, aim=aim)
