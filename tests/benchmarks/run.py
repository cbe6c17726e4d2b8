"""How fast and how large the program is, as ratios measured side by side in one run.

Run `python tests/benchmarks/run.py` (or with --quick for fewer repeats and a smaller photograph). It prints and never
fails: a slow machine is no error.
"""

import argparse
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from detailed_photograph import make_detailed_photograph
from PIL import Image

MIB = 2**20
FULL, QUICK = (6000, 4000), (3000, 2000)


def best_of(repeats: int, work: Callable[[], object]) -> float:
    """Seconds of the quickest of several runs, the first (cold) one left out."""
    work()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def row(what: str, ratio: float, bar: str, detail: str) -> None:
    print(f"{what:<58} {ratio:6.2f}   bar {bar:<8} {detail}", flush=True)


def measures_against_decode(photograph: Path, repeats: int) -> None:
    from critique.measures.measure import measure_picture
    from critique.picture.read import read_picture

    decode = best_of(repeats, lambda: np.asarray(Image.open(photograph).convert("RGB")))
    measure = best_of(repeats, lambda: measure_picture(read_picture(photograph)))
    row("read and measure ÷ full decode", measure / decode, "≤ 2", f"{measure:.2f} s, {decode:.2f} s")


def measures_against_plain(photograph: Path) -> None:
    """The same question asked plainly: rgb2lab and k-means on every pixel at full resolution."""
    from skimage.color import rgb2lab
    from sklearn.cluster import KMeans

    from critique.measures.measure import measure_picture
    from critique.picture.read import read_picture

    def plainly() -> float:
        lab = rgb2lab(np.asarray(Image.open(photograph).convert("RGB"))).reshape(-1, 3).astype(np.float32)
        hue, chroma = np.degrees(np.arctan2(lab[:, 2], lab[:, 1])), np.hypot(lab[:, 1], lab[:, 2])
        KMeans(7, n_init=1, random_state=0).fit(lab)
        start = 94.5 + 0.35 * (lab[:, 0] - 50)  # the border of the greens rises with lightness
        return float(np.mean((hue >= start) & (hue <= 148) & (chroma >= 8)))

    start = time.perf_counter()
    plain_share = plainly()
    plain = time.perf_counter() - start
    ours_share = measure_picture(read_picture(photograph)).greens.area_share
    ours = best_of(2, lambda: measure_picture(read_picture(photograph)))
    row("plain full-resolution way ÷ ours", plain / ours, "≥ 40", f"{plain:.1f} s, {ours:.2f} s")
    row(
        "difference of green area share",
        abs(plain_share - ours_share),
        "≤ 0.01",
        f"{plain_share:.4f}, {ours_share:.4f}",
    )


def command_time(repeats: int, *arguments: str) -> float:
    return best_of(repeats, lambda: subprocess.run([sys.executable, *arguments], check=True, capture_output=True))


def help_against_click(repeats: int) -> None:
    click = command_time(repeats, "-c", "import click")
    shown = command_time(repeats, "-m", "critique.cli.main", "--help")
    row("critique --help ÷ import click", shown / click, "≤ 1.5", f"{shown:.3f} s, {click:.3f} s")


def review_against_imports(photograph: Path, repeats: int) -> None:
    imports = command_time(repeats, "-c", "import sklearn.cluster, matplotlib.pyplot, skimage.color")
    with tempfile.TemporaryDirectory() as out:
        review = command_time(repeats, "-m", "critique.cli.main", "review", str(photograph), "--out", out)
    row("whole review, cold ÷ importing its libraries", review / imports, "≤ 2", f"{review:.2f} s, {imports:.2f} s")


PEAK = """
import resource, sys
from pathlib import Path
from critique.report.write import write_review
from critique.tasks.review import review_file
write_review(review_file(sys.argv[1], study=True), Path(sys.argv[2]))
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


def peak_memory(photograph: Path) -> None:
    with Image.open(photograph) as picture:
        decoded = picture.width * picture.height * 3 / MIB
    with tempfile.TemporaryDirectory() as out:
        done = subprocess.run(
            [sys.executable, "-c", PEAK, str(photograph), out], check=True, capture_output=True, text=True
        )
    peak = int(done.stdout) / 1024  # Linux counts ru_maxrss in KiB
    row("peak memory less the decoded picture, MiB", peak - decoded, "≤ 200", f"{peak:.0f} MiB, {decoded:.0f} MiB")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="fewer repeats, a 6-megapixel photograph")
    quick = parser.parse_args().quick
    repeats, size = (1, QUICK) if quick else (5, FULL)
    with tempfile.TemporaryDirectory() as folder:
        photograph = make_detailed_photograph(Path(folder) / "detailed.jpg", *size)
        print(f"photograph: {size[0]} × {size[1]} px, {photograph.stat().st_size / 1e6:.1f} MB")
        help_against_click(max(3, repeats))
        measures_against_decode(photograph, repeats)
        review_against_imports(photograph, repeats)
        peak_memory(photograph)
        measures_against_plain(photograph)


if __name__ == "__main__":
    main()
