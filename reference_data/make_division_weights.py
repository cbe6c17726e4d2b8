"""Fit what tells where a picture divides: `python reference_data/make_division_weights.py PAINTINGS NOTES...`.

Each NOTES is a folder with `eye_1.csv` and `eye_2.csv` (separator `;`), two independent machine readings of PAINTINGS,
with the height of the line and of a second one that would also do. `--also FOLDER` adds a folder of other pictures with
notes of its own. A conditional logistic regression over heights with a ridge penalty. `--only CUE` fits that cue alone,
and holds the others as the table has them. `--onward` pulls the weights to the table's and not to 0: what was learnt
of pictures that are no longer at hand isn't forgotten. `--try N` prints how often pictures left out of the fit are hit
within 0.05, N parts of them in turn, and writes nothing.
"""

import argparse
import csv
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from scipy.ndimage import gaussian_filter
from scipy.optimize import minimize

from critique.measures.division import cues_of
from critique.measures.division_row import heights, likeliest
from critique.perception.cielab import lab_to_srgb8
from critique.perception.reference import read_table
from critique.picture.picture import Picture, picture_from_srgb
from critique.picture.read import read_picture

TABLE = Path(__file__).resolve().parent / "division_weights.csv"
PENALTY = 0.1  # of the ridge, a cue of spread 1 having a weight of 1
ONWARD = 0.1  # the same, to the table's weights; from 0.01 to 0.2 as many pictures left out are right
ALONE = 0.01  # the same of a cue that is fitted alone: it has no others to be played off against
SPREAD = 0.02  # of the height: how far readers' lines scatter who mean the same
SECOND = 0.3  # weight of a line that would also do
STAND_INS = 0.2  # weight of an invented scene beside a painting
REACH = 0.05  # of the height: what counts as the same line
# Plain scenes, of which anyone knows the line: L*, a*, b* above and below.
SCENES = (
    ((78, -3, -12), (41, -9, 22)),
    ((41, -9, 22), (78, -3, -12)),
    ((86, -2, 16), (55, -5, -12)),
    ((70, 0, 0), (44, 11, 21)),
    ((34, -10, 14), (57, -8, 25)),
    ((56, -14, -3), (56, 14, 4)),
)
LINES = (0.15, 0.24, 0.33, 0.42, 0.5, 0.58, 0.67, 0.76, 0.85)
GRAIN = (0.0, 3.0)  # L* of strokes, in turn


def noted_lines(folders: list[Path]) -> dict[str, list[list[float]]]:
    """The lines of each picture as either reader gave them, first one first; only those with any."""
    lines: dict[str, list[list[float]]] = {}
    for folder in folders:
        for reader in (1, 2):
            with (folder / f"eye_{reader}.csv").open(encoding="utf-8") as rows:
                for row in csv.DictReader(rows, delimiter=";"):
                    said = [float(row[name]) for name in ("line", "line2") if row[name].strip()]
                    lines.setdefault(row["file"], []).append(said)
    return {name: said for name, said in lines.items() if any(said)}


def noted_pictures(paintings: Path, notes: list[Path], also: list[Path]) -> list[tuple[Path, list[list[float]]]]:
    """Each picture's file and its lines: paintings first, then the folders of others."""
    folders = [(paintings, notes), *((folder, [folder]) for folder in also)]
    return [(folder / name, said) for folder, where in folders for name, said in noted_lines(where).items()]


def invented() -> Iterator[tuple[Picture, float]]:
    rng = np.random.default_rng(5)
    for index, (above, below) in enumerate(SCENES):
        for place, line in enumerate(LINES):
            lab = np.empty((400, 600, 3), dtype=np.float32)
            rows = round(line * len(lab))
            lab[:rows], lab[rows:] = above, below
            strokes = gaussian_filter(rng.normal(size=lab.shape[:2]), (1.0, 4.0))
            lab[..., 0] += GRAIN[(index + place) % len(GRAIN)] * strokes / strokes.std()
            yield picture_from_srgb(lab_to_srgb8(lab)), line


def wanted(said: list[list[float]]) -> np.ndarray:
    """How likely each height is the line, by the readers."""
    chance = np.zeros(len(heights()))
    for lines in said:
        for weight, line in zip((1.0, SECOND), lines, strict=False):
            chance += weight * np.exp(-np.square((heights() - line) / SPREAD) / 2)
    return chance / chance.sum()


