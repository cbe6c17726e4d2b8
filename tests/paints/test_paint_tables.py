"""No cell of a carried table can change unseen: each row is held to a summary that was taken when it was carried over.

The summary holds, for every row, its words and the sum of its figures. Whether the figures are right is for the tests
in tests/published; this one tells that they are still those which were checked there.
"""

import csv
from pathlib import Path

import pytest

from critique.perception.reference import read_table

SUMMARY = Path(__file__).parent / "paint_tables_summary.csv"
TABLES = (
    "paints_measured.csv", "paints_from_films.csv", "paints_typical.csv", "paint_tubes.csv", "paint_facts.csv",
    "paint_hazards.csv", "paint_discs.csv", "paint_films.csv", "film_mixtures.csv", "tint_lightness.csv",
    "chart_24.csv", "coat_thickness.csv", "gallery_lamps.csv", "studio_palettes.csv",
)  # fmt: skip
NOTHING = 1e-6  # in the unit of any table: a cell below it is none to the eye
CLOSE = 1e-10  # of a row's sum: what the summary's digits hold; a tenth of its least cell is more


def summed(row):
    """A row's words, and the sum of its figures, each weighed by its place so that two can't change places."""
    words, total = [], 0.0
    for place, value in enumerate(row.values(), start=1):
        try:
            total += place * float(value)
        except ValueError:
            words.append(value)
    return "|".join(words), total


def summary_of(table, rows):
    return [(table, *summed(row)) for row in rows]


def carried():
    with SUMMARY.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(line for line in stream if not line.startswith("#")))
    return [(row["table"], row["words"], float(row["sum"])) for row in rows]


def agrees(found, wanted):
    return len(found) == len(wanted) and all(
        a[:2] == b[:2] and abs(a[2] - b[2]) <= CLOSE * max(abs(b[2]), 1e-3) for a, b in zip(found, wanted, strict=True)
    )


@pytest.mark.parametrize("table", TABLES)
def test_a_table_is_as_it_was_carried_over(table):
    assert agrees(summary_of(table, read_table(table)), [row for row in carried() if row[0] == table])


@pytest.mark.parametrize("table", TABLES)
def test_any_cell_changed_by_a_tenth_and_any_two_names_swapped_are_seen(table):
    rows, wanted = read_table(table), [row for row in carried() if row[0] == table]
    first = next(iter(rows[0]))
    for index, row in enumerate(rows):
        for key, value in row.items():
            if is_number(value) and abs(float(value)) > NOTHING:
                changed = [row | {key: str(1.1 * float(value))}]
                assert not agrees(summary_of(table, changed), wanted[index : index + 1]), (row[first], key)
        swapped = [dict(other) for other in rows]
        other = (index + 1) % len(rows)
        swapped[index][first], swapped[other][first] = rows[other][first], row[first]
        if rows[other][first] != row[first]:
            assert not agrees(summary_of(table, swapped), wanted), row[first]


def is_number(value):
    try:
        float(value)
    except ValueError:
        return False
    return True


def write_summary():
    """Run by hand after a table was renewed and the tests in tests/published were passed."""
    with SUMMARY.open("w", encoding="utf-8", newline="") as stream:
        stream.write("# words and weighed sum of every row; made by test_paint_tables.write_summary\n")
        out = csv.writer(stream, lineterminator="\n")
        out.writerow(["table", "words", "sum"])
        for table in TABLES:
            out.writerows([name, words, f"{total:.14g}"] for name, words, total in summary_of(table, read_table(table)))
