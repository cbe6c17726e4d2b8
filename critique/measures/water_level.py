"""Does the far edge of water, or of a plain, lie level?"""

from dataclasses import dataclass
from functools import cache, partial

import numpy as np

from critique.measures.askew_edge import likeliest_askew
from critique.measures.figure import OWN, Figure, rounded
from critique.measures.grain import Grain, grain_of
from critique.measures.horizon_lines import calm_sea, is_horizon, mirrors_sky, over_calmer_water
from critique.measures.image_below import mirrored
from critique.measures.level_lines import LevelLine, level_lines
from critique.measures.line_sides import NARROW, along, levelness, part_below, part_over
from critique.measures.parts import SKY, WATER, Parts
from critique.measures.salience import Float
from critique.measures.steep_lines import steep_lines
from critique.picture.picture import Picture, lab_at

LONG_EDGE = 400  # px
PLAIN, PLAIN_IF_MIRRORED = 0.6, 0.55  # agreement of the strips: an edge that is seen at a glance
PLAIN_ALONE = 0.95  # the same where nothing but the edge speaks for level ground: slopes and ridges waver
LENGTH_ALONE = 0.6  # of the width, there: a wood's edge on a hillside may be half as long as the picture is wide
LOWEST = 0.85  # of the height: an edge below it is of the ground at one's feet
LEAST_LENGTH = 0.45  # of the width that lies on it: sails and headlands may hide the rest
SKY_ON_PLAIN = 0.4  # of what lies on a line without water: the far edge of a plain, hills and trees standing on it
MUCH_WATER = 0.3  # of what lies below, taken for water by its look
SOME_WATER = 0.03  # of what lies below, taken for water
MOSTLY_SKY = 0.5  # of what lies below: a streak of cloud is no water's edge
MOSTLY_SKY_IN_HAZE = 0.6  # of the same, over water that mirrors: haze takes for sky what is water
LEVEL_WATER, LEVEL_REFLECTION, LEVEL_ALONE = 1.1, 1.25, 1.4  # how much more L* changes down than across below the line:
# waves and mirrored banks lie level; the less else speaks for water, the more so
MIRRORED = 0.6  # correlation of what lies below with what lies above, upside down
MIRRORED_DRY = 0.88  # the same where nothing below looks like water: bushes may answer bushes by chance
# The far edge of water lies under the sky, or under what it mirrors, or is ruled so plainly that nothing else is: a
# bank, a beach and a floe nearer by may slant as they like.
SKY_OVER, RULED = 0.36, 0.88  # of what lies on the edge; agreement
PLAIN_SHORE, LIKE_A_MIRROR = 0.68, 0.85  # agreement, and correlation, of a mirrored edge on which nothing calm lies
SHORT, PLAIN_SHORT = 0.3, 0.9  # of the width; agreement of a sea's edge between headlands, so short
# Agreement; of the width: ruled from side to side, a hazy sea that was taken for sky lies there.
HORIZON, ACROSS = 0.95, 0.9
CALM_ABOVE = 14.0  # L*, spread along the line of what lies above: sky and far shores, not crowns
LEAST_STEP = 5.0  # ΔE*ab of the two sides
FOR_MIRROR, FOR_WATER = 0.3, 0.2  # of agreement that a reflection, and water, count for when the edge is chosen
# Degrees: what falls by more is a slope, and meant; of a sea under the sky, or of what mirrors, nothing is.
STEEPEST, STEEPEST_SEA = 5.5, 8.6
SEA, PLAIN_SEA = 0.6, 0.7  # of what lies below, taken for water, and agreement: a sea under the sky
SAILS_OVER, PLAIN_SAILS = 0.2, 0.65  # sky on the edge, and agreement: the same where sails and far shores stand on it
IN_WATER = 0.6  # of what lies on an edge, and below it, taken for water: a wave, that says nothing of the far edge
STILL_LEVEL = 1.0  # degrees
PLAIN_HORIZON = 0.68  # agreement of a level edge under the sky, below which banks may slant as they like
HEARD = 0.15  # of agreement: what is less plain than the plainest by more says nothing, one way or the other
AS_PLAIN = 0.05  # of agreement: one that is less plain than the plainest by more doesn't outvote it
SLANTING = 2.2  # degrees: more than a photograph is taken askew
# Where most strokes of the picture lean as an edge does, it was hung, or ruled, askew: how plain that must be, and how
# near in degrees. Of 295 untouched pictures in none a plain edge leans so with them.
GRAIN, WITH_GRAIN = 1.9, 1.5
PLAIN_IN_GRAIN, LEVEL_IN_GRAIN = 0.7, 1.3  # agreement, and change down over across, of an edge that leans with them
LOWEST_IN_GRAIN = 0.93  # of the height: for such an edge
# So do waves and banks that lie one over another: how many at least, how plain, how much of the width long, and by how
# many degrees they all slant one way. Of 93 untouched pictures two have three slanting ones, to both sides.
STACK, PLAIN_IN_STACK, LONG_IN_STACK, SLANT_IN_STACK = 3, 0.68, 0.55, 1.8
# An edge ruled right across, with some of what lies below taken for water: agreement; of the width; of what lies below.
RIGHT_ACROSS, ITS_LENGTH, ITS_WATER = 0.9, 0.85, 0.15
# With so much of what lies below it taken for water, and hardly any above, it is the water's far edge, whatever ridges
# over it do, and however steep. Of 276 untouched pictures none has one that slants.
ALL_WATER, LITTLE_ABOVE = 0.6, 0.25


