"""The page of a review: the picture beside its aim, the verdict, what to look at and where; all else is folded away."""

from dataclasses import dataclass, field, replace

from critique import __version__
from critique.advice.colour_words import family_words
from critique.advice.finding import Level
from critique.advice.recipe_words import SWATCH_FIRST, cautions_in_words
from critique.advice.suggestion import Suggestion
from critique.picture.picture import Picture
from critique.report.aim_words import (
    Left,
    aim_shown,
    aim_told,
    costs,
    greens_told,
    left_to_decide,
    levels_in_aim,
    not_asked,
    otherwise_told,
)
from critique.report.commands import GoingOn, going_on
from critique.report.figures import figure_groups
from critique.report.naming import title_in
from critique.report.plates.look import INK, PHOTOGRAPH_LONG_EDGE, SURROUND
from critique.report.plates.photograph import in_colour
from critique.report.plates.plate import Plate, image_of
from critique.report.plates.review_plates import ReviewPlates
from critique.report.shown_findings import holding, open_findings
from critique.report.templating import environment, styles
from critique.report.view_words import view_told
from critique.tasks.aim import Step
from critique.tasks.first_step import in_turn
from critique.tasks.review import Review
from critique.words.lists import listed

ENLARGED = 1.6  # a small picture is shown at most this much larger than it is
UPRIGHT = 1.0  # width by height below which words stand beside the pictures: under them there would be no room
BROAD = 1.9  # width by height from which a picture alone fills the page's width, and the words stand under it


@dataclass(frozen=True, slots=True)
class Opening:
    """What the first screen shows: the picture, what lies beside it, and whether the words stand beside or under."""

    picture: Plate
    beside: Plate | None
    caption: str
    aside: bool


@dataclass(frozen=True, slots=True)
class Told:
    """The verdict's sentences, what the aim does step by step, and what it costs and leaves."""

    verdict: tuple[str, ...]
    steps: tuple[Step, ...]
    greens: str
    costs: str
    left: tuple[Left, ...]
    levels: dict[str, Level]  # of every finding in the aim, by its kind; empty without one
    unasked: frozenset[str] = frozenset()  # the kinds that the aim no longer asks for, and did nothing for
    otherwise: dict[str, str] = field(default_factory=dict)  # by what else than its figure a kind stands better there


def page_html(review: Review, plates: ReviewPlates, commands: GoingOn | None = None) -> str:
    """The page as one HTML document; every text in it is escaped by the template engine.

    ``commands`` say how to go on; without them they are made from the file's name.
    """
    findings = review.advice.findings
    commands = _with_step(commands or going_on(review.picture.file), review)
    shown = open_findings(findings, plates)
    page: str = (
        environment()
        .get_template("report.html.j2")
        .render(
            version=__version__,
            title=title_of(review.picture),
            picture=review.picture,
            opening=_opening(review, plates),
            seen=view_told(review.picture, review.advice.light_decides, commands.review),
            told=_told(review),
            commands=commands,
            shown=shown,
            held=holding(review, plates, shown),
            holds=listed([one.subject for one in findings if one.level == "holds"]),
            offers=review.advice.suggestions,
            cautions=_cautions(review.advice.suggestions),
            swatch_first=SWATCH_FIRST,
            held_to=review.held_to,
            families=tuple(zip(review.measures.families, family_words(review.picture, review.measures), strict=True)),
            colours=(plates.wheel, plates.histogram),
            findings=findings,
            groups=figure_groups(review.measures),
            css=styles("review.css"),
            surround=SURROUND,
            ink=INK,
        )
    )
    return page


def _with_step(commands: GoingOn, review: Review) -> GoingOn:
    """The plan's command takes the first step on purpose where the aim leaves it to the painter."""
    first = review.first_step
    if first is None or first.in_aim:
        return commands
    return replace(commands, plan=f"{commands.plan} --take {first.kind}")


def title_of(picture: Picture) -> str:
    """What a picture is called on its pages: its file's name without the suffix, its underscores as spaces."""
    stem, _, suffix = picture.file.rpartition(".")
    return title_in(stem or suffix)


def _opening(review: Review, plates: ReviewPlates) -> Opening:
    """The picture at the head of the page. It is nobody's measure, so it is not written as a plate."""
    picture, beside = review.picture, plates.aim
    codes = in_colour(picture, min(PHOTOGRAPH_LONG_EDGE, round(ENLARGED * max(picture.width, picture.height))))
    plate = Plate("picture", image_of(codes), f"The picture under review, {title_of(picture)}.", "")
    shape = picture.width / picture.height
    aim = aim_shown(review)
    if aim is not None:
        caption = f"The aim: {aim_told(review, aim)}."
    else:
        caption = f"The first step, tried: {beside.caption}." if beside is not None else ""
    return Opening(plate, beside, caption, shape < UPRIGHT if beside is not None else shape < BROAD)


def _told(review: Review) -> Told:
    aim, verdict = aim_shown(review), review.advice.verdict
    if aim is None:
        return Told(verdict, (), "", "", (), {})
    # The first step, which a verdict ends with, is made in the aim, with those that follow it.
    levels = levels_in_aim(aim)
    left, unasked, otherwise = left_to_decide(aim), not_asked(aim), otherwise_told(aim)
    steps = in_turn(aim.steps, review.first_step)
    return Told(verdict[:-1], steps, greens_told(aim), costs(aim), left, levels, unasked, otherwise)


def _cautions(offers: tuple[Suggestion, ...]) -> tuple[str, ...]:
    """What to mind with all paints that are named on the page, each once."""
    return cautions_in_words([recipe for offer in offers for recipe in offer.recipes])
