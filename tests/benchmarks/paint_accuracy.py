"""How true the paints are: tints against a published list, films and measured mixtures against their measurement.

Run by hand: python tests/benchmarks/paint_accuracy.py

Prints every paint's tint against the published one, how well the carried films give back their own masstones and tints,
how far mixtures computed from them lie from the measured ones, and what recipes promise.
"""

import numpy as np
from films import film_misses, foretold_left_out, unsureness

from critique.paints.box import default_box, find_paint, whole_box
from critique.paints.catalogue import measured_colours, titanium_white
from critique.paints.dabs import Dab, paint_from_dabs
from critique.paints.kubelka_munk import mixture_lab, paint_lab
from critique.paints.paint import MEASURED
from critique.paints.recipes import recipes
from critique.perception.cielab import lab_to_lch, lch_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.reference import read_table

WORTH_A_LINE = 3.0  # L* between a tint and the published one
TARGETS = 200  # colours asked of the default box


def tints() -> None:
    """Every paint's one part in ten of white against the published lightness."""
    print("one part in ten of titanium white, L*: ours, published, difference")
    gaps, mistaken = {}, []
    for row in read_table("tint_lightness.csv"):
        paint = find_paint(row["paint"])
        ours, theirs = float(paint_lab(paint, whole_box().white, 10.0)[0]), float(row["L_of_one_in_ten"])
        gaps[paint.name] = (ours - theirs, paint.origin)
        if paint.origin == MEASURED:
            more, less = (paint_lab(paint, whole_box().white, 10.0 * np.exp(one))[0] for one in (-0.1, 0.1))
            mistaken.append(abs((ours - theirs) / (more - less) * 0.2))
        mark = "  <-- over 3" if abs(ours - theirs) > WORTH_A_LINE else ""
        print(f"  {paint.name:34s} {paint.origin:22s} {ours:6.1f} {theirs:6.1f} {ours - theirs:+6.1f}{mark}")
    for origin in sorted({origin for _, origin in gaps.values()}):
        of_it = [abs(gap) for gap, known in gaps.values() if known == origin]
        print(f"  {origin}: median {np.median(of_it):.1f}, most {max(of_it):.1f} L* over {len(of_it)} paints")
    print(f"  as a mistake of their strengths (logarithm), measured: median {np.median(mistaken):.2f}")


def stand_ins() -> None:
    """What it costs to know a paint as the typical ones are known: each measured one rebuilt so, mixed, against itself.

    Its disc and published lightness are taken, and the hue and chroma of its tint misremembered by 6° and 15 %.
    """
    white = titanium_white()
    discs = {row["paint"]: tuple(float(row[axis]) for axis in "Lab") for row in read_table("paint_discs.csv")}
    lightness = {
        find_paint(row["paint"]).name: float(row["L_of_one_in_ten"]) for row in read_table("tint_lightness.csv")
    }
    rng = np.random.default_rng(3)
    paints = [paint for paint in measured_colours() if paint.name in discs and paint.name in lightness]
    errors = []
    for paint in paints:
        tint = lab_to_lch(paint_lab(paint, white, 10.0))
        tint = np.array([lightness[paint.name], tint[1] * np.exp(rng.normal(0, 0.15)), tint[2] + rng.normal(0, 6)])
        dabs = [Dab(discs[paint.name]), Dab(tuple(float(value) for value in lch_to_lab(tint)), 10.0)]
        others = [other for other in paints if other is not paint]
        rebuilt = paint_from_dabs(paint.name, dabs, white, others)
        for number in range(60):
            parts = rng.dirichlet(np.ones(4)) * (1, 1, 1, number % 2)
            company = [white, *(others[index] for index in rng.choice(len(others), 2, replace=False))]
            labs = [mixture_lab(parts, [one, *company]) for one in (rebuilt, paint)]
            errors.append(float(delta_e_2000(*labs)))
    print(f"\nmeasured paints known only as typical ones are, in mixtures against themselves: median ΔE00 "
          f"{np.median(errors):.1f}, nine in ten within {np.percentile(errors, 90):.1f}")  # fmt: skip


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
    for words, told in (
        ("as calculated", [one.expected.as_calculated for one in found]),
        ("mixed with care", [one.expected.with_care for one in found]),
        ("with dabs by eye", [one.expected.by_eye for one in found]),
    ):
        print(f"  expected {words}: median {np.median(told):.1f}, 90 % within {np.percentile(told, 90):.1f}")


def films() -> None:
    """Masstones and tints that were fitted, and mixtures that were not."""
    misses = film_misses()
    fitted = [miss.error for miss in misses if not miss.is_mixture]
    print(f"\nmasstones and tints of films, fitted: median ΔE00 {np.median(fitted):.2f}, most {max(fitted):.2f}")
    mixtures = [miss for miss in misses if miss.is_mixture]
    for ground in ("over_white", "over_black"):
        errors = {f"{miss.first}+{miss.second}": miss.error for miss in mixtures if miss.ground == ground}
        print(f"1 : 1 mixtures {ground.replace('_', ' ')}, not fitted:")
        print("  " + ", ".join(f"{name} {error:.1f}" for name, error in errors.items()))
        print(f"  median {np.median(list(errors.values())):.2f}, most {max(errors.values()):.2f}")
    every = [miss.error for miss in mixtures]
    print(f"  both: median {np.median(every):.2f}, nine in ten within {np.percentile(every, 90):.2f}")
    errors = np.array(every)
    told, plain = foretold_left_out(mixtures)
    print(
        f"  strengths mistaken by {unsureness(mixtures):.2f} (logarithm) explain them best; each pair left out of it:"
    )
    for words, each in (("by their median alone", plain), ("by how fast each turns", told)):
        ratio = errors / each
        off, within = np.exp(np.abs(np.log(ratio)).mean()), np.percentile(ratio, 90)
        print(f"  foretold {words}: {each.min():.1f} to {each.max():.1f}, off by a factor {off:.2f},")
        print(f"    {np.mean(ratio <= 1):.0%} within it, nine in ten within {within:.2f} times it")


def main() -> None:
    tints()
    films()
    stand_ins()
    promises()


if __name__ == "__main__":
    main()
