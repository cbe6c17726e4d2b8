"""Where a figure stands among landscapes that hold up."""

import csv
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from critique.errors import ReferenceDataError, unwritten
from critique.measures.figure import Figure
from critique.measures.figures import all_figures
from critique.measures.measure import Measures
from critique.perception.reference import reference_path
from critique.publish import replace_file
from critique.text_file import LARGEST_NUMBER, TextFault, read_text
from critique.words.printed import may_be_shown, shown_line

LONGEST_ORIGIN = 500  # characters
SOME_GREEN = 0.08  # of the picture, from which its greens are held to other greens
RANKS = tuple(range(0, 101, 5))  # percentiles that a norms table holds
TIED = 1e-12  # closer than this, two quantiles are one


@dataclass(frozen=True, slots=True)
class Norms:
    """Percentiles of every figure among reference landscapes, ``number`` of them; ``origin`` says which.

    ``shipped`` tells landscapes that have lasted, which come with the program, from pictures that someone measured.
    """

    origin: str
    number: int
    quantiles: Mapping[str, NDArray[np.float64]]
    shipped: bool = False
    folder: str = ""  # a mark by which the table knows the folder it was made of

    @property
    def kind(self) -> str:
        """What the reference pictures are called after a number, as in "nine in ten landscapes"."""
        return "landscapes" if self.shipped else "of your pictures"

    @property
    def one(self) -> str:
        """What one of them is called."""
        return "landscape" if self.shipped else "one of your pictures"

    @property
    def all_of_them(self) -> str:
        """All of them, counted."""
        return f"the {self.number} landscapes" if self.shipped else f"your {self.number} pictures"

    def percentile(self, figure: str, value: float) -> float | None:
        """Where ``value`` stands, 0–100; None when the table has no such figure or the value is NaN.

        Where many pictures share the least (no green beyond the leaf limit) that is the rank of the last of them, so
        that a hair more of it stands by a hair higher; of the most, that of the first; elsewhere the middle one.
        """
        quantiles = self.quantiles.get(figure)
        if quantiles is None or math.isnan(value):
            return None
        step = np.flatnonzero(np.diff(quantiles) > TIED) + 1
        if not len(step):
            return float(np.interp(value, quantiles[[0, -1]], (50.0, 50.0), left=0, right=100))
        first, last = np.concatenate([[0], step]), np.concatenate([step, [len(quantiles)]]) - 1
        first[0], last[-1] = last[0], first[-1]
        ranks = (np.take(RANKS, first) + np.take(RANKS, last)) / 2
        return float(np.interp(value, quantiles[first], ranks, left=0, right=100))

    def at(self, figure: str, rank: float) -> float:
        """The value that ``rank`` per cent of the reference landscapes stay below."""
        if figure not in self.quantiles:
            raise ReferenceDataError(f"the norms table has no figure {figure!r}: make it again with this version")
        return float(np.interp(rank, RANKS, self.quantiles[figure]))


def figures_of(measures: Measures) -> dict[str, float]:
    """The figures that norms are kept for, by their names; NaN where a picture has none."""
    return {figure.name: figure_of(figure, measures) for figure in all_figures() if figure.norm}


def figure_of(figure: Figure, measures: Measures) -> float:
    """One of them.

    Figures on the quality of the green are of pictures that have some: the middle chroma of three leaves is no norm.
    """
    if figure.needs == "green" and measures.greens.area_share < SOME_GREEN:
        return math.nan
    return figure.value(measures)


def norms_of(pictures: Iterable[Measures], origin: str) -> Norms:
    """Norms of measured pictures. A figure that a picture has not (NaN) is left out of its row."""
    rows = [figures_of(measures) for measures in pictures]
    if not rows:
        raise ReferenceDataError("norms need at least one picture that can be read")
    quantiles = {}
    for name in rows[0]:
        known = np.array([row[name] for row in rows if not math.isnan(row[name])])
        if len(known):
            quantiles[name] = quantiles_of(known)
    return Norms(origin, len(rows), quantiles)


