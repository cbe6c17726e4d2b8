"""Plans of too green pictures with exactly four tubes: is there always an aim, within a leaf, halved, and mixable?

    python tests/benchmarks/plan_four_tubes.py PICTURE... [--greener 1.8] [--pictures 10]

Every picture is taken as it is when it is too green, and otherwise with its greens made stronger, ``--greener`` times,
as a painter would who uses them from the tube; those with hardly any green are passed over. For each and for two boxes
of four it prints what became of the greens, the mean ΔE00 from the aim to the study painted with these tubes, the mean
ΔE00 of the passages' printed parts, what real mixing is expected to add, and how long the plan took beside the review.
"""

import argparse
import time
from pathlib import Path

import numpy as np

from critique.measures.greens import measure_greens
from critique.paints.box import box_of
from critique.perception.green_weight import green_weight
from critique.picture.picture import Picture, picture_from_lab
from critique.picture.read import read_picture
from critique.tasks.greens_reached import is_too_green
from critique.tasks.plan import plan_repaint
from critique.tasks.review import review_picture

BOXES = {
    "azo yellow, red oxide, ultramarine, phthalo green": ("PY74", "red oxide", "ultramarine", "phthalo green"),
    "yellow ochre, burnt sienna, ultramarine, viridian": ("yellow ochre", "burnt sienna", "PB29", "viridian"),
}
LEAST_GREEN = 0.15  # of the area


def too_green(picture: Picture, greener: float) -> Picture | None:
    """The picture, or the picture with stronger greens; None where it has hardly any, or is still not too green."""
    greens = measure_greens(picture)
    if is_too_green(greens):
        return picture
    if greens.area_share < LEAST_GREEN:
        return None
    lab = picture.lab.copy()
    lab[..., 1:] *= (1 + (greener - 1) * green_weight(lab))[..., None]
    made = picture_from_lab(lab, picture)
    return made if is_too_green(measure_greens(made)) else None


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("pictures", nargs="+", type=Path)
    parser.add_argument("--greener", type=float, default=1.8)
    parser.add_argument("--number", type=int, default=10)
    given = parser.parse_args()
    rows: dict[str, list[tuple[float, ...]]] = {name: [] for name in BOXES}
    for path in given.pictures:
        if len(next(iter(rows.values()))) >= given.number:
            break
        picture = too_green(read_picture(path, whole=True), given.greener)
        if picture is None:
            continue
        for name, paints in BOXES.items():
            box = box_of(paints, "four")
            start = time.process_time()
            review_picture(picture, box=box, study=True)
            middle = time.process_time()
            plan = plan_repaint(picture, box=box)
            end = time.process_time()
            greens = plan.aim.greens
            row = (
                greens.chroma_share_before,
                plan.aim.after.case.measures.greens.chroma_share,
                plan.aim.after.case.measures.greens.beyond_leaf_share,
                plan.study.mean_error,
                plan.passages.mean_error,
                plan.palette.with_care,
                (end - middle) / (middle - start),
            )
            rows[name].append(row)
            told = "  ".join(f"{value:.3f}" for value in row)
            print(
                f"{path.stem:<28.28} {greens.reached:<10} {told}  {[step.kind for step in plan.aim.steps]}", flush=True
            )
    print(
        "columns: green of all colour before, after; beyond a leaf; study ΔE; printed parts ΔE; with care ΔE; × review"
    )
    for name, each in rows.items():
        means, most = np.mean(each, axis=0), np.max(each, axis=0)
        print(f"{name}\n  mean {np.round(means, 3)}\n  most {np.round(most, 3)}")


if __name__ == "__main__":
    main()
