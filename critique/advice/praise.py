"""What works best in a picture, told first: what stands out most among landscapes, and against no finding."""

from collections.abc import Callable, Collection
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_findings import names_about
from critique.advice.judging import Case
from critique.advice.value_findings import RANGE_WATCH
from critique.measures.division_judging import STRAIGHT, halving_fault
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.measures.values import apply_plan
from critique.picture.areas import area_of
from critique.picture.picture import lab_at
from critique.picture.places import offsets, spot
from critique.words.aloud import strength_word

GATHERED = 0.6  # of the light and dark in big shapes, from which they are praised
CONTRAST = 3.0  # values between the dark and the light shapes, from which one stands against the other
WIDE_DARK, FEW_LIGHTS = 0.6, 0.25  # of the picture: lights so few in so much dark glow
IN_SKY = 0.6  # of the light that lies in a sure sky, from which it is called the sky's
SURE_SKY = 0.6
WIDE_SKY, LOW_LINE, HIGH_LINE = 0.45, 0.6, 0.3  # of the picture, and of its height
SUBJECT_VIEW = 200  # px along the long edge
SUBJECT, AROUND = 0.05, (0.08, 0.2)  # of the long edge from the focal place: what stands there, and what is around it
# Values by which the lights of it are lighter, or its darks darker, than the middle of what is around, and what that is.
SHINES, ALL_OF_IT, SHADED = 2.8, 0.3, 4.8
STANDS, MIXED, LIT = 3.5, 2.2, 4.6
NOT_ALL = 0.9  # of the picture: with more there is no land to the sky
LEADING = 2  # long lines that lead to the focal place, from which it is said
WORTH = 45.0  # of a second reason's weight: one that stands out less isn't told
COLOURED_LIGHT = 14.0  # C* of the light shapes, from which they are called warm or blue
ACCENT, AT_THE_EYE, RED = 0.02, 0.15, (330.0, 55.0)  # of the picture and of its sides; degrees of hue
ACCENT_CHROMA = 28.0  # C*
ANSWERED = (0.25, 0.8)  # of the chroma that is warm: between them warm and cool answer each other
DEEP = 3  # signs of distance of four
QUIET_CHROMA = 22.0  # median C* of the greens up to which they are praised for their quiet
ENOUGH_GREEN = 0.15  # of the picture, from which its greens' quiet is worth a word
TOLD = 2  # reasons at most
# What a teacher names first, in percentiles added: light against dark is named in three of five of the 58 pictures noted
# by two machine readings, distance and the width of a sky in one of six, colour in one of eight, greens never.
FIRST = {
    "masses": 45.0,
    "distance": 15.0,
    "sky": 5.0,
    "lines": 5.0,
    "subject": 15.0,
    "accent": 0.0,
    "colour": 0.0,
    "range": -50.0,
    "greens": -60.0,
}


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a picture holds: the words, and how far it stands out (percentile among landscapes, more told first)."""

    text: str
    weight: float


def what_works(case: Case, open_kinds: Collection[str]) -> list[str]:
    """The best of it, at most two reasons; ``open_kinds`` are the ids of what is criticised."""
    asked: tuple[tuple[str, Callable[[Case], Reason | None], set[str]], ...] = (
        ("masses", _masses, {"value_masses"}),
        ("distance", _distance, {"land_distance"}),
        ("sky", _sky, {"halving"}),
        ("lines", _lines, set()),
        ("subject", _subject, {"competing_lights", "near_edge", "bulls_eye", "edge_pull"}),
        ("accent", _accent, {"loudest_colour"}),
        ("colour", _colour, {"dead_colour", "loudest_colour", "colour_cast", "green_cast"}),
        ("range", _range, {"value_range"}),
        ("greens", _greens, {"green_strength", "green_area", "green_evenness", "green_cast"}),
    )
    found = [(name, ask(case)) for name, ask, against in asked if not against & set(open_kinds)]
    reasons = [Reason(reason.text, reason.weight + FIRST[name]) for name, reason in found if reason is not None]
    reasons.sort(key=lambda reason: -reason.weight)
    return [reason.text for place, reason in enumerate(reasons[:TOLD]) if place == 0 or reason.weight >= WORTH]


def _rank(case: Case, figure: str, otherwise: float = 50.0) -> float:
    rank = case.percentile(figure)
    return otherwise if rank is None else rank


def _masses(case: Case) -> Reason | None:
    """The dark shapes against the light ones."""
    kept = case.measures.masses.kept
    if kept < GATHERED:
        return None
    values = case.measures.values
    tones = apply_plan(values.squinted, values.plan(3))
    dark, light = tones == 0, tones == 2
    weight = (_rank(case, "masses.kept") + _rank(case, "values.range")) / 2
    if not dark.any() or not light.any():
        return Reason("a few big shapes of light and dark carry it", weight)
    apart = float(values.squinted[light].mean() - values.squinted[dark].mean()) / 10
    of_dark, of_light = area_of(dark), area_of(light)
    if apart < CONTRAST or not of_light or RANGE_WATCH > values.range:
        return Reason("a few big shapes of light and dark carry it", weight)
    what = _light(case, light)
    if dark.mean() >= WIDE_DARK and light.mean() <= FEW_LIGHTS:
        return Reason(f"the {what} {of_light} glows in a wide dark", weight)
    if of_dark:
        return Reason(f"the dark shapes {of_dark} stand against the {what} {of_light}", weight)
    return Reason(f"the darks stand out in big shapes against the {what} {of_light}", weight)


def _light(case: Case, light: NDArray[np.bool_]) -> str:
    """What the light shapes are called: the sky's light, warm or blue."""
    lab = lab_at(case.picture, max(light.shape))[: light.shape[0], : light.shape[1]]
    a, b = (float(lab[light[: lab.shape[0], : lab.shape[1]]][:, channel].mean()) for channel in (1, 2))
    tint = ""
    if np.hypot(a, b) >= COLOURED_LIGHT:
        tint = "warm " if b > 0 and b > -a else "blue " if b < 0 else ""
    parts = case.measures.parts
    sky = parts.mask("sky")
    rows = np.arange(light.shape[0]) * sky.shape[0] // light.shape[0]
    columns = np.arange(light.shape[1]) * sky.shape[1] // light.shape[1]
    in_sky = float(sky[rows][:, columns][light].mean())
    return f"{tint}light of the sky" if parts.sky_sureness >= SURE_SKY and in_sky >= IN_SKY else f"{tint}light"


