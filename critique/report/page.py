"""The page of a review: pictures first, words second, numbers third."""

from dataclasses import dataclass

from critique import __version__
from critique.advice import kind
from critique.advice.finding import LEVELS, Finding
from critique.advice.recipe_words import SWATCH_FIRST, cautions_in_words
from critique.advice.suggestion import Suggestion
from critique.paints.cards import Dabs, paint_dabs
from critique.paints.palette_words import Proposal
from critique.picture.picture import Picture
from critique.report.figures import figure_groups
from critique.report.plates.beside import HALF_LONG_EDGE, Beside
from critique.report.plates.colours import strip_only
from critique.report.plates.look import INK, SURROUND
from critique.report.plates.photograph import in_colour
from critique.report.plates.plate import Plate, image_of
from critique.report.plates.review_plates import ReviewPlates
from critique.report.questions import QUESTIONS, findings_by_part, gravest
from critique.report.study_words import Row, study_rows
from critique.report.templating import environment, styles
from critique.report.view_words import view_told
from critique.tasks.review import Review
from critique.words.lists import counted

PICTURE_LONG_EDGE = 1200  # px: fills the page's width
ENLARGED = 1.6  # a small picture is shown at most this much larger than it is


@dataclass(frozen=True, slots=True)
class Part:
    """One question on the page: its plates, its findings and the level of the gravest of them."""

    anchor: str
    title: str
    plates: tuple[Plate, ...]
    findings: tuple[Finding, ...]
    level: str | None


@dataclass(frozen=True, slots=True)
class Offer:
    """A suggestion with its pictures and the cautions that its paints need."""

    suggestion: Suggestion
    beside: Beside | None
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FewPaints:
    """The picture repainted with a limited palette, as the page shows it."""

    number: str  # in words
    own_box: bool
    proposal: Proposal
    plate: Plate
    dabs: tuple[Dabs, ...]
    changes: tuple[Row, ...]
    cautions: tuple[str, ...]


def page_html(review: Review, plates: ReviewPlates) -> str:
    """The page as one HTML document; every text in it is escaped by the template engine."""
    page: str = (
        environment()
        .get_template("report.html.j2")
        .render(
            version=__version__,
            title=title_of(review.picture),
            picture=review.picture,
            opening=_opening_plate(review.picture),
            seen=view_told(review.picture, review.advice.light_decides),
            verdict=review.advice.verdict,
            tally=_tally(review.advice.findings),
            parts=_parts(review, plates),
            families=review.measures.families,
            offers=_offers(review, plates),
            before=_before(review, plates),
            swatch_first=SWATCH_FIRST,
            held_to=review.held_to,
            few=_few_paints(review, plates),
            groups=figure_groups(review.measures),
            css=styles(),
            surround=SURROUND,
            ink=INK,
        )
    )
    return page


def title_of(picture: Picture) -> str:
    """The file's name without its suffix."""
    stem, _, suffix = picture.file.rpartition(".")
    return stem or suffix or "untitled"


def _opening_plate(picture: Picture) -> Plate:
    """The picture at the head of the page. It is nobody's measure, so it is not written as a plate."""
    codes = in_colour(picture, min(PICTURE_LONG_EDGE, round(ENLARGED * max(picture.width, picture.height))))
    return Plate("picture", image_of(codes), f"The picture under review, {title_of(picture)}.", "")


def _parts(review: Review, plates: ReviewPlates) -> tuple[Part, ...]:
    findings = findings_by_part(review.advice.findings)
    shown = {
        kind.Part.GREENS: (plates.greens,),
        kind.Part.VALUES: (*plates.plans, plates.histogram),
        kind.Part.DIVISION: (plates.division,),
        kind.Part.COLOURS: (strip_only(plates.strip), plates.wheel),
        kind.Part.EYE_PATH: (plates.eyepath,),
        kind.Part.TOUCH: (),
    }
    return tuple(
        Part(question.anchor, question.title, shown[part], findings[part], gravest(findings[part]))
        for part, question in QUESTIONS.items()
        if shown[part] or findings[part]
    )


def _offers(review: Review, plates: ReviewPlates) -> tuple[Offer, ...]:
    return tuple(
        Offer(suggestion, beside, cautions_in_words(suggestion.recipes))
        for suggestion, beside in zip(review.advice.suggestions, plates.beside, strict=True)
    )


def _before(review: Review, plates: ReviewPlates) -> Plate | None:
    """The picture as it is, for every pair on the page; None where the page shows no pair."""
    found = next((pair.before for pair in plates.beside if pair is not None), None)
    if found is None and plates.study is not None:
        found = Plate(
            "before", image_of(in_colour(review.picture, HALF_LONG_EDGE)), "The picture as it is.", "As it is."
        )
    return found


def _few_paints(review: Review, plates: ReviewPlates) -> FewPaints | None:
    if review.limited is None or plates.study is None:
        return None
    proposal, study = review.limited.proposal, review.limited.study
    dabs = tuple(paint_dabs(paint, proposal.box.white) for paint in proposal.box.paints)
    return FewPaints(
        counted(len(dabs)), review.limited.own_box, proposal, plates.study, dabs, study_rows(study), proposal.cautions
    )


def _tally(findings: tuple[Finding, ...]) -> tuple[tuple[str, int], ...]:
    """How many findings stand at each level, gravest first, without the levels that none has."""
    counts = [(level, sum(finding.level == level for finding in findings)) for level in reversed(LEVELS)]
    return tuple((level, count) for level, count in counts if count)
