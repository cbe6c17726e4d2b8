"""Runs that are killed, that meet, or whose workers die."""

import os
import signal
import sqlite3
import time
from pathlib import Path

import numpy as np
import pytest

pytestmark = pytest.mark.slow

KILLS = 2  # moments tried here; tests/benchmarks/portfolio_kills.py tries as many as asked for
PICTURES = 4


@pytest.fixture(scope="module")
def pictures(tmp_path_factory, tools):
    folder = tmp_path_factory.mktemp("interrupted") / "pictures"
    for seed in range(PICTURES):
        tools.paint(folder / f"study {seed}.png", 100 + seed)
    (folder / "study 2 cut.png").write_bytes((folder / "study 2.png").read_bytes()[:900])
    return folder


@pytest.fixture(scope="module")
def unbroken(pictures, tools):
    """What an unbroken run writes, and how long it takes in seconds."""
    begun = time.monotonic()
    said = tools.finish(tools.start(pictures, pictures.parent / "unbroken", "--jobs", "2"))
    assert said.code == 3, said.err
    return tools.outputs(pictures.parent / "unbroken"), time.monotonic() - begun


def rows(out: Path) -> list:
    """What the ledger holds, without the moments at which it was written."""
    ledger = sqlite3.connect(out / "ledger.sqlite")
    try:
        assert ledger.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        return [
            ledger.execute(query).fetchall()
            for query in (
                "SELECT path, content, folder, name, state, reason FROM files ORDER BY path",
                "SELECT * FROM results ORDER BY content",
                "SELECT * FROM pages ORDER BY folder",
                "SELECT * FROM unreadable ORDER BY content",
            )
        ]
    finally:
        ledger.close()


def test_a_run_killed_at_any_moment_goes_on_and_ends_like_an_unbroken_one(pictures, unbroken, tools, tmp_path):
    whole, seconds = unbroken
    rng = np.random.default_rng(8)
    for moment in rng.uniform(0.05, 0.9, KILLS) * seconds:
        process = tools.start(pictures, tmp_path / "out", "--jobs", "2")
        time.sleep(moment)
        process.send_signal(signal.SIGKILL)
        process.communicate()
        if (tmp_path / "out" / "ledger.sqlite").exists() and (tmp_path / "out" / "ledger.sqlite").stat().st_size:
            ledger = sqlite3.connect(tmp_path / "out" / "ledger.sqlite")
            assert ledger.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            ledger.close()
    said = tools.finish(tools.start(pictures, tmp_path / "out", "--jobs", "2"))
    assert said.code == 3, said.err
    assert tools.outputs(tmp_path / "out") == whole
    assert rows(tmp_path / "out") == rows(pictures.parent / "unbroken")


def test_the_second_of_two_runs_says_so_and_waits(pictures, unbroken, tools, tmp_path):
    first = tools.start(pictures, tmp_path / "out", "--jobs", "1")
    while not (tmp_path / "out" / "reviews").exists():
        time.sleep(0.05)
    second = tools.start(pictures, tmp_path / "out", "--jobs", "1", "--json")
    one, two = tools.finish(first), tools.finish(second)
    assert (one.code, two.code) == (3, 3)
    assert "another run" not in one.err
    assert two.err.count("another run is at work") == 1
    assert '"reviewed": 0' in two.out
    assert tools.outputs(tmp_path / "out") == unbroken[0]


def test_the_death_of_a_worker_ends_nothing(pictures, unbroken, tools, tmp_path):
    process = tools.start(pictures, tmp_path / "out", "--jobs", "2")
    while not (tmp_path / "out" / "reviews").exists():
        time.sleep(0.05)
    children = Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text().split()
    workers = [int(child) for child in children if "popen_loky" in Path(f"/proc/{child}/cmdline").read_text()]
    os.kill(workers[0], signal.SIGKILL)
    said = tools.finish(process)
    assert said.code == 3, said.err
    assert tools.outputs(tmp_path / "out") == unbroken[0]


def test_workers_leave_with_a_run_that_is_killed(pictures, tools, tmp_path):
    process = tools.start(pictures, tmp_path / "out", "--jobs", "2")
    while not (tmp_path / "out" / "reviews").exists():
        time.sleep(0.05)
    children = Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text().split()
    process.send_signal(signal.SIGKILL)
    process.communicate()
    limit = time.monotonic() + 20
    while any(_alive(child) for child in children) and time.monotonic() < limit:
        time.sleep(0.1)
    assert not any(_alive(child) for child in children)


def _alive(pid: str) -> bool:
    try:
        return "State:\tZ" not in Path(f"/proc/{pid}/status").read_text()
    except OSError:
        return False
