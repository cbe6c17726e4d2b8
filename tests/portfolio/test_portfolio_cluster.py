"""The same work on a Dask scheduler with worker processes of its own."""

import json
import os
import re
import signal
import subprocess
import sys
import threading
import time
from types import SimpleNamespace

import pytest

from critique.errors import CritiqueError
from critique.portfolio.cluster import _outcome
from critique.portfolio.run import StoppedInPart, make_portfolio

pytestmark = pytest.mark.slow

PICTURES = 4


def test_a_cluster_that_loses_a_worker_gives_the_same_portfolio(tools, tmp_path):
    from distributed import LocalCluster  # here: to load it takes a second, and newcomers leave this test out

    for seed in range(PICTURES):
        tools.paint(tmp_path / "pictures" / f"study {seed}.png", 200 + seed)
    (tmp_path / "pictures" / "broken.png").write_bytes(b"no picture")
    with LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as cluster:
        victim = cluster.workers[0].pid

        def kill_in_mid_run() -> None:
            while len(list((tmp_path / "far" / "reviews").glob("*/report.html"))) < 1:
                time.sleep(0.05)
            os.kill(victim, signal.SIGKILL)

        killer = threading.Thread(target=kill_in_mid_run, daemon=True)
        killer.start()
        said: list[str] = []
        far = make_portfolio(
            tmp_path / "pictures", tmp_path / "far", cluster=cluster.scheduler_address, say=said.append
        )
        killer.join(timeout=1)
        assert not killer.is_alive()
    assert (far.pictures, far.reviewed) == (PICTURES + 1, PICTURES)
    assert len(far.failed) == len(said) == 1 and "broken.png" in said[0]
    make_portfolio(tmp_path / "pictures", tmp_path / "near", jobs=1, say=said.append)
    assert tools.outputs(tmp_path / "far") == tools.outputs(tmp_path / "near")


def test_without_any_worker_the_run_stops_in_one_line_and_goes_on_another_time(tools, tmp_path, monkeypatch):
    from distributed import LocalCluster  # here: to load it takes a second, and newcomers leave this test out

    monkeypatch.setattr("critique.portfolio.cluster.WITHOUT_WORKER_SECONDS", 1.0)
    monkeypatch.setattr("critique.portfolio.cluster.LOOK_SECONDS", 0.2)
    for seed in range(PICTURES):
        tools.paint(tmp_path / "pictures" / f"study {seed}.png", 200 + seed)
    said: list[str] = []
    with LocalCluster(n_workers=1, threads_per_worker=1, processes=True, dashboard_address=None) as cluster:

        def take_all_workers() -> None:
            while len(list((tmp_path / "out" / "reviews").glob("*/report.html"))) < 2:
                time.sleep(0.05)
            cluster.scale(0)

        taker = threading.Thread(target=take_all_workers, daemon=True)
        taker.start()
        with pytest.raises(StoppedInPart, match=r"no worker came .* in 1 s; \d pictures? w.* run again") as caught:
            make_portfolio(tmp_path / "pictures", tmp_path / "out", cluster=cluster.scheduler_address, say=said.append)
        taker.join(timeout=1)
        assert "\n" not in str(caught.value) and len(said) == 1 and "no worker; waiting 1 s for one" in said[0]
        with pytest.raises(CritiqueError, match="nothing was reviewed: start workers and run again"):
            make_portfolio(tmp_path / "pictures", tmp_path / "out", cluster=cluster.scheduler_address, say=said.append)
        cluster.scale(1)
        cluster.wait_for_workers(1, timeout=60)
        done = make_portfolio(tmp_path / "pictures", tmp_path / "out", cluster=cluster.scheduler_address)
    kept = int(re.search(r"(\d) picture", str(caught.value)).group(1))
    assert done.reviewed == PICTURES - kept and done.standing == PICTURES
    make_portfolio(tmp_path / "pictures", tmp_path / "unbroken", jobs=1)
    assert tools.outputs(tmp_path / "out") == tools.outputs(tmp_path / "unbroken")


def test_a_scheduler_that_is_gone_in_mid_run_is_told_in_one_line(tools, tmp_path):
    """With processes of their own, as they are on a cluster, and the command beside them."""
    for seed in range(PICTURES):
        tools.paint(tmp_path / "pictures" / f"study {seed}.png", 200 + seed)
    address = tmp_path / "scheduler.json"
    start = [sys.executable, "-m", "distributed.cli.dask_scheduler", "--port", "0", "--no-dashboard"]
    scheduler = subprocess.Popen([*start, "--scheduler-file", str(address)], stderr=subprocess.DEVNULL)
    try:
        while not address.exists() or not address.read_text().endswith("}"):
            time.sleep(0.1)
        where = json.loads(address.read_text())["address"]
        with pytest.MonkeyPatch.context() as patched:
            patched.setattr("critique.portfolio.cluster.WITHOUT_WORKER_SECONDS", 1.0)
            patched.setattr("critique.portfolio.cluster.CONNECT_SECONDS", 2.0)
            killer = threading.Timer(2.0, scheduler.kill)
            killer.start()
            with pytest.raises(CritiqueError, match=r"does not answer any more; nothing was reviewed"):
                make_portfolio(tmp_path / "pictures", tmp_path / "out", cluster=where, say=lambda line: None)
    finally:
        scheduler.kill()
        scheduler.wait()


def test_a_scheduler_that_does_not_answer_is_named(tools, tmp_path, monkeypatch):
    monkeypatch.setattr("critique.portfolio.cluster.CONNECT_SECONDS", 0.5)
    tools.paint(tmp_path / "pictures" / "a.png", 1)
    with pytest.raises(CritiqueError, match=r"tcp://127\.0\.0\.1:9: no Dask scheduler answers") as caught:
        make_portfolio(tmp_path / "pictures", tmp_path / "out", cluster="tcp://127.0.0.1:9")
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(("status", "given_up"), [("pending", False), ("lost", False), ("error", True)])
def test_a_result_that_went_with_its_worker_is_waited_for_again(status, given_up):
    """A worker that goes away between the end of a task and its telling: the scheduler has the task done again."""

    def result(timeout):
        raise TimeoutError

    outcome = _outcome(SimpleNamespace(status=status, result=result), SimpleNamespace(number=3, picture="mill.png"))
    assert (outcome is not None) == given_up
