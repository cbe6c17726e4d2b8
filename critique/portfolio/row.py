"""What of a review is kept for looking at many: figures, colours and levels, no sentences but the verdict."""

import math
from typing import Any

from critique.measures.figures import all_figures, figure_named
from critique.photograph.limits import CLEAR_SEEN
from critique.plain import plain
from critique.tasks.review import Review

Row = dict[str, Any]


def row_of(review: Review) -> Row:
    """The row of a review, ready for JSON: some 3 kB. It says nothing of the file's name, so a copy shares it."""
    picture, measures, advice = review.picture, review.measures, review.advice
    lean = measures.cast.mean
    row: Row = plain(
        {
            "crop": "" if picture.view is None or picture.view.shown is None else picture.view.how,
            "transparent": picture.transparent if picture.transparent >= CLEAR_SEEN else 0.0,
            "width": picture.original_width,
            "height": picture.original_height,
            "figures": {
                figure.name: figure.value(measures) for figure in all_figures() if figure.norm or figure.column
            },
            "key": measures.values.key,
            "spread": measures.values.spread,
            "line": {
                "present": measures.division.present,
                "height": measures.division.height,
                "halved": measures.division.halved,
                "plain": math.isfinite(figure_named("division.height").of(measures)),  # enough to be spoken of
            },
            "green": {"lab": measures.greens.commonest, "area_share": measures.greens.area_share},
            "cast": {"a": lean.a, "b": lean.b, "word": lean.word},
            "families": [
                {"share": family.share, "lab": family.lab, "srgb": family.srgb, "name": family.name}
                for family in measures.families
            ],
            "findings": [
                {
                    "kind": finding.kind,
                    "subject": finding.subject,
                    "level": finding.level,
                    "figure": finding.figure,
                    "figure_text": finding.figure_text,
                    "percentile": finding.percentile,
                }
                for finding in advice.findings
            ],
            "verdict": list(advice.verdict),
        }
    )
    return row
