"""How far the eye path and the division agree with notes made by looking: `eye_notes.py PAINTINGS NOTES [--rows even]`.

NOTES holds `eye_1.csv` and `eye_2.csv`, two independent machine readings of the same pictures. Only rows at an odd
place in the list (by file name) are read, unless the even ones, kept back while tuning, are asked for by name.
Agreement is counted picture by picture with either note, beside how often the notes agree with each other.
"""

import csv
import sys
from collections.abc import Callable
from pathlib import Path

from critique.measures.division import Division, measure_division
from critique.measures.division_judging import runs_straight
from critique.measures.eye_judging import in_the_middle, some_pull
from critique.measures.eyepath import EyePath, measure_eyepath
from critique.picture.read import read_picture

NEAR = 0.12  # of width and height: two focal places are one
LINE = 0.05  # of the height: two lines are one

Row = dict[str, str]


def rows_of(notes: Path, parity: int) -> dict[str, tuple[Row, Row]]:
    read = []
    for number in (1, 2):
        with (notes / f"eye_{number}.csv").open(encoding="utf-8") as lines:
            read.append({row["file"]: row for row in csv.DictReader(lines, delimiter=";")})
    names = sorted(read[0])
    return {name: (read[0][name], read[1][name]) for name in names[parity::2]}


def places(row: Row) -> list[tuple[float, float]]:
    return [(float(row[f"focal{k}x"]), float(row[f"focal{k}y"])) for k in (1, 2) if row[f"focal{k}x"]]


def heights(row: Row) -> list[float]:
    return [float(row[name]) for name in ("line", "line2") if row[name]]


def near(place: tuple[float, float], others: list[tuple[float, float]]) -> bool:
    return any((place[0] - x) ** 2 + (place[1] - y) ** 2 <= NEAR**2 for x, y in others)


JUDGED: dict[str, tuple[Callable[[EyePath, Division], bool], Callable[[str], bool]]] = {
    "edge_pull": (lambda eye, _: some_pull(eye), lambda word: word != "no"),
    "middle_subject": (lambda eye, _: in_the_middle(eye) is not None, lambda word: word == "yes"),
    "halved": (lambda _, division: division.nearly_halved, lambda word: word != "no"),
    "straight": (lambda _, division: runs_straight(division), lambda word: word == "yes"),
}


def main(paintings: Path, notes: Path, parity: int) -> None:
    rows = rows_of(notes, parity)
    claimed = hit = agreed = lines = lined = lines_agreed = 0
    judged = {name: [0.0, 0.0] for name in JUDGED}
    for name, both in rows.items():
        picture = read_picture(paintings / name)
        eye, division = measure_eyepath(picture), measure_division(picture)
        marked = places(both[0]) + places(both[1])
        agreed += near(places(both[0])[0], places(both[1]))
        said = [(place.x, place.y) for place in eye.claimed]
        claimed += bool(said)
        hit += bool(said) and near(said[0], marked)
        wanted = heights(both[0]) + heights(both[1])
        if wanted:
            lined += 1
            lines += division.present and any(abs(division.height - height) <= LINE for height in wanted)
            first = heights(both[0])
            lines_agreed += any(abs(a - b) <= LINE for a in first for b in heights(both[1]))
        said_words = []
        for figure, (judge, is_yes) in JUDGED.items():
            ours = judge(eye, division)
            theirs = [is_yes(row[figure]) for row in both]
            judged[figure][0] += sum(ours == yes for yes in theirs) / 2
            judged[figure][1] += theirs[0] == theirs[1]
            if ours or any(theirs):
                said_words.append(f"{figure} {'yes' if ours else 'no'}:{both[0][figure]}/{both[1][figure]}")
        first_place = (
            "none" if not said else f"{said[0][0]:.2f},{said[0][1]:.2f} {'hit' if near(said[0], marked) else 'MISS'}"
        )
        print(f"{name} {first_place} line {division.height:.2f} {wanted} {'; '.join(said_words)}")
    print(
        f"focal: claimed {claimed}/{len(rows)}, hit {hit}/{claimed} of what is claimed; the notes {agreed}/{len(rows)}"
    )
    print(f"line within {LINE}: {lines}/{lined}; the notes {lines_agreed}/{lined}")
    for figure, (ours, theirs) in judged.items():
        print(f"{figure}: with a note {ours:g}/{len(rows)}, the notes {theirs:g}; {ours / max(theirs, 1):.2f} (≥ 0.9)")


if __name__ == "__main__":
    if len(sys.argv) not in (3, 5):
        sys.exit(__doc__)
    main(Path(sys.argv[1]), Path(sys.argv[2]), 1 if sys.argv[3:] == ["--rows", "even"] else 0)
