"""Whether anything answers the green, whether the colours keep together, and of what kind the greens are."""

import numpy as np

from critique.advice.finding import Finding, Level
from critique.advice.green_findings import (
    AREA_WATCH,
    BEYOND_WATCH,
    CHROMA_WATCH,
    GREYED,
    MAP_LONG_EDGE,
    little_green_left,
)
from critique.advice.judging import Case
from critique.advice.kind import Kind
from critique.measures.families import Family, assign_families
from critique.measures.green_kinds import STEP_HUE
from critique.measures.harmony import WARM
from critique.measures.measure import Measures
from critique.measures.values import TWIN_VALUE
from critique.perception.hue import RELIEF, HueBand, turn
from critique.perception.names import colour_name
from critique.picture.picture import lab_at
from critique.picture.places import place_of, spot
from critique.words.aloud import green_word, percent, sentence
from critique.words.lists import listed

MUCH_GREEN = 0.2  # of the picture: from here on the green wants an answer
RELIEF_WATCH = 0.015  # of the chroma; heavy or strong greens with less than this have nothing to rest on; our choice
OWN_RED = HueBand(
    "own red", RELIEF.start, 52.0, 20.0
)  # plainly red or violet: a brown answers green, but nobody sees it
OWN_AREA = 0.0005  # of the picture from which it is its own to repeat
FEW_HUES = 3.2  # effective hues; fewer than in 95 of 100 landscapes
NEUTRAL = 8.0  # C*: a family below it is a grey
WARM_HUES = HueBand("warm", *WARM, 0.0)


def relief(case: Case, kind: Kind) -> Finding | None:
    """Whether anything answers the green, where there is much of it."""
    greens = case.measures.greens
    if greens.area_share < MUCH_GREEN:
        return None
    heavy = (
        (greens.area_share > AREA_WATCH and greens.median_chroma >= GREYED)
        or greens.median_chroma > CHROMA_WATCH
        or greens.beyond_leaf_share > BEYOND_WATCH
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
            f"nothing answers the green with any strength: reds and violets hold {_little(greens.relief_share)} of the colour. A redder roof, a path of red earth or violet in the shadows would let "
            f"the {green_word(greens.mean_hue)} rest, and a small touch is enough"
        )
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=greens.relief_share,
        figure_text=f"{percent(greens.relief_share)} of the chroma in reds and violets",
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


def _temperature(case: Case) -> str:
    """Warm against cool, by the share of the chroma that is warm, and where each lies."""
    warm = case.measures.harmony.warm_share
    if warm >= 0.95 or warm <= 0.05:
        return f"almost all of it {'warm' if warm > 0.5 else 'cool'}"
    share = "warm and cool in balance" if 0.4 < warm < 0.6 else f"{percent(max(warm, 1 - warm))} of it {_side(warm)}"
    lab = lab_at(case.picture, MAP_LONG_EDGE)
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    chroma = chroma * (chroma >= NEUTRAL)
    is_warm = WARM_HUES.contains(lab)
    warm_place, cool_place = place_of(chroma * is_warm), place_of(chroma * ~is_warm)
    if warm_place.nowhere or cool_place.nowhere:
        return share
    if warm_place == cool_place:
        both = "both" if 0.4 < warm < 0.6 else "warm and cool both"
        return f"{share}, {both} {warm_place}"
    return f"{share}, the warm {warm_place} and the cool {cool_place}"


def _side(warm: float) -> str:
    return "warm" if warm > 0.5 else "cool"


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


def distance(case: Case, kind: Kind) -> Finding | None:
    """Whether the greens pale and cool with distance, and how light and shade part them."""
    kinds = case.measures.green_kinds
    near, far, lit, shaded = kinds.near, kinds.far, kinds.lit, kinds.shaded
    if near is None:
        return None
    assert far and lit and shaded and kinds.recedes is not None
    assert kinds.strongest_x is not None and kinds.strongest_y is not None
    enough = case.measures.greens.area_share >= MUCH_GREEN
    flat = not kinds.recedes and enough
    level: Level = "watch" if flat else "holds"
    if kinds.recedes:
        depth = f"the greens farther up the picture are {listed(list(kinds.recedes))} than those at the bottom, as distance makes them"
    elif enough:
        depth = "the greens farther up the picture are as strong and as warm as those at the bottom, so the ground stands up like a wall"
    else:
        depth = "the greens keep their colour with distance, and are too few for that to matter"
    cooler = float(turn(shaded.hue, lit.hue)) > STEP_HUE
    light = (
        "those in the light are yellower than those in the shade"
        if kinds.warms_in_light
        else "those in the light are cooler than those in the shade"
        if cooler
        else "light and shade have the same hue of green"
    )
    strongest = f"the strongest lie {spot(kinds.strongest_x, kinds.strongest_y)}"
    eye = case.measures.eyepath.focus
    away = ((eye.x - kinds.strongest_x) ** 2 + (eye.y - kinds.strongest_y) ** 2) ** 0.5
    if away < 0.2:
        strongest += ", near where the eye settles"
    elif kinds.strongest_at_edge is not None and kinds.strongest_at_edge > 0.5:
        strongest += ", at the edge, away from where the eye settles"
    text = f"{depth}; {light}; {strongest}"
    if flat:
        text += ". Cool and pale the far ones, warm the lit ones"
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=near.chroma - far.chroma,
        figure_text=f"chroma {near.chroma:.0f} below, {far.chroma:.0f} above",
        norm=f"they pale {case.standing('green_kinds.chroma_fall')}; common practice, no source",
        percentile=case.percentile("green_kinds.chroma_fall"),
    )


def distance_gone(measures: Measures) -> str:
    """Why the greens need no distance any longer."""
    greens = measures.greens
    return little_green_left(greens) if greens.area_share < MUCH_GREEN and not measures.green_kinds.recedes else ""


def run_of_colours(case: Case, kind: Kind) -> Finding:
    """Whether the colours vary, keep together and face each other."""
    variety, harmony, families = case.measures.variety, case.measures.harmony, case.measures.families
    level: Level = kind.by_limits(variety.effective_hues) if _coloured(families) else "holds"
    pair = harmony.complements[0] if harmony.complements else None
    facing = (
        f"; {families[pair.first].name} and {families[pair.second].name} face each other as complements"
        if pair
        else "; no two of its colours are complements"
    )
    if variety.effective_hues == 0:
        text = "there is no colour to speak of: the values carry the picture alone"
    elif level == "watch":
        text = (
            f"the colours repeat one hue rather than vary ({variety.effective_hues:.1f} where the middle landscape has "
            f"{case.norms.at('variety.effective_hues', 50):.0f}); let a second hue speak softly in the greys"
        )
    else:
        run = (
            "repeat each other"
            if variety.effective_hues < 5
            else "vary"
            if variety.effective_hues < 10
            else "vary widely"
        )
        text = f"the colours {run} and keep to {harmony.template_words}; {_temperature(case)}{facing}"
    return kind.finding(
        level=level,
        text=sentence(text),
        figure=variety.effective_hues,
        figure_text=f"{variety.effective_hues:.1f} effective hues, {variety.names:.0f} named colours",
        norm=f"{case.standing('variety.effective_hues')}; such models know hues, not what is painted",
        percentile=case.percentile("variety.effective_hues"),
    )


def _coloured(families: tuple[Family, ...]) -> bool:
    return any(family.lch[1] >= NEUTRAL for family in families)
