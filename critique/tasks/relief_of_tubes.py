"""Can a plan's tubes mix what the review asks for to relieve the green? If not, which tube of the box would."""

from collections.abc import Sequence
from dataclasses import replace

from critique.advice.finding import Finding
from critique.paints.box import PaintBox
from critique.paints.recipes import recipe

RELIEF = "green_relief"  # the finding that asks for it
RED_EARTH = (41.0, 25.0, 24.0)  # L*a*b* of a tiled roof or a path of red earth, about Munsell 10R 4/6
SHADOW = (40.0, 12.0, -14.0)  # of a violet shadow, about Munsell 7.5P 4/5; both our choice
MISSED = 6.0  # ΔE00: a brown or a grey in its place; our choice


def relief_of_tubes(findings: Sequence[Finding], tubes: PaintBox, owned: PaintBox) -> str:
    """What to do about a touch of red that the tubes can't mix; empty where none is asked for, or they can."""
    asked = any(one.kind == RELIEF and one.level != "holds" for one in findings)
    if not asked or _misses(RED_EARTH, tubes) <= MISSED:
        return ""
    held = {paint.name for paint in tubes.paints}
    more = {
        paint.name: _misses(RED_EARTH, replace(tubes, paints=(*tubes.paints, paint)))
        for paint in owned.paints
        if paint.name not in held
    }
    best = min(more, key=lambda name: more[name], default="")
    if best and more[best] <= MISSED:
        told = f"These tubes mix no red earth, which the review speaks of: lay out {best} beside them"
    else:
        told = "These tubes mix no red earth, which the review speaks of, nor would any other of your box"
    violet = " Violet for the shadows they do mix." if _misses(SHADOW, tubes) <= MISSED else ""
    return f"{told}.{violet}"


def _misses(lab: tuple[float, float, float], box: PaintBox) -> float:
    return recipe(lab, box).error
