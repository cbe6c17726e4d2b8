"""Do suggestions improve a picture? `python tests/benchmarks/pairs.py [FOLDER] [NOTES.csv] --out DIR [--faults]`.

Writes sheets of pairs, a picture beside itself with a suggestion's change made, left and right at random. What lies on
which side stands in DIR/key.csv, which is to be read only after the sheets were judged. FOLDER is reviewed picture by
picture (--files odd, even or all); with --faults the faults of `faulty/kinds.py` are put into the demos, into
photographs and, where FOLDER and NOTES.csv are given, into noted paintings of it, and only what may mend the fault is
shown (with --made other each fault in its other way, in other paintings). Without --all only what a review offers is
shown, and in how many of the pictures that is anything is printed; with it the first draft of each kind of change.

Judged sheets are counted with `python tests/benchmarks/pairs.py --out DIR --judged FILE`: a line a pair, its number and
`l` or `r` for the better side, `=` where neither is better.
Bars: on pictures with the fault better in 65 %, worse in at most 8 %; offered on at most one of ten masters.
"""

import argparse
import csv
import sys
import zlib
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))

from faults import faulted, spread
from faults import fitting as sources_for
from faulty.kinds import FAULTS
from faulty.source import other_sources, read_lab, sources
from PIL import Image, ImageDraw

from critique.advice.advise import advise
from critique.advice.change_kinds import all_change_kinds
from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.trial import trial_of
from critique.measures.measure import measure_picture
from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

WIDE, GAP, A_SHEET = 600, 16, 2  # px of one picture, px between two, pairs on a sheet: none is made smaller to be seen
MENDED_BY: dict[str, tuple[str, ...]] = {  # what may mend each fault
    "halved": ("move_division",),
    "acid green": ("mute_greens",),
    "one flat green": ("vary_greens", "less_green"),
    "flat values": ("widen_values",),
    "green cast": ("take_out_cast",),
    "edge pull": ("quiet_edge", "darken_edge"),
    "scattered values": ("gather_values",),
    "garish colour": ("quiet_loudest",),
    "warm far hills": ("recede_land",),
    "closed darks": ("open_darks",),
    "dead colour": ("wake_colour",),
    "two lights": ("quiet_light", "quiet_second"),
    "equal flecks": ("rest_for_eye",),
}


@dataclass(frozen=True, slots=True)
class Pair:
    """A picture before and after a change."""

    picture: str
    kind: str
    before: Picture
    after: Picture


def pairs_of(name: str, picture: Picture, kinds: frozenset[str] | None, forced: bool) -> Iterator[Pair]:
    """What is offered for a picture (forced: what there is), of some kinds of change or of all."""
    measures = measure_picture(picture)
    trial = trial_of(Case.of(picture, measures, read_norms()))
    if forced:
        for kind in all_change_kinds():
            draft = next(iter(kind.make(trial, False)), None) if kinds is None or kind.id in kinds else None
            if draft is not None:
                lab = draft.change.apply(trial.lab)
                yield Pair(name, kind.id, trial.case.picture, picture_from_srgb(lab_to_srgb8(lab)))
        return
    for offer in advise(picture, measures).suggestions:
        if (kinds is None or offer.kind in kinds) and offer.preview is not None:
            before = trial.lab
            for change in offer.upon:
                before = change.apply(before)
            yield Pair(name, offer.kind, picture_from_srgb(lab_to_srgb8(before)), offer.preview)


def all_pairs(options: argparse.Namespace) -> Iterator[Pair]:
    only = frozenset(options.kind) if options.kind else None
    other = options.made == "other"
    if options.faults:
        found = other_sources(options.folder) if other else sources(options.folder, options.notes)
        found = [one for one in found if options.held or not one.held_out]
        for number, (fault, mends) in enumerate(MENDED_BY.items()):
            wanted = frozenset(mends) if only is None else only & frozenset(mends)
            if not wanted:
                continue
            fitting = sources_for(FAULTS[fault], found, other=other)
            turned = fitting[number % len(fitting) :] + fitting[: number % len(fitting)] if fitting else []
            for source in spread(turned, options.most):
                name = f"{fault}, {options.severity}, {source.name}"
                picture = faulted(source, fault, options.severity, other=other)
                yield from offered(name, pairs_of(name, picture, wanted, options.all), options.seen)
        return
    files = sorted(options.folder.glob("*.jpg"))
    if options.files != "all":
        files = [file for file in files if int(file.stem) % 2 == (options.files == "odd")]
    for file in spread(files, options.most):  # type: ignore[arg-type, type-var]
        picture = picture_from_srgb(lab_to_srgb8(read_lab(file)))  # type: ignore[arg-type]
        yield from offered(file.name, pairs_of(file.name, picture, only, options.all), options.seen)


