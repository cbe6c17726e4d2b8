"""Whether things stand in a row as like as soldiers."""

from critique.advice.finding import Finding
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.picture.places import place_of
from critique.words.aloud import sentence
from critique.words.lists import counted

MANY, BY_TENS = 15, 10  # more than the eye counts: told to the next ten


def like_row(case: Case, kind: Kind) -> Finding | None:
    """Whether things of one size and shape stand in a row at one spacing, six and more, or four far apart."""
    row = case.measures.like_row
    level = kind.by_limits(row.likeness)
    if level == "holds":
        return None
    place = place_of(row.mask)
    where = "" if place.everywhere or place.nowhere else f" {place.words}"
    text = (
        f"some {counted(_told(row.things))} things of one size and one shape stand in a row{where}, evenly spaced, like soldiers. An "
        "avenue, a fence or arches may be so by nature; if it isn't meant, make one larger and another smaller, let two grow "
        "together and leave one gap"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=row.likeness,
        figure_text=f"neighbours in a row are alike by {row.likeness:.2f} (1 is the same thing again)",
        norm="no norm",
    )


def _told(things: int) -> int:
    """A number as it is told: what nobody counts, by tens."""
    return things if things < MANY else round(things / BY_TENS) * BY_TENS
