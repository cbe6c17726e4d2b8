"""Fit what speaks for four edges being the sides of a canvas, on photographs with known corners.

    python tests/benchmarks/canvas_choice.py PAINTINGS --scenes FOLDER --first 0 --number 300 [--first …]
                                             [--leave-out NAME] [--onward]

Prints ``WEIGHTS``, ``WEAKEST`` and ``ALIKE`` of critique/photograph/canvas_joint.py: those by which a right choice of
one edge for each side is likeliest among all choices. With --onward the fit begins at those that are there, and stays
near them: for further photographs. Keep seeds that are to be looked at once out of it.
"""

import argparse
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from photographs import NEAR, photograph_of
from scipy.optimize import minimize

from critique.photograph.canvas import close_look
from critique.photograph.canvas_joint import ALIKE, WEAKEST, WEIGHTS, choice_worth, corners_of
from critique.photograph.canvas_told import FIGURES

RESTRAINT = 1e-4  # of the fit, on standardised figures
NEAR_PRESENT = 3e-3  # the same of one that begins at the present weights
RIGHT, HARDEST, FURTHER = 60, 250, 350  # choices of each photograph: right ones, the worthiest wrong ones, any others
KEPT = 2500  # choices of each photograph that are held in memory, the worthiest so far, and half as many others
ROUNDS = 3  # each finds the worthiest wrong ones by the fit before


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=Path)
    parser.add_argument("--scenes", type=Path)
    parser.add_argument("--first", type=int, action="append", default=[])
    parser.add_argument("--number", type=int, default=100)
    parser.add_argument("--leave-out", action="append", default=[])
    parser.add_argument("--onward", action="store_true", help="Begin at the weights that are there.")
    options = parser.parse_args()
    paintings = [path for path in sorted(options.folder.glob("*.jpg")) if path.name not in options.leave_out]
    seeds = [seed for first in options.first for seed in range(first, first + options.number)]
    found = list(choices(seeds, paintings, options))
    present = np.array([*WEIGHTS.values(), *WEAKEST.values(), *ALIKE.values()])
    weights = start = present if options.onward else np.zeros_like(present)
    for _ in range(1 if options.onward else ROUNDS):
        weights = fit([taken(*one, weights) for one in found], start, NEAR_PRESENT if options.onward else RESTRAINT)
    picked = sum(error[(figures @ weights).argmax()] <= NEAR for figures, error in found)
    print(f"{len(found)} photographs with a right choice; it is the worthiest in {picked / len(found):.1%}")
    parts = np.split(weights, [len(FIGURES), len(FIGURES) + len(WEAKEST)])
    for name, names, part in zip(("WEIGHTS", "WEAKEST", "ALIKE"), (WEIGHTS, WEAKEST, ALIKE), parts, strict=True):
        print(f"{name} = {{")
        for one, weight in zip(names, part, strict=True):
            print(f'    "{one}": {weight:.3f},')
        print("}")


def choices(
    seeds: list[int], paintings: list[Path], options: argparse.Namespace
) -> Iterator[tuple[np.ndarray, np.ndarray]]:
    """What is told of many choices, and how far its corners are off; of photographs that have a right one."""
    for seed in seeds:
        photograph = photograph_of(seed, paintings, options.scenes)
        look = None if photograph.painting in options.leave_out else close_look(photograph.codes())
        if look is None or not look.base.signs:
            continue
        own = [np.flatnonzero(look.pool.side == side) for side in range(4)]
        lines = np.stack(np.meshgrid(*own, indexing="ij"), axis=-1).reshape(-1, 4)
        corners = np.asarray(photograph.corners)
        longest = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T).max()
        error = np.hypot(*np.moveaxis(corners_of(look.pool, lines) - corners, -1, 0)).max(axis=1) / longest
        if error.min() <= NEAR:
            order = np.argsort(-choice_worth(look.pool, look.seen).ravel(), kind="stable")
            others = np.random.default_rng(seed).permutation(order[KEPT:])[: KEPT // 2]
            right = order[error[order] <= NEAR][:RIGHT]
            kept = np.unique(np.concatenate([order[:KEPT], right, others]))
            lines, error = lines[kept], error[kept]
            each, common = look.seen.figures[lines], look.seen.common
            two = sum(common[lines[:, side], lines[:, other]] for side in range(4) for other in range(side))
            least = each[..., [FIGURES.index(name) for name in WEAKEST]].min(axis=1)
            yield np.concatenate([each.sum(axis=1), least, two], axis=1).astype(np.float32), error


def taken(figures: np.ndarray, error: np.ndarray, weights: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Some of a photograph's choices, and which of them are right."""
    order = np.argsort(-(figures @ weights), kind="stable")
    right, wrong = order[error[order] <= NEAR][:RIGHT], order[error[order] > NEAR]
    further = np.random.default_rng(1).permutation(wrong[HARDEST:])[:FURTHER]
    some = np.concatenate([right, wrong[:HARDEST], further])
    return figures[some], np.arange(len(some)) < len(right)


def fit(found: list[tuple[np.ndarray, np.ndarray]], start: np.ndarray, restraint: float) -> np.ndarray:
    every = np.concatenate([figures for figures, _ in found])
    middle, spread = every.mean(axis=0), every.std(axis=0) + 1e-6
    standard = [((figures - middle) / spread, right) for figures, right in found]

    def against(weights: np.ndarray) -> tuple[float, np.ndarray]:
        total, slope = 0.0, np.zeros_like(weights)
        for figures, right in standard:
            worth = figures @ weights
            likely = np.exp(worth - worth.max())
            of_right = likely * right
            total += np.log(likely.sum()) - np.log(of_right.sum() + 1e-30)
            slope += likely @ figures / likely.sum() - of_right @ figures / (of_right.sum() + 1e-30)
        number = len(standard)
        off = weights - start * spread
        return total / number + restraint * (off @ off), slope / number + 2 * restraint * off

    best = minimize(against, start * spread, jac=True, method="L-BFGS-B", options={"maxiter": 80})
    return np.asarray(best.x / spread)


if __name__ == "__main__":
    main()
