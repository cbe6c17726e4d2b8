"""Everything that is measured of one picture."""

from dataclasses import dataclass, fields
from functools import cached_property

from critique.alike import alike
from critique.measures.bare_sky import BareSky, measure_bare_sky
from critique.measures.cast import Cast, measure_cast, reference_of
from critique.measures.closed_darks import ClosedDarks, measure_closed_darks
from critique.measures.crispness import Crispness, measure_crispness
from critique.measures.detail import Detail, measure_detail
from critique.measures.division import Division, lines_of, measure_division
from critique.measures.edges import Edges, measure_edges
from critique.measures.even_foreground import EvenForeground, measure_even_foreground
from critique.measures.eyepath import EyePath, measure_eyepath
from critique.measures.families import Family, measure_families
from critique.measures.far_warmth import FarWarmth, measure_far_warmth
from critique.measures.green_kinds import GreenKinds, measure_green_kinds
from critique.measures.greens import Greens, measure_greens
from critique.measures.harmony import Harmony, measure_harmony
from critique.measures.histogram import ColourHistogram, picture_histogram
from critique.measures.hue_peaks import HuePeaks, measure_hue_peaks
from critique.measures.land_distance import LandDistance, measure_land_distance
from critique.measures.like_row import LikeRow, measure_like_row
from critique.measures.loudest import Loudest, measure_loudest
from critique.measures.masses import Masses, measure_masses
from critique.measures.middle_thing import MiddleThing, measure_middle_thing
from critique.measures.neighbours import GreenNeighbours, measure_neighbours
from critique.measures.outlines import Outlines, measure_outlines
from critique.measures.pale_rims import PaleRims, measure_pale_rims
from critique.measures.parts import Parts, measure_parts
from critique.measures.reads_as_green import ReadsAsGreen, measure_reads_as_green
from critique.measures.ruled import Ruled, measure_ruled
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
    bare_sky: BareSky
    division: Division
    symmetry: Symmetry
    water_level: WaterLevel
    edges: Edges
    crispness: Crispness
    ruled: Ruled
    outlines: Outlines
    pale_rims: PaleRims
    detail: Detail
    even_foreground: EvenForeground
    eyepath: EyePath
    two_lights: TwoLights
    middle_thing: MiddleThing
    like_row: LikeRow
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
    asked = MeasuresAsked(picture)
    return Measures(**{field.name: getattr(asked, field.name) for field in fields(Measures)})


class MeasuresAsked:
    """Stands for ``Measures``: each is taken when it is first asked for, with those that it hangs on."""

    def __init__(self, picture: Picture) -> None:
        self._picture = picture

    @cached_property
    def _histogram(self) -> ColourHistogram:
        return picture_histogram(self._picture)

    @cached_property
    def parts(self) -> Parts:
        return measure_parts(self._picture)

    @cached_property
    def greens(self) -> Greens:
        return measure_greens(self._picture, reads_as_green=self.reads_as_green)

    @cached_property
    def reads_as_green(self) -> ReadsAsGreen:
        return measure_reads_as_green(self._picture, self.parts)

    @cached_property
    def green_kinds(self) -> GreenKinds:
        return measure_green_kinds(self._picture)

    @cached_property
    def families(self) -> tuple[Family, ...]:
        return measure_families(self._picture)

    @cached_property
    def neighbours(self) -> GreenNeighbours:
        return measure_neighbours(self._picture, self.families)

    @cached_property
    def land_distance(self) -> LandDistance:
        return measure_land_distance(self._picture, self.parts)

    @cached_property
    def far_warmth(self) -> FarWarmth:
        return measure_far_warmth(self._picture, self.parts, self.division)

    @cached_property
    def values(self) -> Values:
        return measure_values(self._picture, self.families)

    @cached_property
    def masses(self) -> Masses:
        return measure_masses(self._picture)

    @cached_property
    def closed_darks(self) -> ClosedDarks:
        return measure_closed_darks(self._picture)

    @cached_property
    def bare_sky(self) -> BareSky:
        return measure_bare_sky(self._picture, self.parts)

    @cached_property
    def division(self) -> Division:
        return measure_division(self._picture, lines=lines_of(self._picture), parts=self.parts)

    @cached_property
    def symmetry(self) -> Symmetry:
        return measure_symmetry(self._picture)

    @cached_property
    def water_level(self) -> WaterLevel:
        return measure_water_level(self._picture, self.parts, lines=lines_of(self._picture))

    @cached_property
    def edges(self) -> Edges:
        return measure_edges(self._picture)

    @cached_property
    def crispness(self) -> Crispness:
        return measure_crispness(self._picture)

    @cached_property
    def ruled(self) -> Ruled:
        return measure_ruled(self._picture)

    @cached_property
    def outlines(self) -> Outlines:
        return measure_outlines(self._picture)

    @cached_property
    def pale_rims(self) -> PaleRims:
        return measure_pale_rims(self._picture, self.parts)

    @cached_property
    def detail(self) -> Detail:
        return measure_detail(self._picture)

    @cached_property
    def even_foreground(self) -> EvenForeground:
        return measure_even_foreground(self._picture, self.parts)

    @cached_property
    def eyepath(self) -> EyePath:
        return measure_eyepath(self._picture, self.parts)

    @cached_property
    def two_lights(self) -> TwoLights:
        return measure_two_lights(self._picture, self.parts)

    @cached_property
    def middle_thing(self) -> MiddleThing:
        return measure_middle_thing(self._picture)

    @cached_property
    def like_row(self) -> LikeRow:
        return measure_like_row(self._picture)

    @cached_property
    def loudest(self) -> Loudest:
        return measure_loudest(self._picture)

    @cached_property
    def hue_peaks(self) -> HuePeaks:
        return measure_hue_peaks(self._picture, histogram=self._histogram)

    @cached_property
    def harmony(self) -> Harmony:
        return measure_harmony(self._picture, self.families, self._histogram)

    @cached_property
    def variety(self) -> Variety:
        return measure_variety(self._picture, self._histogram)

    @cached_property
    def cast(self) -> Cast:
        return measure_cast(self._picture, reference=reference_of(self._picture))
