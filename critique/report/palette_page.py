"""The page of limited palettes: the picture repainted with each, its paints, its reasons and its recipes."""

from dataclasses import dataclass
from pathlib import Path

from critique.paints.cards import PaintCard
from critique.paints.expected import strays_in_words
from critique.paints.paint import MEASURED
from critique.paints.palette_words import CALMEST, CLOSEST, WIDEST, Proposal
from critique.paints.recipes import BY_WEIGHT, FROM_MEMORY
from critique.picture.picture import Picture
from critique.report.folder import PLATES, replace_files
from critique.report.page import title_of
from critique.report.plates.photograph import in_colour
from critique.report.plates.plate import Plate, image_of
from critique.report.record import json_bytes
from critique.report.study_words import Row, painted_with, study_rows
from critique.report.templating import rendered
from critique.report.view_words import crops_told
from critique.tasks.palette import DAYLIGHT, FamilyRecipe, PaletteOffer, PalettePlan
from critique.words.lists import listed

PAGE, RECORD = "palette.html", "palette.json"
HALF_LONG_EDGE = 700  # px of picture and study side by side
THUMB_LONG_EDGE = 400  # px: a thumbnail on the page is some 260
TITLES = {CLOSEST: "Closest", CALMEST: "Calmest greens", WIDEST: "Widest gamut"}


@dataclass(frozen=True, slots=True)
class Offered:
    """One palette as the page shows it."""

    anchor: str
    title: str
    proposal: Proposal
    cards: tuple[PaintCard, ...]
    recipes: tuple[FamilyRecipe, ...]
    strays: str  # how far real paint is likely to stray from its recipes
    left_over: str
    greys: tuple[str, ...]
    changes: tuple[Row, ...]
    thumb: Plate
    plate: Plate
    full: Plate


def write_palette(plan: PalettePlan, folder: Path) -> Path:
    """Write ``palette.html``, ``palette.json`` and ``plates/study_*.png``; gives the path of the page.

    Raises
    ------
    OutputError
        When the folder or a file in it cannot be written.
    """
    offers = tuple(_offered(offer) for offer in plan.offers)
    files = {f"{PLATES}/{offer.full.name}.png": offer.full.png for offer in offers}
    files[RECORD] = json_bytes(plan.as_dict())
    files[PAGE] = palette_html(plan, offers).encode("utf-8", errors="backslashreplace")
    replace_files(folder, files)
    return folder / PAGE


def palette_html(plan: PalettePlan, offers: tuple[Offered, ...] | None = None) -> str:
    """The page as one HTML document."""
    shown = tuple(_offered(offer) for offer in plan.offers) if offers is None else offers
    return rendered(
        "palette.html.j2",
        style="sheet.css",
        title=title_of(plan.picture),
        plan=plan,
        thumbs=(_thumb("as_it_is", plan.picture, "The picture as it is."),),
        before=Plate("before", image_of(in_colour(plan.picture, HALF_LONG_EDGE)), "The picture as it is.", ""),
        offers=shown,
        opening=opening(plan),
        tried=_tried(plan),
        notes=_notes(plan),
        cautions=plan.cautions,
        crops=crops_told((plan.picture,)),
    )


def _offered(offer: PaletteOffer) -> Offered:
    kind = offer.proposal.kind
    anchor = kind.replace(" ", "-")
    study = offer.study
    words = painted_with(offer.proposal)
    name = f"study_{kind.replace(' ', '_')}"
    return Offered(
        anchor,
        TITLES[kind],
        offer.proposal,
        offer.cards,
        offer.recipes,
        strays_in_words([row.recipe.expected for row in offer.recipes]),
        offer.left_over,
        _greys(offer.cards),
        study_rows(study),
        _thumb(f"{name}_thumb", study.picture, f"The picture painted with the palette of {kind}, small."),
        Plate(name, image_of(in_colour(study.picture, HALF_LONG_EDGE)), words, words),
        Plate(name, image_of(study.picture.srgb), words, words),
    )


def _greys(cards: tuple[PaintCard, ...]) -> tuple[str, ...]:
    """What greys what, each pair told once."""
    told: dict[frozenset[str], str] = {}
    for card in cards:
        for grey in card.partners:
            told.setdefault(frozenset((grey.paint, grey.partner)), grey.text)
    paired = {name for pair in told for name in pair}
    alone = [card.paint for card in cards if card.paint not in paired]
    if not told:
        return ("No two of these paints grey each other: a neutral takes three.",)
    rest = (f"Nothing here greys {listed(alone)} without a third paint.",) if alone else ()
    return (*told.values(), *rest)


def _thumb(name: str, picture: Picture, alt: str) -> Plate:
    return Plate(name, image_of(in_colour(picture, THUMB_LONG_EDGE)), alt, "")


def opening(plan: PalettePlan) -> list[str]:
    """What is told first: the closest palette, and which others there are."""
    closest = plan.offers[0].proposal
    words = [
        f"{listed(list(closest.labels))[:1].upper()}{listed(list(closest.labels))[1:]}, with {closest.white}, carry "
        f"the picture’s {len(plan.families)} main colours within {max(closest.mean_error, 0.1):.1f} steps of colour on "
        "average; one or two are just seen side by side."
    ]
    if len(plan.offers) > 1:
        others = " and one with the ".join(TITLES[offer.proposal.kind].lower() for offer in plan.offers[1:])
        words.append(f"Beside the closest palette there is another with the {others}.")
    return words


def _tried(plan: PalettePlan) -> str:
    return f"all {plan.tried:,} choices tried" if plan.exhaustive else f"{plan.tried:,} likely choices tried"


def _notes(plan: PalettePlan) -> list[str]:
    notes = [BY_WEIGHT]
    if any(card.origin != MEASURED for offer in plan.offers for card in offer.cards):
        notes.append(FROM_MEMORY)
    if plan.light != DAYLIGHT:
        notes.append(
            f"Swatches of paints, and the last swatch of each recipe, show the paint under the light {plan.light} to "
            "an eye that is used to that light. Palettes are chosen by daylight."
        )
    return notes
