"""Whether a picture's values reach far enough, gather into masses, and leave its darks open."""

import math
from collections.abc import Collection, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from critique.advice.colour_words import SOME_SKY
from critique.advice.fault_limits import (
    LOUD,
    TOLD_BY_COLOUR,
    judge_flecks,
    judge_scattered,
    patchy,
)
from critique.advice.finding import Finding
from critique.advice.grey_film import CLOSE, FILM, SAID_FIRST, lies_under_a_film, of_the_film
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.masses import where_scraps_lie
from critique.measures.values import Values, apply_plan, has_touches
from critique.picture.areas import area_of
from critique.picture.kept import kept
from critique.picture.picture import Picture
from critique.picture.places import disc, place_of, spot
from critique.words.aloud import sentence
from critique.words.figures import percent
from critique.words.lists import counted, listed

# Limits beside the landscapes' own percentiles (norms.csv).
# Values from the 5th to the 95th percentile of a picture: of 76 landscapes the least is 4.3. Of six pictures of 30 told below
# 4.6 a reader signed those that span 3.9 at most, and denied three of 4.2 to 4.4: a light sky over dark land carried.
RANGE_WATCH: float = 4.2
RANGE_REWORK: float = 3.2
PAINTED, BOTH = (0.8, 9.4), 0.3  # values that paint reaches; of the room at both ends, from which on both are to move
MORE_THAN_TWO = 2.5  # values lacking, from which a step or two is too little
ROOM, ENOUGH = 6.5, 5.0  # values from dark to light: nearly all that paint has; what 19 in 20 landscapes have
COLOUR_CARRIES = 30.0  # C* of the strongest tenth, from which colour does what close values leave undone; one in four
COLOUR_HELPS = 25.0  # C* of the same, from which it can be seen across a room at all; our choice
LIGHT_ENOUGH = 7.4  # values of the lights, below which two readers call them held back, however dark the darks
# Values from the middle one to the last fiftieth at the end that is missing: of eight pictures with close values the three
# in which two readers saw accents enough have 3.4 and more, those that they found flat 3.0 at most, flattened ones 2.3.
ACCENTS = 3.2
# Value of the darks above which readers deny full darks, however wide the range: of 70 pictures told to have room for both
# ends they did at 3.3 and one at 2.8, and nobody up to 2.7.
DARK_ENOUGH = 2.75
FULL_DARK, FULL_LIGHT = 1.3, 8.9  # values that a reader takes for black and for white
AN_ACCENT = 0.45  # values by which the darkest fiftieth lies below the darkest twentieth; our choice
NEAR_BLACK = 2.6  # value of the darkest fiftieth, from which two readers called shadows near black
# Values of the lightest and the darkest quarter, from which there are lights and darks.
LIGHTS_TOO, DARKS_TOO = 5.5, 5.0
GARISH_GREEN = 0.02  # of the picture beyond the leaf limit: strength that carries nothing
SMALL_BIAS, SMALL_EVERYWHERE, SMALL_SKY = -2.81, 1.02, -4.35  # fitted to what two readings criticise in 76 landscapes
SMALL_TOLD = 0.45  # chance from which a remark is made: of eight that two more readers judged, those below were false
GATHERED = 0.55  # of the light and dark in big shapes; a picture with less is one of many small shapes to the eye
FILLED = 0.65  # of the picture that its largest shapes cover: then nobody sees small ones first
# Times as strong as in the other half: then small lights and darks are told to lie there; our choice.
HALF_EXCEEDS = 1.5
TOLD = 0.1  # of the picture: a mass smaller than this isn't one of the big shapes
MOST_TOLD = 3
AT_ITS_MIDDLE, HOLDS_ITS_MIDDLE = 0.05, 0.5  # of the long edge about its centre, and the part of that in the shape
BROKEN = 0.15  # of the picture: so many darks in pieces are one shape to the eye that squints, a wood with snow on it
MOST_OF_TONE = 0.6  # of all darks, that the largest piece is told for them
SMALL = 0.03  # of the picture: a dark or a light so large is seen, where there is no larger one
ALONE = 0.5  # of the largest small dark or light: a second one as large is named as little as it
NOTAN = ("dark", "light")
TONES = ("dark", "middle", "light")  # of the plan in three values, as its plate shows them
BLAMES = {"bare_sky": "light", "closed_darks": "dark"}  # which tone a finding speaks against


