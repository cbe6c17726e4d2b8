"""Fit what tells water's edge that falls from a slope: `python reference_data/make_askew_weights.py PAINTINGS`.

PAINTINGS is the folder of the pictures in water_edges.csv. `--also FOLDER` adds pictures of another kind, a folder with
a `water_edges.csv` of its own (file, height): at what height (0–1 from the top) the far edge of water lies level right
across, empty where it doesn't or there is no water, `askew` where it doesn't lie level as it is. No slanting edge of a
picture as it is should lie level; of those with an edge copies are made whose edge falls (tilted_copies.py). A logistic
regression with a ridge penalty. `--try` prints how many copies are told in tenths of the pictures left out of the fit
in turn, and how many of the pictures as they are, and writes nothing.
"""

import argparse
import csv
from dataclasses import dataclass
from pathlib import Path
from zlib import crc32

import numpy as np
from scipy.optimize import minimize
from tilted_copies import tilted_copies

from critique.measures.askew_edge import LEAST_TILT, LIKELY, askew_cues
from critique.measures.grain import grain_of
from critique.measures.level_lines import level_lines
from critique.measures.parts import measure_parts
from critique.picture.picture import lab_at, picture_from_srgb
from critique.picture.read import read_picture

HERE = Path(__file__).resolve().parent
LONG_EDGE = 400  # px, as in water_level.py
SLANTING = 2.0  # degrees: edges that are fitted to
FALL, PLACE = 1.5, {"hung": 0.07}  # degrees and parts of the height by which an edge may miss what was made
NEAR = 0.04
OF_COPY, OF_PICTURE, OF_OTHERS = 1 / 9, 1.0, 0.1  # weight of a copy's edge, of a picture's own, and of a copy's others
PENALTY = 0.005  # of the ridge, a cue of spread 1 having a weight of 1
PARTS = 10  # that are left out in turn


@dataclass(frozen=True, slots=True)
class Edge:
    """One slanting edge: the picture and copy it is of, its cues, whether it was made to fall, how much it weighs."""

    file: str
    way: str
    cues: tuple[float, ...]
    tilt: float
    askew: bool
    weight: float


def edges_of(file: str, way: str, codes: np.ndarray, edge: float | None, fall: float, names: list[str]) -> list[Edge]:
    picture = picture_from_srgb(codes)
    lab = lab_at(picture, LONG_EDGE)
    lines = level_lines(lab)
    cues = askew_cues(lab, measure_parts(picture), lines, grain_of(lab))
    found = []
    for line in lines:
        names[:] = names or list(cues[line])
        if abs(line.tilt) < SLANTING:
            continue
        made = edge is not None and abs(line.tilt - fall) < FALL and abs(line.y - edge) < PLACE.get(way, NEAR)
        also = edge is not None and not made and line.tilt * fall > 0 and (abs(line.tilt - fall) < 2 or line.y > edge)
        if also:  # a wave, or a bank, that fell with it
            continue
        weight = OF_PICTURE if edge is None else OF_COPY if made else OF_OTHERS
        found.append(Edge(file, way, tuple(cues[line].values()), abs(line.tilt), made, weight))
    return found


def gathered(folder: Path, table: Path, names: list[str]) -> list[Edge]:
    found: list[Edge] = []
    with table.open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    for row in rows:
        if row["height"] == "askew":
            continue
        picture = read_picture(folder / row["file"])
        found += edges_of(row["file"], "as it is", picture.srgb, None, 0.0, names)
        if row["height"]:
            edge = float(row["height"])
            for way, fall, codes in tilted_copies(picture.srgb, edge, row["file"]):
                found += edges_of(row["file"], f"{way} {fall:.1f}", codes, edge, fall, names)
    return found


def fitted(edges: list[Edge]) -> np.ndarray:
    """Weights of the cues and, last, where they start, in log odds."""
    cues = np.array([edge.cues for edge in edges])
    askew = np.array([edge.askew for edge in edges], dtype=np.float64)
    weight = np.array([edge.weight for edge in edges])
    weight /= weight.sum()
    middle, spread = cues.mean(0), cues.std(0) + 1e-9
    rows = np.c_[(cues - middle) / spread, np.ones(len(cues))]

    def loss(weights: np.ndarray) -> tuple[float, np.ndarray]:
        odds = rows @ weights
        value = float((weight * (np.logaddexp(0, odds) - askew * odds)).sum())
        slope = rows.T @ (weight * (1 / (1 + np.exp(-odds)) - askew))
        ridge = np.append(weights[:-1], 0)
        return value + PENALTY * float(ridge @ ridge) / 2, slope + PENALTY * ridge

    weights = minimize(loss, np.zeros(rows.shape[1]), jac=True, method="L-BFGS-B").x
    own = weights[:-1] / spread
    return np.append(own, weights[-1] - own @ middle)


def left_out(edges: list[Edge]) -> None:
    part = np.array([crc32(edge.file.encode()) % PARTS for edge in edges])
    told: dict[tuple[str, str], bool] = {}
    for out in range(PARTS):
        weights = fitted([edge for edge, of in zip(edges, part, strict=True) if of != out])
        for edge, of in zip(edges, part, strict=True):
            if of == out:
                chance = 1 / (1 + np.exp(-np.append(edge.cues, 1) @ weights))
                said = bool(chance >= LIKELY and edge.tilt >= LEAST_TILT)
                told[edge.file, edge.way] = told.get((edge.file, edge.way), False) or said
    for of in ("as it is", "turned", "sheared", "bent", "hung"):
        said = [value for (_, way), value in told.items() if way.startswith(of)]
        print(f"{of}: told of {sum(said)} of {len(said)} with a slanting edge")
    print("as they are:", sorted(file for (file, way), value in told.items() if value and way == "as it is"))


def main(paintings: Path, also: list[Path], *, trying: bool) -> None:
    names: list[str] = []
    edges = gathered(paintings, HERE / "water_edges.csv", names)
    for folder in also:
        edges += gathered(folder, folder / "water_edges.csv", names)
    if trying:
        return left_out(edges)
    weights = fitted(edges)
    with (HERE / "askew_weights.csv").open("w", encoding="utf-8", newline="\n") as table:
        number = len({edge.file for edge in edges})
        table.write(
            "# Log odds that a slanting edge was meant to lie level, a cue of critique/measures/askew_edge.py a row.\n"
            f"# Fitted by make_askew_weights.py to {len(edges)} slanting edges of {number} pictures and their copies.\n"
        )
        table.write("cue,weight\n")
        for name, weight in zip([*names, "start"], weights, strict=True):
            table.write(f"{name},{weight:.4g}\n")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("paintings", type=Path)
    parser.add_argument("--also", type=Path, action="append", default=[])
    parser.add_argument("--try", dest="trying", action="store_true")
    given = parser.parse_args()
    main(given.paintings, given.also, trying=given.trying)
