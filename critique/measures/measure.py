"""Everything that is measured of one picture."""

from dataclasses import dataclass

from critique.alike import alike
from critique.measures.cast import Cast, measure_cast, reference_of
from critique.measures.closed_darks import ClosedDarks, measure_closed_darks
from critique.measures.detail import Detail, measure_detail
from critique.measures.division import Division, lines_of, measure_division
from critique.measures.edges import Edges, measure_edges
from critique.measures.eyepath import EyePath, measure_eyepath
from critique.measures.families import Family, measure_families
from critique.measures.far_warmth import FarWarmth, measure_far_warmth
from critique.measures.green_kinds import GreenKinds, measure_green_kinds
from critique.measures.greens import Greens, measure_greens
from critique.measures.harmony import Harmony, measure_harmony
from critique.measures.histogram import picture_histogram
from critique.measures.hue_peaks import HuePeaks, measure_hue_peaks
from critique.measures.land_distance import LandDistance, measure_land_distance
from critique.measures.loudest import Loudest, measure_loudest
from critique.measures.masses import Masses, measure_masses
from critique.measures.neighbours import GreenNeighbours, measure_neighbours
from critique.measures.outlines import Outlines, measure_outlines
from critique.measures.parts import Parts, measure_parts
from critique.measures.reads_as_green import ReadsAsGreen, measure_reads_as_green
from critique.measures.symmetry import Symmetry, measure_symmetry
from critique.measures.two_lights import TwoLights, measure_two_lights
from critique.measures.values import Values, measure_values
from critique.measures.variety import Variety, measure_variety
from critique.measures.water_level import WaterLevel, measure_water_level
from critique.one_thread import in_one_thread
from critique.picture.picture import Picture


@dataclass(frozen=True, slots=True, eq=False)
class Measures:
    """The answers of every measure, under the names that the record has.

    Two are equal when every figure is, to the last bit, and every array kept for drawing; NaN is equal to NaN.
    """

    parts: Parts
    greens: Greens
    reads_as_green: ReadsAsGreen
    green_kinds: GreenKinds
    families: tuple[Family, ...]
    neighbours: GreenNeighbours
    land_distance: LandDistance
    far_warmth: FarWarmth
    values: Values
    masses: Masses
    closed_darks: ClosedDarks
    division: Division
    symmetry: Symmetry
    water_level: WaterLevel
    edges: Edges
    outlines: Outlines
    detail: Detail
    eyepath: EyePath
    two_lights: TwoLights
    loudest: Loudest
    hue_peaks: HuePeaks
    harmony: Harmony
    variety: Variety
    cast: Cast

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Measures) and alike(self, other)

    def __hash__(self) -> int:
        return hash((self.families, self.cast.mean, self.variety.colourfulness))


@in_one_thread  # held once for all: each of some hundred blurs would hold and free it by itself
def measure_picture(picture: Picture) -> Measures:
    """Measure everything of a picture."""
    histogram = picture_histogram(picture)
    families = measure_families(picture)
    parts = measure_parts(picture)
    reads_as_green = measure_reads_as_green(picture, parts)
    lines = lines_of(picture)
    division = measure_division(picture, lines=lines, parts=parts)
    return Measures(
        parts=parts,
        greens=measure_greens(picture, reads_as_green=reads_as_green),
        reads_as_green=reads_as_green,
        green_kinds=measure_green_kinds(picture),
        families=families,
        neighbours=measure_neighbours(picture, families),
        land_distance=measure_land_distance(picture, parts),
        far_warmth=measure_far_warmth(picture, parts, division),
        values=measure_values(picture, families),
        masses=measure_masses(picture),
        closed_darks=measure_closed_darks(picture),
        division=division,
        symmetry=measure_symmetry(picture),
        water_level=measure_water_level(picture, parts, lines=lines),
        edges=measure_edges(picture),
        outlines=measure_outlines(picture),
        detail=measure_detail(picture),
        eyepath=measure_eyepath(picture, parts),
        two_lights=measure_two_lights(picture),
        loudest=measure_loudest(picture),
        hue_peaks=measure_hue_peaks(picture, histogram=histogram),
        harmony=measure_harmony(picture, families, histogram),
        variety=measure_variety(picture, histogram),
        cast=measure_cast(picture, reference=reference_of(picture)),
    )
