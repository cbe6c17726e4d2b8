"""The record is the review's own dictionary, the same bytes every time."""

import dataclasses
import json

from critique.report.record import record_bytes
from critique.report.write import write_review

IN_ORDER = (
    "version", "picture", "greens", "families", "values", "division", "eyepath", "harmony", "variety", "cast",
    "findings", "suggestions",
)  # fmt: skip


def test_record_is_the_dictionary_of_the_review(review, tmp_path):
    page = write_review(review, tmp_path / "meadow")
    data = (page.parent / "report.json").read_bytes()
    assert json.loads(data) == review.as_dict()
    assert data.endswith(b"}\n")


def test_record_has_the_keys_of_the_design_in_their_order(review):
    keys = [key for key in json.loads(record_bytes(review)) if key in IN_ORDER]
    assert tuple(keys) == IN_ORDER


def test_record_is_the_same_bytes_on_every_run(review, tmp_path):
    first = write_review(review, tmp_path / "first").with_name("report.json").read_bytes()
    again = write_review(review, tmp_path / "again").with_name("report.json").read_bytes()
    assert first == again


def test_plates_are_the_same_bytes_on_every_run(review, tmp_path):
    first, again = (write_review(review, tmp_path / name).parent / "plates" for name in ("first", "again"))
    names = sorted(path.name for path in first.iterdir())
    assert names == sorted(path.name for path in again.iterdir())
    assert all((first / name).read_bytes() == (again / name).read_bytes() for name in names)


def test_record_holds_a_name_that_is_no_text_and_stays_json(review):
    picture = dataclasses.replace(review.picture, file="bad \udcff name ü.jpg")
    data = record_bytes(dataclasses.replace(review, picture=picture))
    assert json.loads(data.decode("utf-8"))["picture"]["file"] == "bad \udcff name ü.jpg"
    assert "ü".encode() in data
