"""Fit what a colour of a landscape is called by: `python reference_data/make_colour_word_weights.py`.

Reads colour_readings.csv (635 places of 127 landscapes, each named twice) and writes colour_word_weights.csv: a
multinomial logistic regression with a ridge penalty. `--try N` prints how often pictures left out of the fit are named
as either reading has it, N parts of the pictures in turn, and writes nothing.
"""

import argparse
import csv
from pathlib import Path

import numpy as np

from critique.perception.reference import read_table
from critique.perception.seen_families import family_cues

HERE = Path(__file__).resolve().parent
RIDGE = 0.3  # inverse strength of the penalty, the cues brought to a spread of 1: the best of 0.1, 0.3 and 1 left out
CUES = (
    *("light", "red", "yellow", "strong", "light_2", "red_2", "yellow_2", "red_yellow", "light_red", "light_yellow"),
    *("light_strong", "cos_hue", "sin_hue", "cos_2_hue", "sin_2_hue"),
)


def readings() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Pictures (n,), their colours' CIELAB (n, 3) and the two readings' families (n, 2)."""
    rows = read_table("colour_readings.csv")
    lab = np.array([[float(row[key]) for key in "Lab"] for row in rows])
    return np.array([row["picture"] for row in rows]), lab, np.array([[row["first"], row["second"]] for row in rows])


def fitted(cues: np.ndarray, said: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Families (k,), offsets (k,) and weights (k, cues) for cues (n, cues) that were said to be (n, 2)."""
    from sklearn.linear_model import LogisticRegression

    middle, spread = cues.mean(axis=0), cues.std(axis=0)
    each = (np.concatenate([cues, cues]) - middle) / spread
    model = LogisticRegression(C=RIDGE, max_iter=1000, tol=1e-6).fit(each, np.concatenate([said[:, 0], said[:, 1]]))
    weights = model.coef_ / spread
    return model.classes_, model.intercept_ - weights @ middle, weights


def left_out(parts: int) -> str:
    """How often a picture left out is named as the readings have it, in a sentence."""
    pictures, lab, said = readings()
    cues, names = family_cues(lab), np.unique(pictures)
    hit = np.zeros((len(lab), 2), dtype=bool)
    for part in range(parts):
        out = np.isin(pictures, names[part::parts])
        families, offsets, weights = fitted(cues[~out], said[~out])
        guessed = families[(offsets + cues[out] @ weights.T).argmax(axis=1)]
        hit[out] = said[out] == guessed[:, None]
    same = (said[:, 0] == said[:, 1]).mean()
    one, other, either = hit[:, 0].mean(), hit[:, 1].mean(), hit.any(axis=1).mean()
    told = f"the first reading's {one:.3f}, the second's {other:.3f}, either's {either:.3f}"
    return f"{told}; the two name the same in {same:.3f}"


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--try", type=int, dest="parts", help="parts of the pictures to leave out in turn")
    parts = options.parse_args().parts
    if parts:
        print(left_out(parts))
        return
    _, lab, said = readings()
    families, offsets, weights = fitted(family_cues(lab), said)
    with (HERE / "colour_word_weights.csv").open("w", newline="") as file:
        written = csv.writer(file, lineterminator="\n")
        written.writerow(["family", "offset", *CUES])
        for family, offset, row in zip(families, offsets, weights, strict=True):
            written.writerow([family, *(f"{number:.4g}" for number in (offset, *row))])


if __name__ == "__main__":
    main()
