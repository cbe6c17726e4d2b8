"""What is measured again after a change, and what is not."""

import json
import os
import shutil
import sqlite3

import pytest
from click.testing import CliRunner
from PIL import Image

from critique.cli.main import main
from critique.cli.mending import line_of
from critique.errors import CritiqueError, OutputError
from critique.portfolio.ledger_trust import sign_all
from critique.portfolio.printing import summary_text
from critique.portfolio.run import make_portfolio
from critique.report.write import write_review
from critique.tasks.review import review_file


@pytest.mark.slow
def test_nothing_is_measured_again_when_nothing_changed(copied, tools):
    pictures, out = copied()
    before = tools.outputs(out)
    done = make_portfolio(pictures, out, jobs=1)
    assert (done.pictures, done.reviewed, done.renamed, done.changed, done.removed) == (4, 0, 0, 0, 0)
    assert tools.outputs(out) == before


@pytest.mark.slow
def test_a_renamed_picture_keeps_its_review_under_its_new_name(copied, tools, tmp_path):
    pictures, out = copied()
    new = pictures / "winter" / "Wiese & <b>Moor 'grün'.v2.png"
    new.parent.mkdir()
    (pictures / "marsh.png").rename(new)
    done = make_portfolio(pictures, out, jobs=1)
    assert (done.pictures, done.reviewed, done.renamed, done.removed) == (4, 0, 1, 0)
    assert not (out / "reviews" / "marsh").exists()
    write_review(review_file(new), tmp_path / "fresh", plates=False)
    (kept,) = (out / "reviews" / "winter").iterdir()  # named as any drive takes it
    assert tools.outputs(kept) == tools.outputs(tmp_path / "fresh")


@pytest.mark.slow
def test_pictures_that_exchange_their_names_each_get_their_own_review(copied):
    pictures, out = copied()
    (pictures / "dune.png").rename(pictures / "other.png")
    (pictures / "marsh.png").rename(pictures / "dune.png")
    (pictures / "other.png").rename(pictures / "marsh.png")
    make_portfolio(pictures, out, jobs=1)
    for name in ("dune", "marsh"):
        written = (out / "reviews" / name / "report.json").read_bytes()
        shutil.rmtree(out / "reviews" / name)
        write_review(review_file(pictures / f"{name}.png"), out / "reviews" / name, plates=False)
        assert written == (out / "reviews" / name / "report.json").read_bytes()


def test_a_changed_picture_is_measured_again_and_alone(copied, tools):
    pictures, out = copied()
    before = (out / "reviews" / "mill" / "report.json").read_bytes()
    tools.paint(pictures / "mill.png", 77)
    done = make_portfolio(pictures, out, jobs=1)
    assert (done.reviewed, done.changed) == (1, 1)
    assert (out / "reviews" / "mill" / "report.json").read_bytes() != before


@pytest.mark.slow
def test_a_change_that_keeps_size_and_time_is_seen(copied):
    pictures, out = copied()
    make_portfolio(pictures, out, jobs=1)
    path = pictures / "dune.png"
    status = path.stat()
    data = path.read_bytes()
    path.write_bytes(data[:-1] + bytes([data[-1] ^ 1]))
    os.utime(path, ns=(status.st_atime_ns, status.st_mtime_ns))
    assert make_portfolio(pictures, out, jobs=1).changed == 1


@pytest.mark.slow
def test_corners_that_a_review_was_given_are_used_until_they_are_forgotten(copied, tmp_path, monkeypatch):
    pictures, out = copied()
    monkeypatch.chdir(tmp_path)
    mill, page = str(pictures / "mill.png"), out / "reviews" / "mill" / "report.json"

    def run(*command):
        done = CliRunner().invoke(main, command)
        assert done.exit_code == 0, done.output
        return done.stdout

    run("review", mill, "--corners", "0.1,0.1 0.9,0.1 0.9,0.9 0.1,0.9")
    assert json.loads(run("portfolio", str(pictures), "--out", str(out), "--json"))["reviewed"] == 1
    assert json.loads(page.read_text())["picture"]["view"]["how"] == "given"
    assert json.loads(run("portfolio", str(pictures), "--out", str(out), "--json"))["reviewed"] == 0
    run("review", mill, "--whole")
    assert json.loads(run("portfolio", str(pictures), "--out", str(out), "--json"))["reviewed"] == 1
    assert json.loads(page.read_text())["picture"]["view"]["how"] == "whole"


def test_a_removed_picture_is_marked_and_comes_back_without_measuring(copied, tools):
    pictures, out = copied()
    before = tools.outputs(out)
    (pictures / "dune.png").rename(pictures.parent / "aside.png")
    done = make_portfolio(pictures, out, jobs=1)
    assert (done.pictures, done.reviewed, done.removed) == (3, 0, 1)
    page = (out / "portfolio.html").read_text()
    assert "No longer in the folder" in page and "<li>dune.png</li>" in page
    (pictures.parent / "aside.png").rename(pictures / "dune.png")
    assert make_portfolio(pictures, out, jobs=1).reviewed == 0
    assert tools.outputs(out) == before


