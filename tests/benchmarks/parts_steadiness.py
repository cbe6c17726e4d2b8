"""How steady sky, water and what reads as green are under another photograph: `parts_steadiness.py FOLDER [--every 1]`.

Each picture of the folder is asked as it is and as every copy of `reference_data/altered_copies.py` has it: softer,
with noise, as JPEG, in another light, cropped, mirrored, photographed. Prints, a kind of copy, how often each share
stays within 0.02 of the picture's (bar 95 %), and by how much it moves at the 90th percentile.
"""

import argparse
import sys
from collections import defaultdict
from pathlib import Path

import numpy as np
from photographs import DEMOS

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "reference_data"))

from altered_copies import COPIES, copy_of
from make_photograph_spread import pictures_of

from critique.measures.parts import measure_parts
from critique.measures.reads_as_green import measure_reads_as_green
from critique.picture.picture import Picture, picture_from_srgb

NEAR = 0.02  # of the area
SHARES = ("sky", "water", "land", "reads as green")


def shares(picture: Picture) -> tuple[float, ...]:
    parts = measure_parts(picture)
    land = 1 - parts.sky_share - parts.water_share
    return parts.sky_share, parts.water_share, land, measure_reads_as_green(picture, parts).share


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", nargs="?", type=Path, default=DEMOS)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--every", type=int, default=1)
    options = parser.parse_args()
    moved: dict[str, list[np.ndarray]] = defaultdict(list)
    for number, picture in enumerate(pictures_of(options.folder)):
        if number < options.first or (number - options.first) % options.every:
            continue
        before = np.array(shares(picture))
        for kind in COPIES:
            # Another seed than the fit's: other noise, and another side of a cast.
            copy = picture_from_srgb(copy_of(picture.srgb, kind, 10_000 + number).srgb)
            moved[kind].append(np.array(shares(copy)) - before)
    moved["all"] = [move for moves_of in moved.values() for move in moves_of]
    for kind, moves in moved.items():
        told = [
            f"{name} {np.mean(np.abs(moves_of) <= NEAR):.0%}, {np.quantile(np.abs(moves_of), 0.9):.3f}"
            for name, moves_of in zip(SHARES, np.transpose(moves), strict=True)
        ]
        print(f"{kind:10} {len(moves):4} copies; within {NEAR} and 90th percentile: {'; '.join(told)}")


if __name__ == "__main__":
    main()
