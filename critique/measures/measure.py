"""Everything that is measured of one picture."""

from dataclasses import dataclass

from critique.measures.cast import Cast, measure_cast
from critique.measures.division import Division, measure_division
from critique.measures.eyepath import EyePath, measure_eyepath
from critique.measures.families import Family, measure_families
from critique.measures.green_kinds import GreenKinds, measure_green_kinds
from critique.measures.greens import Greens, measure_greens
from critique.measures.harmony import Harmony, measure_harmony
from critique.measures.histogram import colour_histogram
from critique.measures.neighbours import GreenNeighbours, measure_neighbours
from critique.measures.parts import Parts, measure_parts
from critique.measures.reads_as_green import ReadsAsGreen, measure_reads_as_green
from critique.measures.values import Values, measure_values
from critique.measures.variety import Variety, measure_variety
from critique.picture.picture import Picture


@dataclass(frozen=True, slots=True)
class Measures:
    """The answers of every measure, under the names that the record has."""

    parts: Parts
    greens: Greens
    reads_as_green: ReadsAsGreen
    green_kinds: GreenKinds
    families: tuple[Family, ...]
    neighbours: GreenNeighbours
    values: Values
    division: Division
    eyepath: EyePath
    harmony: Harmony
    variety: Variety
    cast: Cast


def measure_picture(picture: Picture) -> Measures:
    """Measure everything of a picture."""
    histogram = colour_histogram(picture.lab)
    families = measure_families(picture, histogram)
    parts = measure_parts(picture)
    reads_as_green = measure_reads_as_green(picture, parts)
    return Measures(
        parts=parts,
        greens=measure_greens(picture, histogram=histogram, reads_as_green=reads_as_green),
        reads_as_green=reads_as_green,
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
