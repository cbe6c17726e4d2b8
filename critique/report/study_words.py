"""What is said beside a repaint study: how it was painted, and its figures before and after."""

from dataclasses import dataclass

from critique.paints.palette_words import CALMEST, Proposal
from critique.tasks.repaint import RepaintStudy
from critique.words.figures import number, percent
from critique.words.lists import listed


@dataclass(frozen=True, slots=True)
class Row:
    """One figure before and after, as text."""

    figure: str
    before: str
    after: str


def painted_with(proposal: Proposal) -> str:
    """The study's caption: its paints, and whether the greens were calmed first."""
    calmed = "with its greens first calmed to what a leaf can be, " if proposal.kind == CALMEST else ""
    return f"The repaint study, {calmed}in {listed([*proposal.labels, proposal.white])}."


def study_rows(study: RepaintStudy) -> tuple[Row, ...]:
    """The greens of the picture and of the study, and how far the study is from the picture."""
    before, after = study.before, study.after
    return (
        Row("Green area, sky and all", percent(before.area_share), percent(after.area_share)),
        Row("Share of all chroma", percent(before.chroma_share), percent(after.chroma_share)),
        Row("Green beyond a leaf", percent(before.beyond_leaf_share), percent(after.beyond_leaf_share)),
        Row("Middle chroma of the green", number(before.median_chroma, 0), number(after.median_chroma, 0)),
        Row("Each spot moves by, in steps of colour", "0", number(study.mean_error)),
        Row("Each spot moves by, in value", "0", number(study.value_error, 2)),
    )
