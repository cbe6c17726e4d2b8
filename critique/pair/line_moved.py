"""Whether the line that divides a picture lies elsewhere in its repaint."""

from dataclasses import replace

from critique.measures.division import Division
from critique.pair.comparison import Changes
from critique.pair.register import MovedPart, Registration
from critique.picture.picture import Picture

MOVED = 0.05  # of the height: the tolerance of halving, so that a line which may cross it counts
TAKEN = 0.02  # of the height that a part of the drawing must have moved for the line to have gone with it
SAME_LINE = 0.04  # of the height by which the line, carried over, may miss the line found: then it is that line


def line_moved(was: Division, now: Division) -> bool:
    """Whether the lines that the plates of both show lie apart by more than a hair."""
    return bool(was.present and now.present and abs(now.height - was.height) > MOVED)


def with_line_moved(
    changes: Changes,
    divisions: tuple[Division, Division],
    pictures: tuple[Picture, Picture],
    registration: Registration,
) -> Changes:
    """The changes, with the line's counted where the same line surely lies elsewhere, as after a crop."""
    was, now = divisions
    if not line_moved(was, now):
        return changes
    if registration.moved is not None:
        return _with_height(changes, was, now) if _moved_with_it(was, now, registration.moved) else changes
    if not registration.found:
        return changes
    width, height = pictures[0].width, pictures[0].height
    carried = registration.place([[0.5 * width / max(width, height), was.height * height / max(width, height)]])[0, 1]
    there = carried * max(pictures[1].width, pictures[1].height) / pictures[1].height
    if abs(there - now.height) > SAME_LINE:
        return changes
    return _with_height(changes, was, now)


def _moved_with_it(was: Division, now: Division, moved: MovedPart) -> bool:
    """Whether a part of the drawing, shifted up or down, took the line along: both by more than a hair, one way."""
    return (
        abs(moved.down) > abs(moved.right) and abs(moved.down) >= TAKEN and moved.down * (now.height - was.height) > 0
    )


def _with_height(changes: Changes, was: Division, now: Division) -> Changes:
    return Changes(
        tuple(
            replace(
                change,
                before=was.height,
                after=now.height,
                change=now.height - was.height,
                spread=min(change.spread, MOVED),
                decided_together=False,
                status="more" if now.height > was.height else "less",
            )
            if change.figure == "division.height"
            else change
            for change in changes.figures
        )
    )


def past_the_middle(was: Division, now: Division) -> str:
    """What a line did that crossed the middle; empty where it stayed on its side."""
    if (was.height - 0.5) * (now.height - 0.5) >= 0:
        return ""
    return ", from above the middle to below it" if now.height > 0.5 else ", from below the middle to above it"
