"""Whether a picture's green is one tone, as from a tube, or one strong hue all through."""

import numpy as np
from numpy.typing import NDArray

from critique.advice.finding import Finding, Level
from critique.advice.green_area import lying
from critique.advice.green_share import MATTERS, little_green_left, of_a_yellow_field
from critique.advice.green_strength import CHROMA_WATCH, FEW_LEAVES, OLIVE_TO, is_one_hue
from critique.advice.greens_in_other_light import greens_in_other_light
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.cast_judging import is_toned
from critique.measures.flat_green import flat_greens
from critique.measures.greens import ONE_TONE, PATCH, Greens
from critique.measures.land_greens import MAP_LONG_EDGE, land_green_share, land_greens_map
from critique.measures.measure import Measures
from critique.measures.smoothing import gaussian
from critique.perception.channels import chroma_of, colours_in
from critique.perception.difference import delta_e_2000
from critique.perception.hue import hue_of
from critique.picture.picture import lab_at
from critique.words.aloud import about, green_word, sentence, share_words
from critique.words.figures import percent

EVEN_WATCH: float = 0.60  # of the green within ΔE00 5; among greens that matter 90th percentile 0.57
EVEN_REWORK: float = 0.72
MANY_GREENS, WARM_TO_COOL = 0.42, 9.0  # of the green; degrees of hue, the spread of greens that differ to the eye
COOL_GREEN, SOME_COOL = 128.0, 0.15  # degrees; of the green: with 0.07 readers saw one warm olive all through
EVEN_FIELD = 0.18  # of the picture: a smaller green of nearly one tone lies among others, and readers saw no sameness
ONE_TONE_WATCH = 0.17  # of the picture in one green brushed out, whatever greens there are beside it: of 171 untouched
# pictures, photographs too, none has more, the fullest of a green that isn't quiet 0.14
EVEN_QUIET = 16.0  # median C*: an even green this quiet is a tone, not tube green
# Much strong green of nearly one hue is one raw green to a reader, whatever its lights and darks: so said of six of 84
# pictures (spread 5.0–8.3, a third of the picture and more), and of none with a spread of 9.8 and more.
MUCH_STRONG = 0.3  # of the picture; of 76 paintings the one with so much that is strong has a spread of 10.6

# Of the picture in leaves and grass of one coat, without light or shade: of 76 paintings none has more than 0.015, of 7
# photographs and 8 demos, painted in flat strokes, none more than 0.04; trees painted out in one green have 0.06 and more.
FLAT_WATCH = 0.05


def _evenness_level(greens: Greens, kind: Kind) -> Level:
    if greens.area_share < MATTERS or greens.median_chroma < EVEN_QUIET:
        return "holds"
    level = kind.by_limits(greens.evenness)
    return "holds" if level == "watch" and greens.area_share < EVEN_FIELD else level


def _one_tone(greens: Greens) -> bool:
    """Whether a large field is one green brushed out, though others lie about it."""
    quiet = min(greens.median_chroma, float(np.hypot(*greens.commonest[1:]))) < EVEN_QUIET
    return greens.one_tone_share >= ONE_TONE_WATCH and not quiet


def _one_hue(greens: Greens) -> bool:
    """Whether much strong green, no olive, is of nearly one hue."""
    much = greens.area_share >= MUCH_STRONG and greens.median_chroma > CHROMA_WATCH
    return much and greens.hue_spread < WARM_TO_COOL and greens.mean_hue >= OLIVE_TO


def _flat(case: Case) -> NDArray[np.bool_] | None:
    """Where leaves and grass are one flat tone, on the map; None where that is little, or a green light lies over all."""
    if is_toned(case.measures.cast):
        return None
    flat = flat_greens(case.picture, case.measures.parts, case.measures.reads_as_green)
    return flat if float(flat.mean()) >= FLAT_WATCH else None


