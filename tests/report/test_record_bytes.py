"""A record is laid out in a file as the standard library lays it out."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from critique.report.record import json_bytes

SMALL = st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text()
RECORDS = st.dictionaries(
    st.text(),
    st.recursive(SMALL, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4)),
)


def as_by_json(record):
    expected = json.dumps(record, ensure_ascii=False, indent=1, allow_nan=False) + "\n"
    return expected.encode("utf-8", errors="backslashreplace")


@pytest.mark.slow
@given(RECORDS)
def test_a_record_is_laid_out_as_by_json(record):
    assert json_bytes(record) == as_by_json(record)


@pytest.mark.parametrize(
    "inner",
    [
        None,
        True,
        0,
        -7,
        1.5,
        1e300,
        1e-7,
        "",
        'Grün “ ” "',
        "\n\t\x00",
        "\ud800",
        [],
        {},
        [[], {}],
        {"": [None, {"a": 1}]},
    ],
)
def test_whatever_a_record_holds_is_laid_out_as_by_json(inner):
    for record in ({}, {"held": inner}, {"one": 1, "in": {"held": inner}, "list": [inner, inner], "last": ""}):
        assert json_bytes(record) == as_by_json(record)


@pytest.mark.parametrize("number", [float("nan"), float("inf"), -float("inf")])
def test_what_is_no_number_is_refused(number):
    with pytest.raises(ValueError, match="JSON"):
        json_bytes({"deep": [number]})
