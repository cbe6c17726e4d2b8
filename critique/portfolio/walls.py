"""How a few pictures hang on a wall, and what can be said of them."""

from typing import Any

import numpy as np

from critique.advice.colour_words import word_of_lab
from critique.perception.cielab import lab_to_srgb8
from critique.perception.srgb import hex_of
from critique.portfolio.together import Hanging
from critique.words.lists import counted, listed

KEYS = ("high", "middle", "low")
SAME_VALUE = 0.05  # values: less is printed as one
ONE_KEY = 1.0  # values: a wall reads such middles as one key, on whichever side of a border they lie; our choice
CLOSE, NEARER = 0.5, 0.9  # of what two pictures of the portfolio usually differ by
MOST_COLOURS = 3  # named of those that the pictures share; more are no longer taken in


def wall_order(ranks: tuple[int, ...]) -> list[int]:
    """From left to right: the picture that the others are nearest to, which comes first in ``ranks``, in the middle."""
    return [*ranks[1::2][::-1], *ranks[0::2]]


def why_together(rows: list[dict[str, Any]], group: Hanging) -> str:
    """What holds a group together, in key, in colours and in a figure."""
    keys = sorted({row["key"] for row in rows}, key=KEYS.index)
    values = [row["figures"]["values.percentiles.p50"] for row in rows]
    close = max(values) - min(values) < ONE_KEY
    apart = "Close in key" if close else f"In the {listed(keys)} keys"
    where = f"All in the {keys[0]} key" if len(keys) == 1 else apart
    return (
        f"{where}: middle values {_between(min(values), max(values))} (0 is black, 10 white). Their colours are "
        f"{_how_near(group)}."
    )


def _between(low: float, high: float) -> str:
    return f"about {low:.1f}" if high - low < SAME_VALUE else f"from {low:.1f} to {high:.1f}"


def _how_near(group: Hanging) -> str:
    """How near the palettes of a group are, beside those of any two pictures of the portfolio."""
    part = group.apart / group.usual
    if part <= CLOSE:
        return "less than half as far apart as is usual between two pictures here"
    if part <= NEARER:
        return "nearer to each other than is usual between two pictures here"
    return "no nearer to each other than those of any two pictures here"


def shared_colours(rows: list[dict[str, Any]]) -> tuple[tuple[str, str], ...]:
    """Colours, by a painter's word, that more than half of the pictures have among their families: largest first.

    Each with words for the page and its middle colour as sRGB.
    """
    found: dict[str, list[tuple[int, float, list[float]]]] = {}
    for picture, row in enumerate(rows):
        for family in row["families"]:
            found.setdefault(word_of_lab(np.asarray(family["lab"])), []).append(
                (picture, family["share"], family["lab"])
            )
    common = []
    for name, families in found.items():
        number = len({picture for picture, _, _ in families})
        if number * 2 > len(rows):
            shares = np.array([share for _, share, _ in families])
            middle = np.average(np.array([lab for _, _, lab in families]), axis=0, weights=shares)
            common.append((-float(shares.sum()), name, number, hex_of(lab_to_srgb8(middle.astype(np.float32)))))
    return tuple(
        (_in_how_many(name, number, len(rows)), srgb) for _, name, number, srgb in sorted(common)[:MOST_COLOURS]
    )


def _in_how_many(name: str, number: int, of: int) -> str:
    return f"{name}, in all {counted(of)}" if number == of else f"{name}, in {counted(number)} of {counted(of)}"
