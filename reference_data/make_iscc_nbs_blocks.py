"""Carry the limits of the ISCC–NBS colour-name blocks into reference_data.

Run `python reference_data/make_iscc_nbs_blocks.py TRANSCRIPTION.csv`, a table with the columns hue_from, hue_to,
value_from, value_to, chroma_from, chroma_to, number and name (source in sources.md). Stops when the blocks don't fill
the Munsell solid once and only once, or when a name or number is missing.
"""

import csv
import sys
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
HUE_LETTERS = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
COLUMNS = ("hue_from", "hue_to", "value_from", "value_to", "chroma_from", "chroma_to", "number", "name")
NOTES = (
    "Limits of the 267 ISCC-NBS colour-name blocks in Munsell hue, value and chroma; lower limits belong to a block.",
    "K. L. Kelly and D. B. Judd, Color: Universal Language and Dictionary of Names, NBS Special Publication 440, 1976,",
    "as transcribed (CC0) in the public repository bstreiff/iscc-nbs-colors (commit 7f05754).",
)


def hue_number(notation: str) -> float:
    letters = notation.lstrip("0123456789.")
    return (HUE_LETTERS.index(letters) * 10 + float(notation[: -len(letters)])) % 100


def check(rows: list[dict[str, str]]) -> None:
    if len({row["name"] for row in rows}) != 267 or {int(row["number"]) for row in rows} != set(range(1, 268)):
        raise SystemExit("267 names and numbers are wanted")
    first = np.array([hue_number(row["hue_from"]) for row in rows])
    width = (np.array([hue_number(row["hue_to"]) for row in rows]) - first) % 100
    hue, value, chroma = np.random.default_rng(1).uniform([0, 0, 0], [100, 10, 26], (20_000, 3)).T[:, :, None]
    inside = (hue - first) % 100 < width
    for axis, name in ((value, "value"), (chroma, "chroma")):
        inside &= axis >= [float(row[f"{name}_from"]) for row in rows]
        inside &= axis < [float(row[f"{name}_to"]) for row in rows]
    if not (inside.sum(axis=1) == 1).all():
        raise SystemExit("the blocks leave gaps or overlap")


def main(source: Path) -> None:
    with source.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    check(rows)
    with (HERE / "iscc_nbs_blocks.csv").open("w", encoding="utf-8", newline="") as stream:
        stream.writelines(f"# {note}\n" for note in NOTES)
        writer = csv.DictWriter(stream, COLUMNS, extrasaction="ignore", lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
