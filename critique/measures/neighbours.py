"""Whether the greens part in value from the colours that touch them, or in hue alone."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from critique.measures.families import Family, assign_families
from critique.measures.figure import OWN, Words
from critique.measures.values import TWIN_CHROMA, TWIN_HUE, TWIN_SHARE
from critique.perception.hue import GREEN_FAMILY, turn
from critique.picture.picture import Picture, lab_at
from critique.words.figures import number

if TYPE_CHECKING:
    from critique.measures.measure import Measures

MAP_LONG_EDGE = 400  # px: masses meet, not strokes
APART = 5  # px of the map: far enough from the border that neither side is blended with the other
LIGHTEST = 75.0  # L*: greens lighter than this are a sky's or a light's, and nobody parts those
TOUCHES = 0.12  # of the border of the smaller of two families that makes them neighbours; our choice


@dataclass(frozen=True, slots=True)
class GreenNeighbours:
    """A green and a colour of another hue that touch: the two, of all such, that are nearest in value.

    ``green`` and ``other`` are indices of families, ``value_difference`` is that of the two along their border
    (L*/10; negative when the green is darker), ``contact`` the part of the smaller one's border that they share. All
    None when no such two touch.
    """

    green: int | None
    other: int | None
    value_difference: float | None
    contact: float | None


def measure_neighbours(picture: Picture, families: tuple[Family, ...]) -> GreenNeighbours:
    """Find the green and its neighbour that are nearest in value, among the families of a picture."""
    pairs = _candidates(families)
    if not pairs:
        return GreenNeighbours(None, None, None, None)
    lab = lab_at(picture, MAP_LONG_EDGE)
    owner = assign_families(lab, families)
    meetings, steps = _meetings(owner, lab[..., 0], len(families))
    borders = meetings.sum(axis=1)
    found = []
    for green, other in pairs:
        contact = meetings[green, other] / max(min(borders[green], borders[other]), 1.0)
        if contact >= TOUCHES:
            step = (steps[green, other] - steps[other, green]) / meetings[green, other] / 10
            found.append((abs(step), green, other, float(step), float(contact)))
    if not found:
        return GreenNeighbours(None, None, None, None)
    _, green, other, step, contact = min(found)
    return GreenNeighbours(green, other, step, contact)


def _candidates(families: tuple[Family, ...]) -> list[tuple[int, int]]:
    """Greens with the colours of another hue, both large enough to matter."""
    large = [
        index for index, family in enumerate(families) if family.share >= TWIN_SHARE and family.lch[1] >= TWIN_CHROMA
    ]
    greens = [
        index
        for index in large
        if families[index].lab[0] <= LIGHTEST and GREEN_FAMILY.contains(np.array(families[index].lab))
    ]
    return [
        (green, other)
        for green in greens
        for other in large
        if other not in greens and abs(float(turn(families[green].lch[2], families[other].lch[2]))) >= TWIN_HUE
    ]


def _meetings(
    owner: NDArray[np.intp], lightness: NDArray[np.float32], count: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """How often each two families lie ``APART`` from each other, (n, n), and the sum of L* on the first one's side.

    What borders on another family itself is left out: the edge there is blended of both.
    """
    inside = _inside(owner)
    meetings, sums = np.zeros(count * count), np.zeros(count * count)
    for one, two in (
        ((slice(None), slice(None, -APART)), (slice(None), slice(APART, None))),
        ((slice(None, -APART), slice(None)), (slice(APART, None), slice(None))),
    ):
        kept = inside[one] & inside[two]
        for here, there in ((one, two), (two, one)):
            pair = (owner[here] * count + owner[there])[kept]
            meetings += np.bincount(pair, minlength=count * count)
            sums += np.bincount(pair, weights=lightness[here][kept], minlength=count * count)
    square, total = meetings.reshape(count, count), sums.reshape(count, count)
    np.fill_diagonal(square, 0)
    return square, total


def _inside(owner: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Where the four neighbours belong to the same family."""
    inside = np.ones(owner.shape, bool)
    across, down = owner[:, 1:] == owner[:, :-1], owner[1:] == owner[:-1]
    inside[:, 1:] &= across
    inside[:, :-1] &= across
    inside[1:] &= down
    inside[:-1] &= down
    return inside


def _green_beside(measures: "Measures") -> str:
    near = measures.neighbours
    if near.green is None or near.other is None or near.value_difference is None:
        return "none touch"
    names = measures.families[near.green].name, measures.families[near.other].name
    return f"{names[0]} and {names[1]}, {number(abs(near.value_difference))} apart"


FIGURES = (
    Words(
        page="neighbours",
        label="Green against its neighbour",
        meaning="whether a green parts in value from what it touches",
        definition=f"The green family and the family {TWIN_HUE:.0f}° or more of hue away that share {TOUCHES:.0%} of "
        "the "
        "smaller one’s border, and of these the two nearest in value along it.",
        source=OWN,
        told=_green_beside,
    ),
)
