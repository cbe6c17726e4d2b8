"""What ranking, comparing and laying out take for very many pictures; run by hand on a portfolio that was made.

    python tests/benchmarks/portfolio_gathering.py PORTFOLIO --numbers 1000 10000 100000

The rows of its ledger are repeated under other names and contents, their figures a little changed, so nothing has to
be measured; the survey of files and the looking after pages are not in these times.
"""

import argparse
import json
import random
import resource
import sqlite3
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from critique.portfolio.gathering import gather
from critique.portfolio.ledger import PRESENT, File, Ledger
from critique.portfolio.rules import Rules


def fill(source: Path, out: Path, number: int) -> None:
    """A ledger of ``number`` pictures in ``out``."""
    with sqlite3.connect(source / "ledger.sqlite") as known:
        rows = [json.loads(row) for (row,) in known.execute("SELECT row FROM results ORDER BY content")]
    chance = random.Random(1)
    with Ledger(out, print) as ledger:
        for index in range(number):
            row = rows[index % len(rows)]
            for family in row["families"]:
                family["lab"] = [part + chance.gauss(0, 2) for part in family["lab"]]
            content = f"{index:064x}"
            folder = f"series {index // 1000}/{index:06d}"
            ledger.keep_result(content, "benchmark", row)
            ledger.keep_file(File(f"{folder}.jpg", content, folder, f"{index:06d}.jpg", PRESENT, "", (1, 1, 1)))


def measure(out: Path) -> None:
    """Gather a filled ledger and say what it took, in this process."""
    began = time.perf_counter()
    with Ledger(out, print) as ledger:
        done = gather(ledger, Rules(), out, "benchmark")
    seconds = time.perf_counter() - began
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    sizes = ", ".join(
        f"{name} {(out / name).stat().st_size / 1e6:.1f} MB"
        for name in ("portfolio.html", "portfolio.csv", "portfolio.json", "ledger.sqlite")
    )
    number = done.holds + done.watch + done.rework
    print(f"{number:>7} pictures {seconds:7.1f} s  peak {peak:5.0f} MiB  {sizes}", flush=True)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("portfolio", type=Path)
    parser.add_argument("--numbers", nargs="+", type=int, default=[1000, 10_000, 100_000])
    parser.add_argument("--filled", action="store_true", help="PORTFOLIO is a ledger filled by this script.")
    parser.add_argument("--keep", type=Path, help="Keep what is made of the last number here.")
    given = parser.parse_args()
    if given.filled:
        measure(given.portfolio)
        return
    with tempfile.TemporaryDirectory() as scratch:
        for number in given.numbers:
            out = given.keep if given.keep and number == given.numbers[-1] else Path(scratch) / str(number)
            fill(given.portfolio, out, number)
            subprocess.run([sys.executable, __file__, str(out), "--filled"], check=True)


if __name__ == "__main__":
    main()
