"""Whether shapes are drawn round with dark lines."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.figure import OWN, PULL, Figure, rounded
from critique.measures.finely_seen import fine_planes
from critique.measures.parts import measure_parts
from critique.measures.rising import rising
from critique.measures.smoothing import Float, gaussian, gaussian_planes
from critique.perception.channels import length_of, over_channels
from critique.picture.picture import Picture

LINE = 0.0028  # of the long edge: spread of the thinnest line that a brush draws round a shape, 2 px
REACH = 0.010  # of the long edge from the line to what lies on either side of it
SMOOTH = 0.002  # of the long edge: what one side is averaged over
# Each from where nothing is a line to where everything is, so that none is by a hair.
CURVED = (0.8, 1.6)  # L* per px²: how much darker than its sides, as curvature
LINEAR = (0.62, 0.38)  # of the curvature across: more along the line, and it is a spot
DARK = (51.0, 39.0)  # L*: a lighter line isn't an outline; a thin black one dries no lighter over white
# A line of two px between clouds and sky is seen no darker than that, and is black to anyone: then it need only be so
# much darker (L*) than the shapes on both its sides.
BETWEEN_LIGHTS, FAR_DEEPER = 74.0, (13.0, 20.0)
DEEPER = (7.0, 13.0)  # L* by which it is darker than both its sides
SIDES_DIFFER = (8.0, 16.0)  # ΔE*ab between its sides: a branch has the same sky on both, a border has two shapes
LONG = (0.02, 0.07)  # of the long edge: a shorter piece is a leaf, a blade or a shadow
RIPPLE = 0.1  # of the long edge: in water a shorter dark stroke is a ripple or a reflection
# Of all lines: up to the first such strokes are counted as lines, from the second on none of them is.
MOSTLY_RIPPLES = (0.25, 0.45)
NEAR = 0.2  # of the sides about the middle of the lines: how much of them lies there tells whether that is their place
IN_ONE_PLACE = 0.6  # of the lines; our choice
SHOWN = 0.012  # of the long edge to both sides of a line, where a plate shows it
A_TWIG = 0.05  # long edges in all: so little of it is nobody's outline, and isn't counted


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class Outlines:
    """Dark lines between two shapes: ``length`` in long edges of the picture, the middle of them (0–1) and how dark.

    ``one_way`` is how far they all run in one direction (0–1): 0 round a shape, 1 along the waves of a sea.
    ``ripples`` is what of the length is short strokes in water, where many are, ``gathered`` the part of the lines
    (0–1) about their middle, ``mask`` (height, width) where they run.
    """

    length: float
    x: float
    y: float
    lightness: float  # mean L* of the lines; 0 where there are none
    one_way: float
    ripples: float
    gathered: float
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)

    @property
    def drawn(self) -> float:
        """Long edges of line that may go round shapes: what is no ripple."""
        return self.length - self.ripples

    @property
    def in_one_place(self) -> bool:
        """Whether most lines lie about their middle, so that it tells where they are."""
        return self.gathered >= IN_ONE_PLACE


def measure_outlines(picture: Picture) -> Outlines:
    """Measure the length of dark lines that run along borders.

    Ridges of L* by the eigenvalues of the Hessian, thinned to their crest. [Steger, An Unbiased Detector of
    Curvilinear Structures, PAMI 1998, for the crest; Frangi et al., 1998, for line against spot]
    """
    from scipy.ndimage import label, maximum_filter

    planes = fine_planes(picture)
    height, width = planes.shape[1:]
    long_edge = max(height, width)
    y, x, lightness, sure, angle = _lines(planes, long_edge)
    lines = np.zeros((height, width), dtype=bool)
    lines[y, x] = True
    piece = label(lines, np.ones((3, 3)))[0][y, x]
    long = np.bincount(piece, weights=sure)[piece] / long_edge
    counted = sure * rising(long, LONG)
    total = float(counted.sum(dtype=np.float64))
    if total <= A_TWIG * long_edge:
        return Outlines(0.0, 0.5, 0.5, 0.0, 0.0, 0.0, 0.0, np.zeros_like(lines))
    across, down = float(counted @ x) / total, float(counted @ y) / total
    away = np.hypot((x - across) / width, (y - down) / height)
    in_water = _in_water(picture, (height, width), y, x) & (long < RIPPLE)
    length, rippled = total / long_edge - A_TWIG, float(counted @ in_water) / total
    lines[y, x] = counted > 0
    return Outlines(
        length=length,
        x=(across + 0.5) / width,
        y=(down + 0.5) / height,
        lightness=float(counted @ lightness) / total,
        one_way=float(abs(counted @ np.exp(2j * angle))) / total,
        ripples=length * rippled * float(rising(np.array(rippled), MOSTLY_RIPPLES)),
        gathered=float(counted @ (away < NEAR)) / total,
        mask=maximum_filter(lines, 2 * round(SHOWN * long_edge) + 1),
    )


def _in_water(picture: Picture, size: tuple[int, int], y: NDArray[np.intp], x: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Whether each of the px (y, x) of a frame of that size lies in the water, where there is any."""
    water = measure_parts(picture).mask("water")
    return np.asarray(water[y * water.shape[0] // size[0], x * water.shape[1] // size[1]])


def _lines(
    planes: Float, long_edge: int
) -> tuple[NDArray[np.intp], NDArray[np.intp], Float, NDArray[np.float64], NDArray[np.floating]]:
    """Rows, columns and L* of px along the crests of dark lines that part two shapes, how much of a line each is, and
    the angle across it.

    A px counts by how near the crest passes it, from 1 to 0 within a px: those across a line then count as one at any
    slant, and the crest's length is that of the line.
    """
    from scipy.ndimage import map_coordinates

    light, spread = planes[0], max(LINE * long_edge, 0.7)
    down = gaussian(light, spread, order=(2, 0), truncate=3)
    across = gaussian(light, spread, order=(0, 2), truncate=3)
    both = gaussian(light, spread, order=(1, 1), truncate=3)
    middle, swing = (down + across) / 2, length_of((across - down) / 2, both)
    curvature = middle + swing
    y, x = np.nonzero((curvature > CURVED[0]) & (np.abs(middle - swing) < LINEAR[0] * curvature))
    angle = 0.5 * np.arctan2(2 * both[y, x], across[y, x] - down[y, x])  # across the line
    step_x, step_y = np.cos(angle), np.sin(angle)

    def at(field: NDArray[np.floating], away: float, kept: NDArray[np.intp] | slice) -> NDArray[np.float32]:
        where = [(y + away * step_y)[kept], (x + away * step_x)[kept]]
        return np.asarray(map_coordinates(field, where, order=1, mode="nearest"), dtype=np.float32)

    before, after, top = at(curvature, -1, slice(None)), at(curvature, 1, slice(None)), curvature[y, x]
    bend = before - 2 * top + after  # of the parabola through three of them, whose top is the crest
    off = np.where(bend < 0, np.abs(before - after) / 2 / np.maximum(-bend, 1e-6), 1.0)
    crest = np.flatnonzero(off < 1)
    lightness = at(gaussian(light, 0.0015 * long_edge), 0, crest)
    crest, lightness = crest[lightness < BETWEEN_LIGHTS], lightness[lightness < BETWEEN_LIGHTS]

    def sides(channels: slice) -> NDArray[np.float32]:
        """Colours to both sides of what is left of the lines (2, channels, n)."""
        smooth = gaussian_planes(planes[channels], SMOOTH * long_edge, truncate=3)
        return np.array([[at(plane, way * REACH * long_edge, crest) for plane in smooth] for way in (-1, 1)])

    # Most pictures have few dark lines: their sides' hue is looked at only where there are any.
    lights = sides(np.s_[:1])
    deeper = np.minimum(lights[0, 0], lights[1, 0]) - lightness
    deep = deeper > DEEPER[0]
    crest, lightness, deeper = crest[deep], lightness[deep], deeper[deep]
    if not crest.size:
        return y[crest], x[crest], lightness, np.zeros(0), angle[crest]
    one, other = np.concatenate([lights[..., deep], sides(np.s_[1:])], axis=1)
    apart = np.sqrt(over_channels(np.square(one - other).T))
    y, x, angle = y[crest], x[crest], angle[crest]
    sure = (1 - off[crest]) * rising(curvature[y, x], CURVED)
    sure *= rising(np.abs(middle - swing)[y, x] / curvature[y, x], LINEAR)
    dark = np.maximum(rising(lightness, DARK), rising(deeper, FAR_DEEPER))
    sure *= dark * rising(deeper, DEEPER) * rising(apart, SIDES_DIFFER)
    outline = sure > 0
    return y[outline], x[outline], lightness[outline], sure[outline], angle[outline]


FIGURES = (
    Figure(
        name="outlines.length",
        label="Dark outlines",
        meaning="how far dark lines run round the shapes",
        definition="Length of dark ridges of L* that part two shapes, in long edges of the picture, less a twig's.",
        source=OWN,
        show=rounded(2),
        norm=True,
        worth=PULL,
        jumps=True,
    ),
)
