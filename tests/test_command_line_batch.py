"""Many arguments, some of them bad: every one is tried, each that fails is named, and the exit code says so."""

import os

import numpy as np
import pytest
from as_anyone import command
from click.testing import CliRunner
from PIL import Image

from critique.cli.main import main

pytestmark = pytest.mark.slow  # whole runs of many pictures

GOOD = 40


def painted(path, seed):
    rng = np.random.default_rng(seed)
    codes = np.repeat(rng.integers(40, 220, (3, 3)).astype(np.uint8), 24, axis=0)
    Image.fromarray(np.repeat(codes[:, None], 80, axis=1)).save(path)
    return path


def bad_arguments(folder):
    """One of every kind."""
    good = painted(folder / "whole.png", 99).read_bytes()
    closed = folder / "closed"
    closed.mkdir()
    (closed / "in.png").write_bytes(good)
    closed.chmod(0)
    (folder / "mine.png").write_bytes(good)
    (folder / "mine.png").chmod(0)
    (folder / "empty.jpg").touch()
    (folder / "letter.jpg").write_text("Dear gallery")
    (folder / "cut.png").write_bytes(good[:60])
    (folder / "raw.nef").write_bytes(good)
    os.mkfifo(folder / "pipe.jpg")
    os.symlink(folder / "gone.jpg", folder / "link.jpg")
    names = ["closed/in.png", "mine.png", "empty.jpg", "letter.jpg", "cut.png", "raw.nef", "pipe.jpg", "link.jpg"]
    return [*(folder / name for name in names), folder / ("n" * 300 + ".jpg"), folder / "closed"]


def named(said, bad):
    lines = said.stderr.splitlines()
    assert len(lines) == len(bad), said.stderr
    for line, path in zip(lines, bad, strict=True):
        assert line.startswith("critique: ") and path.name[:200] in line, line


@pytest.mark.slow
def test_forty_good_and_ten_bad_make_forty_pages_and_ten_lines(tmp_path):
    good = [painted(tmp_path / f"meadow {number}.png", number) for number in range(GOOD)]
    bad = bad_arguments(tmp_path)
    mixed = list(good)
    for place, path in enumerate(bad):
        mixed.insert(5 * place + 2, path)
    assert len(mixed) == GOOD + len(bad) == 50
    said = command("review", *mixed, "--out", tmp_path / "out")
    assert said.returncode == 3
    named(said, bad)
    assert len(list((tmp_path / "out").glob("*/report.html"))) == GOOD


def test_a_line_up_and_the_passes_go_on_past_what_fails(tmp_path):
    good = [painted(tmp_path / f"meadow {number}.png", number) for number in range(2)]
    bad = bad_arguments(tmp_path)
    for task in ("lineup", "passes"):
        said = command(task, good[0], *bad, good[1], "--out", tmp_path / task)
        assert said.returncode == 3
        named(said, bad)
        assert len(list((tmp_path / task).rglob(f"{task}.html"))) == 1


def test_norms_go_on_past_what_fails_and_say_so(tmp_path):
    folder = tmp_path / "best"
    folder.mkdir()
    for number in range(5):
        painted(folder / f"{number}.png", number)
    (folder / "letter.png").write_text("Dear gallery")
    os.mkfifo(folder / "pipe.png")
    said = command("norms", folder, "--out", tmp_path / "mine.csv")
    assert said.returncode == 3 and said.stderr.count("\n") == 2 and "5 pictures" in said.stdout
    for place in (tmp_path, tmp_path / "no" / "mine.csv", tmp_path / ("x" * 300), "/dev/null/mine.csv"):
        said = CliRunner().invoke(main, ["norms", str(folder), "--out", str(place)])
        assert said.exit_code == 1 and said.stderr.splitlines()[-1].startswith("critique: "), said.stderr
    assert not [path for path in tmp_path.iterdir() if path.name.startswith(".")]


def test_norms_of_two_folders_of_one_name_do_not_share_a_table(tmp_path, monkeypatch):
    for where in ("a", "b"):
        (tmp_path / where / "best").mkdir(parents=True)
        for number in range(5):
            painted(tmp_path / where / "best" / f"{number}.png", number)
    monkeypatch.chdir(tmp_path)
    for where in ("a", "b", "a", "b"):
        assert CliRunner().invoke(main, ["norms", str(tmp_path / where / "best")]).exit_code == 0
    assert sorted(path.name for path in tmp_path.glob("*.csv")) == ["best-norms (2).csv", "best-norms.csv"]


@pytest.mark.parametrize("fault", [ZeroDivisionError("float division"), MemoryError(), RecursionError("too\ndeep")])
def test_what_nobody_foresaw_is_told_of_its_file_and_the_others_go_on(fault, tmp_path, monkeypatch):
    # The fault is put in: one that is known would have been mended.
    import critique.tasks.review as task

    review_file = task.review_file

    def trips(path, *given, **options):
        if path.name == "trips.png":
            raise fault
        return review_file(path, *given, **options)

    monkeypatch.setattr(task, "review_file", trips)
    pictures = [str(painted(tmp_path / name, 1)) for name in ("first.png", "trips.png", "last.png")]
    said = CliRunner().invoke(main, ["review", *pictures, "--out", str(tmp_path / "out")])
    assert said.exit_code == 3 and said.stderr.count("\n") == 1
    assert said.stderr.startswith("critique: trips.png: ")
    assert ("memory" if isinstance(fault, MemoryError) else "fault of the program") in said.stderr
    assert len(list((tmp_path / "out").glob("*/report.html"))) == 2
    monkeypatch.setenv("CRITIQUE_DEBUG", "1")
    assert "Traceback" in CliRunner().invoke(main, ["review", pictures[1], "--out", str(tmp_path / "out")]).stderr


@pytest.mark.slow
def test_nothing_that_moves_the_cursor_reaches_terminal_or_page(tmp_path):
    folder = tmp_path / "a\x1b[31mb\u202e"
    folder.mkdir()
    painted(folder / "meadow.png", 1)
    (folder / "letter.png").write_text("Dear gallery")
    for words in (
        ["review", folder / "meadow.png", folder / "letter.png", "--out", folder / "out"],
        ["portfolio", folder, "--out", tmp_path / "portfolio", "--jobs", "1"],
        ["lineup", folder / "meadow.png", "--out", folder / "lineup"],
        ["norms", folder],
    ):
        said = command(*words)
        assert "\x1b" not in said.stdout + said.stderr and "\u202e" not in said.stdout + said.stderr, words
    pages = [*tmp_path.rglob("*.html")]
    assert len(pages) >= 3
    for page in pages:
        text = page.read_text(encoding="utf-8")
        assert "\x1b" not in text and "\u202e" not in text, page