def _distance(case: Case) -> Reason | None:
    """Far land that lies back."""
    land = case.measures.land_distance
    if not land.known:
        return None
    signs = (land.lighter > 0.8, land.quieter > 2.0, land.cooler > 3.0, land.calmer > 0.3)
    if sum(signs) < DEEP:
        return None
    ranks = [_rank(case, f"land_distance.{name}") for name in ("lighter", "cooler", "calmer")]
    return Reason("the distance lies far back, lighter and quieter than the ground in front", float(np.mean(ranks)))


def _sky(case: Case) -> Reason | None:
    """A wide sky, or a high line that gives the ground the room."""
    division, parts = case.measures.division, case.measures.parts
    if case.measures.values.range < CONTRAST:
        return None
    if parts.sky_sureness >= SURE_SKY and WIDE_SKY <= parts.sky_share <= NOT_ALL:
        line = "over a low line " if _plain_line(case) and division.height >= LOW_LINE else ""
        return Reason(f"the wide sky {line}gives it air", _rank(case, "parts.sky_share"))
    if _plain_line(case) and division.height <= HIGH_LINE:
        return Reason("the high line gives the ground the room", 100 - _rank(case, "parts.sky_share"))
    return None


def _plain_line(case: Case) -> bool:
    division = case.measures.division
    return division.present and division.straightness >= STRAIGHT and halving_fault(division) is None


def _lines(case: Case) -> Reason | None:
    """Long lines that lead to the focal place."""
    eye = case.measures.eyepath
    if not eye.claimed or eye.lines_toward < LEADING or eye.lines_out >= eye.lines_toward:
        return None
    first = eye.claimed[0]
    return Reason(f"long lines lead {spot(first.x, first.y)}, where the eye settles", 50.0 + 10 * eye.lines_toward)


def _subject(case: Case) -> Reason | None:
    """A light out of the dark, or a dark shape on the light, where the eye settles."""
    eye = case.measures.eyepath
    if not eye.claimed:
        return None
    first = eye.claimed[0]
    value = lab_at(case.picture, SUBJECT_VIEW)[..., 0] / 10
    down, across = offsets(value.shape, first.x, first.y)
    away = np.hypot(down, across) / max(value.shape)
    darkest, lightest = (float(rank) for rank in np.percentile(value[away <= SUBJECT], (15, 85)))
    around = float(np.median(value[(away > AROUND[0]) & (away <= AROUND[1])]))
    where = spot(first.x, first.y)
    if lightest - around >= SHINES and darkest >= around - ALL_OF_IT and around <= SHADED:
        return Reason(f"a light {where} shines out of the darker shapes around it", 40 + 10 * (lightest - around))
    if around - darkest >= STANDS and lightest <= around + MIXED and around >= LIT:
        return Reason(f"a dark shape {where} stands out against the light around it", 40 + 10 * (around - darkest))
    return None


def _accent(case: Case) -> Reason | None:
    """One small red where the eye settles."""
    loudest, eye = case.measures.loudest, case.measures.eyepath
    red = loudest.hue >= RED[0] or loudest.hue <= RED[1]
    if not (red and eye.claimed and 0 < loudest.share <= ACCENT and loudest.chroma >= ACCENT_CHROMA):
        return None
    first = eye.claimed[0]
    if np.hypot(loudest.x - first.x, loudest.y - first.y) > AT_THE_EYE:
        return None
    return Reason(f"its one small red sits {spot(first.x, first.y)}, where the eye settles", 75.0)


def _colour(case: Case) -> Reason | None:
    """Warm and cool that answer each other."""
    peaks = case.measures.hue_peaks
    if peaks.facing is None or not ANSWERED[0] <= peaks.warm_share <= ANSWERED[1]:
        return None
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    warm, cool = names_about(lab, [peaks.peaks[index].hue for index in peaks.facing])
    return Reason(f"{warm} and {cool} answer each other", 100 - _rank(case, "harmony.warm_share"))


def _range(case: Case) -> Reason | None:
    values = case.measures.values
    low, high = values.percentiles["p5"], values.percentiles["p95"]
    rank = _rank(case, "values.range")
    return Reason(f"its values reach from {low:.1f} to {high:.1f}", rank) if rank >= 50 else None


def _greens(case: Case) -> Reason | None:
    greens = case.measures.greens
    if max(greens.area_share, case.measures.reads_as_green.share) < ENOUGH_GREEN:
        return None
    if not greens.median_chroma <= QUIET_CHROMA:
        return None
    return Reason(
        f"its greens stay {strength_word(greens.median_chroma)}",
        100 - _rank(case, "greens.median_chroma"),
    )
