"""The tables, the progress bar and the thumbnails."""

import csv
import io
import json
import re

import numpy as np
import pytest
from PIL import Image

from critique.advice.kinds import KINDS
from critique.portfolio.printing import summary_text
from critique.portfolio.progress import Progress, bar_line, span
from critique.portfolio.run import make_portfolio


@pytest.fixture(scope="module")
def tables(made):
    with (made / "out" / "portfolio.csv").open(encoding="utf-8-sig", newline="") as stream:
        lines = list(csv.DictReader(stream))
    return lines, json.loads((made / "out" / "portfolio.json").read_text(encoding="utf-8"))


def test_both_tables_hold_the_same_documented_columns(tables):
    lines, whole = tables
    assert list(lines[0]) == list(whole["columns"]) == list(whole["pictures"][0])
    assert all(len(meaning) > 8 for meaning in whole["columns"].values())
    assert {f"level: {kind.called('holds')}" for kind in KINDS} <= set(whole["columns"])


def test_both_tables_say_the_same(tables):
    lines, whole = tables
    for line, picture in zip(lines, whole["pictures"], strict=True):
        for name, value in picture.items():
            text = " ".join(value) if isinstance(value, list) else "" if value is None else str(value)
            assert line[name] == text


def test_the_figures_are_those_of_each_review(tables, made):
    _, whole = tables
    for picture in whole["pictures"]:
        report = json.loads((made / "out" / picture["review"]).with_name("report.json").read_text(encoding="utf-8"))
        assert picture["greens.area_share"] == report["greens"]["area_share"]
        assert picture["values.range"] == report["values"]["range"]
        assert picture["division.height"] == report["division"]["height"]
        levels = [finding["level"] for finding in report["findings"]]
        assert (picture["rework"], picture["watch"]) == (levels.count("rework"), levels.count("watch"))
        assert picture["path"].endswith(report["picture"]["file"])


def test_ranks_run_from_the_readiest(tables):
    _, whole = tables
    assert [picture["rank"] for picture in whole["pictures"]] == [1, 2, 3, 4]
    orders = [(picture["rework"], picture["watch"], picture["path"]) for picture in whole["pictures"]]
    assert orders == sorted(orders)


def test_thumbnails_show_the_picture(tables, made):
    _, whole = tables
    for picture in whole["pictures"]:
        content = picture["content"]
        with Image.open(made / "out" / "thumbnails" / content[:2] / f"{content[:20]}.jpg") as thumbnail:
            shown = np.asarray(thumbnail.convert("RGB"), float)
        with Image.open(made / "pictures" / picture["path"]) as original:
            stored = np.asarray(original.convert("RGB"), float)
        assert shown.shape == stored.shape  # small ones are not enlarged
        assert np.abs(shown - stored).mean() < 12


def test_the_bar_tells_rate_and_time_left():
    assert bar_line("Reviewing", 0, 40, 0.0) == "Reviewing [------------------------] 0/40"
    assert bar_line("Reviewing", 10, 40, 20.0).endswith("] 10/40, 2.0 s each, 60 s left")
    assert bar_line("Reviewing", 20, 40, 4.0).endswith("] 20/40, 5.0 a second, 4 s left")
    assert [span(seconds) for seconds in (5, 89, 90, 3000, 5400, 9000)] == [
        "5 s",
        "89 s",
        "2 min",
        "50 min",
        "1 h 30 min",
        "2 h 30 min",
    ]


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_the_bar_is_drawn_on_a_terminal_only_and_goes_when_it_is_done():
    for stream, drawn in ((io.StringIO(), False), (Terminal(), True)):
        assert list(Progress("Looking", stream).over(range(3), 3)) == [0, 1, 2]
        assert ("3/3" in stream.getvalue()) == drawn
        assert not drawn or re.fullmatch(r"(?s).*\r\x1b\[K", stream.getvalue())


@pytest.mark.slow
def test_transparent_parts_taken_as_white_are_told_of(tools, tmp_path):
    """A file may hide what it shows: a portfolio counted its white with the picture and said nothing of it."""
    folder = tmp_path / "pictures"
    colours = np.asarray(Image.open(tools.paint(folder / "whole.png", 5)).convert("RGBA")).copy()
    colours[:20, :, 3] = 0
    Image.fromarray(colours).save(folder / "cut_out.png")
    done = make_portfolio(folder, tmp_path / "out", jobs=1)
    assert done.cleared == ("cut_out.png",)
    assert "1 judged with transparent parts taken as white: cut_out.png" in summary_text(done)
    page = (tmp_path / "out" / "portfolio.html").read_text(encoding="utf-8")
    told = page.split('id="cleared"')[1].split("</section>")[0]
    assert "reviews/cut_out/report.html" in told and "reviews/whole" not in told
