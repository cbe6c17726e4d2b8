"""How far the program sees what two readers noted: `python tests/benchmarks/notes.py PAINTINGS NOTES`.

PAINTINGS is a folder of pictures, NOTES one with `eye_1.csv` and `eye_2.csv` (separator `;`): two independent machine
readings of the same pictures. `--rows odd` or `--rows even` keeps every other one in the order of the file names: tune
on the odd rows, look at the even ones once, at the end. Each line prints how far the program agrees with the notes, and
the notes with each other.
"""

import argparse
import csv
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import numpy as np

from critique.advice.advise import judge
from critique.measures.measure import measure_picture
from critique.picture.read import read_picture

Note = dict[str, str]
LINE_REACH, FOCUS_REACH = 0.05, 0.12  # of the height, and of the frame: what counts as the same place
NAMED_BY: dict[str, tuple[str, ...]] = {  # ids or subjects of findings that say so, at watch or rework
    "halved": ("halving",),
    "greens_strong": ("green strength",),
    "greens_even": ("evenness of greens",),
    "scattered": ("value masses", "scattered values"),
    "edge_pull": ("edge_pull", "near_edge", "side_weight"),
    "middle_subject": ("bull's-eye",),
}


def read_notes(path: Path) -> dict[str, Note]:
    with path.open(encoding="utf-8") as lines:
        return {row["file"]: row for row in csv.DictReader(lines, delimiter=";")}


def number(text: str) -> float:
    """A noted share or height; an empty one is none."""
    return float(text) if text.strip() else float("nan")


def figure(result: Any, *path: str) -> float:
    """A figure of the measures by its path, NaN where the program has none."""
    for name in path:
        result = getattr(result, name, None)
    return float("nan") if result is None else float(result)


def places(measures: Any) -> list[tuple[float, float]]:
    """The focal places that the program claims, strongest first; none when it claims none."""
    found = getattr(measures.eyepath, "claimed", None) or ()
    return [(place.x, place.y) for place in found if hasattr(place, "x")]


def say_shares(name: str, program: Iterable[float], first: Iterable[float], second: Iterable[float]) -> None:
    ours, one, two = (np.array(list(values), dtype=float) for values in (program, first, second))
    one, two = np.nan_to_num(one), np.nan_to_num(two)
    both = (one + two) / 2
    known = np.isfinite(ours)
    if known.sum() < 2:
        print(f"{name}: the program has no such figure")
        return
    correlation = np.corrcoef(ours[known], both[known])[0, 1]
    print(
        f"{name}: correlation {correlation:.2f}, {np.abs(ours - both)[known].mean():.3f} apart on average, "
        f"bias {(ours - both)[known].mean():+.3f} (the notes: {np.corrcoef(one, two)[0, 1]:.2f}, "
        f"{np.abs(one - two).mean():.3f} apart)"
    )


def say_lines(program: list[float], first: list[Note], second: list[Note]) -> None:
    def heights(note: Note) -> list[float]:
        return [height for height in (number(note["line"]), number(note["line2"])) if np.isfinite(height)]

    pairs = [(ours, heights(a), heights(b)) for ours, a, b in zip(program, first, second, strict=True)]
    noted = [(ours, a, b) for ours, a, b in pairs if a or b]
    hit = sum(any(abs(ours - height) <= LINE_REACH for height in a[:1] + b[:1]) for ours, a, b in noted)
    either = sum(any(abs(ours - height) <= LINE_REACH for height in a + b) for ours, a, b in noted)
    alike = [(a, b) for _, a, b in noted if a and b]
    same = sum(abs(a[0] - b[0]) <= LINE_REACH for a, b in alike)
    print(
        f"line within {LINE_REACH}: {hit} of {len(noted)}, or {either} with second lines "
        f"(the notes: {same} of {len(alike)})"
    )


def say_places(program: list[list[tuple[float, float]]], first: list[Note], second: list[Note]) -> None:
    def noted(note: Note) -> list[tuple[float, float]]:
        pairs = [(number(note[f"focal{i}x"]), number(note[f"focal{i}y"])) for i in (1, 2)]
        return [pair for pair in pairs if np.isfinite(pair[0])]

    def near(place: tuple[float, float], others: list[tuple[float, float]]) -> bool:
        return any(np.hypot(place[0] - x, place[1] - y) <= FOCUS_REACH for x, y in others)

    claimed = [(found, noted(a) + noted(b)) for found, a, b in zip(program, first, second, strict=True) if found]
    hits = sum(near(found[0], others) for found, others in claimed)
    between = sum(near(noted(a)[0], noted(b)) for a, b in zip(first, second, strict=True) if noted(a) and noted(b))
    print(
        f"first focal place within {FOCUS_REACH}: {hits} of {len(claimed)} claimed, of {len(program)} pictures "
        f"(the notes: {between} of {len(first)})"
    )


def say_verdicts(name: str, program: list[bool], first: list[Note], second: list[Note]) -> None:
    """Prints agreement twice: a note that hesitates ("somewhat", "nearly") taken as a yes, and as a no."""
    for hesitating, words in (("as yes", ("yes", "somewhat", "nearly")), ("as no", ("yes",))):
        one, two = ([note[name].strip() in words for note in notes] for notes in (first, second))
        with_one, with_two, between = (
            sum(a == b for a, b in zip(*pair, strict=True)) for pair in ((program, one), (program, two), (one, two))
        )
        print(
            f"{name.replace('_', ' ')}, hesitation {hesitating}: {with_one} and {with_two} of {len(program)}, said of "
            f"{sum(program)}, noted of {sum(one)} and {sum(two)} (the notes: {between})"
        )


def says(findings: Any, names: tuple[str, ...]) -> bool:
    """Whether any finding at watch or rework is called one of ``names``."""
    return any(
        finding.level != "holds" and {getattr(finding, "kind", None), getattr(finding, "subject", None)} & set(names)
        for finding in findings
    )


def main(paintings: Path, notes: Path, rows: str | None) -> None:
    eye_1, eye_2 = (read_notes(notes / f"eye_{reader}.csv") for reader in (1, 2))
    files = sorted(eye_1)
    if rows:
        files = files[0 if rows == "odd" else 1 :: 2]
    first, second = [eye_1[file] for file in files], [eye_2[file] for file in files]
    measured, findings = [], []
    for file in files:
        picture = read_picture(paintings / file)
        measured.append(measure_picture(picture))
        findings.append(judge(picture, measured[-1]))
    shares: tuple[tuple[str, str, Callable[[Any], float]], ...] = (
        ("reads as green", "greens_share", lambda m: figure(m, "greens", "reads_as_green_share")),
        ("yellow-green band", "greens_share", lambda m: figure(m, "greens", "area_share")),
        ("sky", "sky_share", lambda m: figure(m, "parts", "sky_share")),
        ("water", "water_share", lambda m: figure(m, "parts", "water_share")),
    )
    print(f"{len(files)} pictures" + (f", {rows} rows" if rows else ""))
    for name, column, get in shares:
        say_shares(name, map(get, measured), [number(n[column]) for n in first], [number(n[column]) for n in second])
    say_lines([figure(m, "division", "height") for m in measured], first, second)
    say_places([places(m) for m in measured], first, second)
    for name, called in NAMED_BY.items():
        say_verdicts(name, [says(found, called) for found in findings], first, second)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("paintings", type=Path)
    parser.add_argument("notes", type=Path)
    parser.add_argument("--rows", choices=("odd", "even"))
    given = parser.parse_args()
    main(given.paintings, given.notes, given.rows)
