"""What a paint looks like alone, let down with white, and in a thin coat over what lies below."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from critique.paints.box import PaintBox, find_paint
from critique.paints.coats import THIN, Hiding, coat_lab, hiding
from critique.paints.dabs import USUAL_WHITE_PARTS
from critique.paints.expected import trust_in_words
from critique.paints.kubelka_munk import coefficients, paint_lab
from critique.paints.neutral import Grey, is_nearly_grey, neutralising_partners
from critique.paints.paint import MEASURED, Paint
from critique.perception.cielab import as_three, lab_to_srgb8
from critique.perception.names import colour_name
from critique.perception.srgb import hex_of

WHITE_BELOW, BLACK_BELOW = 0.80, 0.02  # reflectance of primed canvas and of a dry black; common practice, no source
GREEN_BELOW = (
    ("hansa yellow opaque", 5),
    ("phthalo green (blue shade)", 1),
    ("titanium white", 4),
)  # a strong mid green


@dataclass(frozen=True, slots=True)
class Coats:
    """sRGB of a thin coat (a glaze or scumble) over primed white, over a dry mid green and over black."""

    green_below: str
    over_white: str
    over_green: str
    over_black: str


@dataclass(frozen=True, slots=True)
class Dabs:
    """A paint's two dabs, in sRGB: alone, and one part of it in ten of white."""

    label: str
    opacity: str
    masstone: str
    tint: str


def paint_dabs(paint: Paint, white: Paint) -> Dabs:
    """The two dabs of a paint by daylight."""
    tint = paint_lab(paint, white, USUAL_WHITE_PARTS)
    return Dabs(paint.label, paint.opacity_told, _hex(paint_lab(paint)), _hex(tint))


@dataclass(frozen=True, slots=True)
class PaintCard:
    """One paint as a painter would swatch it. ``coats`` is None for a paint whose covering was not measured."""

    paint: str
    label: str  # with Colour Index name, and how it is known when not measured
    pigment: str
    origin: str
    opacity: str  # the label's word, which is for thin films; ``hiding`` tells what a full coat does
    masstone_lab: tuple[float, float, float]
    masstone: str  # sRGB
    tint_lab: tuple[float, float, float]  # one part in ten of white
    tint: str
    name: str  # ISCC–NBS of the masstone
    hiding: Hiding
    coats: Coats | None
    partners: tuple[Grey, ...]  # what greys it best in its box
    partner_text: str
    caution: str
    light: str
    lightfastness: str = ""  # by ASTM as labels give it, and of pale tints where that is less; empty when not known
    fading: str = ""  # where it fades, in a sentence; empty where it lasts
    trust: str = ""  # how far mixtures with it are to be trusted, in a sentence
    made_of: tuple[str, ...] = ()  # what a tube of several pigments is mixed from here


def paint_card(paint: Paint, white: Paint, partners: tuple[Grey, ...] = (), light: str = "D65") -> PaintCard:
    """Swatch one paint under a light; ``partners`` are those that neutralise it."""
    masstone, tint = paint_lab(paint, light=light), paint_lab(paint, white, USUAL_WHITE_PARTS, light)
    return PaintCard(
        paint.name,
        paint.label,
        paint.pigment,
        paint.origin,
        paint.opacity_told,
        as_three(masstone),
        _hex(masstone),
        as_three(tint),
        _hex(tint),
        colour_name(masstone),
        hiding(paint),
        _coats(paint, light) if paint.origin == MEASURED else None,
        partners,
        " ".join(grey.text for grey in partners) or _ungreyed(paint, white),
        paint.caution,
        light,
        _lasts(paint),
        _fading(paint),
        trust_in_words(paint),
        paint.made_of,
    )


def card_in_box(name: str, box: PaintBox, light: str = "D65", only: bool = True) -> PaintCard:
    """The card of a paint that a person names, with what greys it among the paints of a box.

    ``only`` keeps to the box's own paints; otherwise any paint that the program knows is found.

    Raises
    ------
    PaintError
        When no paint or more than one fits.
    """
    paint = box.find(name) if only else find_paint(name)
    company = box if paint.name in {one.name for one in box.with_white} else _joined(box, paint)
    partners = neutralising_partners(company, light=light).get(paint.name, ())
    return paint_card(paint, box.white, partners, light)


def _ungreyed(paint: Paint, white: Paint) -> str:
    if paint.is_white or is_nearly_grey(paint, white):
        return f"{paint.name} is nearly neutral itself: there is nothing to grey."
    return f"No one paint here greys {paint.name}: it takes two."


def _lasts(paint: Paint) -> str:
    """Such as "II, in pale tints III"."""
    if paint.pale_lightfastness in ("", paint.lightfastness):
        return paint.lightfastness
    return f"{paint.lightfastness}, in pale tints {paint.pale_lightfastness}"


def _fading(paint: Paint) -> str:
    if paint.fades:
        return f"{paint.name} fades: keep it out of what must last."
    return f"{paint.name} fades in pale tints: keep it out of skies and clouds." if paint.fades_pale else ""


def _joined(box: PaintBox, paint: Paint) -> PaintBox:
    return PaintBox(box.name, (*box.paints, paint), box.white)


def _coats(paint: Paint, light: str) -> Coats:
    green = _mid_green()
    return Coats(
        _hex(paint_lab(green, light=light)),
        _hex(coat_lab(paint, WHITE_BELOW, THIN, light)),
        _hex(coat_lab(paint, green, THIN, light)),
        _hex(coat_lab(paint, BLACK_BELOW, THIN, light)),
    )


@cache
def _mid_green() -> Paint:
    """The mixture that lies below, as one dry paint."""
    paints = [find_paint(name) for name, _ in GREEN_BELOW]
    parts = np.array([part for _, part in GREEN_BELOW], dtype=np.float64)
    K, S = coefficients(paints)
    return Paint("mid green", "", "", "opaque", "", MEASURED, parts @ K, parts @ S)


def _hex(lab: ArrayLike) -> str:
    return hex_of(lab_to_srgb8(lab))