def value_range(case: Case, kind: Kind) -> Finding:
    """Whether the values reach far enough."""
    values = case.measures.values
    level = kind.by_limits(values.range)
    film = level == "holds" and lies_under_a_film(case)
    coloured = level == "watch" and _lives_by_colour(case)  # with hardly any values no colour can do it
    if coloured or _has_accents(values):
        level = "holds"
    elif level == "rework" and values.key != "middle":
        level = "watch"  # mist and dusk are close in value on purpose: a high or a low key is a choice, not a fault
    if film:
        level = "watch"
    low, high = values.percentiles["p5"], values.percentiles["p95"]
    key = f"{values.key} key"
    if film:
        text = of_the_film(case)
    elif coloured:
        text = f"the values stay close, from {low:.1f} to {high:.1f}, in a {key}, and strong colours help it carry across a room"
    elif level == "holds":
        touches = _touches_told(values) if values.range < ROOM else ""
        runs = (
            f"most values lie between {low:.1f} and {high:.1f}"
            if touches
            else f"the values run from {low:.1f} to {high:.1f}"
        )
        text = f"{runs}{touches}, {_key_told(values)}"
    elif values.range < 0.5:
        text = "it is one value all over: there is no light and dark yet to judge"
    else:
        carries = case.measures.loudest.strong >= COLOUR_HELPS
        left = "its colours must carry it across a room" if carries else "light and dark will do little across a room"
        text = (
            f"nearly all its values lie between {low:.1f} and {high:.1f}: {left}. If it isn't mist, haze or dusk "
            f"that you were after, push {_how_far(case)}"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=values.range,
        figure_text=f"{values.range:.1f} of 10 values from dark to light",
        norm=f"{case.standing('values.range')}; nine in ten reach {case.norms.at('values.range', 10):.1f}",
        percentile=case.percentile("values.range"),
        said_first=SAID_FIRST if film else None,
        limit=CLOSE if film else None,
        spoken=FILM if film else None,
    )


def _how_far(case: Case) -> str:
    """Which ends are to go how far until the values reach as far as those of nine landscapes in ten."""
    values = case.measures.values
    lacking = case.norms.at("values.range", 10) - values.range
    steps = "a step or two" if lacking < MORE_THAN_TWO else f"some {counted(round(lacking))} steps"
    room = values.percentiles["p5"] - PAINTED[0], PAINTED[1] - values.percentiles["p95"]
    if min(room) >= BOTH * sum(room):
        return f"the darks and the lights apart, {steps} in all"
    return f"the {_end_missing(values)} {steps} further"


def _end_missing(values: Values) -> str:
    return "darks" if values.percentiles["p5"] > 10 - values.percentiles["p95"] else "lights"


def _has_accents(values: Values) -> bool:
    """Whether close values are held by accents at the end that is missing: dark firs in snow, light gaps in a wood."""
    return _accents_of(values, _end_missing(values)) >= ACCENTS


def _accents_of(values: Values, end: str) -> float:
    """Values from the middle one to the last fiftieth of the darks or the lights."""
    ranks = values.percentiles
    return ranks["p50"] - ranks["p2"] if end == "darks" else ranks["p98"] - ranks["p50"]


def _lives_by_colour(case: Case) -> bool:
    """Whether colour does what close values leave undone: strong, and nowhere garish."""
    loudest, greens = case.measures.loudest, case.measures.greens
    garish = loudest.excess >= (LOUD.watch or 1.0) or greens.beyond_leaf_share >= GARISH_GREEN
    return loudest.strong >= COLOUR_CARRIES and not garish


