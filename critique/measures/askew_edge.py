"""How likely is a slanting edge the far edge of water, or of level ground, that was drawn or held askew?"""

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from critique.measures.grain import Grain
from critique.measures.image_below import mirrored
from critique.measures.level_lines import LevelLine, peaks, steps_of_strips
from critique.measures.line_sides import along, levelness, part_below, part_over
from critique.measures.part_chances import WATER as WATERS_CHANCE
from critique.measures.parts import SKY, WATER, Parts
from critique.measures.salience import Float
from critique.perception.reference import read_table

ABOVE, BELOW, DEEP = (-0.08, -0.012), (0.012, 0.08), (0.02, 0.3)  # of the height, from the line: what is looked at
REACH = 0.03  # of the height: how far from the line a strip's step is sought
NEAR = 0.01  # of the height: what lies farther off hardly counts; a mast or a tree stands there
STRAIGHT = 0.0005  # of the height: no painted line is straighter
LEVEL = 1.2  # degrees: an edge that lies level
NONE_LEVEL = 0.5  # agreement that an edge is taken to have at most, where none is found
# Agreement of a level edge that says that water lies level, unless it is less plain than the slanting one by so much.
PLAIN_LEVEL, LESS = 0.66, 0.01
IN_WATER, IN_THE_SKY = 0.6, 0.3  # of what lies on and below an edge, water: a wave; of what lies below, sky: a cloud
PLAINER, OF_AGREEMENT = 0.3, 0.2  # agreement by which a level edge may be plainer, at most; counts as one
LEANING, PLAINEST = 4.0, 3.0  # degrees off an edge at which strokes say nothing of it; plainness that says all
MIRRORED, OF_LIKENESS = 0.3, 1 / 3  # correlation from which an image upside down counts; counts as one
FALLS_FAR, OF_FALL = 6.0, 5.0  # degrees from which a fall counts for itself; count as one
AT_THE_SKY = 0.05  # of the height: how near to where the sky ends
YELLOW, CHROMA = 15.0, 15.0  # CIELAB units that a cue counts as one
FAINT = 2.0  # ΔE*ab of the two sides: less makes no difference
# So likely must an edge be one, and fall by so many degrees: a photograph taken askew by two must have none. Of 76
# landscapes none has such an edge, of 100 pictures painted on a screen a sea that runs downhill; the likeliest other is
# at 0.68, and the likeliest of the landscapes at 0.63.
LIKELY, LEAST_TILT = 0.69, 2.6
# Of what lies below it water, or of what lies on it sky, or how alike its two sides are, mirrored: where none is, a
# meadow's edge may slant as it likes.
SOME_WATER, SOME_SKY, SOME_IMAGE = 0.15, 0.25, 0.45
# An edge right across with land on it that lies mirrored below is a lake's, whatever else is told of it: agreement; of
# the width; correlation. Of 1790 pictures with no water that falls 25 have such a slanting edge, mirrored by 0.26 at
# most; of those with water that falls eight have one mirrored by 0.42 and more.
ACROSS, ITS_LENGTH, ITS_IMAGE = 0.8, 0.85, 0.36
UPRIGHT = 0.5  # change of L* down over across, below it: where it changes more across trees stand on a slope


def likeliest_askew(
    lab: Float, parts: Parts, lines: tuple[LevelLine, ...], grain: Callable[[], Grain]
) -> LevelLine | None:
    """The slanting edge that is likeliest meant to lie level; None where none is likely, or a level one is as plain.

    ``lab`` is (height, width, 3) CIELAB, of some 400 px; ``lines`` are nearly level edges and steeper ones. ``grain``
    is asked only where it may tip the scales.
    """
    slanting = [
        line
        for line in lines
        if abs(line.tilt) >= LEAST_TILT and may_be_meant_level(parts, lines, line) and at_water_or_sky(lab, parts, line)
    ]
    if not slanting:
        return None
    if lakes := [line for line in slanting if _mirrors_across(lab, parts, line)]:
        return max(lakes, key=lambda line: line.agreement)
    weights = _weights()
    cues = askew_cues(lab, parts, lines, slanting)
    odds = {
        line: weights["start"] + sum(weights[cue] * value for cue, value in cues[line].items()) for line in slanting
    }
    enough = float(np.log(LIKELY / (1 - LIKELY)))
    strokes = weights["with_strokes"]
    near = [line for line in slanting if odds[line] + strokes * PLAINEST >= enough]
    if not near:
        return None
    of_all = grain()
    odds = {line: odds[line] + strokes * with_strokes(line, of_all) for line in near}
    best = max(near, key=lambda line: odds[line])
    return best if odds[best] >= enough else None


def at_water_or_sky(lab: Float, parts: Parts, line: LevelLine) -> bool:
    """Whether water lies below a line, sky on it, or below it what lies on it, mirrored; and nothing upright there."""
    if levelness(lab, line) < UPRIGHT:
        return False
    wet = part_below(parts.labels, line, WATER) >= SOME_WATER
    return wet or part_over(parts.labels, line, SKY) >= SOME_SKY or mirrored(lab, line) >= SOME_IMAGE


