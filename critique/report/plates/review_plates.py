"""All the plates of one review."""

from collections.abc import Iterator
from dataclasses import dataclass

from critique.measures.values import LEVELS
from critique.report.plates.beside import Beside, beside_plates
from critique.report.plates.colours import strip_plate, wheel_plate
from critique.report.plates.division import division_plate
from critique.report.plates.eyepath import eyepath_plate
from critique.report.plates.greens import greens_plate
from critique.report.plates.plate import Plate, image_of
from critique.report.plates.values import histogram_plate, plan_plate
from critique.report.study_words import painted_with
from critique.tasks.palette import LimitedStudy
from critique.tasks.review import Review


@dataclass(frozen=True, slots=True)
class ReviewPlates:
    """The plates of a review by what they show; ``beside`` has one entry a suggestion, None without a preview."""

    greens: Plate
    plans: tuple[Plate, ...]
    histogram: Plate
    division: Plate
    strip: Plate
    wheel: Plate
    eyepath: Plate
    beside: tuple[Beside | None, ...]
    study: Plate | None  # the picture repainted with a few paints, where that was asked for

    def all(self) -> Iterator[Plate]:
        """Every plate that is written to disk."""
        yield from (self.greens, *self.plans, self.histogram, self.division, self.strip, self.wheel, self.eyepath)
        yield from (pair.together for pair in self.beside if pair is not None)
        if self.study is not None:
            yield self.study


def draw_plates(review: Review) -> ReviewPlates:
    """Draw every plate of a review."""
    picture, measures = review.picture, review.measures
    return ReviewPlates(
        greens=greens_plate(picture, measures.greens),
        plans=tuple(plan_plate(picture, measures.values, levels) for levels in LEVELS),
        histogram=histogram_plate(picture, measures.values),
        division=division_plate(picture, measures.division),
        strip=strip_plate(measures.families),
        wheel=wheel_plate(measures.families),
        eyepath=eyepath_plate(picture, measures.eyepath),
        beside=beside_plates(picture, review.advice.suggestions),
        study=_study_plate(review.limited),
    )


def _study_plate(limited: LimitedStudy | None) -> Plate | None:
    if limited is None:
        return None
    words = painted_with(limited.proposal)
    return Plate("repaint_study", image_of(limited.study.picture.srgb), words, words)
