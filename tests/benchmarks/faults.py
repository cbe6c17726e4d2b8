"""Which faults are named: `python tests/benchmarks/faults.py [FOLDER NOTES.csv] [--kind KIND] [--sheet FOLDER]`.

Puts each fault of `faulty/kinds.py`, mild, plain and gross, into the demos, into photographs that come with packages
(passed through a paint filter) and, where FOLDER and NOTES.csv are given, into noted paintings of that folder; judges
each and prints in how many a finding about that fault is at `watch` or `rework`. The same is counted in the untouched
sources, and in every picture of FOLDER (its files with odd or even numbers alone with --files odd or even).
With --made other each fault is made in another way, in other paintings (its NOTES.csv isn't read).
With --by limits the limits in `advice/fault_limits.py` are asked instead of the findings of a review.
Bars: plain 85 %, gross 95 %, untouched at most 8 %.
"""

import argparse
import sys
import zlib
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))

from faulty.hand import SEVERITIES
from faulty.kinds import FAULTS, Fault
from faulty.limits import named_by_limits
from faulty.source import Source, other_sources, read_lab, sources
from PIL import Image

from critique.advice.advise import judge
from critique.measures.measure import measure_picture
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

Named = frozenset[str]


def named(picture: Picture) -> Named:
    """What is criticised in a picture: the subjects of its findings at `watch` or `rework`."""
    findings = judge(picture, measure_picture(picture))
    return frozenset(finding.subject for finding in findings if finding.level != "holds")


def faulted(source: Source, name: str, severity: str, *, other: bool = False) -> Picture:
    """The source with the fault, made in the first way or the other, the same on every run."""
    rng = np.random.default_rng(zlib.crc32(f"{source.name} {name}".encode()))
    make = FAULTS[name].other if other else FAULTS[name].make
    return picture_from_srgb(lab_to_srgb8(make(source, severity, rng)))  # type: ignore[arg-type]


def fitting(fault: Fault, all_sources: list[Source], *, other: bool) -> list[Source]:
    """The sources that a fault can be put into."""
    fits = fault.other_fits or fault.fits if other else fault.fits
    return [source for source in all_sources if fits(source)]


def spread(fitting: list[Source], most: int) -> list[Source]:
    """At most so many of them, evenly from the first to the last."""
    if len(fitting) <= most:
        return fitting
    return [fitting[index] for index in np.linspace(0, len(fitting) - 1, most).round().astype(int)]


def names_it(fault: Fault, found: Named) -> bool:
    return not found.isdisjoint(fault.named_by)


def main(options: argparse.Namespace) -> None:
    other = options.made == "other"
    all_sources = [
        source
        for source in (other_sources(options.folder) if other else sources(options.folder, options.notes))
        if options.half == "all" or source.held_out == (options.half == "held")
    ]
    ask = named_by_limits if options.by == "limits" else named
    kinds = [kind for kind in FAULTS if not options.kind or kind in options.kind]
    if options.sheet:
        return draw_sheets(all_sources, kinds, options.sheet, other=other)
    untouched = {source.name: ask(picture_from_srgb(lab_to_srgb8(source.lab))) for source in all_sources}
    for path in sorted(options.folder.glob("*.jpg")) if options.folder else ():
        odd = int(path.stem) % 2 == 1 if path.stem.isdigit() else True
        if options.files == "all" or odd == (options.files == "odd"):
            untouched[path.name] = ask(picture_from_srgb(lab_to_srgb8(read_lab(path))))
    print(f"{'fault':22} {'mild':>9} {'plain':>9} {'gross':>9} {'untouched':>11}   not named when plain")
    totals = dict.fromkeys(SEVERITIES, (0, 0))
    for kind in kinds:
        fault = FAULTS[kind]
        chosen = spread(fitting(fault, all_sources, other=other), options.most)
        cells, missed = [], []
        for severity in SEVERITIES:
            hits = [names_it(fault, ask(faulted(source, kind, severity, other=other))) for source in chosen]
            if severity == "plain":
                missed = [source.name for source, hit in zip(chosen, hits, strict=True) if not hit]
            cells.append(f"{sum(hits)}/{len(hits)}")
            totals[severity] = (totals[severity][0] + sum(hits), totals[severity][1] + len(hits))
        alarms = [name for name, found in untouched.items() if names_it(fault, found)]
        cells.append(f"{len(alarms)}/{len(untouched)}")
        print(f"{kind:22} {cells[0]:>9} {cells[1]:>9} {cells[2]:>9} {cells[3]:>11}   {' '.join(missed)}", flush=True)
        if options.alarms:
            print(f"{'':22} untouched: {' '.join(alarms)}")
    shares = [f"{severity} {hit / max(of, 1):.0%}" for severity, (hit, of) in totals.items()]
    print("all:", ", ".join(shares))


def draw_sheets(all_sources: list[Source], kinds: list[str], folder: Path, *, other: bool) -> None:
    """One sheet a kind, mild, plain and gross across, so that the faults can be looked at."""
    folder.mkdir(parents=True, exist_ok=True)
    for kind in kinds:
        chosen = fitting(FAULTS[kind], all_sources, other=other)[:8]
        sheet = Image.new("RGB", (4 * 324, 244 * len(chosen)))
        for row, source in enumerate(chosen):
            made = (faulted(source, kind, severity, other=other).srgb for severity in SEVERITIES)
            pictures = [lab_to_srgb8(source.lab), *made]
            for column, codes in enumerate(pictures):
                image = Image.fromarray(np.asarray(codes))
                image.thumbnail((320, 240))
                sheet.paste(image, (column * 324, row * 244))
        sheet.save(folder / f"{kind.replace(' ', '_')}.png")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, nargs="?")
    parser.add_argument("notes", type=Path, nargs="?")
    parser.add_argument("--kind", action="append", choices=list(FAULTS))
    parser.add_argument("--made", choices=("first", "other"), default="first", help="in which way the faults are made")
    parser.add_argument("--half", choices=("all", "tune", "held"), default="all")
    parser.add_argument("--files", choices=("all", "odd", "even"), default="all")
    parser.add_argument("--by", choices=("findings", "limits"), default="findings")
    parser.add_argument("--most", type=int, default=12, help="sources a kind")
    parser.add_argument("--alarms", action="store_true", help="name the untouched pictures with the finding")
    parser.add_argument("--sheet", type=Path, help="draw the faulted pictures instead, one sheet a kind")
    main(parser.parse_args())
