"""Every figure is on the page with what it means; numbers read as people read them."""

import math

import pytest

from critique.measures.figures import page_parts
from critique.report.figures import figure_groups
from critique.words.figures import number, percent, typeset


def entries():
    return [entry for each in page_parts().values() for entry in each]


def test_every_declared_row_is_on_the_page_with_a_figure(review):
    rows = [row for group in figure_groups(review.measures) for row in group.rows]
    assert [row.entry for row in rows] == entries()
    assert all(row.text.strip() for row in rows)


def test_every_figure_has_a_meaning_a_definition_and_a_source():
    for entry in entries():
        assert entry.meaning and entry.source
        assert entry.definition.endswith(".")
    labels = [entry.label for entry in entries()]
    assert len(set(labels)) == len(labels)


def test_rows_tell_what_was_measured(review):
    rows = {row.entry.label: row.text for group in figure_groups(review.measures) for row in group.rows}
    # The scene's lower half is green, and half of that is raw: 0.25 of it, less a strip of the tree.
    assert 45 <= float(rows["Green area, sky and all"].split()[0]) <= 50
    assert 23 <= float(rows["Beyond the leaf limit"].split()[0]) <= 25
    assert rows["How far down the line lies"] == "0.50"


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (0.0, "0 %"), (0.0001, "under 0.1 %"), (0.006, "0.6 %"), (0.0994, "9.9 %"), (0.0996, "10 %"), (0.52, "52 %"),
        (1.0, "100 %"), (math.nan, "none"),
    ],
)  # fmt: skip
def test_shares_read_as_percentages(share, text):
    assert percent(share) == text


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [(5.26, 1, "5.3"), (-1.5, 1, "−1.5"), (-0.001, 2, "0.00"), (44.35, 0, "44"), (math.nan, 1, "none")],
)
def test_numbers_read_with_a_true_minus_and_no_minus_zero(value, decimals, text):
    assert number(value, decimals) == text


def test_a_number_keeps_its_sign_on_its_line_and_apostrophes_are_curved():
    assert typeset("It isn't over 52 % (48 %).") == "It isn’t over 52\u00a0% (48\u00a0%)."
    assert typeset("7.7 (48 %)") == "7.7\u00a0(48\u00a0%)"
    assert typeset("warm LED (2700 K)") == "warm LED (2700\u00a0K)"
