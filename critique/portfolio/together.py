"""Which few pictures would hang well together, by palette and value."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.finding import LEVELS
from critique.portfolio.body import Body

CONSIDERED = 240  # pictures, the readiest: a show is chosen from the best, and all pairs of these take under a second
FEWEST, MOST = 3, 5  # pictures of a group; a wall of a small show, common practice
MOST_GROUPS = 3
TOO_ALIKE = 1.5  # in units of L*a*b*: a crop or a second photograph of the same picture
CLOSE = 0.75  # of the middle distance between two pictures of the portfolio; a looser group is none

Distances = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Hanging:
    """Pictures that hang well together: their ranks (0 is the readiest), the one in the middle of the wall first.

    ``apart`` is the mean distance between two of them, ``usual`` the middle distance in the whole portfolio.
    """

    ranks: tuple[int, ...]
    apart: float
    usual: float


def hangings(body: Body, twins: Sequence[Sequence[int]] = ()) -> tuple[Hanging, ...]:
    """Up to three groups of three to five pictures, closest first; no picture is in two.

    ``twins`` are ranks that show one painting each: on one wall it hangs once.
    """
    chosen = _considered(body)
    if len(chosen) < FEWEST:
        return ()
    distances = palette_distances(body.families[chosen], body.shares[chosen])
    usual = float(np.median(distances[np.triu_indices(len(chosen), 1)]))
    for ranks in twins:
        same = np.flatnonzero(np.isin(chosen, ranks))
        distances[np.ix_(same, same)] = 0.0
    free = np.ones(len(chosen), dtype=bool)
    size = int(np.clip(len(chosen) // 2, FEWEST, MOST))
    groups: list[Hanging] = []
    while len(groups) < MOST_GROUPS and free.sum() >= FEWEST:
        members, apart = _closest(distances, free, size)
        if len(members) < FEWEST or apart > CLOSE * usual:
            break
        free[members] = False
        groups.append(Hanging(tuple(int(chosen[member]) for member in members), apart, usual))
    return tuple(groups)


def palette_distances(families: NDArray[np.float32], shares: NDArray[np.float32]) -> Distances:
    """Distance of every two pictures by how their colours are spread in L*a*b*, value included: (n, n).

    ``families`` (n, k, 3) with their ``shares`` (n, k). It is the energy distance, whose unit is that of L*a*b*: 0
    for the same colours in the same shares. [Székely and Rizzo, Energy statistics, 2013]
    """
    number, count, _ = families.shape
    weight = (shares / np.maximum(shares.sum(axis=1, keepdims=True), 1e-9)).astype(np.float64)
    colours = families.reshape(-1, 3).astype(np.float64)
    crossed = np.empty((number, number))
    for picture in range(number):
        gaps = np.sqrt(np.square(families[picture].astype(np.float64)[:, None] - colours[None]).sum(axis=-1))
        means = (weight[picture] @ gaps).reshape(number, count)
        crossed[picture] = (means * weight).sum(axis=1)
    within = np.diagonal(crossed)
    return np.maximum(2 * crossed - within[:, None] - within[None, :], 0)


def _considered(body: Body) -> NDArray[np.intp]:
    """The readiest pictures, those that need rework left out where there are enough without, each content once.

    None that may have been judged with the wall around it: its colours are perhaps the wall's.
    """
    _, first = np.unique(np.array(body.content), return_index=True)
    once = np.sort(first)
    once = once[~body.uncropped[once]]
    sound = once[~(body.levels[once] == LEVELS.index("rework")).any(axis=1)]
    return (sound if len(sound) >= FEWEST else once)[:CONSIDERED]


def _closest(distances: Distances, free: NDArray[np.bool_], size: int) -> tuple[list[int], float]:
    """The picture whose nearest free neighbours make the closest group, with these, and their mean distance."""
    best: list[int] = []
    least = np.inf
    for seed in np.flatnonzero(free):
        members = [int(seed)]
        for other in np.argsort(distances[seed], kind="stable"):
            if len(members) == size:
                break
            if free[other] and other != seed and distances[other, members].min() > TOO_ALIKE:
                members.append(int(other))
        if len(members) < FEWEST:
            continue
        apart = float(distances[np.ix_(members, members)].sum() / (len(members) * (len(members) - 1)))
        if apart < least:
            best, least = members, apart
    return best, float(least)