def _touches_told(values: Values) -> str:
    told = [f"as dark as {values.darkest:.1f}"] if has_touches(values, "darks") else []
    told += [f"as light as {values.lightest:.1f}"] if has_touches(values, "lights") else []
    return f", with touches {listed(told)}" if told else ""


def picture_in_key(values: Values) -> str:
    """What a picture is called by its values: one with many lights isn't dark, whatever its middle."""
    if _mixed(values):
        return f"A picture more {'dark than light' if values.key == 'low' else 'light than dark'}"
    return {"high": "A light picture", "middle": "A picture in the middle key", "low": "A dark picture"}[values.key]


def _mixed(values: Values) -> bool:
    """Whether the middle value says dark or light and the eye, that sees both, does not."""
    low, high = (values.percentiles[rank] for rank in ("p25", "p75"))
    return (values.key == "low" and high >= LIGHTS_TOO) or (values.key == "high" and low <= DARKS_TOO)


def _key_told(values: Values) -> str:
    """The key, and what that does for the picture."""
    if not _mixed(values):
        return f"in a {values.key} key: {_key_remark(values.key, values)}"
    return f"{picture_in_key(values).removeprefix('A picture ')}: {_key_remark('middle', values)}"


def _key_remark(key: str, values: Values) -> str:
    spread, low, high = values.range, values.percentiles["p5"], values.percentiles["p95"]
    if key == "low":
        some = spread >= ENOUGH or _accents_of(values, "lights") >= ACCENTS or has_touches(values, "lights")
        return "a dark picture that keeps some lights" if some else "a dark and close picture"
    if key == "high":
        enough = spread >= ENOUGH or _accents_of(values, "darks") >= ACCENTS
        return "a light picture with darks enough to hold it" if enough else "a light and airy picture"
    if spread >= ROOM and high >= LIGHT_ENOUGH and low <= DARK_ENOUGH:
        return "room for full darks and full lights"
    dark_touches, light_touches = (has_touches(values, end) for end in ("darks", "lights"))
    if spread < ENOUGH and (dark_touches or light_touches):
        return "close for the most part, and its accents open it"
    if spread < ENOUGH:
        return "between the ends, and that is a choice"  # calm it may be or not: edges and colour decide that too
    if low <= FULL_DARK:
        return f"full darks, and lights that are {'kept for accents' if light_touches else 'held back'}"
    if high >= FULL_LIGHT:
        return f"full lights, and darks that are {'kept for accents' if dark_touches else 'held back'}"
    darker = values.percentiles["p2"]
    return (
        "its full darks kept for accents"
        if darker <= NEAR_BLACK and low - darker >= AN_ACCENT
        else "short of both ends, and far enough"
    )


def masses(case: Case, kind: Kind) -> Finding:
    """Whether the values gather into masses."""
    found = case.measures.masses
    level = judge_scattered(found)
    if level == "holds" and _many_small(case):
        level = "watch"
        text = (
            f"{_side_by_side(case)}; a few of them joined would give the eye a quiet place, and the subject more weight"
        )
    elif level == "holds":
        shapes = _shapes(case)
        big = [told for _, told in shapes]
        if len(big) > 1 and found.kept < GATHERED and sum(share for share, _ in shapes) >= FILLED:
            text = f"squint, and among the largest shapes that form are {listed(big)}"
        elif len(big) > 1 and found.kept < GATHERED:
            text = f"squint, and much of the light and dark stays in small shapes; among the largest that form are {listed(big)}"
        elif len(big) > 1:
            text = f"squint, and big shapes form, {listed(big)} among them"
        elif big:
            text = f"squint, and one big shape forms, {big[0]}; the rest is small beside it"
        else:
            text = "squint, and it is made of many small shapes, which still keep to a few values"
    elif level == "watch" and patchy(found):
        text = (
            "its big shapes are there, but smaller lights and darks lie all over them, and hardly a place is quiet. Soften "
            "those that tell nothing, and keep the few that make the picture"
        )
    elif level == "watch":
        half = _half_with_scraps(case)
        text = (
            f"squint, and many small lights and darks break into the larger shapes{f', most of all {half}' if half else ''}. "
            "Join some darks to their neighbours, and some lights, until the larger shapes are seen first"
        )
    else:
        text = (
            f"squint, and the lights and darks don't gather: small pieces, {found.scraps / 10:.1f} values from the shapes "
            "that they lie in, break them up. Join neighbouring darks and neighbouring lights until three or four big "
            "shapes carry it, then put back only the marks that count"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=found.kept,
        figure_text=f"big shapes hold {percent(found.kept)} of the light and dark; small marks differ from them by "
        f"{found.scraps / 10:.1f} values",
        norm=case.standing("masses.kept"),
        percentile=case.percentile("masses.kept"),
    )


