"""Which nearly level edge is a horizon: the far edge of a sea, or of a plain, under the sky?"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from critique.measures.level_lines import LevelLine
from critique.measures.line_sides import BELOW, NARROW, OVER, along, levelness, part_below, part_over
from critique.measures.parts import SKY, WATER, Parts
from critique.measures.salience import Float
from critique.measures.steep_lines import lines_about

# What is ruled nearly right across, where the sky ends, is its far edge, whatever sails and towns stand on it: nothing
# else in a landscape is so straight.
RULED, STRETCH = 0.9, 0.8  # agreement; of the width
SKY_AT_IT, AT_ITS_END = 0.3, 0.06  # of what lies on it, sky; of the height, from where the sky ends
LEVELNESS = 1.4  # change of L* down over across, below it
FIELD = 30.0  # b*: what lies below and is so much yellower than the sky takes nothing from it, and is a field
# A headland may hide more than half of a sea: what is left of it is told by its calm, beside the calm of the sky.
CORNER = 0.4  # of the width, from either side
# So plainly must it be one: agreement; of its width; sky in what lies on it (coarse over a bare sea), and below.
RULED_THERE, STRETCH_THERE, SKY_THERE, SKY_UNDER = 0.97, 0.94, 0.5, 0.1
CALM = 7.0  # L*, spread on each of its two sides: hills have more
# Bare of strokes on both sides, it tells nothing of how what lies below it runs: L*; agreement; b* more than the sky's.
# Of 1840 pictures with no water that falls three have a calm edge that falls by more than two degrees, and another that
# lies level and is asked first.
CALMEST, RULED_BARE, AS_THE_SKY = 5.0, 0.985, 3.0
# Of the height, off a straight line, where the sky ends; degrees: what falls by more is meant, or may be a field.
STRAIGHT, STEEPEST, GENTLE = 0.04, 16.0, 8.0
# No sky lies below land: what looks like it there, along a level edge, is water that mirrors the sky. Of 204 untouched
# pictures three have it, lakes all of them. Of what lies on the line, sky at most; of what lies below, sky at least,
# and sky and water together.
LAND_ON_IT, SKY_IN_IT, SKY_AND_WATER = 0.35, 0.3, 0.4
# A ridge in haze may be as straight, but the water at its foot lies more level.
FOOT, AWAY = 0.2, 1.4  # of the height; degrees less
PLAIN_FOOT, LONG_FOOT, WET_FOOT = 0.8, 0.7, 0.6  # agreement; of the width; of what lies below, water


def is_horizon(lab: Float, parts: Parts, line: LevelLine) -> bool:
    """Whether a line is ruled nearly right across where the sky ends, with no field below it."""
    if parts.horizon is None or abs(line.y - parts.horizon) > AT_ITS_END:
        return False
    ruled = line.agreement >= RULED and line.length >= STRETCH
    return ruled and part_over(parts.labels, line, SKY) >= SKY_AT_IT and _takes_after_sky(lab, line)


def mirrors_sky(parts: Parts, line: LevelLine) -> bool:
    """Whether water that was taken for sky lies below a line, under land."""
    sky = part_below(parts.labels, line, SKY)
    return (
        sky >= SKY_IN_IT
        and part_over(parts.labels, line, SKY) <= LAND_ON_IT
        and sky + part_below(parts.labels, line, WATER) >= SKY_AND_WATER
    )


def over_calmer_water(parts: Parts, lines: list[LevelLine]) -> list[tuple[LevelLine, LevelLine]]:
    """The lines that are no far edge of a sea: each ridge that falls more than the water's edge at its foot, with this.

    A sea that was tilted falls by as much everywhere. Two edges that run together are a shore that goes away.
    """
    feet = [
        line
        for line in lines
        if line.agreement >= PLAIN_FOOT
        and line.length >= LONG_FOOT
        and part_below(parts.labels, line, WATER) >= WET_FOOT
    ]
    return [
        (line, foot)
        for line in lines
        for foot in feet
        if 0 < foot.y - line.y <= FOOT and abs(foot.tilt) < abs(line.tilt) and abs(foot.tilt - line.tilt) >= AWAY
    ]


def calm_sea(lab: Float, parts: Parts) -> LevelLine | None:
    """The horizon of a calm sea that meets a calm sky at one side of a picture, the rest hidden by land.

    ``lab`` is (height, width, 3) CIELAB, of some 400 px. However far it falls, nothing else is so calm and straight.
    """
    height, width = lab.shape[:2]
    found: list[LevelLine] = []
    for left in (0.0, 1 - CORNER):
        places = parts.labels.shape[1]
        labels = parts.labels[:, round(left * places) : round((left + CORNER) * places)]
        falls = _sky_ends(labels, width / height * CORNER)
        if falls is None:
            continue
        here = np.ascontiguousarray(lab[:, round(left * width) : round((left + CORNER) * width)])
        for line in lines_about(here, falls):
            if (
                line.agreement >= RULED_THERE
                and line.length >= STRETCH_THERE
                and part_over(labels, line, SKY) >= SKY_THERE
                and part_below(labels, line, SKY) <= SKY_UNDER
                and (_calmest(here, line) or _calm_and_level(here, line))
            ):
                off = np.tan(np.radians(line.tilt)) * (0.5 - left - CORNER / 2) * width / height
                ends = {"x1": left + CORNER * line.x1, "x2": left + CORNER * line.x2}
                found.append(replace(line, y=line.y + float(off), length=line.length * CORNER, **ends))
    return max(found, key=lambda line: line.agreement, default=None)


def _sky_ends(labels: NDArray[np.uint8], shape: float) -> float | None:
    """By how many degrees the sky's lower end falls, where it is straight; None where it isn't, or falls too far.

    ``shape`` is the width of the parts' map over its height.
    """
    end = (labels == SKY).mean(0, dtype=np.float64)
    across = (np.arange(len(end)) + 0.5) / len(end) * shape
    slope, start = np.polyfit(across, end, 1)
    off = float(np.median(np.abs(end - start - slope * across)))
    falls = float(np.degrees(np.arctan(slope)))
    return falls if off <= STRAIGHT and abs(falls) <= STEEPEST else None


def _calm_and_level(lab: Float, line: LevelLine) -> bool:
    """Whether what lies below an edge that falls gently is calm, as what lies on it is, and runs along it."""
    return abs(line.tilt) <= GENTLE and _calm(lab, line, CALM) and _takes_after_sky(lab, line)


def _calmest(lab: Float, line: LevelLine) -> bool:
    """Whether so little lies on and below an edge so straight that only its colour tells: no yellower than the sky."""
    return line.agreement >= RULED_BARE and _calm(lab, line, CALMEST) and _yellower(lab, line) <= AS_THE_SKY


def _calm(lab: Float, line: LevelLine, most: float) -> bool:
    """Whether what lies on a line, and what lies below it, is each of one lightness, spread by at ``most`` so much."""
    sides = (along(lab, line, reach)[..., 0] for reach in ((-NARROW[1], -NARROW[0]), NARROW))
    return all(float(side.std(dtype=np.float64)) <= most for side in sides)


def _takes_after_sky(lab: Float, line: LevelLine) -> bool:
    """Whether what lies below a line runs along it, and is no field by its colour."""
    if levelness(lab, line) < LEVELNESS:
        return False
    return _yellower(lab, line) <= FIELD


def _yellower(lab: Float, line: LevelLine) -> float:
    """By how much what lies below a line is yellower than what lies on it (b*)."""
    above, below = (along(lab, line, reach)[..., 2].mean(dtype=np.float64) for reach in (OVER, BELOW))
    return float(below - above)
