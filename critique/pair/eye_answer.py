"""Whether the eye stays in a repaint as it did in the original, and where it settles."""

import numpy as np

from critique.pair.answer import NO_CHANGE, Answer, Direction, answered, from_to
from critique.pair.change_maps import ChangeMaps
from critique.pair.comparison import Changes
from critique.picture.places import spot
from critique.words.aloud import sentence
from critique.words.figures import percent

CORNERS_STILL = 0.5  # of the change between corners and middle that the corners must make up to be praised for it
CORNER = 0.2  # of each side: where the corners are looked at


def settles_in_words(changes: Changes) -> str:
    """Where the eye settles now, such as "the eye settles low in the centre, no longer on the right"; else empty."""
    if not changes.any_of("eyepath.focus.x", "eyepath.focus.y"):
        return ""
    ends = [changes[f"eyepath.focus.{axis}"].ends for axis in "xy"]
    was, now = (spot(x, y).words for x, y in zip(*ends, strict=True))
    return f"the eye settles {now}, no longer {was}" if was != now else f"the eye settles elsewhere, still {now}"


def eye_answer(changes: Changes, maps: ChangeMaps | None) -> Answer:
    """Whether edges and corners hold the eye, and where it settles.

    ``maps`` tell whether it was corners that changed, or the middle that they are held against; None where the two
    don't lie on each other.
    """
    pull, frame = changes["eyepath.strongest_pull.strength"], changes["eyepath.framing"]
    parts = []
    settles = settles_in_words(changes)
    if settles:
        parts.append(settles)
    if pull.changed:
        less, more = ("held better", "led out more") if not settles else ("held by that place", "led out more")
        parts.append(
            f"the strongest pull at an edge goes {from_to(pull, percent)} of what the focal place has, so the eye is "
            f"{less if pull.status == 'less' else more}"
        )
    by_corners = maps is None or _by_corners(frame.decisive, maps)
    if frame.changed:
        was, now = frame.ends
        told = f"the corners are {_corners(now)} {_held_to(now)} the middle; before, they were {_corners(was)}"
        parts.append(told if by_corners else f"{told}, for the middle is {'lighter' if now > was else 'darker'} now")
    if not parts:
        text = "No change: the eye settles where it settled, and the edges pull as they did."
        return answered("edges", NO_CHANGE, "none", "no change", text)
    better = (pull.status == "less" and not settles) or (frame.status == "more" and by_corners)
    worse = pull.status == "more" or (frame.status == "less" and by_corners)
    direction: Direction = "up" if better and not worse else "down" if worse and not better else "both"
    short = {"up": "better", "down": "less", "both": "otherwise"}[direction]
    return answered("edges", short, direction, short, " ".join(sentence(part) for part in parts))


def _by_corners(change: float, maps: ChangeMaps) -> bool:
    """Whether the corners themselves moved by a good part of what they moved against the middle."""
    height, width = (round(CORNER * length) for length in maps.value.shape)
    corners = [maps.value[rows, columns] for rows in _ends(height) for columns in _ends(width)]
    darker = -float(np.mean([corner.mean() for corner in corners]))
    return bool(darker * np.sign(change) >= CORNERS_STILL * abs(change))


def _ends(length: int) -> tuple[slice, slice]:
    return slice(None, max(length, 1)), slice(-max(length, 1), None)


def _corners(framing: float) -> str:
    """How the corners stand against the middle; ``framing`` is in values, above 0 for darker corners."""
    return "as light" if _alike(framing) else f"{abs(framing):.1f} values {'darker' if framing > 0 else 'lighter'}"


def _held_to(framing: float) -> str:
    return "as" if _alike(framing) else "than"


def _alike(framing: float) -> bool:
    """Whether the corners are told to be as light as the middle."""
    return round(abs(framing), 1) == 0.0
