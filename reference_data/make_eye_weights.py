"""Fit what holds the eye: `python reference_data/make_eye_weights.py PAINTINGS NOTES... [--also ...] [--try]`.

PAINTINGS is a folder of pictures; each NOTES is a folder with `eye_1.csv` and `eye_2.csv` (separator `;`), two
independent machine readings of the same pictures with up to two focal places each. A conditional logit with a ridge
penalty: of all places of a picture the weights make those likely that lie near a noted one. `--also PICTURES NOTES
WEIGHT`, as often as wanted, fits to other pictures too, each weighing so much beside a painting. `--try` prints how
often the first place is right, by how many are claimed, in paintings of which an eighth is left out of the fit in turn,
and in the other pictures, left out folder by folder; it writes nothing.
"""

import argparse
import csv
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from critique.measures.eye_chances import held_by, place_cues
from critique.measures.eyepath import LINES_LONG_EDGE, SALIENCE_LONG_EDGE
from critique.measures.focal_places import ZONE, attention_of, focal_places
from critique.measures.parts import measure_parts
from critique.measures.salience import salience
from critique.perception.cielab import lab_to_linear, linear_to_lab
from critique.photograph.scale import area_average
from critique.picture.picture import Picture, lab_at
from critique.picture.read import read_picture

HERE = Path(__file__).resolve().parent
PENALTY = 0.02  # of the ridge, for a weight of 1; from 0.01 to 0.1 as many are right
EVERY = 8  # px of the 200 px copy, between the places that the fit sees
SPREAD = 0.07  # of the width and height, of a Gaussian: how exactly a reader marks a place
STEPS = 30  # of the fit at most; it settles in eight
SETTLED = 1e-3  # of the log-likelihood
PARTS = 8  # that the paintings are left out in
CLAIMED = (0.5, 0.6, 0.7, 0.8, 0.9, 1.0)  # shares of the pictures, the surest first

Place = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Sample:
    """One picture: its cues as maps, their values (places, cues) where the fit looks, and how near a mark (places,)."""

    name: str
    channels: dict[str, np.ndarray]
    places: dict[str, np.ndarray]
    cues: np.ndarray
    near: np.ndarray
    marks: list[Place]
    weight: float


def noted(folders: list[Path]) -> dict[str, list[Place]]:
    found: dict[str, list[Place]] = {}
    for path in (folder / f"eye_{reader}.csv" for folder in folders for reader in (1, 2)):
        with path.open(encoding="utf-8") as lines:
            for row in csv.DictReader(lines, delimiter=";"):
                marks = [(row[f"focal{k}x"], row[f"focal{k}y"]) for k in (1, 2) if row[f"focal{k}x"]]
                found.setdefault(row["file"], []).extend((float(x), float(y)) for x, y in marks)
    return found


def small_copy(picture: Picture) -> np.ndarray:
    """The copy that the eye path looks at, CIELAB (height, width, 3)."""
    return linear_to_lab(area_average(lab_to_linear(lab_at(picture, LINES_LONG_EDGE)), SALIENCE_LONG_EDGE))


