"""The critique of one picture, end to end."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from critique import __version__
from critique.advice.advise import Advice, advise
from critique.advice.norms import Norms
from critique.measures.measure import Measures, measure_picture
from critique.picture.picture import Picture
from critique.picture.read import read_picture
from critique.plain import json_line, plain


@dataclass(frozen=True, slots=True)
class Review:
    """A picture, what was measured of it, and what a teacher would say."""

    picture: Picture
    measures: Measures
    advice: Advice

    def as_dict(self) -> dict[str, Any]:
        """The record: what ``report.json`` holds."""
        return {
            "version": __version__,
            "picture": plain(self.picture),
            **plain(self.measures),
            **plain(self.advice),
            "suggestions": [
                {**plain(offer), "before": plain(offer.before), "after": plain(offer.after)}
                for offer in self.advice.suggestions
            ],
        }

    def as_line(self) -> str:
        """The record as one line of JSON."""
        return json_line(self.as_dict())


def review_picture(picture: Picture, norms: Norms | None = None) -> Review:
    """Measure a picture that has been read, and judge it against the norms that ship unless told otherwise."""
    measures = measure_picture(picture)
    return Review(picture, measures, advise(picture, measures, norms))


def review_file(path: str | Path, norms: Norms | None = None) -> Review:
    """Read, measure and judge a picture file.

    Raises
    ------
    UnreadablePicture
        When the file cannot be read as a picture.
    """
    return review_picture(read_picture(path), norms)