def test_two_files_with_the_same_picture_are_measured_once(copied):
    pictures, out = copied()
    shutil.copy(pictures / "dune.png", pictures / "spring" / "copy of dune.png")
    done = make_portfolio(pictures, out, jobs=1)
    assert (done.pictures, done.reviewed, done.holds + done.watch + done.rework) == (5, 0, 5)
    assert "copy of dune" in (out / "reviews" / "spring" / "copy of dune" / "report.html").read_text()


def test_a_review_that_cannot_follow_its_picture_ends_in_one_line_and_not_never(copied, monkeypatch):
    pictures, out = copied()
    shutil.copy(pictures / "dune.png", pictures / "spring" / "copy of dune.png")
    monkeypatch.setattr("critique.portfolio.reviewing.copy_review", lambda *given: False)
    with pytest.raises(CritiqueError, match="can't follow"):
        make_portfolio(pictures, out, jobs=1)


@pytest.mark.slow
@pytest.mark.parametrize("lost", ["reviews/dune/report.html", "thumbnails"])
def test_what_someone_deleted_is_made_again(copied, tools, lost):
    pictures, out = copied()
    before = tools.outputs(out)
    shutil.rmtree(out / lost) if (out / lost).is_dir() else (out / lost).unlink()
    make_portfolio(pictures, out, jobs=1)
    assert tools.outputs(out) == before


@pytest.mark.slow
def test_another_measuring_version_measures_everything_again(copied):
    pictures, out = copied()
    with sqlite3.connect(out / "ledger.sqlite") as ledger:
        ledger.execute("UPDATE results SET version = 'older' WHERE content IN (SELECT content FROM files LIMIT 1)")
        sign_all(ledger)
    ledger.close()
    said: list[str] = []
    assert make_portfolio(pictures, out, jobs=1, say=said.append).reviewed == 1
    assert said == ["critique: the program has changed since the last run: 1 picture is reviewed again"]


def test_a_ledger_of_the_first_version_is_taken_over(copied):
    pictures, out = copied()
    with sqlite3.connect(out / "ledger.sqlite") as ledger:
        ledger.executescript("DROP TABLE unreadable; DROP TABLE about; PRAGMA user_version = 1")
        for table in ("files", "results", "pages"):
            ledger.execute(f"ALTER TABLE {table} DROP COLUMN checked")
    ledger.close()
    said: list[str] = []
    assert make_portfolio(pictures, out, jobs=1, say=said.append).reviewed == 0 and not said


def test_a_ledger_of_a_newer_version_is_left_alone(copied):
    pictures, out = copied()
    with sqlite3.connect(out / "ledger.sqlite") as ledger:
        ledger.execute("PRAGMA user_version = 99")
    ledger.close()
    with pytest.raises(OutputError, match="newer version of the program"):
        make_portfolio(pictures, out, jobs=1)


def test_a_folder_without_pictures_is_refused_in_one_line(tmp_path, tools):
    (tmp_path / "empty").mkdir()
    said = tools.finish(tools.start(tmp_path / "empty", tmp_path / "out"))
    assert said.code == 1 and said.err.count("\n") == 1 and "no pictures" in said.err
    assert not (tmp_path / "out").exists()


def test_an_output_folder_that_cannot_be_is_told_in_one_line(made, tools, tmp_path):
    (tmp_path / "out").write_bytes(b"a file")
    said = tools.finish(tools.start(made / "pictures", tmp_path / "out"))
    assert said.code == 1 and said.err.count("\n") == 1
    assert f"{tmp_path / 'out'}: can't be the portfolio's folder (file exists)" in said.err


def test_the_folder_of_the_pictures_is_not_written_over(copied):
    pictures, _ = copied()
    with pytest.raises(OutputError, match=r"holds the pictures$") as refused:
        make_portfolio(pictures, pictures, jobs=1)
    assert line_of(refused.value).endswith("choose another --out, which may lie in it")
    assert sorted(path.name for path in pictures.iterdir()) == ["dune.png", "marsh.png", "mill.png", "spring"]


def test_a_portfolio_inside_the_folder_is_not_reviewed_itself(copied):
    pictures, out = copied()
    out.rename(pictures / "portfolio")
    for _ in range(2):
        assert make_portfolio(pictures, pictures / "portfolio", jobs=1).pictures == 4


def test_a_disk_that_fails_in_mid_run_is_told_in_one_line(copied):
    pictures, out = copied()
    (pictures / "dune.png").unlink()
    with sqlite3.connect(out / "ledger.sqlite") as ledger:
        ledger.execute("CREATE TRIGGER full BEFORE UPDATE ON files BEGIN SELECT RAISE(FAIL, 'disk is full'); END")
    ledger.close()
    with pytest.raises(OutputError, match="disk is full"):
        make_portfolio(pictures, out, jobs=1)


@pytest.mark.slow
def test_a_blank_canvas_comes_last_and_holds_nothing(copied):
    pictures, out = copied()
    Image.new("RGB", (640, 480), (136, 170, 204)).save(pictures / "blank.png")
    done = make_portfolio(pictures, out, jobs=1)
    assert (done.unjudged, done.standing, done.reviewed) == (1, 5, 1)
    rows = (out / "portfolio.csv").read_text(encoding="utf-8-sig").splitlines()
    assert rows[-1].split(",")[1] == "blank.png"
    assert "1 with nothing to judge yet" in summary_text(done)
