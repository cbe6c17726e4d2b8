"""Whether a review praises what readers praise: `python tests/benchmarks/praise.py PAINTINGS [--fit]`.

PAINTINGS is a folder of the pictures that `praised.csv` names: for each, which virtues two independent machine readings
name as its strength (our coding of their words by kind; "else" and "lines" have no virtue here). Prints in how many
pictures the virtue told first, and one of those told, is one that a reading names; with every chance fitted anew
without that picture; and what one choice for all would reach. `--fit` prints bias and weights for `advice/praise.py`.
"""

import argparse
import csv
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from chances import fitted_chance

from critique.advice.judging import Case
from critique.advice.norms import read_norms
from critique.advice.praise import PRAISED, Praised, chosen, virtues
from critique.advice.virtue import Virtue
from critique.measures.measure import measure_picture
from critique.picture.read import read_picture

MEANT = {"tones": "silhouette"}  # a virtue that readers would put in the other's words


@dataclass(frozen=True)
class Praise:
    """One picture: what there is to praise in it, and what each reading praises."""

    found: list[tuple[Praised, Virtue]]
    readings: tuple[frozenset[str], frozenset[str]]

    @property
    def named(self) -> frozenset[str]:
        return self.readings[0] | self.readings[1]


def read_praise(folder: Path) -> list[Praise]:
    norms = read_norms()
    with Path(__file__).with_name("praised.csv").open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines, delimiter=";"))
    pictures = []
    for row in rows:
        picture = read_picture(folder / row["file"])
        found = virtues(Case.of(picture, measure_picture(picture), norms))
        pictures.append(Praise(found, (frozenset(row["first"].split()), frozenset(row["second"].split()))))
    return pictures


def meant(kind: Praised) -> str:
    return MEANT.get(kind.id, kind.id)


def fitted(kind: Praised, pictures: Iterable[Praise]) -> Praised:
    """The kind with its chance fitted to these pictures: to their rate of being named where it has no signs."""
    signs, named = [], []
    for picture in pictures:
        for virtue in (virtue for found, virtue in picture.found if found.id == kind.id):
            for reading in picture.readings:
                signs.append(virtue.signs)
                named.append(meant(kind) in reading)
    bias, weights = fitted_chance(signs, named, len(kind.weights))
    return replace(kind, bias=bias, weights=weights)


def told(picture: Praise, kinds: dict[str, Praised]) -> list[str]:
    """The ids of what is told of a picture, with the chances of these kinds."""
    return [meant(kind) for kind, _ in chosen([(kinds[kind.id], virtue) for kind, virtue in picture.found])]


def say(name: str, chosen_ids: list[list[str]], pictures: list[Praise]) -> None:
    first = sum(ids[:1] != [] and ids[0] in picture.named for ids, picture in zip(chosen_ids, pictures, strict=True))
    either = sum(not picture.named.isdisjoint(ids) for ids, picture in zip(chosen_ids, pictures, strict=True))
    print(f"{name}: first {first}, one of those told {either} of {len(pictures)}")


def main(options: argparse.Namespace) -> None:
    pictures = read_praise(options.folder)
    agree = sum(not picture.readings[0].isdisjoint(picture.readings[1]) for picture in pictures)
    print(f"the two readings share a virtue in {agree} of {len(pictures)}")
    say("as it is", [told(picture, {kind.id: kind for kind in PRAISED}) for picture in pictures], pictures)
    left_out = []
    for index, picture in enumerate(pictures):
        others = pictures[:index] + pictures[index + 1 :]
        left_out.append(told(picture, {kind.id: fitted(kind, others) for kind in PRAISED}))
    say("fitted without the picture", left_out, pictures)
    say("always light and silhouette", [["lit_place", "silhouette"]] * len(pictures), pictures)
    if options.fit:
        for kind in PRAISED:
            new = fitted(kind, pictures)
            print(f"{kind.id}: {new.bias:.2f}, {tuple(round(weight, 3) for weight in new.weights)}")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--fit", action="store_true", help="print the chances fitted to all pictures")
    main(parser.parse_args())
