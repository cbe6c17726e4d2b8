"""One folder a painting: its results under one page, what came before kept, and nothing of anyone else's touched."""

import json
import multiprocessing
import os
import re
import shutil
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from PIL import Image

from critique.cli.main import main
from critique.errors import OutputError
from critique.painting.history import LONGEST, MOST_RUNS, History, Run, read_history, write_history
from critique.painting.identity import painting_folder, source_id
from critique.painting.keep import Done, keep
from critique.painting.kinds import MOST_KEPT
from critique.painting.page import painting_html
from critique.picture.picture import picture_from_srgb
from critique.report.page import title_of


def run(*arguments: object) -> str:
    done = CliRunner().invoke(main, [str(argument) for argument in arguments])
    assert done.exit_code == 0, done.output
    return done.output


def paint(path: Path, sky: tuple[int, int, int], size: tuple[int, int] = (160, 120)) -> Path:
    """A sky over a field, with a tree."""
    codes = np.empty((size[1], size[0], 3), dtype=np.uint8)
    codes[: size[1] // 3] = sky
    codes[size[1] // 3 :] = (110, 120, 60)
    codes[20:60, 100:112] = (40, 40, 30)
    path.parent.mkdir(parents=True, exist_ok=True)
    Image.fromarray(codes).save(path)
    return path


BLUE, GREY, ROSE = (150, 180, 220), (190, 190, 195), (225, 180, 170)
PICTURE = picture_from_srgb(np.full((40, 60, 3), 128, dtype=np.uint8))


def review_of(text: str):
    """What writes a review of one line, as ``write_review`` does: the record, then the page."""

    def write(place: Path) -> list[Path]:
        (place / "report.json").write_text(json.dumps({"text": text}), encoding="utf-8")
        (place / "report.html").write_text(f"<p>{text}</p>", encoding="utf-8")
        return [place / "report.html"]

    return write


def done_of(source: Path, text: str = "It holds.") -> Done:
    return Done("review", source, source, PICTURE, text)


def runs_of(folder: Path) -> tuple[Run, ...]:
    history = read_history(folder)
    assert history is not None
    return history.runs


def links(folder: Path) -> list[str]:
    return re.findall(r'href="([^"]+)"', (folder / "index.html").read_text(encoding="utf-8"))


@pytest.mark.slow
def test_the_same_picture_twice_leaves_one_line_and_a_changed_one_keeps_what_was_there(tmp_path):
    picture, out = paint(tmp_path / "meadow.png", BLUE), tmp_path / "out"
    assert f"all of this painting: {out / 'meadow' / 'index.html'}" in run("review", picture, "--out", out)
    folder = out / "meadow"
    first = (folder / "report.html").read_bytes()
    run("review", picture, "--out", out)
    assert len(runs_of(folder)) == 1 and not (folder / "earlier").exists()
    assert links(folder) == ["report.html"]

    paint(picture, ROSE)
    run("review", picture, "--out", out)
    before, now = runs_of(folder)
    assert now.page == "report.html" and before.page.startswith("earlier/") and before.state != now.state
    assert (folder / before.page).read_bytes() == first != (folder / "report.html").read_bytes()
    assert links(folder) == ["report.html", before.page]
    page = (folder / "index.html").read_text(encoding="utf-8")
    assert page.count("<section") == 2 == page.count("<img")  # a state of the painting each, its picture once
    assert all(line.told in page.replace("’", "'").replace("\u00a0", " ") for line in (before, now))

    paint(picture, BLUE)  # as it was first: a third line, and the first page still there
    run("review", picture, "--out", out)
    assert [line.page.startswith("earlier/") for line in runs_of(folder)] == [True, True, False]
    assert all((folder / line.page).is_file() for line in runs_of(folder))


@pytest.mark.slow
def test_every_command_comes_into_the_paintings_folder_and_no_page_of_another_is_lost(tmp_path):
    first, second = paint(tmp_path / "meadow.png", BLUE), paint(tmp_path / "later.png", GREY)
    out = tmp_path / "out"
    run("review", first, "--out", out)
    run("compare", first, second, "--out", out)
    run("passes", first, second, "--out", out)
    run("study", first, "--out", out)
    folder = out / "meadow"
    assert [line.kind for line in runs_of(folder)] == ["review", "comparison", "passes", "study"]
    assert sorted(path.name for path in out.iterdir()) == ["meadow"]
    for page in ("report.html", "comparison/comparison.html", "passes/passes.html", "study/reference.png"):
        assert (folder / page).is_file()
    assert set(links(folder)) >= {"report.html", "comparison/comparison.html", "passes/passes.html"}
    assert all((folder / link).exists() for link in links(folder))
    # A comparison and the passes show what the painting has become, the review what it was.
    shown = {line.kind: line.file for line in runs_of(folder)}
    assert shown == {"review": "meadow.png", "comparison": "later.png", "passes": "later.png", "study": "meadow.png"}


@pytest.mark.slow
def test_two_paintings_of_one_name_have_two_folders_and_each_finds_its_own_again(tmp_path):
    one, two = paint(tmp_path / "a" / "meadow.png", BLUE), paint(tmp_path / "b" / "meadow.png", ROSE)
    out = tmp_path / "out"
    for picture in (one, two, one, two):
        run("review", picture, "--out", out)
    assert sorted(path.name for path in out.iterdir()) == ["meadow", "meadow (2)"]
    assert [len(runs_of(out / name)) for name in ("meadow", "meadow (2)")] == [1, 1]
    assert painting_folder(out, one) == out / "meadow" and painting_folder(out, two) == out / "meadow (2)"


@pytest.mark.slow
def test_paintings_of_one_name_have_the_same_folders_in_one_run_as_in_two(tmp_path):
    one, two = paint(tmp_path / "may" / "mill.png", BLUE), paint(tmp_path / "june" / "mill.jpg", GREY)
    out = tmp_path / "out"
    run("review", one, two, one, "--out", out)
    run("review", two, "--out", out)
    assert sorted(path.name for path in out.iterdir()) == ["mill", "mill (2)"]
    assert [len(runs_of(out / name)) for name in ("mill", "mill (2)")] == [1, 1]
    assert (painting_folder(out, one).name, painting_folder(out, two).name) == ("mill", "mill (2)")


def test_a_folder_that_another_painting_took_meanwhile_is_left_to_it(tmp_path):
    one, two = paint(tmp_path / "may" / "mill.png", BLUE), paint(tmp_path / "june" / "mill.png", GREY)
    out = tmp_path / "out"
    chosen = painting_folder(out, one)
    assert painting_folder(out, two) == chosen  # both runs begin before either has written
    keep(chosen, done_of(one), review_of("may"))
    with pytest.raises(OutputError, match="run this one again"):
        keep(chosen, done_of(two), review_of("june"))
    assert [line.file for line in runs_of(chosen)] == ["mill.png"]
    assert (chosen / "report.html").read_text(encoding="utf-8") == "<p>may</p>"
    keep(painting_folder(out, two), done_of(two), review_of("june"))
    assert (out / "mill (2)" / "report.html").read_text(encoding="utf-8") == "<p>june</p>"


@pytest.mark.slow
def test_the_hundredth_painting_of_one_name_has_a_folder_of_its_own(tmp_path):
    out, name = tmp_path / "out", "IMG_0001.png"
    for number in range(1, 120):
        source = tmp_path / f"{number}" / name
        folder = painting_folder(out, source)
        assert not folder.exists()
        folder.mkdir(parents=True)
        write_history(folder, History(source_id(source)))


@pytest.mark.slow
def test_a_painting_that_was_moved_and_one_straightened_within_keep_their_folder(tmp_path):
    picture, out = paint(tmp_path / "a" / "meadow.png", BLUE), tmp_path / "out"
    run("review", picture, "--out", out)
    moved = tmp_path / "b" / "meadow.png"
    moved.parent.mkdir()
    shutil.move(picture, moved)
    assert painting_folder(out, moved) == out / "meadow"
    assert painting_folder(out, out / "meadow" / "straightened" / "meadow_straightened.jpg") == out / "meadow"
    assert painting_folder(out, tmp_path / "elsewhere" / "hill.png") == out / "hill"


@pytest.mark.slow
def test_nothing_of_the_painters_own_is_touched(tmp_path):
    picture, out = paint(tmp_path / "meadow.png", BLUE), tmp_path / "out"
    own = {"notes.txt": b"a", "earlier/my own.txt": b"b", "plates/mine.png": b"c", "states/sketch.jpg": b"d"}
    for name, data in own.items():
        (out / "meadow" / name).parent.mkdir(parents=True, exist_ok=True)
        (out / "meadow" / name).write_bytes(data)
    for sky in (BLUE, ROSE, GREY):
        paint(picture, sky)
        run("review", picture, "--out", out)
    assert {name: (out / "meadow" / name).read_bytes() for name in own} == own
    assert len(runs_of(out / "meadow")) == 3


def test_a_report_from_before_there_were_histories_is_taken_over(tmp_path):
    folder = tmp_path / "out" / "meadow"
    folder.mkdir(parents=True)
    review_of("long ago")(folder)
    keep(folder, done_of(tmp_path / "meadow.png"), review_of("now"))
    before, now = runs_of(folder)
    assert (folder / before.page).read_text(encoding="utf-8") == "<p>long ago</p>"
    assert (folder / now.page).read_text(encoding="utf-8") == "<p>now</p>"


def test_only_the_last_earlier_pages_are_kept_and_the_lines_of_older_ones_stay(tmp_path):
    folder = tmp_path / "out" / "meadow"
    for number in range(MOST_KEPT + 5):
        keep(folder, done_of(tmp_path / "meadow.png", f"run {number}"), review_of(f"run {number}"))
    runs = runs_of(folder)
    assert [line.told for line in runs] == [f"run {number}" for number in range(MOST_KEPT + 5)]
    assert [bool(line.page) for line in runs] == [False] * 4 + [True] * (MOST_KEPT + 1)
    assert len(list((folder / "earlier").iterdir())) == MOST_KEPT
    assert "its page is no longer kept" in (folder / "index.html").read_text(encoding="utf-8")


def test_small_pictures_that_no_line_shows_go_and_the_painters_own_stay(tmp_path):
    folder = tmp_path / "out" / "meadow"
    keep(folder, done_of(tmp_path / "meadow.png"), review_of("first"))
    for name in ("0123456789ab.jpg", "my sketch.jpg", "0123456789ab.png"):
        (folder / "states" / name).write_bytes(b"x")
    keep(folder, done_of(tmp_path / "meadow.png"), review_of("second"))
    left = {path.name for path in (folder / "states").iterdir()}
    assert left == {f"{runs_of(folder)[0].state}.jpg", "my sketch.jpg", "0123456789ab.png"}


def test_a_history_has_a_bound():
    line = Run("review", "2026-01-01T00:00:00+00:00", "a.jpg", "", "", "", "", "")
    history = History()
    for _ in range(MOST_RUNS + 10):
        history = history.with_run(line)
    assert len(history.runs) == MOST_RUNS


@pytest.mark.parametrize("damage", [b"", b"{", b"[]", b'{"source": 1, "runs": [{}]}', b"\xff\xfe", b"\0" * 50])
def test_a_damaged_history_is_begun_anew_and_the_result_before_is_kept(tmp_path, damage):
    folder = tmp_path / "out" / "meadow"
    keep(folder, done_of(tmp_path / "meadow.png"), review_of("first"))
    (folder / "history.json").write_bytes(damage)
    keep(folder, done_of(tmp_path / "meadow.png"), review_of("second"))
    before, now = runs_of(folder)
    assert (folder / before.page).read_text(encoding="utf-8") == "<p>first</p>" and now.page == "report.html"


KILLED = """
import os, sys
from pathlib import Path
import critique.painting.keep as module
from test_painting_folder import done_of, review_of
folder, source, moment = Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3]
die = lambda *given, **named: os._exit(9)
write = review_of("second")
if moment == "before it is written":
    write = die
else:
    setattr(module, moment, die)
module.keep(folder, done_of(source), write)
"""


@pytest.mark.slow
@pytest.mark.parametrize(
    "moment", ["set_aside", "before it is written", "keep_state", "within_bounds", "write_history", "replace_file"]
)
def test_a_run_that_is_killed_leaves_a_whole_result_and_loses_none(tmp_path, moment):
    folder, source = tmp_path / "out" / "meadow", tmp_path / "meadow.png"
    keep(folder, done_of(source), review_of("first"))
    paths = os.pathsep.join([str(Path(__file__).parent), *sys.path])
    done = subprocess.run(
        [sys.executable, "-c", KILLED, str(folder), str(source), moment], env={**os.environ, "PYTHONPATH": paths}
    )
    assert done.returncode == 9
    now = (folder / "report.html").read_text(encoding="utf-8")
    assert now in ("<p>first</p>", "<p>second</p>") and read_history(folder) is not None
    keep(folder, done_of(source), review_of("third"))
    runs = runs_of(folder)
    pages = [(folder / line.page).read_text(encoding="utf-8") for line in runs if line.page]
    assert pages[0] == "<p>first</p>" and pages[-1] == "<p>third</p>"
    assert pages == ["<p>first</p>", "<p>second</p>", "<p>third</p>"] or now == "<p>first</p>"
    assert all(line.page for line in runs) and len(runs) == len(pages)
    assert not [path for path in folder.rglob(".critique-*")]


def _one_of_many(folder: Path, source: Path, number: int) -> None:
    keep(folder, done_of(source, f"run {number}"), review_of(f"run {number}"))


def test_runs_at_the_same_time_are_all_told_of(tmp_path):
    folder, source = tmp_path / "out" / "meadow", tmp_path / "meadow.png"
    context = multiprocessing.get_context("spawn" if sys.platform == "darwin" else "fork")
    many = [context.Process(target=_one_of_many, args=(folder, source, number)) for number in range(6)]
    for one in many:
        one.start()
    for one in many:
        one.join(60)
    runs = runs_of(folder)
    assert sorted(line.told for line in runs) == [f"run {number}" for number in range(6)]
    assert sorted((folder / line.page).read_text(encoding="utf-8") for line in runs) == [
        f"<p>run {number}</p>" for number in range(6)
    ]


def test_a_name_can_hold_anything_and_a_link_still_finds_its_page(tmp_path):
    folder = tmp_path / "out" / "a #1 50% <b>?&.x"
    keep(folder, done_of(tmp_path / "x.png", "<script>alert(1)</script>"), review_of("first"))
    time.sleep(0.01)
    keep(folder, done_of(tmp_path / "x.png"), review_of("second"))
    page = (folder / "index.html").read_text(encoding="utf-8")
    assert "<script" not in page and "<b>" not in page
    assert all((folder / link).is_file() for link in links(folder))


@pytest.mark.slow
def test_the_portfolio_has_no_histories(tmp_path):
    paint(tmp_path / "pictures" / "one.png", BLUE)
    run("portfolio", tmp_path / "pictures", "--out", tmp_path / "out", "--jobs", 1)
    assert not list((tmp_path / "out").rglob("history.json"))


def test_a_painting_is_called_on_its_page_as_it_is_on_its_review(tmp_path):
    text = painting_html(tmp_path / "lake_road_2", History(runs=()))
    review = title_of(picture_from_srgb(np.zeros((8, 8, 3), np.uint8), "lake_road_2.jpg"))
    assert re.findall("<h1>(.*)</h1>", text) == [review] == ["lake road 2"]


def test_a_long_line_of_the_history_ends_with_a_whole_sentence(tmp_path):
    """A line that breaks off in the middle says nothing more, and looks like a fault."""
    sentences = " ".join(f"Sentence number {number} of what was found, 1.5 wide." for number in range(12))
    folder = tmp_path / "out" / "meadow"
    for told, wanted in ((sentences, " wide."), ("word " * 100, "…")):
        keep(folder, done_of(tmp_path / "meadow.png", told), review_of(told))
        kept = runs_of(folder)[-1].told
        assert kept.endswith(wanted) and 200 < len(kept) <= LONGEST and told.startswith(kept.rstrip("…"))