@dataclass(frozen=True, slots=True)
class WaterLevel:
    """The plainest straight edge with water, or level ground, below it.

    ``found`` says whether there is one; ``tilt`` is its fall to the right in degrees, ``agreement`` how plain it is
    (0–1), ``length`` a part of the long edge; its ends are 0–1 from the left and the top. ``wet`` tells whether what
    lies below looks like water, or mirrors what lies above: else it may be a slope.
    """

    found: bool
    wet: bool
    tilt: float
    agreement: float
    length: float
    x1: float
    y1: float
    x2: float
    y2: float


def measure_water_level(picture: Picture, parts: Parts, *, lines: tuple[LevelLine, ...] | None = None) -> WaterLevel:
    """Measure how level the far edge of water lies, where a plain one is seen; ``lines`` if they are known."""
    lab = lab_at(picture, LONG_EDGE)
    lines = level_lines(lab) if lines is None else lines
    outside = [line for line in lines if not _in_sky(lab, parts, line)]
    long = [line for line in outside if line.length >= _shortest(parts, line)]

    # strokes are asked only where an edge slants and may be told by them: it takes as long as the edges do
    grain = cache(partial(grain_of, lab))
    # a kerb and the edges of a lawn run one over another too: the far edge of a sea lies under the sky
    stack = {line for line in _stacked(lab, outside) if _under_sky(parts, line)}
    leaning = {
        line
        for line in long
        if not _outruled(line, outside)
        and (line in stack or (_may_lean(lab, parts, line) and _with_grain(line, grain())))
    }
    long = [line for line in long if line in leaning or _meant_level(lab, parts, line)]
    plain = [line for line in long if line.y <= (LOWEST_IN_GRAIN if line in leaning else LOWEST)]
    edges = [(_worth(lab, parts, line, leaning=line in leaning), line) for line in plain]
    pairs = over_calmer_water(parts, outside)
    shores = {line for pair in pairs for line in pair if abs(line.tilt) >= SLANTING}
    edges = [(worth, line) for worth, line in edges if worth > 0 and line not in shores]
    ends = [line.y for _, line in edges if abs(line.tilt) >= SLANTING and is_horizon(lab, parts, line)]
    end = min(ends, default=1.0)  # what lies below a far edge under the sky is nearer, and may lie as it likes
    edges = [(worth, line) for worth, line in edges if line.y <= end]
    far = leaning | {line for _, line in edges if _far(lab, parts, line)}
    voting = [line for line in outside if not _is_wave(parts, line) and line.y <= end]
    horizons = [
        line
        for line in outside
        if abs(line.tilt) <= STILL_LEVEL and line.agreement >= PLAIN_HORIZON and _sky_over(parts, line) >= SKY_OVER
    ]
    ridges = {ridge for ridge, _ in pairs}
    shore = _ruled_shore(parts, [line for line in outside if line not in ridges])
    line = shore or _by_most(edges, voting, leaning, far, horizons)
    corner = calm_sea(lab, parts) if line is None and not horizons else None
    line = corner or line
    falls = line is not None and SLANTING <= abs(line.tilt) <= STEEPEST_SEA
    asked = () if falls else (*(other for other in lines if other not in shores), *steep_lines(lab))
    askew = likeliest_askew(lab, parts, asked, grain)
    line = askew or line
    if line is None:
        return WaterLevel(found=False, wet=False, tilt=0.0, agreement=0.0, length=0.0, x1=0.0, y1=0.0, x2=0.0, y2=0.0)
    height, width = lab.shape[:2]
    fall = np.tan(np.radians(line.tilt)) * width / height
    return WaterLevel(
        found=True,
        wet=line not in (corner, askew) and _is_wet(lab, parts, line),  # what is only likely may be a slope
        tilt=line.tilt,
        agreement=line.agreement,
        length=line.length * width / max(height, width),
        x1=line.x1,
        y1=float(line.y + fall * (line.x1 - 0.5)),
        x2=line.x2,
        y2=float(line.y + fall * (line.x2 - 0.5)),
    )


