"""Whether anything answers the green, which colour is loudest, whether far land lies back, and what hues carry it."""

import numpy as np

from critique.advice.fault_limits import judge_dead_colour, judge_loudest
from critique.advice.finding import Finding, Level
from critique.advice.green_findings import (
    AREA_WATCH,
    BEYOND_WATCH,
    CHROMA_WATCH,
    little_green_left,
)
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.families import assign_families
from critique.measures.far_warmth import comes_forward
from critique.measures.land_greens import MAP_LONG_EDGE
from critique.measures.measure import Measures
from critique.measures.values import TWIN_VALUE
from critique.perception.hue import RELIEF, HueBand
from critique.perception.names import colour_name
from critique.picture.picture import lab_at
from critique.picture.places import place_of, spot
from critique.words.aloud import green_word, sentence
from critique.words.figures import percent
from critique.words.hues import hue_word
from critique.words.lists import listed

MUCH_GREEN = 0.2  # of the picture: from here on the green wants an answer
WANTS_RELIEF = 18.0  # median C* of much green, below which it is quiet enough to stand alone
FIELD = 0.35  # of the picture: less green than that has neighbours enough, however strong
RELIEF_WATCH = 0.015  # of the chroma; heavy or strong greens with less than this have nothing to rest on; our choice
OWN_RED = HueBand(
    "own red", RELIEF.start, 52.0, 20.0
)  # plainly red or violet: a brown answers green, but nobody sees it
OWN_AREA = 0.0005  # of the picture from which it is its own to repeat
NEUTRAL = 8.0  # C*: a family below it is a grey
COLOURLESS = 3.0  # C* of the strongest spot below which there is no colour at all
# Far land against near, from which a difference is told; common practice, no source.
LIGHTER, QUIETER, COOLER, CALMER = 0.4, 2.0, 3.0, 0.3  # values, C*, b*, values of contrast


def relief(case: Case, kind: Kind) -> Finding | None:
    """Whether anything answers the green, where there is much of it."""
    greens = case.measures.greens
    if greens.area_share < MUCH_GREEN:
        return None
    heavy = (
        (greens.area_share > AREA_WATCH and greens.median_chroma >= WANTS_RELIEF)
        or greens.median_chroma > CHROMA_WATCH
        or (greens.beyond_leaf_share > BEYOND_WATCH and greens.area_share > FIELD)
    )
    bare = kind.by_limits(greens.relief_share) != "holds"
    own = _own_relief(case) if bare and heavy else ""
    level: Level = "watch" if bare and heavy else "holds"
    if bare and not heavy:
        text = "hardly any red or violet answers the green, and it is quiet enough to do without"
    elif level == "holds":
        answer = _warmest(case)
        where = f", most of it {answer}" if answer else ""
        text = (
            f"what stands opposite the green holds {percent(greens.relief_share)} of the colour and relieves it{where}"
        )
    elif own:
        text = (
            f"only {own} answers the green, with {_little(greens.relief_share)} of the colour. Let it grow a little, or "
            "repeat it once where the eye settles"
        )
    else:
        text = (
            f"little answers the green: what stands opposite it, from violet to red, holds {_little(greens.relief_share)} of the colour. Red earth, a dry brown or violet in the shadows would let "
            f"the {green_word(greens.mean_hue)} rest, and a small touch is enough"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=greens.relief_share,
        figure_text=f"{percent(greens.relief_share)} of the chroma from violet-blue to red",
        norm=f"{case.standing('greens.relief_share')}; judged where green covers a fifth or more",
        percentile=case.percentile("greens.relief_share"),
    )


def relief_gone(measures: Measures) -> str:
    """Why nothing need answer the green any longer."""
    greens = measures.greens
    gone = greens.area_share < MUCH_GREEN and greens.relief_share < RELIEF_WATCH
    return little_green_left(greens) if gone else ""


def neighbours(case: Case, kind: Kind) -> Finding | None:
    """Whether the green parts from the colour that it touches most by value too."""
    near, families = case.measures.neighbours, case.measures.families
    if near.green is None or near.other is None or near.value_difference is None:
        return None
    green, other = families[near.green], families[near.other]
    apart = abs(near.value_difference)
    level: Level = kind.by_limits(apart)
    labels = assign_families(lab_at(case.picture, MAP_LONG_EDGE), families)
    where = place_of(labels == near.green)
    if level == "watch":
        text = (
            f"the {green.name} {where} and the {other.name} that it touches are one value: they part by hue alone, and "
            "run together across a room. For mist and distance that is right; otherwise take one of them a value up or down"
        )
    else:
        side = "darker" if near.value_difference < 0 else "lighter"
        text = (
            f"the {green.name} {where} is {_steps(apart)} {side} than the {other.name} that it touches, so the two part "
            "without their hues"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=apart,
        figure_text=f"{_steps(apart)} between {green.name} and {other.name}",
        norm=f"below {TWIN_VALUE} two colours print as one grey; common practice, no source",
    )


def neighbours_gone(measures: Measures) -> str:
    """Why the green has no neighbour to part from."""
    return "no green of any size meets a colour of another hue" if measures.neighbours.green is None else ""


def _own_relief(case: Case) -> str:
    """The red or violet that the picture has, however little, and where; empty when it has none to speak of."""
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    own = OWN_RED.contains(lab)
    if own.mean() < OWN_AREA:
        return ""
    return f"the {colour_name(np.median(lab[own], axis=0))} {place_of(own)}"


def _steps(values: float) -> str:
    return f"{values:.1f} values" if values > 1 else f"{values:.1f} of a value"


