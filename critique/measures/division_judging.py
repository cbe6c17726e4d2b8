"""Is a picture cut in half by its dividing line, and how surely?"""

from typing import Literal

from critique.measures.division import EDGE_LENGTH, Division

Fault = Literal["watch", "rework"]

WATCH_STRENGTH = 0.62  # as for a line that cuts; weaker ones near the middle are many and soft
WATCH_STRAIGHTNESS = 0.5  # of the width on one straight line
WATCH_TOLERANCE = 0.06  # of the height
# A line that wavers but keeps to the middle nearly all along: strength, straightness, height and part of the width.
KEEPS_STRENGTH, KEEPS_STRAIGHTNESS, KEEPS_TOLERANCE, KEEPS_NEAR = 0.54, 0.6, 0.04, 0.8
# Six of 76 landscapes are named by these limits, one of them as halved.
STRAIGHT = 0.65  # of the width that keeps to one straight line; agrees with those called straight in 18 of 20 pictures
STRAIGHT_SLOPE = 0.08  # px a px: a horizon or a shore falls by less


def halving_fault(division: Division) -> Fault | None:
    """'rework' where a straight, steady line lies through the middle, 'watch' where one is broken or near it."""
    if division.halved:
        return "rework"
    off = abs(division.height - 0.5)
    plain = division.strength >= WATCH_STRENGTH and division.straightness >= WATCH_STRAIGHTNESS
    seen = plain and off <= WATCH_TOLERANCE and division.edge_near_middle >= EDGE_LENGTH
    return "watch" if division.nearly_halved and (seen or keeps_to_the_middle(division)) else None


def keeps_to_the_middle(division: Division) -> bool:
    """Whether the line, straight or not, runs near the middle nearly all along."""
    return (
        division.strength >= KEEPS_STRENGTH
        and division.straightness >= KEEPS_STRAIGHTNESS
        and abs(division.height - 0.5) <= KEEPS_TOLERANCE
        and division.near_middle >= KEEPS_NEAR
    )


def near_halves(division: Division) -> bool:
    """Whether the line lies near enough to the middle to be mentioned in passing, as it does in a sixth of pictures."""
    return division.nearly_halved


def runs_straight(division: Division) -> bool:
    """Whether the dividing line is one straight line, and nearly level."""
    return division.present and division.straightness >= STRAIGHT and abs(division.slope) <= STRAIGHT_SLOPE