def _ruled_shore(parts: Parts, lines: list[LevelLine]) -> LevelLine | None:
    """The plainest edge that is ruled right across with water below it and none above; None where there is none."""
    ruled = [
        line
        for line in lines
        if line.agreement >= RIGHT_ACROSS
        and line.length >= ITS_LENGTH
        and line.y <= LOWEST
        and _below(parts, line, WATER) >= ALL_WATER
        and part_over(parts.labels, line, WATER) <= LITTLE_ABOVE
    ]
    return max(ruled, key=lambda line: line.agreement, default=None)


def _is_wet(lab: Float, parts: Parts, line: LevelLine) -> bool:
    """Whether what lies below a line looks like water, or mirrors what lies above."""
    wet = _below(parts, line, WATER) >= MUCH_WATER or mirrors_sky(parts, line)
    return wet or mirrored(lab, line) >= MIRRORED


def _may_lean(lab: Float, parts: Parts, line: LevelLine) -> bool:
    """Whether a line slants and would be told if the picture's strokes lean with it."""
    slanting = abs(line.tilt) >= SLANTING and line.y <= LOWEST_IN_GRAIN
    return slanting and _worth(lab, parts, line, leaning=True) > 0


def _with_grain(line: LevelLine, grain: Grain) -> bool:
    """Whether a line slants as most of the picture's strokes do."""
    slanting = min(abs(line.tilt), abs(grain.tilt)) >= SLANTING
    return slanting and grain.plainness >= GRAIN and abs(line.tilt - grain.tilt) <= WITH_GRAIN


def _stacked(lab: Float, lines: list[LevelLine]) -> set[LevelLine]:
    """The plain edges that lie one over another, if all of them slant one way."""
    plain = [line for line in lines if line.agreement >= PLAIN_IN_STACK and line.length >= LONG_IN_STACK]
    level = [line for line in plain if levelness(lab, line) >= LEVEL_IN_GRAIN]
    one_way = all(line.tilt >= SLANT_IN_STACK for line in plain) or all(line.tilt <= -SLANT_IN_STACK for line in plain)
    return set(level) if one_way and len(level) >= STACK else set()


def _outruled(line: LevelLine, lines: list[LevelLine]) -> bool:
    """Whether a level edge is as plain as one that leans: then the picture wasn't hung askew."""
    return any(abs(other.tilt) <= STILL_LEVEL and other.agreement >= line.agreement - AS_PLAIN for other in lines)


