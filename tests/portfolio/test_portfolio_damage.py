"""Damaged ledgers, folders that can't be read, and folders that share a name."""

import os
import shutil

import numpy as np
import pytest
from as_anyone import command

from critique.errors import OutputError
from critique.portfolio.ledger import LEDGER
from critique.portfolio.run import make_portfolio

DAMAGES = 6  # tried here; tests/benchmarks/attack.py tries hundreds


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(DAMAGES))
def test_a_damaged_ledger_is_measured_again_where_it_can_not_be_trusted_and_says_so(seed, copied, tools):
    pictures, out = copied()
    before = tools.outputs(out)
    data = bytearray((out / LEDGER).read_bytes())
    rng = np.random.default_rng(seed)
    if seed == 0:
        del data[len(data) // 2 :]
    elif seed == 1:
        data[:100] = rng.bytes(100)
    elif seed == 2:  # one digit of one row: SQLite can't know
        place = data.index(b'"version"') if b'"version"' in data else data.index(b'"width"')
        digit = next(at for at in range(place, len(data)) if chr(data[at]) in "123456789")
        data[digit] ^= 1
    else:
        start = int(rng.integers(100, len(data) - 600))
        data[start : start + 500] = rng.bytes(500)
    (out / LEDGER).write_bytes(bytes(data))
    said: list[str] = []
    done = make_portfolio(pictures, out, jobs=1, say=said.append)
    assert done.standing == 4
    after = tools.outputs(out)
    after.pop(f"{LEDGER}.damaged", None)
    assert after == before
    if done.reviewed or seed < 3:
        assert any("damaged" in line for line in said), said
    said.clear()
    assert make_portfolio(pictures, out, jobs=1, say=said.append).reviewed == 0 and not said


def test_another_programs_file_of_that_name_is_left_alone(copied):
    import sqlite3

    pictures, _ = copied()
    out = pictures.parent / "accounts"
    out.mkdir()
    with sqlite3.connect(out / LEDGER) as accounts:
        accounts.execute("CREATE TABLE sold (picture TEXT)")
    accounts.close()
    before = (out / LEDGER).read_bytes()
    with pytest.raises(OutputError, match="another program"):
        make_portfolio(pictures, out, jobs=1)
    assert (out / LEDGER).read_bytes() == before


@pytest.mark.slow
def test_a_folder_that_cannot_be_read_is_named_and_its_pictures_stay(copied, tools):
    pictures, out = copied()
    (pictures / "spring").chmod(0)
    try:
        said = command("portfolio", pictures, "--out", out, "--jobs", "1", "--json")
        assert said.returncode == 3, said.stderr
        assert said.stderr.startswith("critique: spring: the folder can't be read (permission denied)")
        assert '"removed": 0' in said.stdout and (out / "reviews/spring/orchard/report.html").exists()
        page = (out / "portfolio.html").read_text(encoding="utf-8")
        assert "spring/orchard" in page and "<li>spring: the folder can&#39;t be read" in page
    finally:
        (pictures / "spring").chmod(0o755)
    done = make_portfolio(pictures, out, jobs=1)
    assert (done.reviewed, done.removed, done.standing, done.failed) == (0, 0, 4, ())
    pictures.chmod(0)
    try:
        before = tools.outputs(out)
        said = command("portfolio", pictures, "--out", out, "--jobs", "1")
        assert said.returncode == 1 and said.stderr.count("\n") == 1 and "can't be read" in said.stderr
        assert tools.outputs(out) == before
    finally:
        pictures.chmod(0o755)


@pytest.mark.slow
def test_two_folders_never_share_one_portfolio(copied, tmp_path, monkeypatch):
    pictures, out = copied()
    others = tmp_path / "else" / "pictures"
    others.mkdir(parents=True)
    shutil.copy(pictures / "mill.png", others / "mill.png")
    with pytest.raises(OutputError, match="portfolio of another folder"):
        make_portfolio(others, out, jobs=1)
    monkeypatch.chdir(tmp_path)
    first = make_portfolio(pictures, jobs=1).page
    second = make_portfolio(others, jobs=1).page
    assert (first.parent.name, second.parent.name) == ("pictures-portfolio", "pictures-portfolio (2)")
    assert make_portfolio(others, jobs=1).page == second and make_portfolio(pictures, jobs=1).page == first


@pytest.mark.parametrize(
    "kind",
    [
        *("circle", "file", "pipe", "ledger is a folder", "ledger is a pipe", "long"),
        pytest.param("page", marks=pytest.mark.slow),
    ],
)
def test_an_impossible_place_for_a_portfolio_is_one_line(kind, made, tmp_path):
    out = tmp_path / "out"
    if kind == "circle":
        out.symlink_to(out)
    elif kind == "file":
        out.touch()
    elif kind == "pipe":
        os.mkfifo(out)
    elif kind == "long":
        out = tmp_path / ("x" * 300)
    else:
        out.mkdir()
        if kind == "ledger is a folder":
            (out / LEDGER).mkdir()
        elif kind == "ledger is a pipe":
            os.mkfifo(out / LEDGER)
        else:
            (out / "portfolio.html").mkdir()
    with pytest.raises(OutputError) as caught:
        make_portfolio(made / "pictures" / "spring", out, jobs=1, say=lambda line: None)
    assert str(caught.value).isprintable()
