"""Where in the picture a finding lies, for those that a part's own plate doesn't show."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.fault_limits import darks_seen_as
from critique.measures.even_foreground import NEAR
from critique.measures.eye_judging import near_edge_fault
from critique.measures.far_warmth import BAND, RUN, comes_forward
from critique.measures.measure import Measures
from critique.measures.middle_thing import middle_thing_fault

MAP = (96, 128)  # rows and columns of a map
STRETCH = (BAND[1], 0.6 * RUN)  # of the height and the width, to either side of its middle: a stretch at the horizon

EDGE = 0.025  # of the height, to either side of an edge: what is shown of it


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in the picture, as fractions of its width and height from the upper left."""

    x: float
    y: float


Where = NDArray[np.bool_] | Spot  # a mask (height, width) of whatever size, or a spot


def of_loudest(measures: Measures) -> Where:
    """The patch that shouts."""
    return measures.loudest.mask


def of_closed_darks(measures: Measures) -> Where:
    """Where the closed darks lie, or those that are heavy or one black without being closed."""
    darks = measures.closed_darks
    mask = darks.mask | darks.black_mask
    seen = darks_seen_as(darks)
    if seen == "one black":
        return darks.one_black_mask
    if seen == "heavy":
        mask = mask | (darks.depth > 0)
    return mask if mask.any() else Spot(darks.x, darks.y)


def of_bare_sky(measures: Measures) -> Where:
    """Where the sky is bare."""
    return measures.bare_sky.mask


def of_outlines(measures: Measures) -> Where:
    """Where the drawn lines run."""
    lines = measures.outlines
    return lines.mask if lines.mask.any() else Spot(lines.x, lines.y)


def of_hard_edges(measures: Measures) -> Where | None:
    """The edges that are cut; None where there are none."""
    mask = measures.crispness.cut
    return mask if mask.any() else None


def of_ruled_edges(measures: Measures) -> Where | None:
    """The edges that run ruled; None where there are none."""
    mask = measures.ruled.mask
    return mask if mask.any() else None


def of_pale_rims(measures: Measures) -> Where:
    """The bands along the outlines that are paler than the sky."""
    rims = measures.pale_rims
    return rims.mask if rims.mask.any() else Spot(rims.x, rims.y)


def of_plainest_edges(measures: Measures) -> Where | None:
    """Where the steps between masses are greatest; None where there are none."""
    mask = measures.crispness.mask
    return mask if mask.any() else None


def of_far_land(measures: Measures) -> Where:
    """The far land; where a stretch of it, or a mountain, comes forward, that."""
    land, warmth = measures.parts.mask("near", "middle", "far"), measures.far_warmth
    if comes_forward(warmth) is None:
        return measures.parts.mask("far")
    if warmth.mountain is not None:
        return warmth.mountain
    y, x = ((np.arange(size) + 0.5) / size for size in land.shape)
    around = (np.abs(y - warmth.y) <= STRETCH[0])[:, None] & (np.abs(x - warmth.x) <= STRETCH[1])
    return np.asarray(land & around) if (land & around).any() else Spot(warmth.x, warmth.y)


def of_leaning_edge(measures: Measures) -> Where | None:
    """A strip along the edge that may want to lie level; None where there is none."""
    water = measures.water_level
    y, x = ((np.arange(size) + 0.5) / size for size in MAP)
    course = water.y1 + (x - water.x1) * (water.y2 - water.y1) / max(water.x2 - water.x1, 1 / MAP[1])
    on_it = (np.abs(y[:, None] - course) <= EDGE) & (x >= water.x1) & (x <= water.x2)
    return np.asarray(on_it) if on_it.any() else None


def of_foreground(measures: Measures) -> Where:
    """The foreground, the lowest quarter."""
    return np.broadcast_to(((np.arange(MAP[0]) + 0.5) / MAP[0] >= NEAR)[:, None], MAP)


def of_two_lights(measures: Measures) -> Where:
    """Both lights."""
    return measures.two_lights.mask


def of_near_edge(measures: Measures) -> Where | None:
    """What stands so near an edge; None where nothing does."""
    found = near_edge_fault(measures.eyepath)
    if found is None:
        return None
    return found.thing.mask if found.thing is not None else Spot(found.x, found.y)


def of_like_row(measures: Measures) -> Where:
    """The things of the row."""
    return measures.like_row.mask


def of_middle_thing(measures: Measures) -> Where | None:
    """What takes the very middle to itself by its size; None where that is the focal place."""
    thing = measures.middle_thing
    return thing.mask if middle_thing_fault(thing) is not None else None
