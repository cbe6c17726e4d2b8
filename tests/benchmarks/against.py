"""A commit beside the working tree: how much faster the program has become, and whether it keeps its bars.

    python tests/benchmarks/against.py 17145df [--quick] [--turns 3] [--only warm cold] [--pictures FOLDER]

The commit is unpacked into a temporary folder and both are measured in one run, on the same pictures, taking turns.
Times are processor time (user and system, of all threads) of child processes, the least of several turns: that is fair
on a machine that others use too. Peaks are the highest resident memory. Ratios decide; it prints and never fails.

This process stays small and imports nothing heavy: Linux counts the memory of a parent into the peak of its child.
"""

import argparse
import json
import os
import shutil
import subprocess
import sys
import tarfile
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).resolve().parents[2]
MIB = 2**20
DEMO = HERE / "demo_images" / "tolvesk_01_ostermell_meadow.jpg"
NOTHING_TO_SUGGEST = HERE / "demo_images" / "tolvesk_02_ostermell_repaint.jpg"
IMPORTS = "import sklearn.cluster, matplotlib.pyplot, skimage.color"
PARTS = ("portfolio", "warm", "measure", "cold", "peak")
SIZES = {6: (3000, 2000), 24: (6000, 4000)}  # megapixels: width and height, px
PORTFOLIO_PICTURES = 16  # beside the one whose cost is the start
BARS = {"portfolio": 3.0, "warm": 3.0, "measure": 2.0, "cold": 2.0, "quiet": 1.4, "peak": 200.0}

# Names have moved between commits; each is asked for under its newest name first.
FIND = """
import importlib, sys, time
def find(*places):
    for place in places:
        module, name = place.rsplit(".", 1)
        try:
            return getattr(importlib.import_module(module), name)
        except (ImportError, AttributeError):
            pass
    raise SystemExit("none of " + ", ".join(places))
spent = time.process_time
"""
WARM = (
    FIND
    + """
import tempfile
from pathlib import Path
review = find("critique.tasks.review.review_file", "critique.review.review_file")
write = find("critique.report.write.write_review")
times = []
with tempfile.TemporaryDirectory() as folder:
    for turn in range(4):
        start = spent()
        write(review(sys.argv[1], study=True), Path(folder) / str(turn))
        times.append(spent() - start)
print(min(times[1:]))
"""
)
MEASURE = (
    FIND
    + """
import numpy as np
from PIL import Image
read = find("critique.picture.read.read_picture")
measure = find("critique.measures.measure.measure_picture")
def decode():
    with Image.open(sys.argv[1]) as image:
        return np.asarray(image.convert("RGB"))
def least(work):
    times = []
    for turn in range(4):
        start = spent()
        work()
        times.append(spent() - start)
    return min(times[1:])
print(least(lambda: measure(read(sys.argv[1]))), least(decode))
"""
)
MAKE = """
import sys
from pathlib import Path
sys.path.insert(0, sys.argv[1])
from decoding_cost import by_tifffile
from detailed_photograph import demo_files, make_detailed_photograph
from make_pictures import make_pictures
import numpy as np
from PIL import Image
folder, pictures, sizes = Path(sys.argv[2]), int(sys.argv[3]), eval(sys.argv[4])
make_pictures([demo_files()[0].parent], folder / "many", pictures)
for name, (width, height) in sizes.items():
    path = make_detailed_photograph(folder / f"{name}.jpg", width, height)
    image = Image.open(path).convert("RGB")
    image.save(folder / f"{name}.png", compress_level=1)
    image.save(folder / f"{name}.webp", quality=85, method=0)
    image.save(folder / f"{name}.tif")
    deep = np.asarray(image).astype(np.uint16) * 257
    try:
        import pillow_heif
        pillow_heif.register_heif_opener()
        image.save(folder / f"{name}.heic", quality=80)
    except ImportError:
        pass
    (folder / f"{name} 16 bits.tif").write_bytes(by_tifffile(deep))
"""


@dataclass(frozen=True, slots=True)
class Ran:
    """A child process that has ended: its processor time in seconds, its peak in MiB, what it said."""

    seconds: float
    peak: float
    said: str


