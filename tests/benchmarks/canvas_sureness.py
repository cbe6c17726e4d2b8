"""Fit what tells whether a canvas is found right, on photographs with known corners and on files that are all painting.

    python tests/benchmarks/canvas_sureness.py PAINTINGS --scenes FOLDER --first 0 --number 300 [--first …]
                                               [--leave-out NAME] [--whole FOLDER] [--choice FILE]

Prints the weights for ``SURENESS`` of critique/photograph/canvas.py, and how many would be called sure, rightly and
wrongly, from which log odds on: each photograph judged by a fit that didn't know its painting. The sides should be
chosen by one that didn't know it either: --choice takes those that canvas_choice.py --left-out kept. Keep seeds that
are to be looked at once out of it.
"""

import argparse
import pickle
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from photographs import NEAR, photograph_of
from PIL import Image
from sklearn.linear_model import LogisticRegression
from sklearn.model_selection import GroupKFold, cross_val_predict
from sklearn.pipeline import Pipeline, make_pipeline
from sklearn.preprocessing import StandardScaler

from critique.photograph import canvas_joint
from critique.photograph.canvas import SURENESS, Likeliest, likeliest
from critique.photograph.canvas_worth import Worth

PARTS, PART = 2, 0.6  # further files of each painting: parts of it, and of its sides
CHOICES: dict[str, Worth] = {}  # by painting
FOLDS, PARTINGS = 8, 3  # parts of all paintings that are left out in turn, and ways to part them
SOFT = 0.1  # inverse strength of the fit's restraint


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=Path)
    parser.add_argument("--scenes", type=Path, action="append", default=[])
    parser.add_argument("--first", type=int, action="append", default=[])
    parser.add_argument("--number", type=int, default=100)
    parser.add_argument("--leave-out", action="append", default=[])
    parser.add_argument("--whole", type=Path, action="append", default=[])
    parser.add_argument("--choice", type=Path)
    options = parser.parse_args()
    if options.choice:
        CHOICES.update(pickle.loads(options.choice.read_bytes()))
    paintings = [path for path in sorted(options.folder.glob("*.jpg")) if path.name not in options.leave_out]
    seeds = [seed for first in options.first for seed in range(first, first + options.number)]
    found = [*scenes(seeds, paintings, options), *whole_files([options.folder, *options.whole])]
    signs = np.array([[best.signs[name] for name in SURENESS] for best, _, _ in found])
    right = np.array([is_right for _, is_right, _ in found])
    painting = np.array([name for _, _, name in found])
    fitted = unfitted().fit(signs, right)
    scaler, regression = fitted[0], fitted[1]
    weights = regression.coef_[0] / scaler.scale_
    print(f"SURENESS_BIAS = {regression.intercept_[0] - weights @ scaler.mean_:.3f}")
    for name, weight in zip(SURENESS, weights, strict=True):
        print(f'    "{name}": {weight:.3f},')
    tell(left_out(signs, right, painting), right, len(seeds))


def scenes(
    seeds: list[int], paintings: list[Path], options: argparse.Namespace
) -> Iterator[tuple[Likeliest, bool, str]]:
    for seed in seeds:
        kept = next((folder for folder in options.scenes if (folder / f"{seed:06}.json").exists()), None)
        photograph = photograph_of(seed, paintings, kept or next(iter(options.scenes), None))
        best = None if photograph.painting in options.leave_out else judged(photograph.codes(), photograph.painting)
        if best is not None and best.signs and not best.cut_off:
            corners = np.asarray(photograph.corners)
            longest = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T).max()
            near = bool(np.hypot(*(best.corners - corners).T).max() <= NEAR * longest)
            yield best, near, photograph.painting


def judged(codes: np.ndarray, painting: str) -> Likeliest | None:
    """The likeliest canvas, its sides chosen by a fit that didn't know the painting, where there is one."""
    if painting in CHOICES:
        canvas_joint.fitted_worth = lambda: CHOICES[painting]
    return likeliest(codes)


def whole_files(folders: list[Path]) -> Iterator[tuple[Likeliest, bool, str]]:
    for number, path in enumerate(path for folder in folders for path in sorted(folder.glob("*.jpg"))):
        with Image.open(path) as image:
            codes = np.asarray(image.convert("RGB"))
        random = np.random.default_rng(number)
        height, width, _ = codes.shape
        files = [codes]
        for _ in range(PARTS):
            top, left = random.uniform(0, 1 - PART, 2)
            rows = slice(int(top * height), int((top + PART) * height))
            files.append(np.ascontiguousarray(codes[rows, int(left * width) : int((left + PART) * width)]))
        for file in files:
            best = judged(file, path.name)
            if best is not None and best.signs and not best.cut_off:
                yield best, False, path.name


def unfitted() -> Pipeline:
    return make_pipeline(StandardScaler(), LogisticRegression(C=SOFT))


def left_out(signs: np.ndarray, right: np.ndarray, painting: np.ndarray) -> np.ndarray:
    """Log odds of each by a fit that didn't know its painting; the mean over some ways to part the paintings."""
    every = []
    for seed in range(PARTINGS):
        folds = GroupKFold(FOLDS, shuffle=True, random_state=seed)
        every.append(cross_val_predict(unfitted(), signs, right, groups=painting, cv=folds, method="decision_function"))
    return np.asarray(np.mean(every, axis=0))


def tell(odds: np.ndarray, right: np.ndarray, number: int) -> None:
    print(f"{number} photographs; sure from log odds: rightly, wrongly")
    for least in np.arange(1.0, 6.1, 0.25):
        sure = odds >= least
        print(f"  {least:.2f}: {(sure & right).sum() / number:.1%}, {(sure & ~right).sum()}")


if __name__ == "__main__":
    main()
