"""The same work on a Dask scheduler with worker processes of its own."""

import os
import signal
import threading
import time

import pytest
from distributed import LocalCluster

from critique.errors import CritiqueError
from critique.portfolio.run import make_portfolio

PICTURES = 4


def test_a_cluster_that_loses_a_worker_gives_the_same_portfolio(tools, tmp_path):
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


def test_a_scheduler_that_does_not_answer_is_named(tools, tmp_path, monkeypatch):
    monkeypatch.setattr("critique.portfolio.cluster.CONNECT_SECONDS", 0.5)
    tools.paint(tmp_path / "pictures" / "a.png", 1)
    with pytest.raises(CritiqueError, match=r"tcp://127\.0\.0\.1:9: no Dask scheduler answers") as caught:
        make_portfolio(tmp_path / "pictures", tmp_path / "out", cluster="tcp://127.0.0.1:9")
    assert "\n" not in str(caught.value)
