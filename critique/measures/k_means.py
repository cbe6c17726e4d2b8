"""Weighted k-means of a few hundred colours: which few stand for them.

Written out here because scikit-learn's, which this follows in all but its threads, takes longer to import than a
picture takes to be measured, and most of that for what nobody asks of it.

Where every number of centres is asked for in turn, each is found from the last with one centre more, where that takes
away most [Likas, Vlassis and Verbeek, The global k-means clustering algorithm, Pattern Recognition 36(2), 2003]:
nothing is drawn, and a picture saved at another size keeps its families twice as often. Else seeds are spread by greedy
k-means++ [Arthur and Vassilvitskii, k-means++: the advantages of careful seeding, 2007]. Centres are found by Lloyd's
iteration [Least squares quantization in PCM, 1982].
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

Float = NDArray[np.float64]
Labels = NDArray[np.intp]


def k_means(
    points: Float, weights: Float, number: int, *, starts: int, seed: int, most_steps: int, tolerance: float
) -> tuple[float, Float, Labels]:
    """The best of some starts: its weighted scatter, its centres (number, 3) and the centre of each point (n,).

    Parameters
    ----------
    points : (n, 3), at least ``number`` of them, no two alike.
    weights : (n,), positive.
    starts : how many times seeds are spread anew.
    tolerance : of the mean variance of the coordinates; centres that move less have settled.
    """
    random = np.random.RandomState(seed)
    middle = points.mean(axis=0)  # distances are exact about the middle, where the squares are small
    centred = points - middle
    settled = tolerance * float(np.mean(np.var(centred, axis=0)))
    best: tuple[float, Float, Labels] | None = None
    for _ in range(starts):
        found = _lloyd(centred, weights, _seeds(centred, weights, number, random), most_steps, settled)
        if best is None or found[0] < best[0]:
            best = found
    assert best is not None
    scatter, centres, labels = best
    return scatter, centres + middle, labels


def growing_means(
    points: Float, weights: Float, *, most_steps: int, tolerance: float
) -> Iterator[tuple[float, Float, Labels]]:
    """The same for 1, 2, 3 … centres, as far as is asked, each with one centre more than the last; nothing is drawn."""
    middle = points.mean(axis=0)
    centred = points - middle
    settled = tolerance * float(np.mean(np.var(centred, axis=0)))
    apart = _distances(centred, centred)
    centres = np.average(centred, axis=0, weights=weights)[None]
    while True:
        scatter, centres, labels = _lloyd(centred, weights, centres, most_steps, settled)
        yield scatter, centres + middle, labels
        nearest = _distances(centred, centres).min(axis=1)
        taken_away = weights @ np.maximum(nearest[:, None] - apart, 0)
        centres = np.concatenate([centres, centred[int(taken_away.argmax())][None]])


def _distances(points: Float, centres: Float) -> Float:
    """Squared distances (n, k)."""
    total = np.zeros((len(points), len(centres)))
    for axis in range(points.shape[1]):  # far quicker than a sum over so short an axis, and the same to the last bit
        total += np.square(points[:, axis, None] - centres[:, axis])
    return total


def _seeds(points: Float, weights: Float, number: int, random: np.random.RandomState) -> Float:
    """Points far apart: each the best of a few drawn with odds that rise with weight and squared distance."""
    tries = 2 + int(np.log(number))
    chosen = [int(random.choice(len(points), p=weights / weights.sum()))]
    nearest = _distances(points, points[chosen])[:, 0]
    for _ in range(number - 1):
        odds = np.cumsum(weights * nearest)
        drawn = np.minimum(np.searchsorted(odds, random.uniform(size=tries) * odds[-1]), len(points) - 1)
        closer = np.minimum(nearest[:, None], _distances(points, points[drawn]))
        best = int((weights @ closer).argmin())
        chosen.append(int(drawn[best]))
        nearest = closer[:, best]
    return points[chosen]


def _lloyd(
    points: Float, weights: Float, centres: Float, most_steps: int, settled: float
) -> tuple[float, Float, Labels]:
    labels = np.full(len(points), -1, dtype=np.intp)
    for _ in range(most_steps):
        distances = _distances(points, centres)
        assigned = distances.argmin(axis=1)
        if (assigned == labels).all():
            break
        labels = assigned
        moved = _means(points, weights, labels, distances)
        shift = float(((moved - centres) ** 2).sum())
        centres = moved
        if shift <= settled:
            break
    distances = _distances(points, centres)
    labels = distances.argmin(axis=1)
    return float((weights * distances[np.arange(len(points)), labels]).sum()), centres, labels


def _means(points: Float, weights: Float, labels: Labels, distances: Float) -> Float:
    """The weighted mean of each centre's points; a centre that has none goes to the point farthest from its own."""
    number = distances.shape[1]
    mass = np.bincount(labels, weights=weights, minlength=number)
    sums = [np.bincount(labels, weights=weights * axis, minlength=number) for axis in points.T]
    means = np.stack(sums, axis=1) / np.maximum(mass, 1e-300)[:, None]
    empty = np.flatnonzero(mass == 0)
    if len(empty):
        farthest = np.argsort(-distances[np.arange(len(points)), labels], kind="stable")
        means[empty] = points[farthest[: len(empty)]]
    return np.asarray(means)
