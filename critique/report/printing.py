"""A review as it is printed in a terminal."""

from pathlib import Path

from critique.report.view_words import photograph_said
from critique.tasks.review import Review

LEVEL_MARKS = {"holds": "·", "watch": "~", "rework": "×"}


def summary(review: Review, page: Path) -> str:
    """The verdict, a line for each finding and where the page is."""
    width = max((len(finding.subject) for finding in review.advice.findings), default=0)
    first = review.first_step
    lines = [
        review.picture.file,
        *(f"  {line}" for line in photograph_said(review.picture, review.advice.light_decides)),
        *(f"  {sentence}" for sentence in review.advice.verdict),
        *(
            f"  {LEVEL_MARKS[finding.level]} {finding.level:<6}  {finding.subject:<{width}}  {finding.figure_text}"
            for finding in review.advice.findings
        ),
        *(
            [f"  to plan with that step: give critique plan the option --take {first.kind}"]
            if first and not first.in_aim
            else []
        ),
        f"  page: {page}",
    ]
    return "\n".join(lines)
