"""Fit what tells water's edge that falls from a slope: `python reference_data/make_askew_weights.py PAINTINGS`.

PAINTINGS is the folder of the pictures in water_edges.csv: at what height (0–1 from the top) the far edge of water lies
level right across, empty where it doesn't or there is no water, `askew` where it doesn't lie level as it is. No edge of
a picture as it is should lie level that slants; of those with an edge copies are made whose edge falls
(tilted_copies.py).
`--also FOLDER` adds pictures of another kind, a folder with a `water_edges.csv` of its own (file, of, height, fall):
pictures `of` one scene weigh as one, and where water was made to fall `fall` says by how many degrees, above 0 to the
right, its edge being at that height in the middle; a file may have a row for each edge that should lie level. A
logistic regression with a ridge penalty. `--try` prints how many falling edges are told in tenths of the scenes left
out of the fit in turn, and how many of the pictures as they are, and writes nothing.
"""

import argparse
import csv
from collections import Counter, defaultdict
from dataclasses import dataclass
from pathlib import Path
from zlib import crc32

import numpy as np
from scipy.optimize import minimize
from tilted_copies import tilted_copies

from critique.measures.askew_edge import (
    LEAST_TILT,
    LIKELY,
    askew_cues,
    at_water_or_sky,
    may_be_meant_level,
    with_strokes,
)
from critique.measures.grain import Grain, grain_of
from critique.measures.level_lines import LevelLine, level_lines
from critique.measures.parts import Parts, measure_parts
from critique.measures.steep_lines import steep_lines
from critique.picture.picture import Picture, lab_at, picture_from_srgb
from critique.picture.read import read_picture

HERE = Path(__file__).resolve().parent
LONG_EDGE = 400  # px, as in water_level.py
SLANTING = 2.2  # degrees: edges that are fitted to
FALL, PLACE = 1.4, {"hung": 0.07}  # degrees and parts of the height by which an edge may miss what was made
NEAR = 0.04
OF_FALLEN = 3.0  # weight of an edge that was made to fall, beside another's
PENALTY = 0.005  # of the ridge, a cue of spread 1 having a weight of 1
PARTS = 10  # that are left out in turn


@dataclass(frozen=True, slots=True)
class Looked:
    """What is asked of a picture: CIELAB (height, width, 3), its parts, all its edges, the grain of its strokes."""

    lab: np.ndarray
    parts: Parts
    lines: tuple[LevelLine, ...]
    grain: Grain


@dataclass(frozen=True, slots=True)
class Edge:
    """One slanting edge: the scene, and the file and copy it is of, its cues, whether it was made to fall."""

    of: str
    file: str
    cues: tuple[float, ...]
    tilt: float
    fell: bool
    asked: bool
    of_fallen: bool


def looked_at(picture: Picture) -> Looked:
    lab = lab_at(picture, LONG_EDGE)
    return Looked(lab, measure_parts(picture), (*level_lines(lab), *steep_lines(lab)), grain_of(lab))


def edges_of(
    of: str, file: str, seen: Looked, made: list[tuple[float, float]], near: float, names: list[str]
) -> list[Edge]:
    """The slanting edges of a picture in which those ``made`` fall: heights and degrees; none as it is."""
    slanting = [line for line in seen.lines if abs(line.tilt) >= SLANTING]
    cues = askew_cues(seen.lab, seen.parts, seen.lines, slanting)
    found = []
    for line in slanting:
        fell = any(abs(line.tilt - fall) < FALL and abs(line.y - height) < near for height, fall in made)
        if made and not fell and line.tilt * made[0][1] > 0:  # a wave, or a bank, that fell with it
            continue
        all_cues = {**cues[line], "with_strokes": with_strokes(line, seen.grain)}
        names[:] = names or list(all_cues)
        asked = may_be_meant_level(seen.parts, seen.lines, line) and at_water_or_sky(seen.lab, seen.parts, line)
        found.append(Edge(of, file, tuple(all_cues.values()), abs(line.tilt), fell, asked, bool(made)))
    return found


