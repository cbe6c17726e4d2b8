"""Whether shapes are drawn round with dark lines."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.figure import OWN, PULL, Figure, rounded
from critique.measures.finely_seen import fine_planes
from critique.measures.smoothing import Float, gaussian, gaussian_planes
from critique.perception.channels import over_channels
from critique.picture.picture import Picture

LINE = 0.0028  # of the long edge: spread of the thinnest line that a brush draws round a shape, 2 px
REACH = 0.010  # of the long edge from the line to what lies on either side of it
SMOOTH = 0.002  # of the long edge: what one side is averaged over
CURVED = 1.2  # L* per px²: the least that a line is darker than its sides, as curvature
LINEAR = 0.5  # of the curvature across: more along the line, and it is a spot
DARK = 45.0  # L*: a line lighter than this isn't an outline; a thin black one dries no lighter over white
DEEPER = 10.0  # L* by which it is darker than both its sides
SIDES_DIFFER = 12.0  # ΔE*ab between its sides: a branch has the same sky on both, a border has two shapes
LONG = 0.04  # of the long edge: a shorter piece is a leaf, a blade or a shadow


@dataclass(frozen=True, slots=True)
class Outlines:
    """Dark lines between two shapes: ``length`` in long edges of the picture, ``middle`` of them (0–1) and how dark."""

    length: float
    x: float
    y: float
    lightness: float  # mean L* of the lines; 0 where there are none


def measure_outlines(picture: Picture) -> Outlines:
    """Measure the length of dark lines that run along borders.

    Ridges of L* by the eigenvalues of the Hessian, thinned to their crest. [Steger, An Unbiased Detector of
    Curvilinear Structures, PAMI 1998, for the crest; Frangi et al., 1998, for line against spot]
    """
    from scipy.ndimage import label

    planes = fine_planes(picture)
    height, width = planes.shape[1:]
    long_edge = max(height, width)
    y, x, lightness = _lines(planes, long_edge)
    lines = np.zeros((height, width), dtype=bool)
    lines[y, x] = True
    pieces, number = label(lines, np.ones((3, 3)))
    if number == 0:
        return Outlines(0.0, 0.5, 0.5, 0.0)
    size = np.bincount(pieces.ravel())
    long_ones = size[pieces[y, x]] > LONG * long_edge
    if not long_ones.any():
        return Outlines(0.0, 0.5, 0.5, 0.0)
    return Outlines(
        length=float(long_ones.sum()) / long_edge,
        x=float((x[long_ones].mean() + 0.5) / width),
        y=float((y[long_ones].mean() + 0.5) / height),
        lightness=float(lightness[long_ones].mean()),
    )


def _lines(planes: Float, long_edge: int) -> tuple[NDArray[np.intp], NDArray[np.intp], Float]:
    """Rows, columns and L* of the crests of dark lines that part two shapes."""
    from scipy.ndimage import map_coordinates

    light, spread = planes[0], max(LINE * long_edge, 0.7)
    down = gaussian(light, spread, order=(2, 0), truncate=3)
    across = gaussian(light, spread, order=(0, 2), truncate=3)
    both = gaussian(light, spread, order=(1, 1), truncate=3)
    middle, swing = (down + across) / 2, np.hypot((across - down) / 2, both)
    curvature = middle + swing
    y, x = np.nonzero((curvature > CURVED) & (np.abs(middle - swing) < LINEAR * curvature))
    angle = 0.5 * np.arctan2(2 * both[y, x], across[y, x] - down[y, x])  # across the line
    step_x, step_y = np.cos(angle), np.sin(angle)

    def at(field: NDArray[np.floating], away: float, kept: NDArray[np.intp] | slice) -> NDArray[np.float32]:
        where = [(y + away * step_y)[kept], (x + away * step_x)[kept]]
        return np.asarray(map_coordinates(field, where, order=1, mode="nearest"), dtype=np.float32)

    crest = np.flatnonzero(curvature[y, x] >= np.maximum(at(curvature, 1, slice(None)), at(curvature, -1, slice(None))))
    lightness = at(gaussian(light, 0.0015 * long_edge), 0, crest)
    crest, lightness = crest[lightness < DARK], lightness[lightness < DARK]

    def sides(channels: slice) -> NDArray[np.float32]:
        """Colours to both sides of what is left of the lines (2, channels, n)."""
        smooth = gaussian_planes(planes[channels], SMOOTH * long_edge, truncate=3)
        return np.array([[at(plane, way * REACH * long_edge, crest) for plane in smooth] for way in (-1, 1)])

    # Most pictures have few dark lines: their sides' hue is looked at only where there are any.
    lights = sides(np.s_[:1])
    deep = np.minimum(lights[0, 0], lights[1, 0]) - lightness > DEEPER
    crest, lightness = crest[deep], lightness[deep]
    if not crest.size:
        return y[crest], x[crest], lightness
    one, other = np.concatenate([lights[..., deep], sides(np.s_[1:])], axis=1)
    apart = np.sqrt(over_channels(np.square(one - other).T))
    outline = apart > SIDES_DIFFER
    return y[crest[outline]], x[crest[outline]], lightness[outline]


FIGURES = (
    Figure(
        name="outlines.length",
        label="Dark outlines",
        meaning="how far dark lines run round the shapes",
        definition="Length of dark ridges of L* that part two shapes, in long edges of the picture.",
        source=OWN,
        show=rounded(2),
        norm=True,
        worth=PULL,
        jumps=True,
    ),
)