def sample(path: Path, marks: list[Place], weight: float = 1.0) -> Sample:
    picture = read_picture(path)
    small = small_copy(picture)
    channels = salience(small)
    places = place_cues(small.shape[:2], measure_parts(picture).mask("sky"))
    cues = np.stack([field[EVERY // 2 :: EVERY, EVERY // 2 :: EVERY].ravel() for field in (channels | places).values()])
    y, x = np.mgrid[EVERY // 2 : small.shape[0] : EVERY, EVERY // 2 : small.shape[1] : EVERY] + 0.5
    y, x = y.ravel() / small.shape[0], x.ravel() / small.shape[1]
    near = np.max([np.exp(-((x - a) ** 2 + (y - b) ** 2) / (2 * SPREAD**2)) for a, b in marks], axis=0)
    return Sample(path.name, channels, places, cues.T.astype(float), near, marks, weight)


def fitted(samples: list[Sample], start: np.ndarray) -> np.ndarray:
    """The weights (cues,), by Newton's method with the curvature of the softmax alone, in half steps where too far."""
    weights, at = start, _slope(samples, start)
    for _ in range(STEPS):
        step = np.linalg.solve(at[2], at[1])
        while (new := _slope(samples, weights - step))[0] > at[0] and np.abs(step).max() > SETTLED:
            step /= 2
        gained, at, weights = at[0] - new[0], new, weights - step
        if gained < SETTLED:
            break
    return weights


def _slope(samples: list[Sample], weights: np.ndarray) -> tuple[float, np.ndarray, np.ndarray]:
    """Loss, its gradient and its curvature (of the softmax, which is never less than the whole)."""
    loss = PENALTY * float(weights @ weights)
    gradient, curvature = 2 * PENALTY * weights, 2 * PENALTY * np.eye(len(weights))
    for one in samples:
        leaning = one.cues @ weights
        chance = np.exp(leaning - leaning.max())
        chance /= chance.sum()
        there = chance * one.near
        mean = chance @ one.cues
        loss -= one.weight * float(np.log(there.sum()))
        gradient = gradient + one.weight * (mean - there @ one.cues / there.sum())
        curvature = curvature + one.weight * ((one.cues * chance[:, None]).T @ one.cues - np.outer(mean, mean))
    return loss, gradient, curvature


def first_place(one: Sample, weights: np.ndarray) -> tuple[bool, float]:
    """Whether the first place lies within a zone of a mark, and how sure it is."""
    held = held_by(one.channels, one.places, dict(zip([*one.channels, *one.places], weights, strict=True)))
    place = focal_places(held, attention_of(held))[0]
    return any(np.hypot(place.x - x, place.y - y) <= ZONE for x, y in one.marks), place.strength


def left_out(samples: list[Sample], folders: list[list[Sample]], start: np.ndarray) -> None:
    """Print how the paintings fare, an eighth left out in turn, and the other pictures, folder by folder."""
    eighths = [samples[part::PARTS] for part in range(PARTS)]
    for parts in (eighths, folders):
        found = []
        for out in parts:
            rest = [one for part in (*eighths, *folders) if part is not out for one in part]
            weights = fitted(rest, start)
            found += [(one, weights) for one in out]
        if found:
            _told(found)


def _told(pairs: list[tuple[Sample, np.ndarray]]) -> None:
    found = []
    for one, weights in pairs:
        hit, sure = first_place(one, weights)
        found.append((sure, hit, one.name))
    found.sort(reverse=True)
    for share in CLAIMED:
        claimed = found[: round(share * len(found))]
        right = sum(hit for _, hit, _ in claimed)
        print(f"claimed {len(claimed)}/{len(found)} from {claimed[-1][0]:.2f} on: right {right}/{len(claimed)}", end="")
        print(f", {right / len(claimed):.0%}")
    print("missed, surest first:", *(f"{name} {sure:.2f}" for sure, hit, name in found if not hit))


def main(paintings: Path, folders: list[Path], also: list[tuple[str, str, str]], *, trying: bool) -> None:
    samples = [sample(paintings / name, marks) for name, marks in sorted(noted(folders).items())]
    by_folder = [
        [
            sample(Path(pictures) / name, marks, float(weight))
            for name, marks in sorted(noted([Path(notes)]).items())
            if marks
        ]
        for pictures, notes, weight in also
    ]
    others = [one for folder in by_folder for one in folder]
    names = [*samples[0].channels, *samples[0].places]
    weights = fitted(samples + others, np.zeros(len(names)))
    if trying:
        return left_out(samples, by_folder, weights)
    with (HERE / "eye_weights.csv").open("w", encoding="utf-8", newline="\n") as table:
        table.write(
            "# What each cue of critique/measures/salience.py and eye_chances.py weighs, in natural logarithms of how\n"
            "# likely the eye is to settle at a place of a picture.\n"
            f"# Fitted by make_eye_weights.py to {len(samples)} paintings with places read by machine, twice or more,\n"
            f"# and to {len(others)} other pictures that weigh {sum(one.weight for one in others):.0f}.\n"
        )
        writer = csv.writer(table, lineterminator="\n")
        writer.writerow(["cue", "weight"])
        writer.writerows([name, f"{weight:.3f}"] for name, weight in zip(names, weights, strict=True))
    print("sum", round(float(np.round(weights, 3).sum()), 3), dict(zip(names, weights.round(3), strict=True)))


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("paintings", type=Path)
    parser.add_argument("notes", type=Path, nargs="+")
    parser.add_argument("--also", nargs=3, action="append", default=[], metavar=("PICTURES", "NOTES", "WEIGHT"))
    parser.add_argument("--try", dest="trying", action="store_true")
    options = parser.parse_args()
    main(options.paintings, options.notes, options.also, trying=options.trying)