def _where_strong(case: Case) -> str:
    """Where the strong green lies, without a comma; empty where it lies about everywhere."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    green = land_greens_map(case.picture, case.measures.parts)
    return lying(green & (chroma_of(lab) > CHROMA_WATCH)).replace(",", "", 1)


def evenness(case: Case, kind: Kind) -> Finding | None:
    """Whether the green is one tone, as from a tube."""
    greens = case.measures.greens
    if min(greens.area_share, land_green_share(case.picture, case.measures.parts)) < MATTERS:
        return None  # a cream sky has no greens to vary
    if case.measures.reads_as_green.share < FEW_LEAVES:
        return None  # nor has a sea
    if of_a_yellow_field(case):
        return None
    level = _evenness_level(greens, kind)
    if level == "rework" and any(
        _evenness_level(other, kind) == "holds" for other in greens_in_other_light(case.picture)
    ):
        level = "watch"  # greens that other light breaks up or turns to grey are not the mark of a tube
    if level == "holds" and _one_tone(greens):
        level = "watch"
    one_hue = level == "holds" and _one_hue(greens) and is_one_hue(case)
    flat = _flat(case) if level == "holds" else None
    if flat is not None:
        level, text = "watch", _laid_on_flat(flat)
    elif one_hue:
        level, text = "watch", _hardly_differs(case)
    elif level != "holds":
        text = _one_and_the_same(case, kind, level)
    elif greens.evenness < MANY_GREENS and greens.hue_spread >= WARM_TO_COOL and _some_cool(case):
        text = "no one green runs through it: its greens vary from warm to cool"
    else:
        return None  # of greens that are neither one nor many a reader says nothing
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=greens.evenness,
        figure_text=f"{percent(greens.evenness)} of the green within one step of its commonest"
        + (f"; its hues spread over {greens.hue_spread:.0f}°" if one_hue else "")
        + (f"; {percent(float(flat.mean()))} of the picture in flat green" if flat is not None else ""),
        norm=f"its spread of hues {case.standing('greens.hue_spread')}"
        if one_hue
        else f"{case.standing('greens.evenness')} with 8 % of green or more",
        percentile=case.percentile("greens.evenness"),
    )


def _laid_on_flat(flat: NDArray[np.bool_]) -> str:
    """That leaves and grass are laid on flat, where the map has it."""
    place = lying(flat)
    return (
        f"some of the green{place}{',' if place else ''} is laid on flat: one tone, with hardly any light or shade in it. "
        "Give its shapes a light side and a shaded one, yellower where the sun falls and greyer in the shade"
    )


def _hardly_differs(case: Case) -> str:
    """That much strong green is of one hue."""
    return (
        f"the strong green{_where_strong(case)} hardly differs in hue: lighter or darker, it stays one green. "
        "Let some of it go to olive or straw, and some to a cooler, greyer green"
    )


def _one_and_the_same(case: Case, kind: Kind, level: Level) -> str:
    """That the green is one tone, all of it or one large field."""
    greens = case.measures.greens
    one = (
        f"{share_words(greens.evenness)} of the green is one and the same {_named(greens)}"
        if kind.by_limits(greens.evenness) != "holds"
        else f"{about(greens.one_tone_share)} of the picture{_where_one_tone(case)} is one and the same green, among others "
        "that vary"
    )
    return f"{one}. " + (
        "A step yellower where the sun falls, and greyer in the shade, would tell the near from the far"
        if level == "watch"
        else "Break it: yellower and lighter where the sun falls, bluer and greyer in the shade and with distance"
    )


def _named(greens: Greens) -> str:
    """What kind of green it is all of; one that is cool by its hue alone is a plain green to a reader."""
    word = green_word(greens.mean_hue)
    return "green" if word == "cool green" else word


def _where_one_tone(case: Case) -> str:
    """Where the green lies that is brushed out, set off by commas; empty where it lies about everywhere."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    patches = gaussian(lab, PATCH * max(lab.shape[:2]), truncate=3)
    green = land_greens_map(case.picture, case.measures.parts)
    commonest = np.array(case.measures.greens.commonest, dtype=np.float32)
    green[green] = delta_e_2000(commonest, colours_in(patches, green)) <= ONE_TONE
    place = lying(green)
    return f"{place}," if place else ""


def _some_cool(case: Case) -> bool:
    """Whether enough of the greens are cool for them to vary from warm to cool: olives alone vary less to the eye."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    green = land_greens_map(case.picture, case.measures.parts)
    return bool(green.any()) and float((hue_of(lab[..., 1], lab[..., 2])[green] >= COOL_GREEN).mean()) >= SOME_COOL


def evenness_gone(measures: Measures) -> str:
    """Why even greens no longer matter."""
    greens = measures.greens
    even = not greens.evenness <= EVEN_WATCH or _one_tone(greens) or _one_hue(greens)
    return little_green_left(greens) if greens.area_share < MATTERS and even else ""
