"""Is the aim of a plan better than its picture? `python tests/benchmarks/aim_pairs.py [FOLDER NOTES.csv] --out DIR`.

The too green demos, and demos, photographs and noted paintings of FOLDER that were made acid or flat green, are laid
beside the aim that a plan makes of them, left and right at random. What lies on which side stands in DIR/key.csv, to be
read only after the sheets were judged; `pairs.py --out DIR --judged FILE` counts what was judged.
Bar: the aim preferred in 75 %.
"""

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from faults import faulted, spread
from faulty.kinds import FAULTS
from faulty.source import ROOT, sources
from pairs import Pair, draw

from critique.measures.greens import measure_greens
from critique.picture.picture import Picture
from critique.picture.read import read_picture
from critique.tasks.greens_reached import is_too_green
from critique.tasks.plan import plan_repaint

TOO_GREEN = ("acid green", "one flat green")
DEMOS = ("tolvesk_01_ostermell_meadow.jpg", "tolvesk_08_ostermell_second_pass.jpg")


def green_pictures(options: argparse.Namespace) -> Iterator[tuple[str, Picture]]:
    """The demos, and as many of each fault as make up the number."""
    for name in DEMOS:
        yield name, read_picture(ROOT / "demo_images" / name, whole=True)
    found = sources(options.folder, options.notes)
    for index, fault in enumerate(TOO_GREEN):
        fitting = [one for one in found if FAULTS[fault].fits(one)][index % 2 :: 2]
        for source in spread(fitting, (options.number - len(DEMOS)) // 2):
            yield f"{fault}, {source.name}", faulted(source, fault, options.severity)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, nargs="?")
    parser.add_argument("notes", type=Path, nargs="?")
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--severity", choices=("mild", "plain", "gross"), default="plain")
    parser.add_argument("--number", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    made: list[Pair] = []
    for name, picture in green_pictures(given):
        if not is_too_green(measure_greens(picture)):
            print(f"{name}: not too green", flush=True)
            continue
        aim = plan_repaint(picture).aim
        made.append(Pair(name, " + ".join(step.kind for step in aim.steps) or "nothing", picture, aim.picture))
        print(f"{name}: {made[-1].kind}; {aim.greens.text}", flush=True)
    draw(made, given.out, given.seed)


if __name__ == "__main__":
    main()
