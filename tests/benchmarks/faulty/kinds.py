"""Which faults there are, how each is made in two ways, into which pictures, and which findings name it."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from faulty import other_greens, other_shapes, other_things, other_values
from faulty.borders import dabbed_rims, pale_rims, skyline_parts
from faulty.colour import colour_cast, dead_colour, garish_colour, warm_far_hills
from faulty.composition import (
    bar_at_edge,
    bulls_eye,
    edge_pull,
    halved,
    mirror_symmetry,
    subject_near_edge,
    two_lights,
    water_downhill,
)
from faulty.edges import black_outlines, busy_foreground, equal_flecks, hard_edges
from faulty.greens import acid_green, green_cast, one_flat_green, raw_blue_green
from faulty.hand import Float, Severity, coordinates, foliage_mask, sky_mask
from faulty.softness import dragged_soft, soft_all_over
from faulty.source import Source
from faulty.values import bare_sky, closed_darks, flat_values, scattered_values

Generator = Callable[[Source, Severity, np.random.Generator], Float]


@dataclass(frozen=True, slots=True)
class Fault:
    """``named_by`` are ids or subjects of findings that, at `watch` or `rework`, name the fault.

    ``other`` makes it in another way, for whoever fears that a finding knows the first one's handwriting.
    """

    make: Generator
    other: Generator
    named_by: tuple[str, ...]
    fits: Callable[[Source], bool] = lambda source: True
    other_fits: Callable[[Source], bool] | None = None  # None where it fits into the same pictures


def leafy(source: Source) -> bool:
    """Enough grass and leaves to spoil."""
    return float(foliage_mask(source.lab, source.line).mean()) > 0.15


def shady(source: Source) -> bool:
    """Enough shadow to fill in."""
    return float((source.lab[..., 0] < 42).mean()) > 0.2


def dark_under_sky(source: Source) -> bool:
    """Enough open sky, over a picture that isn't all in light tones."""
    sky = sky_mask(source.lab, source.line) > 0.5
    if sky.mean() < 0.12:
        return False
    return float(np.median(source.lab[..., 0])) < 55 and float(np.percentile(source.lab[..., 0][~sky], 95)) < 78


def light_enough(source: Source) -> bool:
    """A black line shows in it."""
    return float(np.median(source.lab[..., 0])) > 28


def any_picture(source: Source) -> bool:
    """A meadow can be laid into it."""
    return True


def croppable(source: Source) -> bool:
    """A crop that brings the line to the middle leaves most of it."""
    return source.straight and 0.4 < source.line < 0.76


def room_for_hills(source: Source) -> bool:
    """Enough open air over the line for hills to be seen there."""
    y, _ = coordinates(source.lab)
    over_line = (y > source.line - 0.09) & (y < source.line)
    open_air = (sky_mask(source.lab, source.line) * over_line).mean() > 0.025
    return bool(open_air) and source.sky >= 0.2 and 0.25 < source.line < 0.8


# Looked at, turned by three degrees and by five: the feet of a bridge, banks that come nearer and a foot of rocks still
# look as they should, for there is no far edge to be seen. Nobody could name a fault there.
NO_FAR_EDGE = ("017.jpg", "024.jpg", "057.jpg")


def watery(source: Source) -> bool:
    """A straight stretch of water with a far edge that is seen."""
    return source.water >= 0.12 and source.straight and source.name not in NO_FAR_EDGE


FAULTS: dict[str, Fault] = {
    "halved": Fault(halved, other_shapes.halved, ("halving",), lambda source: source.straight, croppable),
    "acid green": Fault(acid_green, other_greens.acid_green, ("green strength",), leafy, any_picture),
    "raw blue green": Fault(raw_blue_green, other_greens.raw_blue_green, ("green strength",), leafy, any_picture),
    "one flat green": Fault(one_flat_green, other_greens.one_flat_green, ("evenness of greens",), leafy, any_picture),
    "flat values": Fault(flat_values, other_values.flat_values, ("value range",)),
    "green cast": Fault(green_cast, other_values.green_cast, ("green cast",)),
    "colour cast": Fault(colour_cast, other_values.colour_cast, ("colour cast",)),
    "edge pull": Fault(edge_pull, other_things.edge_pull, ("pull at an edge", "subject near an edge")),
    "bar at an edge": Fault(bar_at_edge, other_things.bar_at_edge, ("pull at an edge", "subject near an edge")),
    "bull's-eye": Fault(bulls_eye, other_things.bulls_eye, ("bull's-eye",)),
    "subject near an edge": Fault(
        subject_near_edge, other_things.subject_near_edge, ("subject near an edge", "pull at an edge")
    ),
    "two lights": Fault(two_lights, other_things.two_lights, ("competing places", "two lights")),
    "scattered values": Fault(scattered_values, other_values.scattered_values, ("value masses", "scattered values")),
    "garish colour": Fault(garish_colour, other_values.garish_colour, ("loudest colour",)),
    "water downhill": Fault(water_downhill, other_shapes.water_downhill, ("level water",), watery),
    "black outlines": Fault(black_outlines, other_shapes.black_outlines, ("outlines",), light_enough),
    "dead colour": Fault(dead_colour, other_values.dead_colour, ("dead colour", "run of colours")),
    "mirror symmetry": Fault(mirror_symmetry, other_shapes.mirror_symmetry, ("left like right",)),
    "warm far hills": Fault(
        warm_far_hills, other_values.warm_far_hills, ("distance", "distance in the land"), room_for_hills
    ),
    "equal flecks": Fault(equal_flecks, other_shapes.equal_flecks, ("equal flecks",)),
    "busy foreground": Fault(busy_foreground, other_shapes.busy_foreground, ("busy foreground",)),
    "closed darks": Fault(closed_darks, other_values.closed_darks, ("closed darks",), shady),
    "bare sky": Fault(bare_sky, other_values.bare_sky, ("bare white sky",), dark_under_sky),
    "hard edges": Fault(hard_edges, other_shapes.hard_edges, ("hard edges",)),
    "soft all over": Fault(soft_all_over, dragged_soft, ("soft edges",)),
    "pale rims": Fault(pale_rims, dabbed_rims, ("pale rims",), skyline_parts),
}
