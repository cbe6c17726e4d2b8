"""All the plates of one review."""

from collections.abc import Iterator
from dataclasses import dataclass

from critique.advice.colour_words import family_words
from critique.advice.kinds import kind_of
from critique.measures.values import LEVELS
from critique.report.aim_words import aim_shown, aim_told
from critique.report.plates.beside import aim_plate, preview_plate
from critique.report.plates.colours import strip_plate, wheel_plate
from critique.report.plates.division import division_plate
from critique.report.plates.eyepath import eyepath_plate
from critique.report.plates.greens import greens_plate
from critique.report.plates.plate import Plate
from critique.report.plates.values import histogram_plate, plan_plates
from critique.report.plates.where import where_plate
from critique.tasks.review import Review


@dataclass(frozen=True, slots=True)
class ReviewPlates:
    """The plates of a review by what they show.

    ``aim`` is what lies beside the picture: the aim, or the first change tried where none was asked for. ``places``
    are of findings that have a plate of their own, by the finding's kind.
    """

    greens: Plate
    plans: tuple[Plate, ...]
    histogram: Plate
    division: Plate
    strip: Plate
    wheel: Plate
    eyepath: Plate
    aim: Plate | None
    places: dict[str, Plate]

    def all(self) -> Iterator[Plate]:
        """Every plate that is written to disk."""
        yield from (self.greens, *self.plans, self.histogram, self.division, self.strip, self.wheel, self.eyepath)
        yield from self.places.values()
        if self.aim is not None:
            yield self.aim


def draw_plates(review: Review) -> ReviewPlates:
    """Draw every plate of a review."""
    picture, measures = review.picture, review.measures
    words = family_words(picture, measures)
    return ReviewPlates(
        greens=greens_plate(picture, measures, review.advice.findings),
        plans=plan_plates(picture, measures.values, LEVELS),
        histogram=histogram_plate(picture, measures.values),
        division=division_plate(picture, measures.division),
        strip=strip_plate(measures.families, words),
        wheel=wheel_plate(measures.families, words),
        eyepath=eyepath_plate(picture, measures.eyepath),
        aim=_aim_plate(review),
        places=_places(review),
    )


def _aim_plate(review: Review) -> Plate | None:
    aim = aim_shown(review)
    if aim is not None:
        return aim_plate(review.picture, aim.composed, f"The aim: {aim_told(review, aim)}.")
    first = next(iter(review.advice.suggestions), None)
    if review.aim is None and first is not None and first.preview is not None:
        return preview_plate(first.preview, "first_step", f"The first step tried: {first.subject}.", first.subject)
    return None


def _places(review: Review) -> dict[str, Plate]:
    """A plate for each finding that doesn't hold and that its part's own plate doesn't show."""
    found = {}
    for finding in review.advice.findings:
        where = kind_of(finding).place_of(finding, review.measures) if finding.level != "holds" else None
        if where is not None:
            found[finding.kind] = where_plate(review.picture, where, f"where_{finding.kind}", finding.subject)
    return found
