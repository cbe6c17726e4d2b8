"""Fit what makes a reader speak of an edge: `python reference_data/make_side_weights.py PAINTINGS NOTES... [--try]`.

PAINTINGS is a folder of pictures; each NOTES is a folder with `eye_1.csv` and `eye_2.csv` (separator `;`), two
independent machine readings that say of each picture whether something at an edge pulls. A logistic regression with a
ridge penalty. `--try` prints how often it agrees with a reader in pictures left out of the fit in turn, beside how
often the readers agree, and how often a reader speaks of an edge where it is sure, and writes nothing.
"""

import argparse
import csv
from pathlib import Path

import numpy as np
from make_eye_weights import small_copy

from critique.measures.eye_judging import CALM_SIDES, SIDE_TOLD, SOME_PULL
from critique.measures.salience import salience
from critique.measures.sides import side_cues
from critique.picture.read import read_picture

HERE = Path(__file__).resolve().parent
PENALTY = 2.0  # of the ridge, a cue of spread 1 having this for a weight of 1
STEPS = 12  # of Newton's method; it settles in six


def spoken_of(folders: list[Path]) -> dict[str, list[bool]]:
    """Of each picture, whether each reader speaks of a pull at an edge."""
    found: dict[str, list[bool]] = {}
    for path in (folder / f"eye_{reader}.csv" for folder in folders for reader in (1, 2)):
        with path.open(encoding="utf-8") as lines:
            for row in csv.DictReader(lines, delimiter=";"):
                found.setdefault(row["file"], []).append(row["edge_pull"] != "no")
    return found


def fitted(cues: np.ndarray, said: np.ndarray) -> np.ndarray:
    """Weights of the cues (pictures, n) and, last, where they start; ``said`` (pictures,) is 0, a half or 1."""
    spread, mean = cues.std(axis=0), cues.mean(axis=0)
    rows = np.c_[(cues - mean) / spread, np.ones(len(cues))]
    ridge = np.diag([PENALTY] * cues.shape[1] + [1e-3])
    weights = np.zeros(rows.shape[1])
    for _ in range(STEPS):
        chance = 1 / (1 + np.exp(-rows @ weights))
        slope = rows.T @ (chance - said) + ridge @ weights
        weights = weights - np.linalg.solve((rows * (chance * (1 - chance))[:, None]).T @ rows + ridge, slope)
    own = weights[:-1] / spread
    return np.append(own, weights[-1] - own @ mean)


def left_out(cues: np.ndarray, said: np.ndarray) -> None:
    others = [np.arange(len(said)) != index for index in range(len(said))]
    odds = np.array([np.append(cues[~rest][0], 1) @ fitted(cues[rest], said[rest]) for rest in others])
    with_one = np.where(odds >= SOME_PULL, said, 1 - said).sum()
    agreed = (said != 0.5).sum()
    print(f"with a reader {with_one:g}/{len(said)}, the readers {agreed}/{len(said)}: {with_one / agreed:.2f}")
    for name, where in (("told", odds >= SIDE_TOLD), ("calm", odds <= CALM_SIDES)):
        spoken = [int((said[where] >= least).sum()) for least in (0.5, 1)]
        print(f"{name}: of {where.sum()} a reader speaks of an edge in {spoken[0]}, both in {spoken[1]}")


def main(paintings: Path, folders: list[Path], *, trying: bool) -> None:
    readers = spoken_of(folders)
    rows = []
    for name in sorted(readers):
        small = small_copy(read_picture(paintings / name))
        rows.append(side_cues(small[..., 0], salience(small)))
    cues = np.array([list(row.values()) for row in rows])
    said = np.array([np.mean(readers[name]) for name in sorted(readers)])
    if trying:
        return left_out(cues, said)
    weights = fitted(cues, said)
    with (HERE / "side_weights.csv").open("w", encoding="utf-8", newline="\n") as table:
        table.write(
            "# Log-odds that a reader speaks of a pull at an edge, a cue of critique/measures/sides.py a row.\n"
            f"# Fitted by make_side_weights.py to {len(said)} pictures read twice by machine.\n"
        )
        writer = csv.writer(table, lineterminator="\n")
        writer.writerow(["cue", "weight"])
        writer.writerows([name, f"{weight:.3f}"] for name, weight in zip([*rows[0], "start"], weights, strict=True))
    print("sum", round(float(np.round(weights, 3).sum()), 3))


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("paintings", type=Path)
    parser.add_argument("notes", type=Path, nargs="+")
    parser.add_argument("--try", dest="trying", action="store_true")
    options = parser.parse_args()
    main(options.paintings, options.notes, trying=options.trying)
