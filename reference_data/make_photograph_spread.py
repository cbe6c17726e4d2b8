"""Measure how far every figure moves when only the photograph changes:
`python reference_data/make_photograph_spread.py FOLDER ORIGIN [TABLE]`.

Each picture of the folder is measured as it is, and again after each small change that another photograph of the same
painting makes: exposure ±10 %, casts of ΔE00 4 on a light grey toward four sides, JPEG of quality 60, a crop of 3 %,
half the size. Without TABLE the table that ships with the program is renewed.

A row of the table holds one figure: for each kind of change, the 95th percentile over the pictures of how far it moves
the figure, and percentiles of how far the worst of all of them does. A change of figure is counted on its own scale
(a difference, the logarithm of a ratio, a turn in degrees).
"""

import csv
import io
import math
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from PIL import Image

from critique.errors import CritiqueError
from critique.measures.figures import compared_figures
from critique.measures.measure import measure_picture
from critique.perception.srgb import linear_to_srgb8, srgb8_to_linear
from critique.photograph.scale import area_average
from critique.picture.other_light import other_lights
from critique.picture.picture import Picture, picture_from_srgb
from critique.picture.read import read_picture

HERE = Path(__file__).resolve().parent
KINDS = ("brightness", "cast", "jpeg", "crop", "size")
FIGURES = compared_figures()
RANKS = (50, 75, 90, 95, 100)
QUALITY = 60  # of JPEG
CROP = 0.03  # of the width and the height, half of it on each side


def photographs(picture: Picture) -> Iterator[tuple[str, Picture]]:
    """The picture as other photographs would have it, each with the kind of its change."""
    light = srgb8_to_linear(picture.srgb)
    for kind, gains in other_lights():
        yield kind, picture_from_srgb(linear_to_srgb8(light * np.asarray(gains, dtype=np.float32)))
    yield "jpeg", picture_from_srgb(through_jpeg(picture.srgb, QUALITY))
    rows, columns = (round(CROP / 2 * length) for length in picture.srgb.shape[:2])
    yield "crop", picture_from_srgb(picture.srgb[rows:-rows, columns:-columns])
    yield "size", picture_from_srgb(linear_to_srgb8(area_average(light, max(light.shape) // 2)))


def through_jpeg(codes: np.ndarray, quality: int) -> np.ndarray:
    """Codes (height, width, 3) written as JPEG and read again."""
    stream = io.BytesIO()
    Image.fromarray(codes).save(stream, "JPEG", quality=quality)
    return np.asarray(Image.open(stream).convert("RGB"))


def moves(picture: Picture) -> np.ndarray:
    """How far each change moves each figure: (kinds, figures), NaN where there is nothing to compare."""
    measured = measure_picture(picture)
    before = [figure.of(measured) for figure in FIGURES]
    found = np.full((len(KINDS), len(FIGURES)), np.nan)
    for kind, other in photographs(picture):
        after = measure_picture(other)
        change = [abs(figure.change(was, figure.of(after))) for figure, was in zip(FIGURES, before, strict=True)]
        row = KINDS.index(kind)
        found[row] = np.fmax(found[row], change)
    return found


def pictures_of(folder: Path) -> Iterator[Picture]:
    for path in sorted(folder.iterdir()):
        if path.suffix.lower() in (".jpg", ".jpeg", ".png", ".tif", ".tiff", ".webp"):
            try:
                yield read_picture(path)
            except CritiqueError as error:
                print(f"left out: {error}", file=sys.stderr)


def write_table(found: np.ndarray, origin: str, path: Path) -> None:
    """``found`` is (pictures, kinds, figures)."""
    worst = np.fmax.reduce(found, axis=1)
    with path.open("w", encoding="utf-8", newline="") as stream:
        stream.write(f"# origin: {origin}\n# number: {len(found)}\n")
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(["figure", "scale", *KINDS, *(f"p{rank}" for rank in RANKS), "compared"])
        for index, figure in enumerate(FIGURES):
            kinds = [quantile(found[:, row, index], 95) for row in range(len(KINDS))]
            every = [quantile(worst[:, index], rank) for rank in RANKS]
            compared = int(np.isfinite(worst[:, index]).sum())
            writer.writerow([figure.name, figure.scale, *(f"{value:.4g}" for value in (*kinds, *every)), compared])


def quantile(values: np.ndarray, rank: float) -> float:
    known = values[np.isfinite(values)]
    return float(np.percentile(known, rank)) if len(known) else math.nan


if __name__ == "__main__":
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    table = Path(sys.argv[3]) if len(sys.argv) == 4 else HERE / "photograph_spread.csv"
    measured = np.array([moves(picture) for picture in pictures_of(Path(sys.argv[1]))])
    if len(measured) == 0:
        sys.exit("no picture in this folder can be read")
    write_table(measured, sys.argv[2], table)
    print(f"{len(measured)} pictures measured into {table.name}")
