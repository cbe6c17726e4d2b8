"""Kill a portfolio's run at random moments, finish it, and hold it to an unbroken run; run by hand.

python tests/benchmarks/portfolio_kills.py FOLDER [--kills 10]
"""

import argparse
import random
import sqlite3
import subprocess
import sys
import tempfile
import time
from pathlib import Path


def start(folder: Path, out: Path) -> subprocess.Popen:
    command = [sys.executable, "-m", "critique.cli.main", "portfolio", str(folder), "--out", str(out), "--jobs", "2"]
    return subprocess.Popen(command, stdout=subprocess.DEVNULL)


def outputs(out: Path) -> dict[str, bytes]:
    paths = (path for path in out.rglob("*") if path.is_file() and path.name != "ledger.sqlite")
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in paths}


def ledger(out: Path) -> tuple[str, int, list]:
    """What SQLite's integrity check says, how many results there are, and the files as they are known."""
    connection = sqlite3.connect(out / "ledger.sqlite")
    try:
        check = connection.execute("PRAGMA integrity_check").fetchone()[0]
        if not connection.execute("SELECT 1 FROM sqlite_master").fetchone():
            return check, 0, []
        results = connection.execute("SELECT * FROM results ORDER BY content").fetchall()
        files = connection.execute("SELECT path, content, folder, name, state FROM files ORDER BY path").fetchall()
        return check, len(results), [results, files]
    finally:
        connection.close()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--kills", type=int, default=10)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    moments = random.Random(given.seed)
    with tempfile.TemporaryDirectory() as scratch:
        whole, broken = Path(scratch) / "whole", Path(scratch) / "broken"
        begun = time.perf_counter()
        start(given.folder, whole).wait()
        seconds = time.perf_counter() - begun
        print(f"unbroken: {seconds:.1f} s, {ledger(whole)[1]} results", flush=True)
        for number in range(given.kills):
            moment = moments.uniform(0.01, 0.3) * seconds
            process = start(given.folder, broken)
            time.sleep(moment)
            process.kill()
            code = process.wait()
            if (broken / "ledger.sqlite").exists():
                check, results, _ = ledger(broken)
                print(f"kill {number + 1} after {moment:4.1f} s (code {code}): {check}, {results} results", flush=True)
        start(given.folder, broken).wait()
        same = outputs(whole) == outputs(broken) and ledger(whole)[2] == ledger(broken)[2]
        print(f"finished: {ledger(broken)[0]}; {'the same' if same else 'NOT the same'} as the unbroken run")
        sys.exit(0 if same else 1)


if __name__ == "__main__":
    main()
