"""Is the aim of a plan better than its picture? `python tests/benchmarks/aim_pairs.py PICTURE... --out DIR`.

Green pictures, and pictures whose greens are made ``--greener`` times as strong as by a painter who uses them from the
tube, are laid beside the aim that a plan makes of them, left and right at random. What lies on which side stands in
DIR/key.csv, to be read only after the sheets were judged; `pairs.py --out DIR --judged FILE` counts what was judged.
Bar: the aim preferred in 75 %.
"""

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from pairs import Pair, draw
from plan_four_tubes import too_green

from critique.picture.read import read_picture
from critique.tasks.plan import plan_repaint


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("pictures", nargs="+", type=Path)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--greener", type=float, default=1.8)
    parser.add_argument("--number", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    made: list[Pair] = []
    for path in given.pictures:
        picture = too_green(read_picture(path, whole=True), given.greener)
        if picture is None:
            continue
        aim = plan_repaint(picture).aim
        made.append(Pair(path.name, " + ".join(step.kind for step in aim.steps) or "nothing", picture, aim.picture))
        print(path.name, made[-1].kind, flush=True)
        if len(made) == given.number:
            break
    draw(made, given.out, given.seed)


if __name__ == "__main__":
    main()