def fit(
    cues: np.ndarray,
    chance: np.ndarray,
    weight: np.ndarray,
    known: np.ndarray | float = 0.0,
    penalty: float = PENALTY,
    start: np.ndarray | None = None,
) -> np.ndarray:
    """Weights (cues,) of raw cues (pictures, heights, cues); ``known`` (pictures, heights) is what others say.

    ``start`` (cues,) are the weights that the penalty pulls to: 0 without.
    """
    spread = np.sqrt(np.average(cues.var(axis=(0, 1))[None], axis=0)) + 1e-9
    scaled = cues / spread
    weight = weight / weight.sum()
    pulled = np.zeros(cues.shape[2]) if start is None else start * spread

    def loss(weights: np.ndarray) -> tuple[float, np.ndarray]:
        leaning = scaled @ weights + known
        leaning -= leaning.max(axis=1, keepdims=True)
        found = np.exp(leaning)
        found /= found.sum(axis=1, keepdims=True)
        value = -(weight[:, None] * chance * np.log(found + 1e-12)).sum()
        slope = np.einsum("nr,nrk->k", weight[:, None] * (found - chance), scaled)
        off = weights - pulled
        return value + penalty * off @ off, slope + 2 * penalty * off

    found = minimize(loss, pulled, jac=True, method="L-BFGS-B", options={"maxiter": 300})
    return found.x / spread


def hit(height: float, said: list[list[float]], lines: int) -> bool:
    return any(abs(height - line) <= REACH + 1e-6 for reader in said for line in reader[:lines])


def table_weights(names: list[str]) -> np.ndarray:
    """The weights (cues,) that the table has."""
    held = {row["cue"]: float(row["weight"]) for row in read_table("division_weights.csv")}
    return np.array([held.get(name, 0.0) for name in names])


def fit_only(cue: str, names: list[str], cues: np.ndarray, chance: np.ndarray, weight: np.ndarray) -> np.ndarray:
    """Weights (cues,) as the table has them, but for that of one cue."""
    weights = table_weights(names)
    at = names.index(cue)
    weights[at] = 0.0
    weights[at] = fit(cues[..., at : at + 1], chance, weight, cues @ weights, ALONE)[0]
    return weights


def main(
    paintings: Path, notes: list[Path], also: list[Path], parts: int | None, only: str | None, *, onward: bool
) -> None:
    noted = noted_pictures(paintings, notes, also)
    made = [cues_of(read_picture(file)) for file, _ in noted]
    scenes = list(invented())
    names = sorted(made[0])
    said = [*(lines for _, lines in noted), *([[line]] for _, line in scenes)]
    cues = np.array([[each[name] for name in names] for each in (*made, *(cues_of(scene) for scene, _ in scenes))])
    cues = cues.swapaxes(1, 2).astype(float)
    chance = np.array([wanted(each) for each in said])
    weight = np.array([1.0] * len(noted) + [STAND_INS] * len(scenes))
    from_table = {"penalty": ONWARD, "start": table_weights(names)} if onward else {}
    if parts:
        for seed in range(3):
            order = np.random.default_rng(seed).permutation(len(noted))
            found = {}
            for start in range(parts):
                out = order[start::parts]
                kept = np.setdiff1d(np.arange(len(said)), out)
                weights = fit(cues[kept], chance[kept], weight[kept], **from_table)
                found |= {index: likeliest(cues[index] @ weights) for index in out}
            for name, which in (("paintings", True), ("others", False)):
                asked = [index for index in found if (noted[index][0].parent == paintings) is which]
                first, any_ = (sum(hit(found[index], said[index], lines) for index in asked) for lines in (1, 2))
                print(f"{name} left out: within {REACH} in {first} of {len(asked)}, or {any_} with second lines")
        return
    real = slice(len(noted)) if only else slice(None)  # no water lies in a scene of two colours
    weights = (
        fit_only(only, names, cues[real], chance[real], weight[real])
        if only
        else fit(cues, chance, weight, **from_table)
    )
    comments = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if line.startswith("#")]
    with TABLE.open("w", encoding="utf-8", newline="\n") as table:
        if only:
            table.write("\n".join(comments) + f"\n# {only}: fitted later (--only), to {len(noted)} pictures.\n")
        elif onward:
            table.write("\n".join(comments) + f"\n# All fitted onward (--onward) to {len(noted)} pictures.\n")
        else:
            table.write(
                "# What each cue of a height says for the dividing line, in log odds (measures/division_row.py).\n"
                f"# Fitted by make_division_weights.py to {len(noted)} pictures read by machine, and to "
                f"{len(scenes)} invented scenes.\n"
            )
        table.write("cue,weight\n")
        for name, each in zip(names, weights, strict=True):
            table.write(f"{name},{each:.4g}\n")
    hits = sum(hit(likeliest(cues[index] @ weights), said[index], 1) for index in range(len(noted)))
    plain = sum(hit(likeliest(cues[index] @ weights), said[index], 1) for index in range(len(noted), len(said)))
    print(f"{len(names)} cues; hit {hits} of {len(noted)} of what was fitted, {plain} of {len(scenes)} scenes")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("paintings", type=Path)
    parser.add_argument("notes", type=Path, nargs="+")
    parser.add_argument("--try", dest="parts", type=int)
    parser.add_argument("--only")
    parser.add_argument("--onward", action="store_true")
    parser.add_argument("--also", type=Path, action="append", default=[])
    given = parser.parse_args()
    main(given.paintings, given.notes, given.also, given.parts, given.only, onward=given.onward)
