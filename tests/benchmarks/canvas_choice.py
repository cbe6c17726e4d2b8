"""Fit what speaks for four edges being the sides of a canvas, on photographs with known corners.

    python tests/benchmarks/canvas_choice.py PAINTINGS --scenes FOLDER --first 0 --number 300 [--first …]
                                             [--leave-out NAME] [--kept FILE …] [--ask FILE] [--table FILE]
                                             [--left-out FILE]

Writes reference_data/canvas_choice.csv (critique/photograph/canvas_worth.py): that by which a right choice of one edge
for each side is likeliest among all choices, two nets in one. With --left-out it tells instead how many are chosen
right by a fit that didn't know their paintings, and keeps those fits for canvas_sureness.py. What is told of many
photographs is asked in parts: --ask FILE writes it, --kept FILE takes it. Keep seeds that are to be looked at once out
of it.
"""

import argparse
import csv
import pickle
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from canvas_choice_net import Fitted, Table, fit, picked
from photographs import NEAR, photograph_of

from critique.photograph.canvas import close_look
from critique.photograph.canvas_joint import corners_of
from critique.photograph.canvas_told import COMMON
from critique.photograph.canvas_worth import LEAST, SIDE, VIEW, choice_worth, fitted_worth, sides_told, view_told

WORTHIEST, RIGHT, FURTHER = 250, 40, 120  # choices that are kept of each photograph: wrong ones, right ones, any others
FOLDS = 4  # in turn all photographs of a quarter of the paintings are left out
HEAD = (
    "# What is told of edges near a canvas, and how four of them lie, weighed: which four are its sides",
    "# (photograph/canvas_worth.py). Fitted by tests/benchmarks/canvas_choice.py to drawn photographs.",
)


@dataclass(frozen=True, slots=True, eq=False)
class Choices:
    """Many choices of one photograph: ``lines`` (choices, 4) among its edges, how far their corners are off."""

    painting: str
    side: np.ndarray  # (edges, SIDE)
    pair: np.ndarray  # (edges, edges, COMMON)
    view: np.ndarray  # (choices, VIEW)
    lines: np.ndarray
    error: np.ndarray


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=Path)
    parser.add_argument("--scenes", type=Path)
    parser.add_argument("--first", type=int, action="append", default=[])
    parser.add_argument("--number", type=int, default=100)
    parser.add_argument("--leave-out", action="append", default=[])
    parser.add_argument("--kept", type=Path, action="append", default=[])
    parser.add_argument("--ask", type=Path)
    parser.add_argument("--table", type=Path, default=Path("reference_data/canvas_choice.csv"))
    parser.add_argument("--left-out", type=Path)
    options = parser.parse_args()
    paintings = [path for path in sorted(options.folder.glob("*.jpg")) if path.name not in options.leave_out]
    seeds = [seed for first in options.first for seed in range(first, first + options.number)]
    found = [one for path in options.kept for one in pickle.loads(path.read_bytes())]
    found += choices(seeds, paintings, options)
    if options.ask:
        options.ask.write_bytes(pickle.dumps(found))
        return
    if options.left_out:
        tell_left_out(found, options.left_out)
        return
    fitted = fit(Table(found))
    with options.table.open("w", encoding="utf-8", newline="") as stream:
        stream.write("\n".join(HEAD) + "\n")
        write(csv.writer(stream, lineterminator="\n"), fitted)


def choices(seeds: list[int], paintings: list[Path], options: argparse.Namespace) -> Iterator[Choices]:
    """Of each photograph the worthiest choices, right ones, those that differ from one in a side, and some others."""
    for seed in seeds:
        photograph = photograph_of(seed, paintings, options.scenes)
        codes = photograph.codes()
        look = None if photograph.painting in options.leave_out else close_look(codes)
        if look is None:
            continue
        own = [np.flatnonzero(look.pool.side == side) for side in range(4)]
        lines = np.stack(np.meshgrid(*own, indexing="ij"), axis=-1).reshape(-1, 4)
        found = corners_of(look.pool, lines)
        corners = np.asarray(photograph.corners)
        longest = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T).max()
        error = np.hypot(*np.moveaxis(found - corners, -1, 0)).max(axis=1) / longest
        order = np.argsort(-choice_worth(look.pool, look.seen, fitted_worth()).ravel(), kind="stable")
        right = order[error[order] <= NEAR]
        beside = np.flatnonzero((lines != lines[right[0]]).sum(axis=1) == 1) if len(right) else right
        others = np.random.default_rng(seed).permutation(order[WORTHIEST:])[:FURTHER]
        kept = np.unique(np.concatenate([order[:WORTHIEST], right[:RIGHT], beside, others]))
        yield Choices(
            photograph.painting,
            sides_told(look.pool, look.seen).astype(np.float32),
            look.seen.common.astype(np.float32),
            view_told(found[kept], codes.shape[:2]).astype(np.float32),
            lines[kept],
            error[kept],
        )


def tell_left_out(found: list[Choices], keep: Path) -> None:
    names = sorted({one.painting for one in found})
    right, of_painting = 0, {}
    for left in range(FOLDS):
        own = names[left::FOLDS]
        fitted = fit(Table([one for one in found if one.painting not in own]))
        right += int(picked(Table([one for one in found if one.painting in own]), fitted).sum())
        of_painting |= dict.fromkeys(own, fitted)
    keep.write_bytes(pickle.dumps(of_painting))
    possible = sum(one.error.min() <= NEAR for one in found)
    print(f"{len(found)} photographs, {possible} with a right choice; chosen right, left out: {right}")


def write(table: "csv.Writer", fitted: Fitted) -> None:
    number = max(len(fitted.side.out), len(fitted.pair.out))
    table.writerow(["of", "cue", "middle", "spread", "direct", *(f"unit_{unit}" for unit in range(1, number + 1))])
    for of, net, cues in (("side", fitted.side, SIDE), ("pair", fitted.pair, COMMON)):
        for number, cue in enumerate(cues):
            straight = (net.middle[number], net.spread[number], net.direct[number])
            table.writerow([of, cue, *(f"{value:.5g}" for value in (*straight, *net.units[number]))])
        for cue, values in (("bias", net.bias), ("out", net.out)):
            table.writerow([of, cue, "", "", "", *(f"{value:.5g}" for value in values)])
    for of, weights, cues in (("least", fitted.least, LEAST), ("view", fitted.view, VIEW)):
        for cue, weight in zip(cues, weights, strict=True):
            table.writerow([of, cue, "", "", f"{weight:.5g}"])


if __name__ == "__main__":
    main()
