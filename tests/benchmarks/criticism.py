"""Whether a review mends first what readers would: `criticism.py PAINTINGS [--wished FOLDER] [--fit]`, in this folder.

PAINTINGS is a folder of the pictures that `criticised.csv` names: for each, what two independent machine readings would
mend first (our coding of their words by kind; "nothing" where one would mend nothing, "rival" where something competes
with the subject, "lead" where the subject itself wants more light or weight). Prints in how many pictures the first
criticism, an open finding or else the small thing said "at most", is of a kind that a reading names; how often each
kind is right; the same with the chances of small things fitted without the picture; and what one answer for all would
reach.
FOLDER holds the pictures that `wished.csv` names, most of them photographs through a paint filter in six sets: what two
independent machine readings of each would mend first, noted before a review of it was read. Words that no finding says
are kept: "drawing", "sky", "heavy", "alike", "spots". Chances are fitted to all, and for each without its set.
`--fit` prints bias and weights for `advice/hints.py`.
"""

import argparse
import csv
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from chances import fitted_chance

from critique.advice.finding import Finding
from critique.advice.findings import all_findings
from critique.advice.hints import HINTS, LEAST, Hint
from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.verdict import in_order_told, may_be_left
from critique.measures.measure import measure_picture
from critique.picture.read import read_picture

# What a reader would call each kind of finding, and each small thing.
MEANT = {
    **dict.fromkeys(("edge_pull", "near_edge", "side_weight"), "edge"),
    **dict.fromkeys(("value_masses", "equal_flecks", "small_lights"), "small"),
    **dict.fromkeys(("bulls_eye", "middle_subject"), "middle"),
    **dict.fromkeys(("halving", "upright_halves"), "halving"),
    **dict.fromkeys(("colour_cast", "green_cast"), "cast"),
    **dict.fromkeys(("hard_edges", "outlines"), "edges"),
    **dict.fromkeys(("competing_lights", "two_lights"), "rival"),
    **dict.fromkeys(("closed_darks", "darks"), "darks"),
    "busy_foreground": "foreground",
    "even_foreground": "bare",
    "bare_sky": "sky",
    "value_range": "values",
    "dead_colour": "one_colour",
    "loudest_colour": "colour",
    **dict.fromkeys(("green_evenness", "green_strength", "green_area"), "greens"),
}


@dataclass(frozen=True)
class Read:
    """One picture: what is said of it, and what each reading would mend first."""

    case: Case
    findings: tuple[Finding, ...]
    readings: tuple[frozenset[str], ...]  # the two of its notes first
    among: str  # those that it is left out with: itself, or the set that it was noted in

    @property
    def named(self) -> frozenset[str]:
        return self.readings[0] | self.readings[1]

    @property
    def named_later(self) -> frozenset[str]:
        """By the two that looked at it to read a review beside it."""
        return frozenset().union(*self.readings[2:])

    @property
    def open(self) -> list[Finding]:
        return in_order_told(self.findings)

    def there(self, hint: Hint) -> bool:
        return not hint.remark or any(finding.kind == hint.remark for finding in self.findings)


def read_all(folder: Path, table: str) -> list[Read]:
    norms = read_norms()
    with Path(__file__).with_name(table).open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines, delimiter=";"))
    pictures = []
    for row in rows:
        picture = read_picture(folder / row["file"])
        case = Case.of(picture, measure_picture(picture), norms)
        readings = [frozenset(row.get(column, "").split()) for column in ("first", "second", "third", "fourth")]
        among = row["file"].partition("_")[0]
        pictures.append(Read(case, all_findings(case), tuple(one for one in readings if one), among))
    return pictures


def first_said(picture: Read, hints: Sequence[Hint]) -> str:
    """The kind, in a reader's word, of what is said first against a picture."""
    if picture.open and not may_be_left(picture.open):
        return MEANT.get(picture.open[0].kind, picture.open[0].kind)
    likely = [hint for hint in hints if picture.there(hint) and hint.chance(picture.case) >= LEAST]
    best = max(likely, key=lambda hint: hint.chance(picture.case), default=None)
    return MEANT.get(best.id, best.id) if best is not None else "nothing"


def fitted(hint: Hint, pictures: Iterable[Read]) -> Hint:
    """The hint with its chance fitted to these pictures: to its rate of being named where it has no signs."""
    signs, named = [], []
    for picture in pictures:
        if picture.there(hint):
            for reading in picture.readings:
                signs.append(hint.signs(picture.case))
                named.append(MEANT.get(hint.id, hint.id) in reading)
    bias, weights = fitted_chance(signs, named, len(hint.weights))
    return replace(hint, bias=bias, weights=weights)


def say(name: str, said: list[str], pictures: list[Read]) -> None:
    right = [kind in picture.named for kind, picture in zip(said, pictures, strict=True)]
    later = [kind in one.named_later for kind, one in zip(said, pictures, strict=True) if one.named_later]
    print(f"{name}: {sum(right)} of {len(pictures)}; of the later readings {sum(later)} of {len(later)}")
    kinds = Counter(said)
    hits = Counter(kind for kind, so in zip(said, right, strict=True) if so)
    print("   " + ", ".join(f"{kind} {hits[kind]}/{number}" for kind, number in kinds.most_common()))


def tell(pictures: list[Read], also: list[Read]) -> None:
    """What is said of these pictures, and what is said of each by chances fitted without those it is among."""
    say("as it is", [first_said(picture, HINTS) for picture in pictures], pictures)
    without = {
        among: [fitted(hint, [one for one in (*pictures, *also) if one.among != among]) for hint in HINTS]
        for among in {picture.among for picture in pictures}
    }
    left_out = [first_said(picture, without[picture.among]) for picture in pictures]
    say("fitted without it", left_out, pictures)
    held = [index for index, picture in enumerate(pictures) if may_be_left(picture.findings)]
    say("of those, where nothing is open", [left_out[index] for index in held], [pictures[index] for index in held])
    for kind in ("rival", "nothing"):
        print(f"always {kind}: {sum(kind in picture.named for picture in pictures)} of {len(pictures)}")


def main(options: argparse.Namespace) -> None:
    pictures = read_all(options.folder, "criticised.csv")
    wished = read_all(options.wished, "wished.csv") if options.wished else []
    for these, others in ((pictures, wished), (wished, pictures)):
        if these:
            agree = sum(not picture.readings[0].isdisjoint(picture.readings[1]) for picture in these)
            print(f"the two readings share a kind in {agree} of {len(these)}")
            tell(these, others)
    if options.fit:
        for hint in HINTS:
            new = fitted(hint, [*pictures, *wished])
            print(f"{hint.id}: {new.bias:.2f}, {tuple(round(weight, 3) for weight in new.weights)}")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--wished", type=Path, help="a folder of the pictures that wished.csv names")
    parser.add_argument("--fit", action="store_true", help="print the chances fitted to all pictures")
    main(parser.parse_args())
