"""Where does a picture divide into an upper and a lower part, and does that line cut it in half?"""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.division_edges import (
    EDGE_NEAR,
    HALVING_TOLERANCE,
    PLAINEST_TOLERANCE,
    cutting_edge,
    edge_near_middle,
    in_the_sky,
    is_main,
    is_rivalled,
    plainest_near_middle,
)
from critique.measures.division_evidence import Float
from critique.measures.division_path import (
    AS_WELL,
    STRAIGHT_TOLERANCE,
    Looked,
    SeparatingPath,
    look_at,
    separating_path,
)
from critique.measures.division_row import dividing_row, row_cues
from critique.measures.figure import HEIGHT, OWN, PART, PRACTICE, SLOPE, STRENGTH, VALUE, Figure, Words, rounded
from critique.measures.level_lines import LevelLine, level_lines
from critique.measures.mirrored import mirror_height
from critique.measures.parts import Parts, measure_parts
from critique.measures.shore import mirrored_shore
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at
from critique.words.figures import number, percent

if TYPE_CHECKING:
    from critique.measures.measure import Measures

WORKING_LONG_EDGE = 400  # px; one pixel is less than half a percent of the height, and a stroke melts into its mass
LEAST_SIDE = 80  # px of the short side; a panorama is scaled less

PRESENT_STRENGTH = 0.51  # texture of strokes up to a hundredth of the picture gives less, and so does a plain ramp
SOFT_STRENGTH = 0.38  # the same of a line that stands out from the borders around it, as a ramp doesn't
THERE = 0.04  # of the height: what parts a picture most so near to where people draw the line is that line
PLAIN_EDGE = 0.8  # agreement, and part of the width, of an edge that nobody misses
PLAIN_ANYWHERE = 0.775  # what parts it as plainly as this is the line wherever it runs: a slope, a ridge, snow on blue
NO_REFLECTION = 0.85  # strength; lakes that mirror their banks have up to 0.77
ELSEWHERE = 0.1  # of the height: nearer to where people draw the line, another edge there may be meant, sea beside sand
STANDS_OUT = 0.04  # of evidence beyond the usual border's: a plain ramp parts everywhere alike, and nowhere
NEAR_HALVING_STRENGTH = 0.35  # as two readers call pictures nearly halved, by where their line lies
HALVING_STRENGTH = 0.62  # below it a line near the middle doesn't cut: among 76 landscapes looked at one by one
HALVING_STRAIGHTNESS = 0.7  # of the width on one straight line: a soft, broken or crossed line doesn't cut
HALVING_SLOPE = 0.06  # px a px: a line that falls by more doesn't lie through the middle
NEAR_HALVING_SLOPE = 0.2  # px a px: a slope that crosses the picture doesn't nearly halve it
HALVING_LOOKS = ((0.0, 0.75), (0.25, 1.0))  # of the width: a line that cuts is found in the left part and in the right
UPRIGHT_PRESENT_STRENGTH = 0.51  # of an upright path: chance patches give less
UPRIGHT_STRENGTH = 0.7  # the same from top to bottom, where light and dark sides are common and split less
NEAR_HALVING_TOLERANCE = 0.085  # of the height; for "nearly": agrees with two readers of 76 pictures most often
HALVING_STRETCH = 0.65  # of the width that must run near the middle: a slope or a valley that crosses it doesn't halve
NEAR_HALVING_STRETCH = 0.5  # of the width; for "nearly"
ALTERNATIVES = (1 / 3, 0.382, 0.618, 2 / 3)  # thirds and golden sections; common practice
LINE_ROUGHNESS = 0.03  # of the height: how far hillocks and bushes take a line from its level
BORNE_OUT = 0.8  # part of the width of an edge that bears out a path that cuts; the next landscape has 0.78
SAME_LINE = 0.015  # of the height: a path so near to such an edge runs on it; the edge is sought by steps of half that
MASS_REACH = 0.12  # of the height: how far from the line its two sides are compared

THINNED_POINTS = 33  # of the path in the record: enough to draw it