def quantiles_of(known: NDArray[np.float64]) -> NDArray[np.float64]:
    """The quantiles of figures (n,) at `RANKS`: each a mean of all that lie about it, weighted by how near.

    A quantile between two of a few dozen pictures hangs on those two: where they happen to lie close, a figure passes
    many ranks by a hair. Quantiles that many pictures share (none of the green beyond a leaf) stay what they share.
    [Harrell and Davis, A New Distribution-Free Quantile Estimator, Biometrika 69(3), 1982]
    """
    from scipy.special import betainc

    plain, number = np.percentile(known, RANKS), len(known)
    rank = np.array(RANKS[1:-1])[:, None] / 100
    reached = betainc((number + 1) * rank, (number + 1) * (1 - rank), np.arange(number + 1) / number)
    smooth = plain.copy()
    smooth[1:-1] = np.diff(reached, axis=1) @ np.sort(known)
    tied = np.zeros(len(plain), dtype=bool)
    tied[1:] = np.diff(plain) <= TIED
    tied[:-1] |= np.diff(plain) <= TIED
    return np.asarray(np.maximum.accumulate(np.where(tied, plain, smooth)))


def write_norms(norms: Norms, path: Path) -> None:
    """Write a norms table as CSV, its origin in the first lines; raises ``OutputError`` when it cannot."""
    lines = [f"# origin: {shown_line(norms.origin)}", f"# number: {norms.number}"]
    lines += [f"# folder: {norms.folder}"] if norms.folder else []
    lines.append(",".join(["figure", *(f"p{rank}" for rank in RANKS)]))
    lines += [",".join([name, *(f"{value:.5g}" for value in row)]) for name, row in norms.quantiles.items()]
    try:
        replace_file(path, ("\n".join(lines) + "\n").encode("utf-8", errors="backslashreplace"))
    except OSError as error:
        raise unwritten(shown_line(f"{path}: the norms can't be written"), error) from error


def read_norms(path: Path | None = None) -> Norms:
    """Read a norms table; the one that ships with the program unless told otherwise.

    Raises
    ------
    ReferenceDataError
        When the file is not a norms table.
    """
    shipped = path is None
    path = path if path is not None else reference_path("norms.csv")
    try:
        return _norms_in(read_text(path), shipped)
    except (TextFault, ValueError) as error:
        raise ReferenceDataError(
            f"{path.name or path} can't be read as a norms table ({error})", mend=None if shipped else "norms_table"
        ) from error


@lru_cache(maxsize=2)  # asked for again with every picture
def _norms_in(text: str, shipped: bool) -> Norms:
    """The norms that a table holds; ValueError with the reason when it is none."""
    lines = text.splitlines()
    notes = dict(line[2:].split(": ", 1) for line in lines if line.startswith("# ") and ": " in line)
    try:
        rows = list(csv.reader(line for line in lines if not line.startswith("#")))
    except csv.Error as error:
        raise ValueError(str(error)) from None
    if not rows or rows[0] != ["figure", *(f"p{rank}" for rank in RANKS)]:
        raise ValueError("its first row is not that of a norms table")
    origin, number = notes.get("origin", ""), notes.get("number", "")
    if not 0 < len(origin) <= LONGEST_ORIGIN or not may_be_shown(origin):
        raise ValueError("its origin is missing or can't be shown")
    if not (number.isascii() and number.isdigit() and len(number) <= 7 and int(number) > 0):
        raise ValueError("the number of its pictures is missing")
    quantiles: dict[str, NDArray[np.float64]] = {}
    for row in rows[1:]:
        if row and row[0] in quantiles:
            raise ValueError(f"{row[0][:40]!r} has two rows")
        if row:
            quantiles[row[0]] = _quantiles(row[0], row[1:])
    return Norms(origin, int(number), quantiles, shipped, notes.get("folder", ""))


def _quantiles(name: str, cells: list[str]) -> NDArray[np.float64]:
    shown = repr(name[:40])
    try:
        row = np.array([float(cell) for cell in cells])
    except ValueError:
        raise ValueError(f"the row of {shown} holds a cell that is no number") from None
    if len(row) != len(RANKS):
        raise ValueError(f"the row of {shown} has {len(row)} figures and not {len(RANKS)}")
    if not np.isfinite(row).all() or (np.abs(row) > LARGEST_NUMBER).any():
        raise ValueError(f"the row of {shown} holds a figure that is none")
    if (np.diff(row) < 0).any():
        raise ValueError(f"the figures of {shown} fall, and percentiles can't")
    return row
