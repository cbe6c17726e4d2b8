"""A body of work as arrays: what is compared across pictures, and nothing more, so that it stays small."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.advice.finding import LEVELS
from critique.measures.families import MOST
from critique.portfolio.ranking import Standing

ABSENT = -1
KEYS = ("low", "middle", "high")

Float = NDArray[np.float32]


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """Figures of n pictures, by rank. Families that a picture has not have share 0; figures it has not are NaN."""

    content: tuple[str, ...]
    subjects: Mapping[str, str]  # titles of the kinds of finding by their ids, in the order of a review
    levels: NDArray[np.int8]  # (n, kinds), index into LEVELS; ABSENT where a finding is not made
    key: NDArray[np.int8]  # (n,), index into KEYS
    line: Float  # (n,), height of the dividing line from the top, 0–1; NaN without a plain one
    green: Float  # (n, 3), L*a*b* of each picture's commonest green
    green_share: Float  # (n,), of the area
    cast: Float  # (n, 2), a* and b* of the mean colour
    families: Float  # (n, 9, 3), L*a*b*
    shares: Float  # (n, 9), of the area
    uncropped: NDArray[np.bool_]  # (n,), perhaps judged with the wall around it

    def column(self, kind: str) -> NDArray[np.int8] | None:
        """The levels of one kind of finding, (n,); None when none of the pictures was judged by it."""
        ids = list(self.subjects)
        return self.levels[:, ids.index(kind)] if kind in ids else None

    def __len__(self) -> int:
        return len(self.content)


def body_of(pictures: Iterable[tuple[str, Standing, dict[str, Any]]], number: int, subjects: Mapping[str, str]) -> Body:
    """The body of ``number`` pictures, given as content, standing and row, by rank."""
    nan = np.nan
    places = {kind: place for place, kind in enumerate(subjects)}
    contents: list[str] = []
    levels = np.full((number, len(subjects)), ABSENT, np.int8)
    key = np.zeros(number, np.int8)
    line, green_share = np.full(number, nan, np.float32), np.full(number, nan, np.float32)
    green, cast = np.full((number, 3), nan, np.float32), np.zeros((number, 2), np.float32)
    uncropped = np.zeros(number, dtype=bool)
    families, shares = np.zeros((number, MOST, 3), np.float32), np.zeros((number, MOST), np.float32)
    for place, (content, standing, row) in enumerate(pictures):
        contents.append(content)
        for kind, level in standing.levels.items():
            levels[place, places[kind]] = LEVELS.index(level)
        key[place] = KEYS.index(row["key"])
        uncropped[place] = row["crop"] == "unsure"
        if row["line"]["present"] and row["line"]["plain"]:
            line[place] = row["line"]["height"]
        green_share[place] = row["green"]["area_share"]
        green[place] = [nan if part is None else part for part in row["green"]["lab"]]
        cast[place] = row["cast"]["a"], row["cast"]["b"]
        for index, family in enumerate(row["families"][:MOST]):
            families[place, index], shares[place, index] = family["lab"], family["share"]
    return Body(tuple(contents), subjects, levels, key, line, green, green_share, cast, families, shares, uncropped)
