"""How fast a portfolio is, and how much memory it takes; run by hand on any folder of pictures.

    python tests/benchmarks/portfolio_speed.py FOLDER [--few 100]

The whole folder is reviewed on two cores, then again with nothing changed; the first ``--few`` of its pictures on one
core and on two. Peak memory is that of the process that keeps the ledger, and of the largest worker.
"""

import argparse
import json
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

POLL_SECONDS = 0.2
PROJECTED = 100_000  # pictures


@dataclass
class Run:
    """One run of the command: its time and its processors' time in seconds, its peak memory in MiB, its summary."""

    seconds: float
    processors: float
    keeper: float
    worker: float
    summary: dict


def run(folder: Path, out: Path, jobs: int) -> Run:
    command = [sys.executable, "-m", "critique.cli.main", "portfolio", str(folder), "--out", str(out), "--json"]
    start, before = time.perf_counter(), spent()
    with tempfile.TemporaryFile("w+") as said:
        process = subprocess.Popen([*command, "--jobs", str(jobs)], stdout=said)
        keeper = worker = 0.0
        while process.poll() is None:
            keeper = max(keeper, peak_memory(process.pid))
            worker = max([worker, *map(peak_memory, children(process.pid))])
            time.sleep(POLL_SECONDS)
        seconds = time.perf_counter() - start
        said.seek(0)
        return Run(seconds, spent() - before, keeper, worker, json.loads(said.read()))


def spent() -> float:
    """Processor time of all processes that were started and have ended, in seconds."""
    usage = resource.getrusage(resource.RUSAGE_CHILDREN)
    return usage.ru_utime + usage.ru_stime


def peak_memory(pid: int) -> float:
    """Highest resident memory so far in MiB, as Linux keeps it."""
    try:
        lines = Path(f"/proc/{pid}/status").read_text().splitlines()
    except OSError:
        return 0.0
    return next((int(line.split()[1]) / 1024 for line in lines if line.startswith("VmHWM")), 0.0)


def children(pid: int) -> list[int]:
    try:
        return [int(child) for child in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]
    except OSError:
        return []


def first_of(folder: Path, number: int, into: Path) -> Path:
    for path in sorted(path for path in folder.rglob("*") if path.is_file())[:number]:
        target = into / path.relative_to(folder)
        target.parent.mkdir(parents=True, exist_ok=True)
        os.link(path, target)
    return into


def report(name: str, done: Run) -> None:
    number = done.summary["pictures"]
    print(
        f"{name:<28} {number:>6} pictures {done.seconds:9.1f} s {number / done.seconds:7.2f} a second"
        f", {done.processors:7.1f} s of processor"
        f"  peak {done.keeper:5.0f} MiB, worker {done.worker:5.0f} MiB",
        flush=True,
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--few", type=int, default=100)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory(dir=given.folder.resolve().parent) as scratch:
        place = Path(scratch)
        few = first_of(given.folder, given.few, place / "few")
        one, two = run(few, place / "one", 1), run(few, place / "two", 2)
        report("one core", one)
        report("two cores", two)
        print(f"two cores are {one.seconds / two.seconds:.2f} times as fast (bar: 1.7)")
        again = run(few, place / "two", 2)
        report("nothing changed", again)
        whole = run(given.folder, place / "whole", 2)
        report("two cores", whole)
        whole_again = run(given.folder, place / "whole", 2)
        report("nothing changed", whole_again)
        print(f"nothing changed: {whole.seconds / whole_again.seconds:.0f} times as fast (bar: 50)")
        print(f"peak of the keeper: {100 * (whole.keeper / two.keeper - 1):+.1f} % from few to all (bar: 10 %)")
        more = whole.summary["pictures"] - given.few
        slope, slope_again = ((whole.seconds - two.seconds) / more, (whole_again.seconds - again.seconds) / more)
        page = (place / "whole" / "portfolio.html").stat().st_size / whole.summary["pictures"]
        ledger = (place / "whole" / "ledger.sqlite").stat().st_size / whole.summary["pictures"]
        disk = sum(path.stat().st_size for path in (place / "whole").rglob("*")) / whole.summary["pictures"]
        print(
            f"projected to {PROJECTED:,} from the slope: {slope * PROJECTED / 3600:.1f} h, nothing changed "
            f"{slope_again * PROJECTED / 60:.1f} min; page {page * PROJECTED / 1e6:.0f} MB, ledger "
            f"{ledger * PROJECTED / 1e6:.0f} MB, everything {disk * PROJECTED / 1e9:.0f} GB"
        )
        shutil.rmtree(place, ignore_errors=True)


if __name__ == "__main__":
    main()
