"""What a changed picture measures: each measure is taken when it is first asked for, or not at all."""

from collections.abc import Callable, Mapping
from dataclasses import fields
from functools import lru_cache, partial
from typing import Any, cast

from critique.measures.bare_sky import measure_bare_sky
from critique.measures.cast import measure_cast
from critique.measures.closed_darks import measure_closed_darks
from critique.measures.detail import measure_detail
from critique.measures.division import measure_division
from critique.measures.edges import measure_edges
from critique.measures.eyepath import measure_eyepath
from critique.measures.families import Family, measure_families
from critique.measures.far_warmth import measure_far_warmth
from critique.measures.green_kinds import measure_green_kinds
from critique.measures.greens import measure_greens
from critique.measures.harmony import measure_harmony
from critique.measures.histogram import ColourHistogram, picture_histogram
from critique.measures.hue_peaks import measure_hue_peaks
from critique.measures.land_distance import measure_land_distance
from critique.measures.loudest import measure_loudest
from critique.measures.masses import how_gathered
from critique.measures.measure import Measures
from critique.measures.middle_thing import measure_middle_thing
from critique.measures.neighbours import measure_neighbours
from critique.measures.parts import Parts, measure_parts
from critique.measures.two_lights import measure_two_lights
from critique.measures.values import measure_values
from critique.measures.variety import measure_variety
from critique.picture.picture import Picture

PLACES_STAY = 15.0  # L*: a change that moves no place by more leaves the sky, the land and the water where they are
DRAWN_OTHERWISE = 1.0  # L*: a change that moves no value farther leaves masses, darks, edges and touch as they are

# Measured with the help of others, which may be as before in one case and not in another.
HANGS_ON_OTHERS = {"values", "families", "neighbours", "harmony", "far_warmth"}


class _Remeasured:
    """Stands for ``Measures``: what a change can't have moved is as before, the rest is measured when asked for."""

    def __init__(self, before: Measures, makers: Mapping[str, Callable[[Measures], Any]]) -> None:
        self._before, self._makers = before, makers

    def __getattr__(self, name: str) -> Any:  # asked only for what isn't there yet
        if name.startswith("_"):
            raise AttributeError(name)
        maker = self._makers.get(name)
        found = maker(cast(Measures, self)) if maker is not None else getattr(self._before, name)
        setattr(self, name, found)
        return found

    @property
    def measured(self) -> frozenset[str]:
        """What is measured of the picture itself, and not as before."""
        return frozenset(self._makers)

    def __reduce__(self) -> tuple[type[Measures], tuple[Any, ...]]:
        """Travels to other processes as plain measures, all of them taken: an aim does, with its review."""
        return Measures, tuple(getattr(self, field.name) for field in fields(Measures))


def remeasured(
    picture: Picture,
    before: Measures,
    *,
    moved: float,
    redrawn: bool = False,
    regrouped: bool = False,
    families: tuple[Family, ...] | None = None,
    same: Measures | None = None,
) -> Measures:
    """The measures of a picture after a change that moved L* by ``moved`` at most; ``before`` are those without it.

    A change of colour leaves the drawing where it is: the division and the eye path are sought again only in a picture
    that is ``redrawn`` (cropped, or changed in value or in one place). Regions of the masses stay in any case: nothing
    is judged by them. Families, and what is said of them, stay as they
    are unless it is ``regrouped``; ``families`` are what they become, where that is known. ``same`` are those of the very
    same colours, reached by steps: what was measured of them need not be measured again.
    """

    @lru_cache(maxsize=1)
    def histogram() -> ColourHistogram:
        return picture_histogram(picture)

    makers: dict[str, Callable[[Measures], Any]] = {
        "greens": lambda measures: measure_greens(picture),
        "green_kinds": lambda measures: measure_green_kinds(picture),
        "values": lambda measures: measure_values(picture, measures.families),
        "land_distance": lambda measures: measure_land_distance(picture, measures.parts),
        "far_warmth": lambda measures: measure_far_warmth(picture, measures.parts, before.division),
        "loudest": lambda measures: measure_loudest(picture),
        "hue_peaks": lambda measures: measure_hue_peaks(picture, histogram=histogram()),
        "cast": lambda measures: measure_cast(picture, reference=before.cast.reference),
    }
    if moved > DRAWN_OTHERWISE:
        makers["masses"] = lambda measures: how_gathered(picture).with_regions_of(before.masses)
        makers["closed_darks"] = lambda measures: measure_closed_darks(picture)
        makers["bare_sky"] = lambda measures: measure_bare_sky(picture, before.parts)
        makers["edges"] = lambda measures: measure_edges(picture)
        makers["detail"] = lambda measures: measure_detail(picture)
        makers["two_lights"] = lambda measures: measure_two_lights(picture, before.parts)
        makers["middle_thing"] = lambda measures: measure_middle_thing(picture)
    if regrouped:
        makers["families"] = lambda measures: families or measure_families(picture)
        makers["neighbours"] = lambda measures: measure_neighbours(picture, measures.families)
        makers["harmony"] = lambda measures: measure_harmony(picture, measures.families, histogram())
        makers["variety"] = lambda measures: measure_variety(picture, histogram())
    if redrawn:

        @lru_cache(maxsize=1)
        def parts() -> Parts:
            return before.parts if moved <= PLACES_STAY else measure_parts(picture)

        makers["division"] = lambda measures: measure_division(picture, parts=parts())
        makers["eyepath"] = lambda measures: measure_eyepath(picture, parts())
    if isinstance(same, _Remeasured):
        for name in same.measured & makers.keys() - HANGS_ON_OTHERS:
            makers[name] = partial(_of_other, same, name)
    return cast(Measures, _Remeasured(before, makers))


def _of_other(same: Measures, name: str, measures: Measures) -> Any:
    return getattr(same, name)
