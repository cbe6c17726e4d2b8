"""What a comparison costs beside one review, both with page and plates, in turns in one run; run by hand.

python tests/benchmarks/comparison_speed.py
"""

import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from critique.pair.compare import compare_files
from critique.perception.reference import demo_path
from critique.report.write import write_review
from critique.report.write_compared import write_comparison
from critique.tasks.review import review_file

MEADOW, REPAINT = (demo_path(f"tolvesk_{name}.jpg") for name in ("01_ostermell_meadow", "02_ostermell_repaint"))
ROUNDS = 3
BAR = 2.5  # times one review


def seconds(work: Callable[[], object]) -> float:
    """Of processor time, which other work on the machine disturbs less."""
    start = time.process_time()
    work()
    return time.process_time() - start


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        works: dict[str, Callable[[], object]] = {
            "review of the original": lambda: write_review(review_file(MEADOW), folder / "first"),
            "review of the repaint": lambda: write_review(review_file(REPAINT), folder / "second"),
            "comparison": lambda: write_comparison(compare_files(MEADOW, REPAINT), folder / "both"),
            "comparison, laid on each other": lambda: write_comparison(
                compare_files(REPAINT, REPAINT), folder / "same"
            ),
        }
        for work in works.values():
            work()
        times = {title: min(seconds(work) for _ in range(ROUNDS)) for title, work in works.items()}
    review = (times["review of the original"] + times["review of the repaint"]) / 2
    for title, took in times.items():
        print(f"{title:32} {took:5.2f} s  {took / review:4.2f} of the mean review")
    worst = max(times["comparison"], times["comparison, laid on each other"]) / review
    print(f"{'holds' if worst <= BAR else 'FAILS'}: at most {worst:.2f}, bar {BAR}")


if __name__ == "__main__":
    main()
