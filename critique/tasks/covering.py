"""Whether a mixture covers what lies below, and where white must be laid first."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from critique.paints.cards import WHITE_BELOW
from critique.paints.coats import COVERS, FULL, MOSTLY, coat_lab, contrast_ratio
from critique.paints.kubelka_munk import coefficients, paint_lab
from critique.paints.paint import MEASURED, Paint
from critique.paints.recipes import Recipe
from critique.perception.difference import delta_e_2000

SHOWS = 2.0  # ΔE00 between a coat and the paint laid thick, from which what lies below is seen through it
SEMI = 0.88  # contrast ratio between opaque and half
Opacity = Literal["opaque", "semi-opaque", "semi-transparent", "transparent"]


@dataclass(frozen=True, slots=True)
class Covering:
    """How one mixture covers. ``coats`` are full coats until the old colour is gone, 0 where three don't do it."""

    opacity: Opacity
    coats: int
    white_first: bool
    certain: bool  # whether all its paints were measured
    text: str


def mixed_paint(recipe: Recipe) -> Paint:
    """A recipe as one paint, which was measured only if all of its paints were."""
    K, S = coefficients(recipe.paints)
    share = np.array([part.share for part in recipe.parts])
    origin = next((paint.origin for paint in recipe.paints if paint.origin != MEASURED), MEASURED)
    return Paint("mixture", "", "", "", "", origin, share @ K, share @ S)


def covering(recipe: Recipe, below: Recipe | None) -> Covering:
    """How a mixture covers what was painted before (``below``), or a white ground where that is None."""
    mixture = mixed_paint(recipe)
    ratio = contrast_ratio(mixture, FULL)
    opacity: Opacity = (
        "opaque"
        if ratio >= COVERS
        else "semi-opaque"
        if ratio >= SEMI
        else "semi-transparent"
        if ratio >= MOSTLY
        else "transparent"
    )
    thick = paint_lab(mixture)
    old: Paint | float = mixed_paint(below) if below is not None else WHITE_BELOW
    shown = [float(delta_e_2000(coat_lab(mixture, old, coats), thick)) for coats in (1.0, 2.0, 3.0)]
    coats = next((number for number, rest in enumerate(shown, start=1) if rest < SHOWS), 0)
    over_white = float(delta_e_2000(coat_lab(mixture, WHITE_BELOW, FULL), thick))
    white_first = below is not None and coats != 1 and over_white + SHOWS / 2 < shown[0]
    certain = mixture.origin == MEASURED
    return Covering(
        opacity, coats, white_first, certain, _text(opacity, coats, white_first, certain, below is not None)
    )


def _text(opacity: str, coats: int, white_first: bool, certain: bool, painted: bool) -> str:
    """In words; a promise of cover is hedged where paints in it are known by their dabs, see ``hiding``."""
    ground = "the old colour" if painted else "the white ground"
    hedge = "" if certain else ", as reckoned: not all its paints were measured, so try it there first"
    if coats == 1:
        return f"{opacity}; one full coat covers {ground}{hedge}"
    if white_first:
        return f"{opacity}; lay white first and let it dry, or {ground} shows through"
    if coats:
        return f"{opacity}; {'two' if coats == 2 else 'three'} full coats over {ground}{hedge}"
    return f"{opacity}; {ground} keeps showing through: let it, or lay a coat of its value first"
