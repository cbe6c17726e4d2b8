"""Whether a picture's edges are hard everywhere, or lost in places and found in others."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.crispness import taken_at_once
from critique.measures.figure import OWN, STRENGTH, Figure, rounded
from critique.measures.smoothing import gaussian, means_at
from critique.perception.channels import length_of
from critique.picture.picture import Picture, lab_at

VIEW = 640  # px along the long edge
FINE = 1.6  # px, spread of a Gaussian: the grain of a scan, and what every saving of a file changes, lie below it
PLACE = 0.0313  # of the long edge, 20 px: what lies beside an edge, and the edge; the same to FINE as 15 to 1.2
STILL = 0.3  # L* per px, root mean square: a place with less slope is empty and says nothing of edges
SEEN = 0.8  # L* per px, the same: with less there is no edge that one sees across a room; the dabs of a sky lie below
FEWEST = 40  # such places: of fewer nothing is said
FOUND, LOST = 0.70, 0.86  # softness below which a place holds a found edge, above which a lost one; our choice


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """How hard the edges of value are.

    ``softness`` is the mean slope of a place against its root mean square, on average over all places where an edge is
    seen: 1 on an even slope, high where change is spread out by blended paint or by touch, low where the paint lies
    flat and all change sits in a cut edge. ``seen`` is the share of the picture (0–1) that those places take, ``found``
    the share of them with hard edges. ``lost`` is the share with soft ones of all places that aren't empty: what melts
    is faint. ``at_once`` is the part of their step (0–1) that a quarter of the plain borders between masses take within
    2 px: 1 where they are cut.
    """

    softness: float
    found: float
    lost: float
    seen: float
    at_once: float
    map: NDArray[np.float32] = field(metadata={"record": False}, repr=False)  # softness of each place; 1 where empty


def measure_edges(picture: Picture) -> Edges:
    """Measure how hard the edges of value are, by how flat the paint lies beside them."""
    light = lab_at(picture, VIEW)[..., 0]
    if min(light.shape) < 3:
        return Edges(1.0, 0.0, 0.0, 0.0, 0.0, np.ones((1, 1), dtype=np.float32))
    size = max(3, round(PLACE * max(light.shape)) | 1)
    start, skip = size // 8, max(1, size // 4)
    slope = length_of(*np.gradient(gaussian(light, FINE)))
    mean, square = (means_at(values, size, start, skip) for values in (slope, np.square(slope)))
    full, plain = square > STILL**2, square > SEEN**2
    softness = np.where(full, mean / np.sqrt(np.maximum(square, STILL**2)), 1).astype(np.float32)
    seen = float(plain.mean())
    lost = float((softness[full] > LOST).mean()) if full.sum() >= FEWEST else 0.0
    if plain.sum() < FEWEST:
        return Edges(1.0, 0.0, lost, seen, 0.0, softness)
    places, at_once = softness[plain], taken_at_once(picture)
    return Edges(float(places.mean(dtype=np.float64)), float((places < FOUND).mean()), lost, seen, at_once, softness)


FIGURES = (
    Figure(
        name="edges.softness",
        label="Softness of the edges",
        meaning="1 has no hard edge, below 0.7 all is cut out",
        definition="Mean slope of L* in a place over its root mean square, the mean of all places with an edge.",
        source=OWN,
        show=rounded(2),
        norm=True,
        worth=STRENGTH,
        jumps=False,
    ),
)
