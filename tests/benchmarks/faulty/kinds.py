"""Which faults there are, which pictures each can be put into, and which findings name it."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from faulty.colour import dead_colour, garish_colour, warm_far_hills
from faulty.composition import (
    bulls_eye,
    edge_pull,
    halved,
    mirror_symmetry,
    subject_near_edge,
    two_lights,
    water_downhill,
)
from faulty.edges import black_outlines, busy_foreground, equal_flecks, hard_edges
from faulty.greens import acid_green, green_cast, one_flat_green
from faulty.hand import Float, Severity, foliage_mask
from faulty.source import Source
from faulty.values import closed_darks, flat_values, scattered_values

Generator = Callable[[Source, Severity, np.random.Generator], Float]


@dataclass(frozen=True, slots=True)
class Fault:
    """``named_by`` are ids or subjects of findings that, at `watch` or `rework`, name the fault."""

    make: Generator
    named_by: tuple[str, ...]
    fits: Callable[[Source], bool] = lambda source: True


def leafy(source: Source) -> bool:
    """Enough grass and leaves to spoil."""
    return float(foliage_mask(source.lab, source.line).mean()) > 0.15


def shady(source: Source) -> bool:
    """Enough shadow to fill in."""
    return float((source.lab[..., 0] < 42).mean()) > 0.2


def light_enough(source: Source) -> bool:
    """A black line shows in it."""
    return float(np.median(source.lab[..., 0])) > 28


def watery(source: Source) -> bool:
    """A straight stretch of water with a far edge."""
    return source.water >= 0.12 and source.straight


FAULTS: dict[str, Fault] = {
    "halved": Fault(halved, ("halving",), lambda source: source.straight),
    "acid green": Fault(acid_green, ("green strength",), leafy),
    "one flat green": Fault(one_flat_green, ("evenness of greens",), leafy),
    "flat values": Fault(flat_values, ("value range",)),
    "green cast": Fault(green_cast, ("green cast",)),
    "edge pull": Fault(edge_pull, ("pull at an edge", "subject near an edge")),
    "bull's-eye": Fault(bulls_eye, ("bull's-eye",)),
    "subject near an edge": Fault(subject_near_edge, ("subject near an edge", "pull at an edge")),
    "two lights": Fault(two_lights, ("competing places",)),
    "scattered values": Fault(scattered_values, ("value masses", "scattered values")),
    "garish colour": Fault(garish_colour, ("loudest colour",)),
    "water downhill": Fault(water_downhill, ("level water",), watery),
    "black outlines": Fault(black_outlines, ("outlines",), light_enough),
    "dead colour": Fault(dead_colour, ("dead colour", "run of colours")),
    "mirror symmetry": Fault(mirror_symmetry, ("left like right",)),
    "warm far hills": Fault(
        warm_far_hills,
        ("distance", "distance in the land"),
        lambda source: source.sky >= 0.2 and 0.25 < source.line < 0.8,
    ),
    "equal flecks": Fault(equal_flecks, ("equal flecks",)),
    "busy foreground": Fault(busy_foreground, ("busy foreground",)),
    "closed darks": Fault(closed_darks, ("closed darks",), shady),
    "hard edges": Fault(hard_edges, ("hard edges",)),
}