def _little(share: float) -> str:
    return "next to none" if share < 0.005 else f"only {percent(share)}"


def _warmest(case: Case) -> str:
    """Where the family that leans most to red lies, in words; empty when there is none."""
    families = case.measures.families
    red = [
        index for index, family in enumerate(families) if family.lch[1] >= NEUTRAL and not 60 <= family.lch[2] <= 281
    ]
    if not red:
        return ""
    index = max(red, key=lambda number: families[number].lch[1] * families[number].share)
    labels = assign_families(lab_at(case.picture, MAP_LONG_EDGE), families)
    return f"{families[index].name} {place_of(labels == index)}"


def loudest_colour(case: Case, kind: Kind) -> Finding | None:
    """The loudest colour, of whatever hue, and whether it is where the eye should be."""
    loudest, eye = case.measures.loudest, case.measures.eyepath
    focus = (eye.claimed[0].x, eye.claimed[0].y) if eye.claimed else None
    level = judge_loudest(loudest, kind.by_limits, focus=focus)
    if level == "holds":
        return None
    name, where = colour_name(np.array(loudest.lab)), place_of(loudest.mask)
    text = (
        f"one colour shouts: the {name} {where} ({_part(loudest.share)} of the picture), stronger than "
        f"{'any landscape here has' if level == 'rework' else 'landscapes have'} at that hue. Grey it with its complement or "
        "bring its neighbours toward it, and let it be strong in one small place only, where the eye should be"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=loudest.excess,
        figure_text=f"chroma {loudest.chroma:.0f}, {loudest.excess:.2f} times the most that landscapes reach there",
        norm=case.standing("loudest.excess"),
        percentile=case.percentile("loudest.excess"),
    )


def _part(share: float) -> str:
    return "under 1 %" if share < 0.01 else percent(share)


def dead_colour(case: Case, kind: Kind) -> Finding | None:
    """Whether it is grey all over."""
    loudest = case.measures.loudest
    level = judge_dead_colour(loudest, kind.by_limits)
    if level == "holds":
        return None
    if loudest.strongest < COLOURLESS:
        text = (
            "there is no colour in it: if it is a drawing or a grey study, judge its values alone; if it is a painting, "
            "photograph it in colour"
        )
        level = "watch"
    else:
        text = (
            "its colour is dead: everything is a grey, and nothing is left for the greys to be grey against. Let a warm "
            "and a cool speak in the greys, and one place have a colour of its own"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=loudest.strong,
        figure_text=f"the strongest tenth of it has chroma {loudest.strong:.0f}",
        norm=case.standing("loudest.strong"),
        percentile=case.percentile("loudest.strong"),
    )


def land_distance(case: Case, kind: Kind) -> Finding | None:
    """Whether the far land lies back."""
    coming = comes_forward(case.measures.far_warmth)
    if coming is not None:
        return _warm_horizon(case, kind, coming)
    land = case.measures.land_distance
    if not land.known:
        return None
    signs = {
        "lighter": land.lighter > LIGHTER,
        "quieter": land.quieter > QUIETER,
        "cooler": land.cooler > COOLER,
        "calmer": land.calmer > CALMER,
    }
    made = [word for word, so in signs.items() if so]
    if len(made) < 2:
        return None
    text = f"the far land lies back: it is {listed(made)} than the near, as air makes it"
    return kind.finding(
        level="holds",
        text=sentence(text),
        figure=land.cooler,
        figure_text=f"far against near: {land.lighter:+.1f} values, {-land.cooler:+.0f} in warmth".replace("-", "−"),
        norm=f"cooler {case.standing('land_distance.cooler')}; common practice, no source",
        percentile=case.percentile("land_distance.cooler"),
    )


def _warm_horizon(case: Case, kind: Kind, level: Level) -> Finding:
    warmth = case.measures.far_warmth
    text = (
        f"what lies at the horizon {spot(warmth.x, warmth.y)} is warmer and stronger in colour than the ground in front, so "
        "it comes forward. Cool and grey it a step, let its darks go toward the sky, and keep warm and strong colour for "
        "what is near"
    )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=warmth.far,
        figure_text=f"warmth {warmth.far:.0f} there, {warmth.near:.0f} in front, {warmth.beyond:.0f} beyond it".replace(
            "-", "−"
        ),
        norm="none of the 76 landscapes does so; common practice, no source",
    )


def run_of_colours(case: Case, kind: Kind) -> Finding | None:
    """Which hues carry the picture, how warm stands to cool, and whether two face each other."""
    found = case.measures.hue_peaks
    if found.temperature == "grey" or not found.peaks:
        return None
    hues = list(dict.fromkeys(hue_word(peak.hue) for peak in found.peaks))[:3]
    run = f"its colour gathers about {listed(hues)}, {_TEMPERATURES[found.temperature]}"
    if found.facing is not None:
        one, other = (hue_word(found.peaks[index].hue) for index in found.facing)
        if one != other:
            run += f"; {one} and {other} face each other as complements"
    variety = case.measures.variety
    return kind.finding(
        level="holds",
        text=sentence(run),
        figure=variety.effective_hues,
        figure_text=f"as varied as {variety.effective_hues:.0f} equal hues, {variety.names:.0f} named colours",
        norm=f"{case.standing('variety.effective_hues')}; such models know hues, not what is painted",
        percentile=case.percentile("variety.effective_hues"),
    )


_TEMPERATURES = {
    "warm": "almost all of it warm",
    "more warm": "more of it warm than cool",
    "in balance": "warm and cool in balance",
    "more cool": "more of it cool than warm",
    "cool": "almost all of it cool",
}