@dataclass(frozen=True, slots=True)
class VerticalSplit:
    """The line from top to bottom that parts a picture best into left and right. ``position`` is 0–1 from the left."""

    present: bool
    position: float
    strength: float
    halved: bool


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class Division:
    """The line that splits a picture into an upper and a lower part. Heights are 0–1 from the top.

    ``present`` is false when no line divides the picture; the other fields then tell of the best there is.
    ``height`` is where most of the line runs, or the cut lies, ``share_above`` the area above it, ``slope`` its fall
    to the right (px per px; below 0 it rises), ``straightness`` the part of the width that keeps to one straight line,
    ``strength`` how plainly it parts (0–1), ``near_middle`` the part of the width that runs near half the height.
    ``value_step`` is the value above less the value below (0–10), ``colour_step`` the difference of the two sides
    in ΔE*ab. ``halved`` says that the line cuts the picture in half: plain, straight, level and through the middle;
    ``nearly_halved`` that it does or almost does. ``cut`` is the height of a plain level edge through the middle, None
    where there is none; ``edge_near_middle`` the part of the width that the plainest edge near the middle runs along.
    ``points`` is the line as (x, y), ``path`` (columns,) its height at evenly spaced columns, left to right.
    """

    present: bool
    height: float
    share_above: float
    slope: float
    straightness: float
    strength: float
    near_middle: float
    value_step: float
    colour_step: float
    halved: bool
    nearly_halved: bool
    cut: float | None
    edge_near_middle: float
    alternatives: tuple[float, ...]
    nearest_alternative: float
    points: tuple[tuple[float, float], ...]
    vertical: VerticalSplit
    path: NDArray[np.float32] = field(metadata={"record": False}, repr=False)


@kept
def lines_of(picture: Picture) -> tuple[LevelLine, ...]:
    """The nearly level edges of a picture, plainest first."""
    return level_lines(lab_at(picture, WORKING_LONG_EDGE))


def measure_division(
    picture: Picture, *, lines: tuple[LevelLine, ...] | None = None, parts: Parts | None = None
) -> Division:
    """Find what divides the picture, and say whether it is cut in half.

    Parameters
    ----------
    picture : Picture
        Its ``lab`` is (height, width, 3), CIELAB under D65.
    lines : tuple of LevelLine
        Its nearly level edges, where they are known already.
    parts : Parts
        Its sky, land and water, likewise.

    Notes
    -----
    The line may be a horizon, a shore, a field edge or the foot of a wood: at the height where most people would draw
    it, along what parts the picture most there.
    """
    lab = lab_at(picture, _working_long_edge(picture))
    looked = look_at(lab)
    parts = parts if parts is not None else measure_parts(picture)
    lines = lines if lines is not None else lines_of(picture)
    found, row = _dividing_path(lab, looked, parts, lines)
    path = found.rows / lab.shape[0]
    height, slope, straightness = found.level / lab.shape[0], found.slope, found.straightness
    close = (
        found.strength >= NEAR_HALVING_STRENGTH
        and abs(found.slope) <= NEAR_HALVING_SLOPE
        and _near_middle(found, lab.shape[0], NEAR_HALVING_TOLERANCE, NEAR_HALVING_STRETCH)
    )
    value_step, colour_step = _steps(lab, found)
    borne_out = edge_near_middle(lines, PLAINEST_TOLERANCE) >= BORNE_OUT
    cutting, edge = cutting_edge(lines, parts, row), edge_near_middle(lines, EDGE_NEAR)
    alone = not is_rivalled(plainest_near_middle(lines), lines, parts, row)
    cut, main = cutting.y if cutting is not None else None, cutting is not None and is_main(cutting, parts)
    if cutting is not None:  # the plainest edge is the line: no figure may tell of another one
        height = height if abs(height - cutting.y) <= SAME_LINE else cutting.y  # a path on the edge knows it to a pixel
        straightness = cutting.length
        slope = float(np.tan(np.radians(cutting.tilt)))
    return Division(
        present=cut is not None or _is_present(found, looked),
        height=height,
        share_above=float(path.mean()),
        slope=slope,
        straightness=straightness,
        strength=found.strength,
        near_middle=_stretch_near_middle(found, lab.shape[0], HALVING_TOLERANCE),
        value_step=value_step,
        colour_step=colour_step,
        halved=main or (close and alone and borne_out and not in_the_sky(parts, height, row) and _cuts(found, lab)),
        nearly_halved=(close and alone) or cut is not None,
        cut=cut,
        edge_near_middle=edge,
        alternatives=ALTERNATIVES,
        nearest_alternative=min(ALTERNATIVES, key=lambda place: round(abs(place - height), 3)),
        points=_thinned(path),
        vertical=_vertical_split(lab),
        path=path.astype(np.float32),
    )