def _mirrors_across(lab: Float, parts: Parts, line: LevelLine) -> bool:
    """Whether a line runs right across and what lies on it, no sky, lies upside down below."""
    across = line.agreement >= ACROSS and line.length >= ITS_LENGTH
    return across and part_over(parts.labels, line, SKY) < SOME_SKY and mirrored(lab, line) >= ITS_IMAGE


def with_strokes(line: LevelLine, grain: Grain) -> float:
    """How plainly the picture's strokes lean as an edge does: the less the more they lean another way."""
    return min(grain.plainness, PLAINEST) * max(0.0, 1 - abs(grain.tilt - line.tilt) / LEANING)


def askew_cues(
    lab: Float, parts: Parts, lines: tuple[LevelLine, ...], slanting: list[LevelLine]
) -> dict[LevelLine, dict[str, float]]:
    """What speaks for each ``slanting`` one of all lines, and what against it, but for the strokes (`with_strokes`).

    ``lab`` is (height, width, 3) CIELAB, of some 400 px. Water's edge is straight where slopes and banks waver, and as
    plain at a mast as beside it; it is bluer than what lies on it, and mirrors it; no plainer edge lies level.
    """
    steps, middles = steps_of_strips(lab)
    wet = np.ascontiguousarray(parts.chance[:, WATERS_CHANCE : WATERS_CHANCE + 1])[parts.regions.labels]
    found: dict[LevelLine, dict[str, float]] = {}
    for line in slanting:
        over, under = (along(lab, line, reach).mean((0, 1), dtype=np.float64) for reach in (ABOVE, BELOW))
        wavering, plainly = _course(steps, middles, line, (lab.shape[0], lab.shape[1]))
        parted = float(np.linalg.norm(under - over))
        plainer = _plainest_level(parts, lines, line) - line.agreement
        found[line] = {
            "wavering": wavering,
            "plainly": plainly,
            "length": line.length,
            "parted": float(np.log(parted + FAINT)),
            "yellower": float(under[2] - over[2]) / YELLOW,
            "chroma": float(np.hypot(under[1], under[2])) / CHROMA,
            "water": float(along(wet, line, DEEP).mean(dtype=np.float64)),
            "at_the_sky": 0.0 if parts.horizon is None else float(np.exp(-abs(line.y - parts.horizon) / AT_THE_SKY)),
            "level_one_plainer": float(np.clip(plainer, -PLAINER, PLAINER)) / OF_AGREEMENT,
            "mirrored": max(mirrored(lab, line) - MIRRORED, 0.0) / OF_LIKENESS,
            "falls_far": max(abs(line.tilt) - FALLS_FAR, 0.0) / OF_FALL,
        }
    return found


def may_be_meant_level(parts: Parts, lines: tuple[LevelLine, ...], line: LevelLine) -> bool:
    """Whether no level edge is nearly as plain as a slanting one, and this is no wave, with water on both its sides."""
    over, under = (side(parts.labels, line, WATER) for side in (part_over, part_below))
    level = _plainest_level(parts, lines, line)
    return min(over, under) < IN_WATER and level < max(PLAIN_LEVEL, line.agreement - LESS)


def _plainest_level(parts: Parts, lines: tuple[LevelLine, ...], line: LevelLine) -> float:
    """How plain the plainest other edge is that lies level; a streak of cloud says nothing."""
    level = (other for other in lines if other is not line and abs(other.tilt) <= LEVEL)
    below_sky = (other for other in level if part_below(parts.labels, other, SKY) < IN_THE_SKY)
    return max((other.agreement for other in below_sky), default=NONE_LEVEL)


def _course(steps: Float, middles: Float, line: LevelLine, size: tuple[int, int]) -> tuple[float, float]:
    """How far the steps of the strips lie off a line, as a logarithm of parts of the height; and how plain they are
    on it, in all but a quarter of the strips."""
    height, _ = size
    course = line.y * height - 0.5 + np.tan(np.radians(line.tilt)) * middles.astype(np.float64)
    at = np.rint(course).astype(np.intp)
    reach = max(3, round(REACH * height))
    away: NDArray[np.intp] = np.arange(-reach, reach + 1)[:, None]
    strips = np.arange(len(middles))
    direction = steps[np.clip(at, 0, height - 1), strips].mean(0)
    direction = direction / max(float(np.linalg.norm(direction)), 1e-6)
    plain = steps[np.clip(at[None] + away, 0, height - 1), strips[None]] @ direction
    off = (peaks(plain) - reach + at - course) / height
    weight = 1 / (1 + np.square(off / NEAR))
    spread = float(np.sqrt((weight * np.square(off)).sum() / weight.sum()))
    return float(np.log(spread + STRAIGHT)), float(np.quantile(plain[reach - 1 : reach + 2].max(0), 0.25))


@lru_cache(maxsize=1)
def _weights() -> dict[str, float]:
    """What each cue weighs, in log odds [askew_weights.csv]."""
    return {row["cue"]: float(row["weight"]) for row in read_table("askew_weights.csv")}
