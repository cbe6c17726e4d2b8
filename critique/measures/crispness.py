"""Whether any edge between the masses of a picture is crisp."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.between import between_px
from critique.measures.figure import OWN, STRENGTH, Figure, rounded
from critique.measures.smoothing import Float, gaussian
from critique.perception.channels import length_of
from critique.perception.ranks import quantiles_of
from critique.photograph.limits import VIEWED_LONG_EDGE
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at

ENOUGH = 0.9  # of the viewing size: a smaller file has lost what is crisp, and nothing is said of it
COARSE = 200  # px along the long edge: where masses meet is looked for, and no stroke is seen
MELTED = 1.2  # px of those, spread of a Gaussian
APART = 4  # px of those: a square in which one edge is looked for, 2 % of the long edge
STEEP = 2.2  # L* per px of those, the same: a step of 8 L* that is soft; with less no mass ends
MOST, FEWEST = 240, 9  # edges that are looked at: the steepest; of fewer nothing is said
# px of the viewing size: a border is looked at so far to either side of its middle, and so far along it on average,
# which takes out the tracks of bristles, a weave and noise, and leaves a cut edge as it is.
ACROSS, ALONG = 12, 4
BEYOND = 5  # px of the outer ends across, whose means are the two masses; the rest is the edge and what lies near it
NARROW, OFF = 2, 5  # px either side of a crisp edge's middle; px that this may lie off the middle of the border
STEP = 8.0  # L* between the masses: with less it is no plain edge
CRISPEST = 0.9  # of the edges are less crisp: on what a tenth of them reach the eye can rest, as on a subject
CRISP = 0.75  # of the edges are less crisp: what a quarter of them reach tells whether the picture is cut out
SHOWN, WIDE = 24, 5  # edges of the greatest step, which a plate shows, and COARSE px about each
CUT, NARROWER = 0.7, 3  # of its step that a cut edge takes within 2 px; COARSE px about each that a plate shows


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class Crispness:
    """How crisp the crispest edges between masses are.

    ``found`` is the part of the step from one mass to the other that is taken within some 4 px of the viewing size:
    what a tenth of the plain edges reach. At 1 they are cut, at 0.4 the step, its tenths at both ends aside, takes a
    ninetieth of the long edge; NaN where there are too few plain edges, and in a file too small.
    ``mask`` is where the step is greatest, ``cut`` where it is taken within 2 px: (height, width) of the
    picture seen at COARSE px.
    """

    found: float
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)
    cut: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)


def measure_crispness(picture: Picture) -> Crispness:
    """Measure how much of the step at the borders of masses is taken at once, a little way along each on average."""
    nothing = Crispness(float("nan"), *(np.zeros((1, 1), dtype=np.bool_) for _ in range(2)))
    if max(picture.height, picture.width) < ENOUGH * VIEWED_LONG_EDGE:
        return nothing
    edges = _plain_edges(picture)
    if edges.y.size < FEWEST:
        return nothing
    greatest = np.argsort(-edges.step, kind="stable")[:SHOWN]
    cut = edges.taken(1) >= CUT
    return Crispness(
        quantiles_of(edges.taken(), (CRISPEST,))[0],
        _shown(picture, edges.y[greatest], edges.x[greatest], WIDE),
        _shown(picture, edges.y[cut], edges.x[cut], NARROWER),
    )


def taken_at_once(picture: Picture) -> float:
    """The part of their step (0–1) that a quarter of the plain edges take within 2 px; 0 where those are too few.

    The px are those of the picture, which in a file smaller than the viewing size are wider.
    """
    edges = _plain_edges(picture)
    return quantiles_of(edges.taken(1), (CRISP,))[0] if edges.y.size >= FEWEST else 0.0


@dataclass(frozen=True, slots=True)
class _PlainEdges:
    """Rows and columns (n) where masses meet, the L* from one to the other and on the way (n, 2 ACROSS + 1)."""

    y: Float
    x: Float
    step: Float
    profiles: Float

    def taken(self, within: int = NARROW) -> Float:
        """The part of each step that is taken within so many px of one px near its middle, the means of both sides."""
        middle = np.arange(ACROSS - OFF, ACROSS + OFF + 1)
        apart = [self.profiles[:, middle + away] - self.profiles[:, middle - away] for away in range(1, within + 1)]
        # beside a dark line or a light one more than all is taken
        return np.asarray(np.minimum(np.mean(apart, axis=0).max(axis=1) / self.step, 1))


@kept
def _plain_edges(picture: Picture) -> _PlainEdges:
    y, x, down, across = _borders(picture)
    profiles = _profiles(picture.lab[..., 0], y, x, down, across)
    step = profiles[:, -BEYOND:].mean(axis=1) - profiles[:, :BEYOND].mean(axis=1)
    plain = step >= STEP
    found = y[plain], x[plain], step[plain], profiles[plain]
    for part in found:
        part.setflags(write=False)
    return _PlainEdges(*found)


def _borders(picture: Picture) -> tuple[Float, Float, Float, Float]:
    """Rows and columns of the steepest borders between masses, px of the picture, and the way uphill across each."""
    coarse = gaussian(lab_at(picture, COARSE)[..., 0], MELTED, truncate=3)
    slopes: Float = np.array(np.gradient(coarse), dtype=np.float32)
    steepness = length_of(slopes[0], slopes[1])
    rows, columns = (length // APART for length in coarse.shape)
    squares = steepness[: rows * APART, : columns * APART].reshape(rows, APART, columns, APART)
    places = squares.transpose(0, 2, 1, 3).reshape(rows * columns, APART**2)
    within, number = places.argmax(axis=1), np.arange(rows * columns)
    y, x = number // columns * APART + within // APART, number % columns * APART + within % APART
    steep = steepness[y, x]
    scale = picture.height / coarse.shape[0], picture.width / coarse.shape[1]
    at_y, at_x = (y + 0.5) * scale[0] - 0.5, (x + 0.5) * scale[1] - 0.5
    inside = (np.minimum(at_y, picture.height - 1 - at_y) >= ACROSS) & (
        np.minimum(at_x, picture.width - 1 - at_x) >= ACROSS
    )
    some = np.flatnonzero(inside & (steep >= STEEP))
    some = some[np.argsort(-steep[some], kind="stable")[:MOST]]
    y, x, steep = y[some], x[some], steep[some]
    down, across = slopes[:, y, x] / steep
    return at_y[some].astype(np.float32), at_x[some].astype(np.float32), down, across


def _profiles(light: Float, y: Float, x: Float, down: Float, across: Float) -> Float:
    """L* across each border, from its darker mass to its lighter (borders, 2 ACROSS + 1), a px apart."""
    along, off = np.arange(-ALONG, ALONG + 1, dtype=np.float32), np.arange(-ACROSS, ACROSS + 1, dtype=np.float32)
    y, x, down, across = (part[:, None, None] for part in (y, x, down, across))
    rows = y + off * down + along[:, None] * across
    columns = x + off * across - along[:, None] * down
    return np.asarray(between_px(light, rows, columns).mean(axis=1), dtype=np.float32)


def _shown(picture: Picture, y: Float, x: Float, wide: int) -> NDArray[np.bool_]:
    """A band about each of those px, a COARSE px a place."""
    from scipy.ndimage import maximum_filter

    small = lab_at(picture, COARSE).shape
    mask = np.zeros(small[:2], dtype=np.bool_)
    rows, columns = (y + 0.5) * small[0] / picture.height, (x + 0.5) * small[1] / picture.width
    mask[rows.astype(np.intp), columns.astype(np.intp)] = True
    return np.asarray(maximum_filter(mask, wide))


FIGURES = (
    Figure(
        name="crispness.found",
        label="Crispness of the crispest edges",
        meaning="at 1 some edges are cut, below 0.6 all are soft",
        definition=(
            "The part of the step in L* between two masses that is taken within 4 px of the viewing size, on average "
            "over 9 px along their border: what a tenth of the plain borders reach."
        ),
        source=OWN,
        show=rounded(2),
        norm=True,
        worth=STRENGTH,
        jumps=False,
    ),
)