def _dividing_path(
    lab: Float, looked: Looked, parts: Parts, lines: tuple[LevelLine, ...]
) -> tuple[SeparatingPath, float]:
    """The path that parts a picture, and the height (0–1) at which most people would draw it."""
    height, found = lab.shape[0], separating_path(lab, looked=looked)
    # Water mirrors about its shore, whatever the sky does in it; a line that is as plain as this is no reflection's.
    mirror = _mirror(lab, lines) if found.strength < NO_REFLECTION else None
    row = mirror if mirror is not None else dividing_row(row_cues(lab, looked.evidence_of_all, parts))
    away, plain = abs(found.level / height - row), _is_plain(found, height, lines)
    if away > THERE and (mirror is not None or away <= ELSEWHERE or not plain):
        near = separating_path(lab, looked=looked, near=row)
        as_plain = near.strength >= found.strength - AS_WELL or _is_plain(near, height, lines)
        if mirror is not None or not plain or as_plain:
            found = near
    return found, row


def cues_of(picture: Picture) -> dict[str, Float]:
    """What speaks for a line at each height of a picture, as `measure_division` asks it."""
    lab = lab_at(picture, _working_long_edge(picture))
    return row_cues(lab, look_at(lab).evidence_of_all, measure_parts(picture))


def _working_long_edge(picture: Picture) -> int:
    long_edge, short_edge = max(picture.height, picture.width), min(picture.height, picture.width)
    return max(WORKING_LONG_EDGE, round(LEAST_SIDE * long_edge / short_edge))


def _is_plain(found: SeparatingPath, height: int, lines: tuple[LevelLine, ...]) -> bool:
    """Whether what parts a picture most can't be missed, wherever it runs: nearly all strips step alike on it."""
    return found.strength >= PLAIN_ANYWHERE or any(
        abs(line.y - found.level / height) <= SAME_LINE and min(line.agreement, line.length) >= PLAIN_EDGE
        for line in lines
    )


def _is_present(found: SeparatingPath, looked: Looked) -> bool:
    stands_out = looked.stands_out(found.level) >= STANDS_OUT
    return found.strength >= (SOFT_STRENGTH if stands_out else PRESENT_STRENGTH)


def _cuts(found: SeparatingPath, lab: Float) -> bool:
    """Whether a line is plain, straight and level, through the middle, and the same in parts of the picture."""
    if found.strength < HALVING_STRENGTH or found.straightness < HALVING_STRAIGHTNESS:
        return False
    if abs(found.slope) > HALVING_SLOPE or not _near_middle(found, lab.shape[0], HALVING_TOLERANCE, HALVING_STRETCH):
        return False
    width = lab.shape[1]
    for start, stop in HALVING_LOOKS:
        part = separating_path(lab[:, round(start * width) : round(stop * width)])
        if not _near_middle(part, lab.shape[0], NEAR_HALVING_TOLERANCE, NEAR_HALVING_STRETCH):
            return False
    return True


def _mirror(lab: Float, lines: tuple[LevelLine, ...]) -> float | None:
    """The height at which water mirrors what stands over it."""
    shore = mirrored_shore(lab, lines)
    return shore.y if shore is not None else mirror_height(lab)


def _near_middle(found: SeparatingPath, length: int, tolerance: float, stretch: float) -> bool:
    near = abs(found.level / length - 0.5) <= tolerance
    return near and _stretch_near_middle(found, length, tolerance) >= stretch


def _stretch_near_middle(found: SeparatingPath, length: int, tolerance: float) -> float:
    """The part of the path that lies within the tolerance, and the roughness of a line, of the middle."""
    return float(np.mean(np.abs(found.rows / length - 0.5) <= tolerance + LINE_ROUGHNESS))


