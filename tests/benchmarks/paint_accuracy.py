"""How true the paints are: tints against a published list, films and measured mixtures against their measurement.

Run by hand: python tests/benchmarks/paint_accuracy.py [FILMS.csv]

Without a file it prints the tints and what recipes promise; with the measured films it also prints how well the carried
films give back their own tints, and how far mixtures computed from them lie from the measured ones.
"""

import csv
import sys

import numpy as np

from critique.paints.box import default_box, find_paint, whole_box
from critique.paints.kubelka_munk import paint_lab
from critique.paints.recipes import recipes
from critique.perception.difference import delta_e_2000
from critique.perception.reference import read_table

WORTH_A_LINE = 3.0  # L* between a tint and the published one
TARGETS = 200  # colours asked of the default box


def tints() -> None:
    """Every paint's one part in ten of white against the published lightness."""
    print("one part in ten of titanium white, L*: ours, published, difference")
    gaps = {}
    for row in read_table("tint_lightness.csv"):
        paint = find_paint(row["paint"])
        ours, theirs = float(paint_lab(paint, whole_box().white, 10.0)[0]), float(row["L_of_one_in_ten"])
        gaps[paint.name] = (ours - theirs, paint.origin)
        mark = "  <-- over 3" if abs(ours - theirs) > WORTH_A_LINE else ""
        print(f"  {paint.name:34s} {paint.origin:22s} {ours:6.1f} {theirs:6.1f} {ours - theirs:+6.1f}{mark}")
    for origin in sorted({origin for _, origin in gaps.values()}):
        of_it = [abs(gap) for gap, known in gaps.values() if known == origin]
        print(f"  {origin}: median {np.median(of_it):.1f}, most {max(of_it):.1f} L* over {len(of_it)} paints")


def promises() -> None:
    """How often a recipe of the default box leans on paints that were not measured, and what it rests at."""
    box = default_box()
    rng = np.random.default_rng(4)
    aims = np.column_stack([rng.uniform(25, 90, TARGETS), rng.normal(0, 12, TARGETS), rng.normal(8, 15, TARGETS)])
    found = recipes(aims, box)
    rest = np.array([float(delta_e_2000(one.lab, one.target_lab)) for one in found])
    typical = np.mean([any(part.origin != "measured" for part in one.parts) for one in found])
    print(f"\n{TARGETS} muted colours from the default box: {typical:.0%} of recipes use a paint that was not measured")
    print(f"  the search's rest: median {np.median(rest):.2f}, 90 % within {np.percentile(rest, 90):.2f}")


def main(arguments: list[str]) -> None:
    tints()
    promises()
    if arguments:
        from films import mixture_errors, tint_errors

        with open(arguments[0], encoding="utf-8", newline="") as stream:
            rows = list(csv.DictReader(stream))
        tint_errors(rows)
        mixture_errors(rows)


if __name__ == "__main__":
    main(sys.argv[1:])