def offered(name: str, made: Iterator[Pair], seen: dict[str, int]) -> Iterator[Pair]:
    """The pairs of a picture, counted."""
    seen[name] = 0
    for pair in made:
        seen[name] += 1
        yield pair


def told(seen: dict[str, int], *, by_fault: bool) -> None:
    """In how many pictures a change is offered, of each fault or of all."""
    table: dict[str, list[bool]] = defaultdict(list)
    for name, number in seen.items():
        table[name.split(",")[0] if by_fault else "all"].append(number > 0)
    for fault, has in table.items():
        print(f"{fault:18} a change is offered in {sum(has)} of {len(has)} pictures")


def image_of(picture: Picture) -> Image.Image:
    image = Image.fromarray(np.asarray(picture.srgb))
    return image.resize((WIDE, round(WIDE * image.height / image.width)), Image.Resampling.LANCZOS)


def swapped(pair: Pair, seed: int) -> bool:
    """Whether the changed picture lies to the left: by chance, the same on every run."""
    return zlib.crc32(f"{seed} {pair.picture} {pair.kind}".encode()) >> 7 & 1 == 1


def draw(made: list[Pair], out: Path, seed: int) -> None:
    out.mkdir(parents=True, exist_ok=True)
    made.sort(key=lambda pair: zlib.crc32(f"{seed}{pair.picture}{pair.kind}".encode()))
    rows = []
    for first in range(0, len(made), A_SHEET):
        images = []
        for number, pair in enumerate(made[first : first + A_SHEET], first + 1):
            left = swapped(pair, seed)
            two = (
                [image_of(pair.after), image_of(pair.before)] if left else [image_of(pair.before), image_of(pair.after)]
            )
            strip = Image.new("RGB", (2 * WIDE + GAP, max(one.height for one in two) + 30), (128, 128, 128))
            for index, one in enumerate(two):
                strip.paste(one, (index * (WIDE + GAP), 24))
            ImageDraw.Draw(strip).text((6, 5), str(number), fill=(255, 255, 255), font_size=18)
            images.append(strip)
            rows.append((number, "l" if left else "r", pair.kind, pair.picture))
        sheet = Image.new("RGB", (images[0].width, sum(one.height for one in images)), (128, 128, 128))
        down = 0
        for one in images:
            sheet.paste(one, (0, down))
            down += one.height
        sheet.save(out / f"sheet_{first // A_SHEET + 1:02}.png")
    with (out / "key.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([("number", "changed", "kind", "picture"), *rows])
    pictures = len({pair.picture for pair in made})
    print(f"{len(made)} pairs of {pictures} pictures, {-(-len(made) // A_SHEET)} sheets in {out}")


def count(folder: Path, judged: Path) -> None:
    with (folder / "key.csv").open(encoding="utf-8") as file:
        key = {row["number"]: row for row in csv.DictReader(file)}
    table: dict[str, Counter[str]] = defaultdict(Counter)
    for line in judged.read_text(encoding="utf-8").splitlines():
        if not line.strip():
            continue
        number, side, *_ = line.split()
        row = key[number]
        told = "no better" if side == "=" else "better" if side == row["changed"] else "worse"
        for kind in (row["kind"], "all"):
            table[kind][told] += 1
    print(f"{'change':18} {'pairs':>6} {'better':>7} {'no better':>10} {'worse':>6}")
    for kind, told in sorted(table.items(), key=lambda item: (item[0] == "all", item[0])):
        print(f"{kind:18} {told.total():6} {told['better']:7} {told['no better']:10} {told['worse']:6}")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, nargs="?")
    parser.add_argument("notes", type=Path, nargs="?")
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--faults", action="store_true")
    parser.add_argument("--all", action="store_true")
    parser.add_argument("--kind", action="append")
    parser.add_argument("--severity", choices=("mild", "plain", "gross"), default="plain")
    parser.add_argument("--made", choices=("first", "other"), default="first", help="in which way the faults are made")
    parser.add_argument("--held", action="store_true", help="the held-out sources of faults too")
    parser.add_argument("--files", choices=("odd", "even", "all"), default="odd")
    parser.add_argument("--most", type=int, default=38, help="pictures, or sources a fault")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--judged", type=Path)
    given = parser.parse_args()
    if given.judged:
        count(given.out, given.judged)
    elif given.folder is None and not given.faults:
        parser.error("give a FOLDER, or --faults")
    else:
        given.seen = {}
        draw(list(all_pairs(given)), given.out, given.seed)
        told(given.seen, by_fault=given.faults)