def _is_wave(parts: Parts, line: LevelLine) -> bool:
    """Whether a line lies in open water, with water on both its sides."""
    over = part_over(parts.labels, line, WATER)
    return over >= IN_WATER and _below(parts, line, WATER) >= IN_WATER


def _worth(lab: Float, parts: Parts, line: LevelLine, *, leaning: bool = False) -> float:
    """How much speaks for a line as the far edge of water; 0 where nothing does."""
    if line.agreement < PLAIN_IF_MIRRORED:  # what nothing below it could make plain enough
        return 0.0
    level = levelness(lab, line)
    wet = _below(parts, line, WATER)
    water = wet >= MUCH_WATER or _ruled_across(parts, line) or mirrors_sky(parts, line)
    dry = wet < SOME_WATER
    image = mirrored(lab, line) >= (MIRRORED_DRY if dry else MIRRORED)
    if line.agreement < (PLAIN_IF_MIRRORED if image else PLAIN):
        return 0.0
    so = (water and level >= LEVEL_WATER) or (image and level >= LEVEL_REFLECTION)
    alone = line.agreement >= PLAIN_ALONE and level >= LEVEL_ALONE and line.length >= LENGTH_ALONE
    leaning = leaning and line.agreement >= PLAIN_IN_GRAIN and level >= LEVEL_IN_GRAIN
    if (
        not so
        and not is_horizon(lab, parts, line)
        and not ((leaning or alone) and _under_sky(parts, line) and _parts_calm(lab, line))
    ):
        return 0.0
    return line.agreement + FOR_MIRROR * image + FOR_WATER * water


def _ruled_across(parts: Parts, line: LevelLine) -> bool:
    """Whether an edge is ruled right across, and some of what lies below it looks like water."""
    ruled = line.agreement >= RIGHT_ACROSS and line.length >= ITS_LENGTH
    return ruled and _below(parts, line, WATER) >= ITS_WATER


def _far(lab: Float, parts: Parts, line: LevelLine) -> bool:
    """Whether a line may be the far edge of what lies below it: no wave, or bank in the water, unless it is ruled."""
    if line.agreement >= RULED or _is_wave(parts, line):
        return line.agreement >= RULED
    sky = _sky_over(parts, line)
    if sky >= SKY_OVER or (sky >= SAILS_OVER and _is_sea(lab, parts, line)):
        return True
    if line.agreement >= PLAIN_SHORE and mirrors_sky(parts, line):
        return True
    likeness = mirrored(lab, line)
    plain = line.agreement >= PLAIN_SHORE or likeness >= LIKE_A_MIRROR or _parts_calm(lab, line)
    return likeness >= MIRRORED and plain


def _is_sea(lab: Float, parts: Parts, line: LevelLine) -> bool:
    """Whether a sea lies below a line, parted from a calm above it."""
    return line.agreement >= PLAIN_SAILS and _below(parts, line, WATER) >= SEA and _parts_calm(lab, line)


def _shortest(parts: Parts, line: LevelLine) -> float:
    """How much of the width must lie on a line."""
    return SHORT if line.agreement >= PLAIN_SHORT and _below(parts, line, WATER) >= SEA else LEAST_LENGTH


def _meant_level(lab: Float, parts: Parts, line: LevelLine) -> bool:
    """Whether a line falls by no more than what is meant level may; of most lines there is no doubt."""
    tilt = abs(line.tilt)
    return tilt <= STEEPEST or (tilt <= STEEPEST_SEA and tilt <= _steepest(lab, parts, line))


def _steepest(lab: Float, parts: Parts, line: LevelLine) -> float:
    """How far a line may fall and still be meant level."""
    sea = line.agreement >= PLAIN_SEA and _below(parts, line, WATER) >= SEA and _sky_over(parts, line) >= SKY_OVER
    if (sea and _parts_calm(lab, line)) or (_sky_over(parts, line) >= SAILS_OVER and _is_sea(lab, parts, line)):
        return STEEPEST_SEA
    if is_horizon(lab, parts, line) or _ruled_across(parts, line):
        return STEEPEST_SEA
    mirror = line.agreement >= PLAIN and mirrored(lab, line) >= LIKE_A_MIRROR
    return STEEPEST_SEA if mirror or mirrors_sky(parts, line) else STEEPEST


