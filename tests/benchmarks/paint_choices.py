"""Recipes and palettes held against brute force on real pictures, by the parts that are printed.

Run by hand: python tests/benchmarks/paint_choices.py FOLDER [HOW MANY PICTURES]

For recipes, every mixture of three paints of the default box and white in measurable parts is computed once, and the
nearest to each family of each picture is what a recipe could at best be. For palettes, the closest is held against
every choice among the best fifty, each with its recipes in printed parts.
"""

import sys
from itertools import combinations
from pathlib import Path

import numpy as np
from scipy.spatial import cKDTree

from critique.measures.families import measure_families
from critique.paints.box import PaintBox, default_box, measured_box
from critique.paints.mixtures import Mixer, small_sets
from critique.paints.palette import choose_palette
from critique.paints.palette_words import CLOSEST
from critique.paints.recipes import recipes
from critique.paints.whole_parts import SIMPLER_WITHIN
from critique.perception.difference import delta_e_2000
from critique.picture.read import read_picture

MEASURES = np.array([0, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 3, 4, 6, 8], np.float32)  # parts
NEAREST = 40  # mixtures near a colour in CIELAB that are judged by CIEDE2000
SHORTLIST = 50  # choices of four


def brute(box: PaintBox, aims: np.ndarray) -> np.ndarray:
    """The least ΔE00 (aims,) that any three paints and white can do in measurable parts."""
    mixer = Mixer.of(box.with_white)
    grid = np.stack(np.meshgrid(*[MEASURES] * 4, indexing="ij"), -1).reshape(-1, 4)
    grid = grid[grid.max(axis=1) >= 1]
    best = np.full(len(aims), np.inf)
    for three in small_sets(len(box.paints), 3):
        lab = mixer.lab(np.tile(three, (len(grid), 1)), grid)
        _, near = cKDTree(lab).query(aims, k=NEAREST)
        best = np.minimum(best, delta_e_2000(lab[near], aims[:, None]).min(axis=1))
    return best


def main(folder: Path, count: int) -> None:
    files = sorted(folder.glob("*.jpg"))[:: max(len(list(folder.glob("*.jpg"))) // count, 1)][:count]
    families = [measure_families(read_picture(file)) for file in files]
    aims = np.array([family.lab for found in families for family in found], dtype=float)
    printed = np.array([one.error for one in recipes(aims, default_box())])
    least = brute(default_box(), aims)
    gap = printed - least
    print(f"{len(aims)} families of {len(files)} pictures, default box, ΔE00 of the printed parts:")
    print(f"  recipes median {np.median(printed):.2f}, brute force {np.median(least):.2f}")
    print(f"  farther than brute force by a median {np.median(gap):.2f}, 95 % within {np.percentile(gap, 95):.2f}, "
          f"most {gap.max():.2f}; {SIMPLER_WITHIN:g} is given up for plainer mixtures")  # fmt: skip
    behind = []
    for found in families:
        colours, shares = [family.lab for family in found], np.array([family.share for family in found])
        closest = choose_palette(colours, shares, measured_box(), 4).proposals[0]
        assert closest.kind == CLOSEST
        behind.append(closest.mean_error - best_of_shortlist(np.array(colours), shares / shares.sum()))
    print(f"closest palettes, 4 of 18, behind the best of {SHORTLIST} by printed parts: "
          f"median {np.median(behind):.2f}, most {max(behind):.2f}")  # fmt: skip


def best_of_shortlist(aims: np.ndarray, weights: np.ndarray) -> float:
    """The least mean ΔE00 in printed parts among the choices that are nearest before rounding."""
    from critique.paints.mixtures import nearest, reach_of

    box = measured_box()
    triples = small_sets(len(box.paints), 3)
    error = nearest(reach_of(Mixer.of(box.with_white), triples), aims).error
    number = {tuple(row[:3]): index for index, row in enumerate(triples.tolist())}
    choices = list(combinations(range(len(box.paints)), 4))
    means = [weights @ error[[number[three] for three in combinations(four, 3)]].min(axis=0) for four in choices]
    order = np.argsort(means)[:SHORTLIST]
    found = []
    for index in order:
        palette = PaintBox("tried", tuple(box.paints[number] for number in choices[index]), box.white)
        found.append(float(weights @ np.array([one.error for one in recipes(aims, palette)])))
    return min(found)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 20)
