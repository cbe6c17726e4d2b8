"""Everything that is measured of one picture."""

import dataclasses
from dataclasses import dataclass
from typing import Any

import numpy as np

from critique.measures.cast import Cast, measure_cast
from critique.measures.division import Division, measure_division
from critique.measures.eyepath import EyePath, measure_eyepath
from critique.measures.families import Family, measure_families
from critique.measures.green_kinds import GreenKinds, measure_green_kinds
from critique.measures.greens import Greens, measure_greens
from critique.measures.harmony import Harmony, measure_harmony
from critique.measures.histogram import colour_histogram
from critique.measures.neighbours import GreenNeighbours, measure_neighbours
from critique.measures.values import Values, measure_values
from critique.measures.variety import Variety, measure_variety
from critique.picture.picture import Picture


@dataclass(frozen=True, slots=True, eq=False)
class Measures:
    """The answers of every measure, under the names that the record has.

    Two are equal when every figure is, to the last bit, and every array kept for drawing; NaN is equal to NaN.
    """

    greens: Greens
    green_kinds: GreenKinds
    families: tuple[Family, ...]
    neighbours: GreenNeighbours
    values: Values
    division: Division
    eyepath: EyePath
    harmony: Harmony
    variety: Variety
    cast: Cast

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Measures) and _alike(self, other)

    def __hash__(self) -> int:
        return hash((self.families, self.cast.mean, self.variety.colourfulness))


def measure_picture(picture: Picture) -> Measures:
    """Measure everything of a picture."""
    histogram = colour_histogram(picture.lab)
    families = measure_families(picture, histogram)
    return Measures(
        greens=measure_greens(picture, histogram=histogram),
        green_kinds=measure_green_kinds(picture),
        families=families,
        neighbours=measure_neighbours(picture, families),
        values=measure_values(picture, families),
        division=measure_division(picture),
        eyepath=measure_eyepath(picture),
        harmony=measure_harmony(picture, families, histogram),
        variety=measure_variety(picture, histogram),
        cast=measure_cast(picture),
    )


def _alike(one: Any, other: Any) -> bool:
    """Whether two results hold the same, where ``==`` stumbles over arrays and NaN."""
    if type(one) is not type(other):
        return False
    if dataclasses.is_dataclass(one):
        names = [field.name for field in dataclasses.fields(one)]
        return all(_alike(getattr(one, name), getattr(other, name)) for name in names)
    if isinstance(one, np.ndarray):
        return np.array_equal(one, other, equal_nan=one.dtype.kind == "f")
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(_alike(one[name], other[name]) for name in one)
    if isinstance(one, tuple):
        return len(one) == len(other) and all(map(_alike, one, other))
    return bool(one == other or (one != one and other != other))