@dataclass(frozen=True, slots=True)
class Tree:
    """One version of the program in a folder."""

    name: str
    folder: Path
    compiled: Path  # where its bytecode is kept

    def command(self, *arguments: str) -> Ran:
        """The command line, whatever module it starts from in this version."""
        start = "critique" if (self.folder / "critique" / "__main__.py").exists() else "critique.cli"
        return self.python("-m", start, *arguments)

    def python(self, *arguments: str) -> Ran:
        environment = dict(os.environ, PYTHONPATH=str(self.folder), OMP_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")
        # Compiled once, as what is installed is; where the environment forbids it, every start would compile it all.
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        environment["PYTHONPYCACHEPREFIX"] = str(self.compiled)
        with tempfile.TemporaryFile("w+") as said, tempfile.TemporaryFile("w+") as complained:
            process = subprocess.Popen(
                [sys.executable, *arguments], cwd=self.folder, env=environment, stdout=said, stderr=complained
            )
            _, status, usage = os.wait4(process.pid, 0)
            process.returncode = os.waitstatus_to_exitcode(status)
            said.seek(0)
            complained.seek(0)
            if process.returncode:
                raise RuntimeError(f"{self.name}: {complained.read().strip()[-300:]}")
            return Ran(usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024, said.read())


def tell(what: str, before: str, now: str, ratio: str, bar: str = "", *, kept: bool | None = None) -> None:
    verdict = "" if kept is None else "kept" if kept else "MISSED"
    print(f"{what:<66} {before:>12} {now:>12} {ratio:>14}  {bar:<26} {verdict}", flush=True)


def turns(trees: Sequence[Tree], number: int) -> Iterator[Tree]:
    for _ in range(number):
        yield from trees


def portfolio(trees: Sequence[Tree], place: Path, number: int) -> None:
    """What one more picture costs on one core: many pictures less one, so that the start is left out."""
    many = sorted((place / "many").rglob("*.jpg"))
    one = place / "one"
    if not one.exists():
        one.mkdir()
        shutil.copy(many[0], one)
    costs: dict[str, list[float]] = {tree.name: [] for tree in trees}
    for tree in turns(trees, number):
        with tempfile.TemporaryDirectory() as out:
            start = tree.command("portfolio", str(one), "--out", f"{out}/one", "--jobs", "1", "--json").seconds
            ran = tree.command("portfolio", str(place / "many"), "--out", f"{out}/many", "--jobs", "1", "--json")
        costs[tree.name].append((ran.seconds - start) / (len(many) - 1))
    faster("portfolio, one core, a picture", costs, "portfolio")


def faster(what: str, costs: dict[str, list[float]], bar: str) -> None:
    before, now = (min(times) for times in costs.values())
    ratio = before / now
    kept = ratio >= BARS[bar]
    tell(what, f"{before:.2f} s", f"{now:.2f} s", f"{ratio:.2f} × faster", f"≥ {BARS[bar]:g} × faster", kept=kept)


def warm(trees: Sequence[Tree], place: Path, number: int) -> None:
    costs: dict[str, list[float]] = {tree.name: [] for tree in trees}
    for tree in turns(trees, number):
        costs[tree.name].append(float(tree.python("-c", WARM, str(DEMO)).said))
    faster("warm review of the demo original", costs, "warm")


def measure(trees: Sequence[Tree], place: Path, number: int) -> None:
    """Reading and measuring against a full decode of the same file, both warm, in one process."""
    photograph = place / f"{max(size for size in SIZES if (place / f'{size}.jpg').exists())}.jpg"
    costs: dict[str, list[float]] = {tree.name: [] for tree in trees}
    for tree in turns(trees, number):
        ours, decode = map(float, tree.python("-c", MEASURE, str(photograph)).said.split())
        costs[tree.name].append(ours / decode)
    before, now = (min(ratios) for ratios in costs.values())
    kept = now <= BARS["measure"]
    what = f"read and measure {photograph.stem} MP JPEG ÷ its decode"
    tell(what, f"{before:.2f}", f"{now:.2f}", f"{before / now:.2f} × less", f"≤ {BARS['measure']:g}", kept=kept)


def cold(trees: Sequence[Tree], place: Path, number: int) -> None:
    """A whole review from a cold start against importing three libraries."""
    largest = place / f"{max(size for size in SIZES if (place / f'{size}.jpg').exists())}.jpg"
    pictures = {
        f"cold review of {largest.stem} MP ÷ imports": (largest, "cold"),
        "cold review of the demo original ÷ imports": (DEMO, "cold"),
        "cold review, nothing to suggest ÷ imports": (NOTHING_TO_SUGGEST, "quiet"),
    }
    for what, (picture, bar) in pictures.items():
        imports: list[float] = []
        costs: dict[str, list[float]] = {tree.name: [] for tree in trees}
        for tree in turns(trees, number + 1):
            imports.append(tree.python("-c", IMPORTS).seconds)
            with tempfile.TemporaryDirectory() as out:
                ran = tree.command("review", str(picture), "--out", out, "--json")
            costs[tree.name].append(ran.seconds)
        offered = len(json.loads(ran.said.splitlines()[0])["suggestions"])
        before, now = (min(times) / min(imports) for times in costs.values())
        seconds = f"{min(imports):.2f} s, {offered} offered"
        tell(
            what, f"{before:.2f}", f"{now:.2f}", f"{before / now:.2f} × less", f"≤ {BARS[bar]:g}", kept=now <= BARS[bar]
        )
        tell(f"    ({seconds})", "", "", "")


def peak(trees: Sequence[Tree], place: Path, number: int) -> None:
    """The highest memory of a review above what the decoded picture takes, by format and size."""
    for size, (width, height) in SIZES.items():
        for photograph in sorted(place.glob(f"{size}[. ]*")):
            decoded = width * height * 3 * (2 if "16 bits" in photograph.name else 1) / MIB
            over = []
            for tree in trees:
                with tempfile.TemporaryDirectory() as out:
                    over.append(tree.command("review", str(photograph), "--out", out).peak - decoded)
            what = f"peak over the decoded {decoded:.0f} MiB, {photograph.name.replace('.', ' MP .', 1)}"
            kept = over[1] <= BARS["peak"]
            gain = f"{over[0] - over[1]:.0f} MiB less"
            tell(what, f"{over[0]:.0f} MiB", f"{over[1]:.0f} MiB", gain, f"≤ {BARS['peak']:g} MiB", kept=kept)


def unpacked(commit: str, into: Path) -> Tree:
    """That commit's files, without touching this checkout."""
    archive = into / "commit.tar"
    subprocess.run(["git", "-C", str(HERE), "archive", "-o", str(archive), commit], check=True)
    with tarfile.open(archive) as packed:
        packed.extractall(into / "commit", filter="data")
    archive.unlink()
    return Tree(commit, into / "commit", into / "compiled")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("commit")
    parser.add_argument("--quick", action="store_true", help="one turn each, 6 megapixels only")
    parser.add_argument("--only", nargs="+", choices=PARTS, default=PARTS)
    parser.add_argument("--turns", type=int, help="how often each is measured; 3 unless told otherwise, 1 with --quick")
    parser.add_argument("--pictures", type=Path, help="where the pictures are made, and found the next time")
    given = parser.parse_args()
    if given.quick:
        SIZES.pop(24)
    number = given.turns or (1 if given.quick else 3)
    with tempfile.TemporaryDirectory() as scratch:
        place = given.pictures or Path(scratch)
        trees = unpacked(given.commit, Path(scratch)), Tree("working tree", HERE, Path(scratch) / "compiled")
        missing = {size: sides for size, sides in SIZES.items() if not (place / f"{size} 16 bits.tif").exists()}
        if missing or not (place / "many").exists():
            place.mkdir(parents=True, exist_ok=True)
            pictures = str(1 + (4 if given.quick else PORTFOLIO_PICTURES))
            trees[1].python("-c", MAKE, str(HERE / "tests" / "benchmarks"), str(place), pictures, repr(missing))
        tell("", given.commit, "working tree", "", "bar")
        for part in given.only:
            globals()[part](trees, place, number)


if __name__ == "__main__":
    main()
