"""Whether the eye stays in a repaint as it did in the original, and where it settles."""

import numpy as np

from critique.measures.eye_judging import settles_to_say
from critique.measures.eyepath import EyePath
from critique.pair.answer import NO_CHANGE, Answer, Direction, answered, from_to
from critique.pair.change_maps import ChangeMaps, Map
from critique.pair.comparison import Changes
from critique.picture.places import spot
from critique.words.aloud import sentence
from critique.words.figures import percent

CORNERS_STILL = 0.5  # of the change between corners and middle that the corners must make up to be praised for it
FOCUS = ("eyepath.focus.x", "eyepath.focus.y")
PULL = "eyepath.strongest_pull.strength"
# Of each side around a pull, and of that square what must have changed before it counts as repainted.
BESIDE, REPAINTED = 0.04, 0.4
CORNER = 0.2  # of each side: where the corners are looked at


def _settles_in_words(changes: Changes, surely: bool) -> str:
    """Where the eye settles now, such as "the eye settles low in the centre, no longer on the right".

    ``surely`` says whether the review of the earlier picture is sure of that place there.
    """
    ends = [changes[f"eyepath.focus.{axis}"].ends for axis in "xy"]
    was, now = (spot(x, y).words for x, y in zip(*ends, strict=True))
    if not surely:
        return f"the eye settles {now} now"
    return f"the eye settles {now}, no longer {was}" if was != now else f"the eye settles elsewhere, still {now}"


def eye_answer(changes: Changes, maps: ChangeMaps | None, before: EyePath, after: EyePath) -> Answer:
    """Whether edges and corners hold the eye, and where it settles.

    ``maps`` tell whether it was corners that changed, or the middle that they are held against; None where the two
    don't lie on each other.
    """
    pull, frame = changes[PULL], changes["eyepath.framing"]
    parts = []
    elsewhere = changes.any_of(*FOCUS) and settles_to_say(after) is not None
    settles = _settles_in_words(changes, settles_to_say(before) is not None) if elsewhere else ""
    parts += [settles] if elsewhere else []
    if pull.changed:
        less, more = ("held better", "led out more") if not elsewhere else ("held by that place", "led out more")
        parts.append(
            f"the strongest pull at an edge goes {from_to(pull, percent)} of what the focal place has, so the eye is "
            f"{less if pull.status == 'less' else more}"
        )
    by_corners = maps is None or _by_corners(frame.decisive, maps)
    if frame.changed:
        was, now = frame.ends
        told = f"the corners are {_corners(now)} {_held_to(now)} the middle; before, they were {_corners(was)}"
        parts.append(told if by_corners else f"{told}, {_why_else(frame.decisive, maps)}")
    if not parts and changes.any_of(*FOCUS):
        text = "The edges pull as they did. Where the eye settles isn't sure enough to say whether that moved."
        return answered("edges", "unsure", "none", "not sure", text)
    if not parts:
        text = "No change: the eye settles where it settled, and the edges pull as they did."
        return answered("edges", NO_CHANGE, "none", "no change", text)
    better = (pull.status == "less" and not elsewhere) or (frame.status == "more" and by_corners)
    worse = pull.status == "more" or (frame.status == "less" and by_corners)
    direction: Direction = "up" if better and not worse else "down" if worse and not better else "both"
    short = {"up": "better", "down": "less", "both": "otherwise"}[direction]
    return answered("edges", short, direction, short, " ".join(sentence(part) for part in parts), aside=settles)


def pull_repainted(changes: Changes, before: EyePath, after: EyePath, maps: ChangeMaps | None) -> frozenset[str]:
    """The figure of the strongest pull, where the very thing that pulls, or pulled, was painted otherwise.

    Which of two places pulls most may hang on a hair; that a place was repainted doesn't.
    """
    pull = changes[PULL]
    if maps is None or not pull.changed:
        return frozenset()
    at = (before if pull.status == "less" else after).strongest_pull
    changed = np.any([*maps.changed.values()], axis=0)
    rows, columns = (
        slice(max(round((where - BESIDE) * length), 0), round((where + BESIDE) * length) + 1)
        for where, length in zip((at.y, at.x), changed.shape, strict=True)
    )
    return frozenset({PULL}) if changed[rows, columns].mean() >= REPAINTED else frozenset()


def _why_else(change: float, maps: ChangeMaps | None) -> str:
    """Why corners that weren't touched stand otherwise against the middle: the sky, the ground or the middle moved."""
    if maps is None:
        return ""
    height = round(CORNER * maps.value.shape[0])
    top, bottom = (-np.sign(change) * float(maps.value[rows].mean()) for rows in _ends(height))
    way = "darker" if change > 0 else "lighter"
    if max(top, bottom) >= CORNERS_STILL * abs(change):
        return f"for the whole {'upper' if top >= bottom else 'lower'} part is {way} now"
    return f"for the middle is {'lighter' if change > 0 else 'darker'} now"


def _by_corners(change: float, maps: ChangeMaps) -> bool:
    """Whether the corners themselves moved by a good part of what they moved against the middle.

    A sky that was lightened all along the top took its corners with it, and no corner was made lighter: what the middle
    of the same edge moved is the sky's, or the ground's.
    """
    height, width = (round(CORNER * length) for length in maps.value.shape)
    inner = slice(width, -width)
    moved = [
        [(corner.mean(), corner.mean() - maps.value[rows, inner].mean()) for corner in _corners_of(maps, rows, width)]
        for rows in _ends(height)
    ]
    least = np.sign(change) * -np.array(moved).reshape(-1, 2).mean(axis=0)
    return bool(least.min() >= CORNERS_STILL * abs(change))


def _corners_of(maps: ChangeMaps, rows: slice, width: int) -> list[Map]:
    return [maps.value[rows, columns] for columns in _ends(width)]


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