def _half_with_scraps(case: Case) -> str:
    """The half of the picture in which small lights and darks clearly exceed those of the other; empty where none does."""
    scraps = where_scraps_lie(case.picture)
    height, width = scraps.shape
    halves = {
        "in the upper half": (scraps[: height // 2], scraps[height // 2 :]),
        "in the left half": (scraps[:, : width // 2], scraps[:, width // 2 :]),
    }
    halves |= {
        "in the lower half": halves["in the upper half"][::-1],
        "in the right half": halves["in the left half"][::-1],
    }
    stronger = {half: float(here.mean() / max(there.mean(), 1e-6)) for half, (here, there) in halves.items()}
    half = max(stronger, key=lambda name: stronger[name])
    return half if stronger[half] >= HALF_EXCEEDS**2 else ""


def small_lights(case: Case, kind: Kind) -> Finding | None:
    """Whether small lights and darks lie thick somewhere, where nothing stronger is said of them: a remark."""
    found, measures = case.measures.masses, case.measures
    by_value_alone = judge_scattered(
        replace(found, colour_apart=0.0)
    )  # where colour tells broken shapes apart, no word
    if (
        small_lights_chance(case) < SMALL_TOLD
        or by_value_alone != "holds"
        or _many_small(case)
        or judge_flecks(measures.detail) != "holds"
    ):
        return None
    text = f"{_side_by_side(case)}; a few of them joined would give the eye rest, and the subject more weight"
    return kind.finding(
        level="holds",  # a remark: what is broken and what is rich are near to each other
        text=sentence(text),
        figure=found.scraps_everywhere,
        figure_text=f"even in the quietest tenth small marks differ by {found.scraps_everywhere / 10:.1f} values",
        norm="readers spoke of such marks in two of three paintings with as many",
    )


def _many_small(case: Case) -> bool:
    """Whether a reader would speak of small lights and darks, and no colour tells large shapes apart either.

    Of 84 pictures that two readers noted ten are so: in eight it was what they would mend first, in a ninth they found it
    true. Of 76 paintings one is.
    """
    return small_lights_chance(case) >= SMALL_TOLD and case.measures.masses.colour_apart < TOLD_BY_COLOUR


def _side_by_side(case: Case) -> str:
    where = "the land" if case.measures.parts.sky_share >= SOME_SKY else "it"
    return f"many small lights and darks lie side by side over {where}"


def small_lights_chance(case: Case) -> float:
    """How likely a reader is to speak of small lights and darks: by how far they leave no place quiet, sky apart."""
    told = SMALL_BIAS + SMALL_EVERYWHERE * case.measures.masses.scraps_everywhere
    return 1 / (1 + math.exp(-told - SMALL_SKY * case.measures.parts.sky_share))


def big_shapes(case: Case, findings: Sequence[Finding]) -> list[str]:
    """The big shapes that a squint shows where the masses hold and gather, such as "a light one along the top (31 %)".

    A sky that is told bare, or darks that are told closed, are nothing to build on.
    """
    holds = any(finding.kind == "value_masses" and finding.level == "holds" for finding in findings)
    if not holds or case.measures.masses.kept < GATHERED:
        return []
    blamed = {BLAMES[finding.kind] for finding in findings if finding.level != "holds" and finding.kind in BLAMES}
    return [told for share, told in _shapes(case, blamed) if share >= TOLD]


def _shapes(case: Case, blamed: Collection[str] = ()) -> list[tuple[float, str]]:
    """The big shapes of the plan in three values; of that in two where three split what two hold together."""
    shapes = _big_shapes(case)
    if sum(share >= TOLD for share, _ in shapes) >= 2:
        return _big_shapes(case, blamed=blamed) if blamed else shapes
    tones = max(TONES, NOTAN, key=lambda tones: sum(share >= TOLD for share, _ in _big_shapes(case, tones)))
    return _big_shapes(case, tones, blamed=blamed)


def _big_shapes(case: Case, tones: tuple[str, ...] = TONES, *, blamed: Collection[str] = ()) -> list[tuple[float, str]]:
    """The largest connected shapes of a value plan: share, and such as "a dark one in the left half (31 %)".

    The largest dark and the largest light are among those told; where neither is large, one that is seen comes last.
    Of tones that are ``blamed`` none is.
    """
    large: dict[str, list[tuple[float, str]]] = {}
    small: list[tuple[float, str]] = []
    for tone, name in enumerate(tones):
        if name in blamed:
            continue
        pieces, shares = _pieces(case.picture, case.measures.values, len(tones))[tone]
        most, whole = float(shares.max(initial=0.0)), float(shares.sum())
        if name == "dark" and most < TOLD and whole >= BROKEN and most < MOST_OF_TONE * whole:
            place = place_of(pieces > 0)
            told_by_thirds = place.column == "wide" and place.row not in ("all", "ends")
            where = area_of(pieces > 0) or (place.words if told_by_thirds else "")
            if where:  # firs with snow on them are one dark wood
                large[name] = [(whole, f"a broken {name} one {where} ({percent(whole)})")]
            continue
        for index in np.flatnonzero(shares >= (TOLD if shares.max(initial=0.0) >= TOLD else SMALL)):
            shape = pieces == index + 1
            where = area_of(shape) or _middle(shape, winds=name == "middle")
            share = float(shares[index])
            told = (share, f"a {name} one {where} ({percent(share)})")
            if share >= TOLD:
                large.setdefault(name, []).append(told)
            elif name != "middle":
                small.append((share, f"a smaller {name} one {where} ({percent(share)})"))
    first = [max(large[name]) for name in NOTAN if name in large]
    rest = sorted((told for shapes in large.values() for told in shapes if told not in first), reverse=True)
    small = sorted(small, reverse=True)
    if len(small) > 1 and small[1][0] > ALONE * small[0][0]:
        small = []  # of several alike none is the one to name
    return [*sorted([*first, *rest[: MOST_TOLD - len(first)]], reverse=True), *small[:1]]


@kept
def _pieces(picture: Picture, values: Values, tones: int) -> tuple[tuple[NDArray[np.intp], NDArray[np.float64]], ...]:
    """The connected pieces of each tone of a value plan, numbered from 1 (height, width), and their shares (pieces,)."""
    from scipy.ndimage import label

    plan = apply_plan(values.squinted, values.plan(tones))
    pieces = [label(plan == tone) for tone in range(tones)]
    return tuple((each, np.bincount(each.ravel(), minlength=number + 1)[1:] / plan.size) for each, number in pieces)


def _middle(shape: NDArray[np.bool_], *, winds: bool) -> str:
    """Where a shape lies that fills no area: along an edge, between the others, about its middle, or on both sides of it."""
    place = place_of(shape)
    if winds:
        along = place.column == "wide" and place.row in ("top", "bottom")
        in_one = place.column in ("left", "centre", "right") and place.row not in ("all", "ends")
        return place.words if along or in_one else "that winds between the others"
    y, x = (float(at.mean() + 0.5) / size for at, size in zip(np.nonzero(shape), shape.shape, strict=True))
    inside = bool(shape[disc(shape.shape, x, y, AT_ITS_MIDDLE)].mean() >= HOLDS_ITS_MIDDLE)
    if inside:
        return f"centred {spot(x, y)}"
    return "that winds between the others" if place.everywhere else place.words