def gathered(folder: Path, table: Path, names: list[str]) -> list[Edge]:
    found: list[Edge] = []
    with table.open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    made = defaultdict(list)
    for row in rows:
        if row.get("fall"):
            made[row["file"]].append((float(row["height"]), float(row["fall"])))
    for row in {row["file"]: row for row in rows}.values():
        if row["height"] == "askew":
            continue
        file, of = row["file"], row.get("of") or Path(row["file"]).stem
        picture = read_picture(folder / file)
        found += edges_of(of, file, looked_at(picture), made[file], NEAR, names)
        if row["height"] and not made[file]:
            edge = float(row["height"])
            for way, fall, codes in tilted_copies(picture.srgb, edge, file):
                near = PLACE.get(way, NEAR)
                copy = looked_at(picture_from_srgb(codes))
                found += edges_of(of, f"{file}, {way} {fall:.1f}", copy, [(edge, fall)], near, names)
    return found


def weighed(edges: list[Edge]) -> np.ndarray:
    """What each edge weighs: the pictures of one scene as the root of their number, those that fall for themselves."""
    files = {(edge.of, edge.of_fallen, edge.file) for edge in edges}
    number = Counter((of, fallen) for of, fallen, _ in files)
    return np.array([(OF_FALLEN if edge.fell else 1) / number[edge.of, edge.of_fallen] ** 0.5 for edge in edges])


def fitted(edges: list[Edge]) -> np.ndarray:
    """Weights of the cues and, last, where they start, in log odds."""
    cues = np.array([edge.cues for edge in edges])
    fell = np.array([edge.fell for edge in edges], dtype=np.float64)
    weight = weighed(edges)
    weight /= weight.sum()
    middle, spread = cues.mean(0), cues.std(0) + 1e-9
    rows = np.c_[(cues - middle) / spread, np.ones(len(cues))]

    def loss(weights: np.ndarray) -> tuple[float, np.ndarray]:
        odds = rows @ weights
        value = float((weight * (np.logaddexp(0, odds) - fell * odds)).sum())
        slope = rows.T @ (weight * (1 / (1 + np.exp(-odds)) - fell))
        ridge = np.append(weights[:-1], 0)
        return value + PENALTY * float(ridge @ ridge) / 2, slope + PENALTY * ridge

    weights = minimize(loss, np.zeros(rows.shape[1]), jac=True, method="L-BFGS-B").x
    own = weights[:-1] / spread
    return np.append(own, weights[-1] - own @ middle)


def left_out(edges: list[Edge]) -> None:
    part = np.array([crc32(edge.of.encode()) % PARTS for edge in edges])
    told: dict[tuple[str, bool], bool] = {}
    for out in range(PARTS):
        weights = fitted([edge for edge, of in zip(edges, part, strict=True) if of != out])
        for edge, of in zip(edges, part, strict=True):
            if of == out:
                chance = 1 / (1 + np.exp(-np.append(edge.cues, 1) @ weights))
                said = bool(chance >= LIKELY and edge.tilt >= LEAST_TILT and edge.asked)
                told[edge.file, edge.of_fallen] = told.get((edge.file, edge.of_fallen), False) or said
    for fallen in (False, True):
        said = [value for (_, of), value in told.items() if of is fallen]
        kind = "made to fall" if fallen else "as they are"
        print(f"{kind}: told of {sum(said)} of {len(said)} with a slanting edge")
    print("as they are:", sorted(file for (file, fallen), value in told.items() if value and not fallen))


def written(edges: list[Edge], names: list[str], path: Path) -> None:
    weights = fitted(edges)
    with path.open("w", encoding="utf-8", newline="\n") as table:
        fallen = len({edge.file for edge in edges if edge.of_fallen})
        number = len({edge.file for edge in edges}) - fallen
        table.write(
            "# Log odds that a slanting edge was meant to lie level, a cue of critique/measures/askew_edge.py a row.\n"
            f"# Fitted by make_askew_weights.py to {len(edges)} slanting edges of {number} pictures as they are, and "
            f"{fallen} whose water falls.\n"
        )
        table.write("cue,weight\n")
        for name, weight in zip([*names, "start"], weights, strict=True):
            table.write(f"{name},{weight:.4g}\n")


def main(paintings: Path, also: list[Path], *, trying: bool) -> None:
    names: list[str] = []
    edges = gathered(paintings, HERE / "water_edges.csv", names)
    for folder in also:
        edges += gathered(folder, folder / "water_edges.csv", names)
    if trying:
        return left_out(edges)
    written(edges, names, HERE / "askew_weights.csv")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("paintings", type=Path)
    parser.add_argument("--also", type=Path, action="append", default=[])
    parser.add_argument("--try", dest="trying", action="store_true")
    given = parser.parse_args()
    main(given.paintings, given.also, trying=given.trying)
