"""Small painted pictures, one portfolio that was made of them, and ways to run the command in its own process."""

import fcntl
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from PIL import Image

from critique.portfolio.run import make_portfolio

os.environ.setdefault("OMP_NUM_THREADS", "1")


def paint(path: Path, seed: int, size: tuple[int, int] = (120, 90)) -> Path:
    """A sky, a land and a few strokes in colours of their own, different for every seed."""
    rng = np.random.default_rng(seed)
    width, height = size
    pixels = np.empty((height, width, 3))
    line = int(height * rng.uniform(0.3, 0.7))
    pixels[:line] = rng.uniform((120, 130, 140), (230, 235, 240))
    pixels[line:] = rng.uniform((40, 50, 20), (150, 150, 90))
    for _ in range(6):
        top, left = rng.integers(0, height - 20), rng.integers(0, width - 30)
        pixels[top : top + rng.integers(6, 20), left : left + rng.integers(8, 30)] = rng.uniform(20, 235, 3)
    path.parent.mkdir(parents=True, exist_ok=True)
    Image.fromarray(np.clip(pixels + rng.normal(0, 4, pixels.shape), 0, 255).astype(np.uint8)).save(path)
    return path


def outputs(out: Path) -> dict[str, bytes]:
    """Every file of a portfolio but the ledger.

    A journal is the ledger's too: of a run killed before it wrote anything one of nothing but zeros may be left, which
    the next one that has something to write takes up and clears away.
    """
    ledger = ("ledger.sqlite", "ledger.sqlite-journal")
    paths = sorted(path for path in out.rglob("*") if path.is_file() and path.name not in ledger)
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in paths}


def start(folder: Path, out: Path, *options: str) -> subprocess.Popen:
    """The command in a process of its own."""
    command = [sys.executable, "-m", "critique.cli.main", "portfolio", str(folder), "--out", str(out), *options]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def finish(process: subprocess.Popen) -> SimpleNamespace:
    """Wait for a started command: its exit code and what it said."""
    out, err = process.communicate(timeout=300)
    return SimpleNamespace(code=process.returncode, out=out, err=err)


@pytest.fixture(scope="session")
def tools() -> SimpleNamespace:
    """The helpers above, for the tests beside this file."""
    return SimpleNamespace(paint=paint, outputs=outputs, start=start, finish=finish)


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with ``pictures`` (four, one of them in a subfolder) and ``out``, their portfolio. Not to be changed.

    One for all processes that run tests side by side: the first makes it while the others wait.
    """
    shared = tmp_path_factory.getbasetemp()
    place = (shared.parent if "PYTEST_XDIST_WORKER" in os.environ else shared) / "made"
    place.mkdir(exist_ok=True)
    with (place / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (place / "whole").exists():
            for seed, name in enumerate(("dune.png", "marsh.png", "mill.png", "spring/orchard.png")):
                paint(place / "pictures" / name, seed)
            make_portfolio(place / "pictures", place / "out", jobs=1)
            (place / "whole").touch()
    return place


@pytest.fixture
def copied(made: Path, tmp_path: Path) -> Callable[[], tuple[Path, Path]]:
    """A copy of that folder, to be changed."""

    def copy() -> tuple[Path, Path]:
        shutil.copytree(made, tmp_path / "copy")
        return tmp_path / "copy" / "pictures", tmp_path / "copy" / "out"

    return copy
