"""A few paints that carry one picture: three palettes, their recipes, and the picture repainted with each."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.measures.families import Family, measure_families
from critique.measures.greens import Greens, measure_greens
from critique.paints.at_easel import easel_recipes
from critique.paints.box import PaintBox, default_box
from critique.paints.calm import calm_greens
from critique.paints.cards import PaintCard, paint_card
from critique.paints.cautions import cautions_for
from critique.paints.kubelka_munk import mixture_lab
from critique.paints.lasting import lasting_recipes, tint_fades
from critique.paints.neutral import neutralising_partners
from critique.paints.palette import FEWEST, choose_palette
from critique.paints.palette_words import CALMEST, CLOSEST, Carried, Proposal, given_up, is_calmer, left_over
from critique.paints.recipes import Recipe
from critique.perception.cielab import lab_to_srgb8
from critique.perception.spectra import light as light_table
from critique.perception.srgb import hex_of
from critique.picture.picture import Picture, picture_from_lab
from critique.plain import json_line, plain
from critique.records import heading
from critique.tasks.repaint import RepaintStudy, repaint_study

DAYLIGHT = "D65"
TOO_STRONG = 0.015  # of the picture beyond a leaf; among landscapes the 95th percentile is 0.008
PAINTS_OF_A_STUDY = 4  # beside white, as a palette has unless told otherwise; common practice, no source
NOTICED = 2.0  # CIELAB units by which calming must move a family for it to be told


@dataclass(frozen=True, slots=True)
class FamilyRecipe:
    """How a palette mixes one family of the picture; ``calmed``: its green was first drawn in below the leaf limit."""

    family: str  # ISCC–NBS name
    share: float  # of the picture, 0–1
    srgb: str  # of the family as it is
    calmed: bool
    recipe: Recipe
    lamp_srgb: str  # the mixture under the lamp chosen, to an eye used to that lamp


@dataclass(frozen=True, slots=True)
class PaletteOffer:
    """One limited palette with all that is worked out for the picture."""

    proposal: Proposal
    cards: tuple[PaintCard, ...]
    recipes: tuple[FamilyRecipe, ...]
    study: RepaintStudy
    left_over: str  # which of its paints none of the recipes uses; empty when all are used


@dataclass(frozen=True, slots=True)
class PalettePlan:
    """What ``critique palette`` found for one picture."""

    picture: Picture
    box: str
    box_paints: tuple[str, ...]
    paints: int  # beside white
    light: str
    tried: int  # choices of paints
    exhaustive: bool
    families: tuple[Family, ...]
    offers: tuple[PaletteOffer, ...]
    cautions: tuple[str, ...] = field(default=())

    def as_dict(self) -> dict[str, Any]:
        """The record: what ``palette.json`` holds."""
        return {**heading(), **plain(self)}

    def as_line(self) -> str:
        """The record as one line of JSON."""
        return json_line(self.as_dict())


def plan_palette(
    picture: Picture,
    box: PaintBox,
    paints: int = 4,
    light: str = DAYLIGHT,
    watched: Callable[[Sequence[Proposal]], Iterable[Proposal]] = iter,
) -> PalettePlan:
    """Choose limited palettes for a picture and work each of them out.

    Parameters
    ----------
    paints : 3 to 6 beside white.
    light : under which the mixtures are also shown; the choice itself is made by daylight.
    watched : is handed the proposals and gives them back one by one, for a progress bar.

    Raises
    ------
    PaintError
        When the box holds too few paints.
    ReferenceDataError
        When there is no such light.
    """
    light_table(light)
    families = measure_families(picture)
    colours = np.array([family.lab for family in families])
    choice = choose_palette(colours, [family.share for family in families], box, paints)
    before = measure_greens(picture)
    closest = choice.proposals[0]
    differing = tuple(one for one in choice.proposals if one.kind != CALMEST or is_calmer(one, closest))
    offers = tuple(_offer(picture, families, proposal, closest, before, light) for proposal in watched(differing))
    return PalettePlan(
        picture,
        box.name,
        tuple(paint.name for paint in box.paints),
        paints,
        light,
        choice.tried,
        choice.exhaustive,
        families,
        offers,
        tuple(one.text for one in cautions_for(paint for offer in offers for paint in offer.proposal.box.with_white)),
    )


def _offer(
    picture: Picture, families: Sequence[Family], proposal: Proposal, closest: Proposal, before: Greens, light: str
) -> PaletteOffer:
    found = _family_recipes(families, np.array([family.lab for family in families]), proposal, light)
    used = {part.paint for row in found for part in row.recipe.parts}
    fading = [tint_fades(row.recipe) for row in found]
    return PaletteOffer(
        replace(proposal, gives_up=given_up(proposal, closest, _as_mixed(proposal.families, found), fading)),
        _cards(proposal.box, light),
        found,
        repaint_study(picture, proposal.box, before, calm_picture(picture) if proposal.kind == CALMEST else None),
        left_over([paint for paint in proposal.paints if paint not in used], len(proposal.paints)),
    )


def _as_mixed(families: Sequence[Carried], found: Sequence[FamilyRecipe]) -> tuple[Carried, ...]:
    """The families as their recipes mix them, so that what is out of reach above is what is out of reach below.

    A green that was calmed on purpose, and whose recipe meets the calmed colour, stays held to the picture.
    """
    return tuple(
        family
        if row.calmed and row.recipe.within_reach
        else Carried.of(row.recipe.target_lab, row.recipe.lab, row.recipe.error, row.share)
        for family, row in zip(families, found, strict=True)
    )


@dataclass(frozen=True, slots=True)
class LimitedStudy:
    """One limited palette for a picture, and the picture repainted with it."""

    proposal: Proposal
    study: RepaintStudy
    own_box: bool


def study_for_review(
    picture: Picture, families: Sequence[Family], greens: Greens, box: PaintBox | None = None
) -> LimitedStudy | None:
    """One palette and one repaint study for a picture that has been measured, as a review shows it.

    Where greens are stronger than leaves the palette is the calmest, and the study is painted from the picture with
    its greens calmed; otherwise both are the closest. It is as large as a picture is viewed. None for a box of fewer
    paints than a palette has.
    """
    owned = box or default_box()
    paints = min(PAINTS_OF_A_STUDY, len(owned.paints))
    if paints < FEWEST:
        return None
    kind = CALMEST if greens.beyond_leaf_share >= TOO_STRONG else CLOSEST
    choice = choose_palette(
        [family.lab for family in families], [family.share for family in families], owned, paints, kinds=(kind,)
    )
    proposal = next((one for one in choice.proposals if one.kind == kind), choice.proposals[0])
    model = calm_picture(picture) if proposal.kind == CALMEST else None
    before = replace(greens, reads_as_green_share=None)  # a study has no parts, of which that could be asked
    return LimitedStudy(proposal, repaint_study(picture, proposal.box, before, model), owned is not default_box())


def calm_picture(picture: Picture) -> Picture:
    """The picture with its greens calmed."""
    return picture_from_lab(calm_greens(picture.lab), picture)


def _cards(box: PaintBox, light: str) -> tuple[PaintCard, ...]:
    partners = neutralising_partners(box, light=light)
    return tuple(paint_card(paint, box.white, partners[paint.name], light) for paint in box.paints)


def _family_recipes(
    families: Sequence[Family], colours: ArrayLike, proposal: Proposal, light: str
) -> tuple[FamilyRecipe, ...]:
    """A recipe a family; the calmest palette mixes the greens as they should be, not as they are."""
    wanted: NDArray[np.floating] = np.asarray(colours)
    aims = calm_greens(wanted.astype(np.float32)) if proposal.kind == CALMEST else wanted
    found = lasting_recipes(aims, proposal.box, easel_recipes)
    return tuple(
        FamilyRecipe(
            family.name,
            family.share,
            family.srgb,
            bool(np.abs(aim - own).max() >= NOTICED),
            one,
            hex_of(lab_to_srgb8(mixture_lab(one.amounts, one.paints, light))),
        )
        for family, own, aim, one in zip(families, wanted, aims, found, strict=True)
    )