def _steps(lab: Float, found: SeparatingPath) -> tuple[float, float]:
    """Value above less value below, and ΔE*ab of the means, within the reach of the line."""
    below_line = np.arange(lab.shape[0])[:, None] + 0.5 - found.rows
    reach = max(2.0, MASS_REACH * lab.shape[0])
    above = lab[(below_line < 0) & (below_line > -reach)].mean(0, dtype=np.float64)
    below = lab[(below_line > 0) & (below_line < reach)].mean(0, dtype=np.float64)
    step = above - below
    return float(step[0] / 10), float(np.sqrt(np.square(step).sum()))


def _thinned(path: NDArray[np.float64]) -> tuple[tuple[float, float], ...]:
    places = np.linspace(0, 1, min(THINNED_POINTS, len(path)))
    centres = (np.arange(len(path)) + 0.5) / len(path)
    return tuple((float(x), float(y)) for x, y in zip(places, np.interp(places, centres, path), strict=True))


def _vertical_split(lab: Float) -> VerticalSplit:
    found = separating_path(np.ascontiguousarray(lab.transpose(1, 0, 2)))
    return VerticalSplit(
        present=found.strength >= UPRIGHT_PRESENT_STRENGTH,
        position=found.level / lab.shape[1],
        strength=found.strength,
        halved=found.strength >= UPRIGHT_STRENGTH
        and _near_middle(found, lab.shape[1], HALVING_TOLERANCE, HALVING_STRETCH),
    )


def _upright(measures: "Measures") -> str:
    vertical = measures.division.vertical
    return f"at {number(vertical.position, 2)}" if vertical.present else "none"


FIGURES = (
    Figure(
        name="division.height",
        label="How far down the line lies",
        meaning="where the dividing line lies: 0 is the top edge, 1 the bottom",
        definition="Level of most of the path from left to right along which what lies above differs most from what "
        "lies below.",
        source=OWN,
        unit="height",
        show=rounded(2),
        told=lambda measures: number(measures.division.height, 2) if measures.division.present else "no line",
        norm=True,
        column="height of the dividing line from the top, 0–1, whether or not it counts as one",
        needs="line",
        worth=HEIGHT,
        jumps=True,
    ),
    Figure(
        name="division.strength",
        label="Strength of the line",
        meaning=f"how plainly it parts the picture; below {SOFT_STRENGTH} it is no division",
        definition="Mean difference of both sides along the path, in value and colour, 0–1.",
        source=OWN,
        show=rounded(2),
        norm=True,
        column="strength of that line, 0–1",
        worth=STRENGTH,
        jumps=True,
    ),
    Figure(
        name="division.straightness",
        label="Straightness",
        meaning="how much of the line keeps to one straight line",
        definition=f"Part of the width within {STRAIGHT_TOLERANCE:.0%} of the height of a straight line.",
        source=OWN,
        unit="share",
        show=percent,
        needs="line",
        worth=PART,
        jumps=True,
    ),
    Figure(
        name="division.slope",
        label="Slope",
        meaning="how far the line falls to the right",
        definition="Fall over run of the path's straight line.",
        source=OWN,
        show=rounded(2),
        needs="line",
        worth=SLOPE,
        jumps=True,
    ),
    Figure(
        name="division.near_middle",
        label="Runs near the middle",
        meaning="how much of the line lies near half the height",
        definition=f"Part of the width where the path is within {HALVING_TOLERANCE + LINE_ROUGHNESS:.0%} of half the "
        f"height: {HALVING_TOLERANCE:.0%} for the line, {LINE_ROUGHNESS:.0%} for what grows on it.",
        source=PRACTICE,
        unit="share",
        show=percent,
        needs="line",
        worth=PART,
        jumps=True,
    ),
    Figure(
        name="division.value_step",
        label="Step of value",
        meaning="how much lighter it is above the line than below",
        definition=f"Mean value within {MASS_REACH:.0%} of the height above the line less that below it.",
        source=OWN,
        unit="value",
        needs="line",
        worth=VALUE,
        jumps=True,
    ),
    Words(
        page="division",
        label="Upright split",
        meaning="whether a line from top to bottom parts the picture",
        definition="The same path from top to bottom; its place is counted from the left.",
        source=OWN,
        told=_upright,
    ),
)
