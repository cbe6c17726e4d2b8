"""The fit of make_part_weights.py: chances of regions from cues, held to outlines, to noted shares, and to copies."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize

from critique.measures.part_chances import KINDS, softmax

PENALTY = 0.2  # of the ridge, a cue of spread 1 having a weight of 1 in all
NOTED = 10.0  # what a noted share weighs, as a squared difference, beside the outlines' log loss
STEADY = 150.0  # what a difference between the shares of a picture and of its copies weighs, squared
OWN = 0.25  # weight of a picture itself, its copies sharing the rest
MIXTURES = 12  # of cues, beside the cues themselves: left out, water and what is no painting are missed by less
START_MIXING, START_MIXTURES = 0.1, 0.1  # spread of the random weights that these start from
ROUNDS = 150  # of the fit: more change little


@dataclass(frozen=True, slots=True)
class Sample:
    """One picture: its regions' cues (n, cues), what they are (n, 4) as surely as is known, shares noted (3,) or none.

    ``whole`` where a copy shows all of the picture, so that its shares are the same.
    """

    name: str
    cues: np.ndarray
    kinds: np.ndarray
    between: np.ndarray
    share: np.ndarray
    noted: np.ndarray | None
    weight: float
    also: bool = False
    whole: bool = True
    copies: tuple["Sample", ...] = ()


@dataclass(frozen=True, slots=True)
class Weights:
    """Of raw cues and a start (cues + 1, 4), of cues and a start in mixtures (cues + 1, m), of mixtures (m, 4)."""

    cues: np.ndarray
    mixing: np.ndarray
    mixtures: np.ndarray

    def chance(self, cues: np.ndarray) -> np.ndarray:
        asked = np.c_[cues, np.ones(len(cues))]
        return softmax(asked @ self.cues + np.tanh(asked @ self.mixing) @ self.mixtures)


@dataclass(frozen=True, slots=True)
class Rows:
    """All regions of all pictures and copies, one below the other, and a row (v, …) a picture or copy."""

    cues: np.ndarray  # (r, cues + 1), of mean 0 and spread 1
    kinds: np.ndarray  # (r, 4)
    between: np.ndarray  # (r, 1)
    share: np.ndarray  # (r, 1)
    first: np.ndarray  # (v,), row of each picture's first region
    of: np.ndarray  # (r,), picture of each region
    own: np.ndarray  # (v,), the picture that each is a copy of
    noted: np.ndarray  # (v, 3)
    held: np.ndarray  # (v, 1), weight of its notes
    steady: np.ndarray  # (v, 1), weight of what tells it from its original
    number: int  # pictures, copies not counted


def fit(samples: Sequence[Sample]) -> Weights:
    """Weights of raw cues, by a logistic regression with one layer of mixtures beside it.

    A picture and its copies share its weight, and what is told apart between them is a loss of its own: without that a
    little blur takes a fifteenth of the picture off what reads as green.
    """
    centre = np.mean([each.cues.mean(0) for each in samples], axis=0)
    spread = np.sqrt(np.mean([np.square(each.cues - centre).mean(0) for each in samples], axis=0)) + 1e-9
    rows = _rows(samples, centre, spread)
    count = rows.cues.shape[1]
    shapes = ((count, len(KINDS)), (count, MIXTURES), (MIXTURES, len(KINDS)))
    rng = np.random.default_rng(0)
    start = [rng.normal(0, size, shape) for size, shape in zip((0, START_MIXING, START_MIXTURES), shapes, strict=True)]
    found = minimize(
        lambda flat: _loss(rows, unpacked(flat, shapes)),
        np.concatenate(start, axis=None),
        jac=True,
        method="L-BFGS-B",
        options={"maxiter": ROUNDS},
    )
    weights, mixing, mixtures = unpacked(found.x, shapes)
    for part in (weights, mixing):
        part[:-1] /= spread[:, None]
        part[-1] -= centre @ part[:-1]
    return Weights(weights - weights[:, 3:], mixing, mixtures - mixtures[:, 3:])


def unpacked(flat: np.ndarray, shapes: Sequence[tuple[int, int]]) -> list[np.ndarray]:
    cuts = np.cumsum([rows * columns for rows, columns in shapes])[:-1]
    return [part.reshape(shape) for part, shape in zip(np.split(flat, cuts), shapes, strict=True)]


def _rows(samples: Sequence[Sample], centre: np.ndarray, spread: np.ndarray) -> Rows:
    views: list[Sample] = []
    own, weights, held, steady = [], [], [], []
    for each in samples:
        original = len(views)
        for copy in (each, *each.copies):
            part = 1.0 if not each.copies else OWN if copy is each else (1 - OWN) / len(each.copies)
            views.append(copy)
            own.append(original)
            weights.append(part * each.weight)
            held.append(part * NOTED * (each.noted is not None))
            steady.append(part * each.weight * STEADY * (copy.whole and copy is not each))
    sizes = [len(view.share) for view in views]
    of = np.repeat(np.arange(len(views)), sizes)
    weight = np.array(weights, dtype=np.float32)[of, None]
    cues = (np.concatenate([view.cues for view in views]) - centre) / spread
    return Rows(
        cues=np.c_[cues, np.ones(len(cues))].astype(np.float32),
        kinds=np.concatenate([view.kinds for view in views]).astype(np.float32) * weight,
        between=np.concatenate([view.between for view in views]).astype(np.float32)[:, None] * weight,
        share=np.concatenate([view.share for view in views]).astype(np.float32)[:, None],
        first=np.cumsum([0, *sizes[:-1]]),
        of=of,
        own=np.array(own),
        noted=np.array([view.noted if view.noted is not None else np.zeros(3) for view in views]),
        held=np.array(held)[:, None],
        steady=np.array(steady)[:, None],
        number=len(samples),
    )


def _loss(rows: Rows, parts: Sequence[np.ndarray]) -> tuple[float, np.ndarray]:
    """The loss of weights, and its slope by each of them, laid out as one row."""
    weights, mixing, mixtures = (part.astype(np.float32) for part in parts)
    mixed = np.tanh(rows.cues @ mixing)
    chance = softmax(rows.cues @ weights + mixed @ mixtures)
    land = chance[:, 2:].sum(1, keepdims=True) + 1e-9
    of_land = np.zeros_like(chance)
    of_land[:, 2:] = chance[:, 2:] / land
    shares = np.add.reduceat(rows.share * chance, rows.first)[:, :3]
    off, moved = shares - rows.noted, shares - shares[rows.own]
    by_share = 2 * (rows.held * off + rows.steady * moved)
    np.subtract.at(by_share, rows.own, 2 * rows.steady * moved)
    pull = np.zeros_like(chance)
    pull[:, :3] = by_share[rows.of]
    value = float((rows.held * np.square(off) + rows.steady * np.square(moved)).sum())
    value -= float((rows.kinds * np.log(chance + 1e-9)).sum() + (rows.between * np.log(land)).sum())
    slope = chance * rows.kinds.sum(1, keepdims=True) - rows.kinds + rows.between * (chance - of_land)
    slope += rows.share * chance * (pull - (pull * chance).sum(1, keepdims=True))
    slope /= rows.number
    ridge = PENALTY / rows.cues.shape[1]
    for_cues = rows.cues.T @ slope
    for_cues[:-1] += 2 * ridge * weights[:-1]
    for_mixing = rows.cues.T @ ((slope @ mixtures.T) * (1 - np.square(mixed))) + 2 * ridge * mixing
    for_mixtures = mixed.T @ slope + 2 * ridge * mixtures
    penalty = float(sum(np.square(part).sum() for part in (weights[:-1], mixing, mixtures)))
    slopes = np.concatenate([for_cues, for_mixing, for_mixtures], axis=None)
    return value / rows.number + ridge * penalty, slopes.astype(np.float64)
