"""How the memory of one worker goes over many reviews; run by hand on any folder of pictures.

    python tests/benchmarks/portfolio_memory.py FOLDER [--reviews 400]

The pictures are reviewed over and over in this process, as a worker does. Peak and present resident memory are printed
on the way: both should stay where they are once every picture has been seen.
"""

import argparse
import tempfile
from pathlib import Path

from critique.portfolio.content import content_of
from critique.portfolio.places import found_below
from critique.portfolio.version import measuring_version
from critique.portfolio.work import Task, review_one

MARKS = (1, 10, 20, 60, 100, 200, 400)  # reviews after which the memory is printed, and after each hundred from there


def resident() -> dict[str, int]:
    """Peak (VmHWM) and present (VmRSS) resident memory in MiB, as Linux keeps them."""
    lines = [line.split() for line in Path("/proc/self/status").read_text().splitlines()]
    return {line[0].rstrip(":"): int(line[1]) // 1024 for line in lines if line[0] in ("VmHWM:", "VmRSS:")}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--reviews", type=int, default=400)
    given = parser.parse_args()
    pictures = [given.folder / path for path in found_below(given.folder).pictures]
    with tempfile.TemporaryDirectory() as scratch:
        for number in range(given.reviews):
            path = pictures[number % len(pictures)]
            out = Path(scratch, path.stem)
            task = Task(number, str(path), content_of(path), measuring_version(), str(out), f"{out}.jpg", plates=False)
            if (reason := review_one(task).reason) and number < len(pictures):
                print(reason)
            if number + 1 in MARKS or (number + 1) % 100 == 0:
                now = resident()
                print(f"{number + 1:>6} reviews: peak {now['VmHWM']} MiB, now {now['VmRSS']} MiB", flush=True)


if __name__ == "__main__":
    main()
