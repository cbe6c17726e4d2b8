"""Does an edge that should lie level fall so far that among nearly level edges it isn't seen?"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from critique.measures.level_lines import STEEPEST, LevelLine, level_lines
from critique.measures.line_sides import levelness, part_below, part_over
from critique.measures.parts import SKY, WATER, Parts
from critique.measures.salience import Float

SHEARED = 10.0  # degrees: so far a picture is sheared, either way, for steep edges to lie nearly level in it
# Degrees: from the first on an edge is fainter among nearly level ones than it is; what falls by more than the second
# is a slope, and meant.
STEEP = (STEEPEST - 1, 16.0)
LONG, LOWEST = 0.55, 0.85  # of the width; of the height: an edge below it is of the ground at one's feet
IN_THE_SKY = 0.3  # of what lies below: a streak of cloud is no edge
# Where water fell, nothing else lies level: degrees, and agreement of an edge that says otherwise, unless it is fainter
# than the steep one by so much, or lies in the sky.
LEVEL, PLAIN_LEVEL, FAINTER = 1.2, 0.66, 0.05
# Water begins there: agreement, so much more water below it than on it, and how much more L* changes down than across,
# below it. Or, with less water, the ground runs along it under the sky: agreement, change, and sky on it. Of 91 copies
# of paintings whose water was made to fall by 10 to 13 degrees 31 are told with it, and 20 without; of 76 paintings and
# 325 other pictures none is newly told; the plainest slope under the sky has an agreement of 0.76.
SHORE, WATER_BEGINS, ALONG_SHORE = 0.66, 0.2, 1.2
UNDER_SKY, SKY_ON_IT, ALONG_GROUND = 0.78, 0.36, 1.3
# Nothing but the far edge of a sea, or of a plain, is ruled so plainly, so far across, under so much sky, though a
# shore that slants lies below it too: agreement, part of the width, sky on it, change. Trees stand across a slope.
RULED, ACROSS, OPEN_SKY, ALONG_RULED = 0.9, 0.8, 0.85, 1.0


def steep_edge(
    lab: Float, parts: Parts, lines: tuple[LevelLine, ...], steep: tuple[LevelLine, ...]
) -> LevelLine | None:
    """The plainest of the ``steep`` edges that should lie level; None where there is none.

    ``lab`` is (height, width, 3), of some 400 px; ``lines`` are its nearly level edges.
    """
    level = max(
        (
            line.agreement
            for line in lines
            if abs(line.tilt) <= LEVEL and part_below(parts.labels, line, SKY) < IN_THE_SKY
        ),
        default=0.0,
    )
    alone = [line for line in steep if level < max(PLAIN_LEVEL, line.agreement - FAINTER)]
    fallen = [line for line in alone if _should_be_level(lab, parts, line)]
    return max(fallen, key=lambda line: line.agreement, default=None)


def steep_lines(lab: Float) -> tuple[LevelLine, ...]:
    """The long edges that fall so far that among nearly level ones they aren't seen, those to the left first."""
    return tuple(line for way in (-SHEARED, SHEARED) for line in _about(lab, way))


def _about(lab: Float, way: float) -> list[LevelLine]:
    """The edges that fall by about so many degrees: nearly level in a picture that was sheared by as much."""
    falls = np.tan(np.radians(way))
    found = []
    for line in level_lines(_sheared(lab, falls)):
        tilt = float(np.degrees(np.arctan(np.tan(np.radians(line.tilt)) + falls)))
        if STEEP[0] <= abs(tilt) <= STEEP[1] and line.length >= LONG and line.y <= LOWEST:
            found.append(replace(line, tilt=tilt))
    return found


def _sheared(lab: Float, falls: float) -> Float:
    """A picture whose columns are moved up, about its middle, by as much as an edge that ``falls`` lies lower there."""
    height, width = lab.shape[:2]
    columns = np.arange(width)
    rows = np.arange(height)[:, None] + falls * (columns + 0.5 - width / 2)
    whole: NDArray[np.intp] = np.floor(rows).astype(np.intp)
    part = (rows - whole).astype(np.float32)[..., None]
    flat = lab.reshape(-1, lab.shape[2])
    upper, lower = (np.take(flat, np.clip(whole + step, 0, height - 1) * width + columns, axis=0) for step in (0, 1))
    return np.asarray(upper * (1 - part) + lower * part, dtype=np.float32)


def _should_be_level(lab: Float, parts: Parts, line: LevelLine) -> bool:
    """Whether water begins at a line, or ground runs along it under the sky."""
    if line.agreement < SHORE or part_below(parts.labels, line, SKY) >= IN_THE_SKY:
        return False
    along, sky = levelness(lab, line), part_over(parts.labels, line, SKY)
    if line.agreement >= RULED and line.length >= ACROSS and sky >= OPEN_SKY and along >= ALONG_RULED:
        return True
    begins = part_below(parts.labels, line, WATER) - part_over(parts.labels, line, WATER)
    if begins >= WATER_BEGINS and along >= ALONG_SHORE:
        return True
    return line.agreement >= UNDER_SKY and along >= ALONG_GROUND and sky >= SKY_ON_IT
