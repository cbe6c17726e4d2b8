"""Which level edge cuts a picture through the middle, if any is plain, alone, and no cloud's?"""

from critique.measures.level_lines import LevelLine
from critique.measures.parts import Parts

# An edge that the eye can't miss: nearly all strips of the picture step alike along most of the width, nearly level.
# None of 76 landscapes has one within the tolerance of the middle.
CUTTING, CUTTING_LENGTH, CUTTING_TILT = 0.75, 0.76, 2.5  # agreement, part of the width (the next has 0.75), degrees
BELOW_HORIZON = 0.08  # of the height: a stepped edge of wheat 0.09 below the sky's end was no main line to two readers
HALVING_TOLERANCE = 0.05  # of the height; common practice, no source
# Agreement and part of the width; of the height that such an edge may lie off the middle.
PLAINEST, PLAINEST_TOLERANCE = 0.9, 0.06
EDGE_SEEN, EDGE_LENGTH = 0.65, 0.55  # agreement and part of the width of an edge that bears out the path
EDGE_NEAR = 0.085  # of the height from the middle
# Two level edges as plain as each other are two lines, and neither cuts the picture: crowns against the sky, the shore
# below them. How much less plain the other may be, how plain it must be, how far off it lies (of the height), and how
# long (of the width) and how level (degrees) it runs.
AS_PLAIN, RIVAL_PLAIN, RIVAL_OFF, RIVAL_LENGTH, RIVAL_TILT = 0.05, 0.7, (0.08, 0.25), 0.65, 1.5
# An edge with the sky on both sides is a cloud's or a bank of mist, the more surely where people would draw the line
# elsewhere: of eleven photographs that such an edge halved, five were so, and six were not.
SKY_BELOW, SKY_BELOW_OFF = 0.75, 0.5  # part of a band below it that is sky, anywhere and away from that line
BAND_BELOW = 0.06  # of the height
# An edge away from where people would draw the line is not the line where another as plain runs there: the far edge of
# a field below the horizon. Of the height: how near is there, and how much nearer than the edge itself.
THERE, NEARER = 0.04, 0.02
OFF_THE_LINE = 0.08  # of the height from that line; right ones are up to 0.047 from it


def is_main(line: LevelLine, parts: Parts) -> bool:
    """Whether a cutting edge is surely the main line: well below the sky's end it has to be the plainest."""
    top = parts.horizon if parts.horizon is not None else 1.0
    return line.agreement >= PLAINEST or line.y - top <= BELOW_HORIZON


def cutting_edge(lines: tuple[LevelLine, ...], parts: Parts, row: float) -> LevelLine | None:
    """The plainest edge that runs straight and level through the middle, if people would draw the line there."""
    for line in lines:
        off = abs(line.y - 0.5)
        plainest = min(line.agreement, line.length) >= PLAINEST and off <= PLAINEST_TOLERANCE
        plain = line.agreement >= CUTTING and line.length >= CUTTING_LENGTH and off <= HALVING_TOLERANCE
        level = (plain or plainest) and abs(line.tilt) <= CUTTING_TILT
        if not level or in_the_sky(parts, line.y, row) or is_rivalled(line, lines, parts, row):
            continue
        if not _is_outdone(line, lines, row):
            return line
    return None


def _is_outdone(own: LevelLine, lines: tuple[LevelLine, ...], row: float) -> bool:
    """Whether another edge, as plain and as long, runs where people would draw the line, well off the middle."""
    off = abs(own.y - row)
    return (
        off > THERE
        and abs(row - 0.5) > EDGE_NEAR
        and any(
            min(line.agreement, line.length) >= min(own.agreement, own.length)
            and abs(line.y - row) <= min(THERE, off - NEARER)
            and abs(line.tilt) <= RIVAL_TILT
            for line in lines
        )
    )


def is_rivalled(own: LevelLine | None, lines: tuple[LevelLine, ...], parts: Parts, row: float) -> bool:
    """Whether another level edge, well apart, is as plain as an edge: then nobody sees that one alone."""
    if own is None:
        return False
    least = max(RIVAL_PLAIN, own.agreement - AS_PLAIN)
    return any(
        line.agreement >= least
        and line.length >= RIVAL_LENGTH
        and RIVAL_OFF[0] <= abs(line.y - own.y) <= RIVAL_OFF[1]
        and abs(line.tilt) <= RIVAL_TILT
        and not in_the_sky(parts, line.y, row)
        for line in lines
    )


def plainest_near_middle(lines: tuple[LevelLine, ...]) -> LevelLine | None:
    """The plainest of the edges that bear out a path near the middle."""
    near = (line for line in lines if abs(line.y - 0.5) <= EDGE_NEAR and line.agreement >= EDGE_SEEN)
    return max(near, key=lambda line: line.agreement, default=None)


def in_the_sky(parts: Parts, height: float, row: float) -> bool:
    """Whether the sky goes on below a height: an edge there is a cloud's."""
    sky = parts.mask("sky")
    top = min(round(height * len(sky)), len(sky) - 1)
    below = float(sky[top : top + max(1, round(BAND_BELOW * len(sky)))].mean())
    return below >= (SKY_BELOW if abs(height - row) <= OFF_THE_LINE else SKY_BELOW_OFF)


def edge_near_middle(lines: tuple[LevelLine, ...], reach: float) -> float:
    """The longest part of the width that a plain edge near the middle runs along."""
    near = (line for line in lines if abs(line.y - 0.5) <= reach and line.agreement >= EDGE_SEEN)
    return max((line.length for line in near), default=0.0)
