"""How likely is a slanting edge the far edge of water, or of level ground, that was drawn or held askew?"""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from critique.measures.grain import Grain
from critique.measures.level_lines import LevelLine, peaks, steps_of_strips
from critique.measures.line_sides import along, part_below, part_over
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
LEANING = 2.0  # degrees: strokes that lean as an edge does
AT_THE_SKY = 0.05  # of the height: how near to where the sky ends
RED, YELLOW, CHROMA = 10.0, 15.0, 15.0  # CIELAB units that a cue counts as one
# So likely must an edge be one, and fall by so many degrees: a photograph taken askew by two must have none. Of 76
# landscapes and 219 other pictures as they are none has such an edge that isn't told otherwise; one is just under it.
LIKELY, LEAST_TILT = 0.25, 2.6
# Of what lies below it water, or of what lies on it sky: where neither is, a meadow's edge may slant as it likes.
SOME_WATER, SOME_SKY = 0.15, 0.25


def likeliest_askew(lab: Float, parts: Parts, lines: tuple[LevelLine, ...], grain: Grain) -> LevelLine | None:
    """The slanting edge that is likeliest meant to lie level; None where none is likely, or a level one is as plain.

    ``lines`` are nearly level edges and steeper ones.
    """
    slanting = [
        line
        for line in lines
        if abs(line.tilt) >= LEAST_TILT
        and line.agreement > _plainest_level(lines, line)
        and _at_water_or_sky(parts, line)
    ]
    if not slanting:
        return None
    weights = _weights()
    cues = askew_cues(lab, parts, lines, grain)
    odds = {line: weights["start"] + sum(weights[cue] * cues[line][cue] for cue in cues[line]) for line in slanting}
    best = max(slanting, key=lambda line: odds[line])
    return best if odds[best] >= np.log(LIKELY / (1 - LIKELY)) else None


def _at_water_or_sky(parts: Parts, line: LevelLine) -> bool:
    return part_below(parts.labels, line, WATER) >= SOME_WATER or part_over(parts.labels, line, SKY) >= SOME_SKY


def askew_cues(
    lab: Float, parts: Parts, lines: tuple[LevelLine, ...], grain: Grain
) -> dict[LevelLine, dict[str, float]]:
    """What speaks for each slanting line, and what against it; ``lab`` is (height, width, 3), of some 400 px.

    Water's edge is straight where slopes and banks waver, and as plain at a mast as beside it; it is bluer and greener
    than what lies on it; and where a picture hangs askew its strokes lean with it, while no other edge lies level.
    """
    steps, middles = steps_of_strips(lab)
    wet = np.ascontiguousarray(parts.chance[:, WATERS_CHANCE : WATERS_CHANCE + 1])[parts.regions.labels]
    found: dict[LevelLine, dict[str, float]] = {}
    for line in lines:
        over, under = (along(lab, line, reach).mean((0, 1), dtype=np.float64) for reach in (ABOVE, BELOW))
        wavering, plainly = _course(steps, middles, line, (lab.shape[0], lab.shape[1]))
        found[line] = {
            "wavering": wavering,
            "plainly": plainly,
            "redder": float(under[1] - over[1]) / RED,
            "yellower": float(under[2] - over[2]) / YELLOW,
            "chroma": float(np.hypot(under[1], under[2])) / CHROMA,
            "water": float(along(wet, line, DEEP).mean(dtype=np.float64)),
            "at_the_sky": 0.0 if parts.horizon is None else float(np.exp(-abs(line.y - parts.horizon) / AT_THE_SKY)),
            "with_strokes": grain.plainness if abs(grain.tilt - line.tilt) < LEANING else 0.0,
            "level_ones": _plainest_level(lines, line),
        }
    return found


def _plainest_level(lines: tuple[LevelLine, ...], line: LevelLine) -> float:
    """How plain the plainest other edge is that lies level."""
    return max(
        (other.agreement for other in lines if other is not line and abs(other.tilt) <= LEVEL), default=NONE_LEVEL
    )


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