def _in_sky(lab: Float, parts: Parts, line: LevelLine) -> bool:
    if (line.agreement >= HORIZON and line.length >= ACROSS) or mirrors_sky(parts, line):
        return False
    hazy = _below(parts, line, WATER) >= MUCH_WATER and mirrored(lab, line) >= MIRRORED
    return _below(parts, line, SKY) > (MOSTLY_SKY_IN_HAZE if hazy else MOSTLY_SKY)


def _under_sky(parts: Parts, line: LevelLine) -> bool:
    """Whether the sky lies on a line: ground that meets other ground may slope as it likes."""
    return _sky_over(parts, line) >= SKY_ON_PLAIN


def _sky_over(parts: Parts, line: LevelLine) -> float:
    """How much of what lies on a line is sky."""
    return part_over(parts.labels, line, SKY)


def _below(parts: Parts, line: LevelLine, part: int) -> float:
    """How much of what lies below a line is that part."""
    return part_below(parts.labels, line, part)


def _by_most(
    edges: list[tuple[float, LevelLine]],
    lines: list[LevelLine],
    leaning: set[LevelLine],
    far: set[LevelLine],
    horizons: list[LevelLine],
) -> LevelLine | None:
    """The plainest of the edges that most speak for: all of a water's edges lie level, or fall to one side.

    One that slants by itself is a bank, or a slope, unless the picture's strokes are ``leaning`` with it; where some
    fall to the left and some to the right, none is told. Near banks have their say, but a ``far`` one is told, and
    none below one of ``horizons``, which lie level under the sky.
    """
    if not edges:
        return None
    plainest = max(line.agreement for _, line in edges)
    heard = [(worth, line) for worth, line in edges if line.agreement >= plainest - HEARD]
    best = max(heard, key=lambda edge: edge[0])[1]
    if with_grain := [edge for edge in heard if edge[1] in leaning]:
        return max(with_grain, key=lambda edge: edge[0])[1]
    slanting = [(worth, line) for worth, line in heard if abs(line.tilt) >= SLANTING]
    if not slanting:
        return best
    as_plain = max(PLAIN, max(line.agreement for _, line in slanting) - HEARD)
    level = sum(line.agreement >= as_plain and abs(line.tilt) <= STILL_LEVEL for line in lines)
    one_way = len({line.tilt > 0 for _, line in slanting}) == 1
    if not one_way or 0 < level >= len(slanting):
        return best if abs(best.tilt) < SLANTING else None
    told = [edge for edge in slanting if edge[1] in far and not any(line.y < edge[1].y for line in horizons)]
    if not told:
        return best if abs(best.tilt) < SLANTING else None
    most = max(told, key=lambda edge: edge[0])[1]
    return most if best not in far or most.agreement >= best.agreement - AS_PLAIN else best


def _parts_calm(lab: Float, line: LevelLine) -> bool:
    """Whether a line parts a calm above from something else below."""
    above, below = (along(lab, line, reach) for reach in ((-NARROW[1], -NARROW[0]), NARROW))
    step = above.mean((0, 1), dtype=np.float64) - below.mean((0, 1), dtype=np.float64)
    return float(np.sqrt(np.square(step).sum())) >= LEAST_STEP and float(above[..., 0].mean(0).std()) <= CALM_ABOVE


FIGURES = (
    Figure(
        name="water_level.tilt",
        label="Far edge of the water falls by",
        meaning="0 is level",
        definition="Fall to the right of the plainest straight edge with water or level ground below it.",
        source=OWN,
        unit="degrees",
        show=rounded(1, "°"),
        worth=2.5,
        jumps=True,
    ),
)
