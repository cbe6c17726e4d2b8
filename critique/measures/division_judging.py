"""Is a picture cut in half by its dividing line, and how surely?"""

from typing import Literal

from critique.measures.division import Division
from critique.measures.division_edges import EDGE_LENGTH, HALVING_TOLERANCE

Fault = Literal["watch", "rework"]

WATCH_STRENGTH = 0.66  # weaker ones near the middle are many and soft; those that two readers signed have 0.74 or more
WATCH_STRAIGHTNESS = 0.45  # of the width on one straight line; an edge near the middle has to bear it out
# Of the height: of parts less alike than that one leads, as a field of 0.56 did to its reader; up to it they are
# watched, so that no hair decides between a cut and nothing.
WATCH_TOLERANCE = 0.055
# Slopes (px a px). A straight line falls by 3.4° at most: the edge of a field (0.07) lies nowhere, as a reader said.
# One that wanders about a level edge by 5.4°: a hillside that crosses the middle (0.105 seen) doesn't lie there.
WATCH_SLOPE, WANDERING_SLOPE = 0.06, 0.095
# Three of 76 landscapes are named by these limits, none of them as halved.
# A level edge so long through the middle is seen whatever breaks the line: a horizon behind sails. It names no more
# of those 76, and ten instead of nine of seventeen whose line was drawn anew at 0.49.
LONG_EDGE, LONG_EDGE_STRENGTH = 0.70, 0.5  # of the width; of the line
# One as long that is ruled straight and level right through the middle, a pale sea under a pale sky, is seen though its
# step is small: of 304 untouched pictures none has a weaker line than 0.62 on an edge so long.
RULED, RULED_SLOPE = 0.9, 0.02  # of the width; px a px
RULED_OFF, RULED_STRENGTH = 0.03, 0.42  # of the height; of the line
ACROSS = 0.75  # strength of a ruled line that parts the picture whatever other edges there are, such as a sea's waves
# Of the height, by which a line steps within so many of its points. Of 35 told as halved it does in two, a moor and a
# lake that a peak crosses, of which a reader denied the moor, a faint one (0.55) on an edge of 0.80 of the width; of
# those halved by strangers in none that isn't ruled besides, of our own in one as faint on an edge of 0.90.
STEP, STEP_OVER = 0.1, 2
LONG_STEPPED = 0.85  # of the width
STRAIGHT = 0.75  # of the width on one straight line; with the next two agrees best with readers of 103 pictures
STRAIGHT_SLOPE = 0.05  # px a px: a horizon or a shore falls by less
STRAIGHT_STRENGTH = 0.55  # a weaker line is not seen as straight


def halving_fault(division: Division) -> Fault | None:
    """'rework' where a straight, steady line lies through the middle, 'watch' where one is broken or near it."""
    off = abs(division.height - 0.5)
    if off > WATCH_TOLERANCE:
        return None
    if division.halved and _steps(division):
        seen = division.strength >= WATCH_STRENGTH or division.straightness >= LONG_STEPPED
        return "watch" if seen else None
    if division.halved or division.cut is not None:
        return "rework" if division.halved and off <= HALVING_TOLERANCE else "watch"
    plain = division.strength >= WATCH_STRENGTH and division.straightness >= WATCH_STRAIGHTNESS
    seen = plain and division.edge_near_middle >= EDGE_LENGTH
    level = division.straightness >= RULED and abs(division.slope) <= RULED_SLOPE
    if level and division.strength >= ACROSS and off <= HALVING_TOLERANCE:
        return "watch"
    least = RULED_STRENGTH if level and off <= RULED_OFF else LONG_EDGE_STRENGTH
    long = division.edge_near_middle >= LONG_EDGE and off <= HALVING_TOLERANCE
    seen |= long and division.strength >= least
    most = WATCH_SLOPE if division.straightness >= STRAIGHT else WANDERING_SLOPE
    return "watch" if division.nearly_halved and seen and abs(division.slope) <= most else None


def _steps(division: Division) -> bool:
    """Whether the line goes on higher or lower beside a peak that breaks it: two lines halve nothing for sure."""
    heights = [height for _, height in division.points]
    step = max((abs(there - here) for here, there in zip(heights, heights[STEP_OVER:], strict=False)), default=0.0)
    return step >= STEP and division.straightness < RULED


def runs_straight(division: Division) -> bool:
    """Whether the dividing line is one straight line, and nearly level."""
    plain = division.present and division.strength >= STRAIGHT_STRENGTH
    return plain and division.straightness >= STRAIGHT and abs(division.slope) <= STRAIGHT_SLOPE
