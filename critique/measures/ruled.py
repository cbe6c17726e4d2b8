"""Do the edges of the masses run ruled: straight, and as sharp all along as if they were cut with a knife?"""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from critique.alike import by_value
from critique.measures.between import between_px
from critique.measures.crispness import COARSE, ENOUGH, MELTED
from critique.measures.figure import OWN, STRENGTH, Figure, rounded
from critique.measures.smoothing import Float, gaussian
from critique.perception.channels import length_of
from critique.photograph.limits import VIEWED_LONG_EDGE
from critique.picture.picture import Picture, lab_at

FINE, ABOUT = 1.0, 2.5  # px of the viewing size, spread of a Gaussian: under the slopes, and under their direction
STEEP = 1.5  # L* per px of those slopes: with less no edge is looked at
# L* per px of COARSE, seen so small that no stroke is left: with less two masses don't meet there, whatever the track
# of a bristle does.
OF_MASSES = 3.0
SQUARE = 3  # px: of each square of these the steepest px is looked at
BESIDE, BEYOND = 1.5, 4  # px off: no steeper than the edge itself; and by how far across its step is guessed first
GUESSED = 3.0  # L* of that
# Px to either side along an edge, 2 % of the long edge in all: over a row of such places a hand wavers. What is cut out
# has short sides and many corners.
HALF = 7
WHOLE = np.arange(-HALF, HALF + 1, dtype=np.float32)  # px along, the whole run
# Px along, near by, where it is seen whether a line is worth looking for: L*, and of the step, taken there at least.
NEAR_BY = np.array((-5, 0, 5), dtype=np.float32)
SOME_STEP, SOME_AT_ONCE = 6.0, 0.55
SIDE = 4  # px across in which the line is looked for
TURNS = tuple(np.tan(np.radians(turn)) for turn in range(-9, 10, 3))  # px across per px along: lines that are tried
SHIFTS = (-1, 0, 1)  # px across, the same
# Px to either side, and along, whose means are what meets there.
FOOT, FOOT_ALONG = (3, 4, 5), np.arange(-HALF, HALF + 1, 2, dtype=np.float32)
STEP = 8.0  # L* from one side to the other: with less it is no plain edge
# Of the step: taken between one px before the line and one beyond it. Where a dark line is drawn along the edge, or a
# light one, more than all is, and it is an outline.
AT_ONCE, OUTLINED = 0.8, 1.15
EVEN, ALL_ALONG = 0.5, 0.85  # of what is taken on average: taken anew at each px, along so much of the run
LEVEL = 8.0  # degrees from level and plumb: shores, walls and posts are ruled by nature
RUN = 4  # such squares in a row: of fewer it is a stroke or a twig, not the side of a mass
FEWEST = 3.0  # long edges of plain edges: of fewer nothing is said, since one ridge of a dune is a good part of them
SHOWN = 5  # px about each place that a plate shows


@by_value
@dataclass(frozen=True, slots=True, eq=False)
class Ruled:
    """How much of the edges of masses runs ruled.

    ``share`` is the part (0–1) of the plain edges, those level and plumb aside, that runs straight and equally sharp
    over 2 % of the long edge about each place, and 4 % in a row; 0 where there are few, NaN in a file too small. ``x``
    and ``y`` (0–1) are the middle of the longest row of them, ``mask`` (height, width) is where all lie.
    """

    share: float
    x: float
    y: float
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)


@dataclass(frozen=True, slots=True)
class _Edges:
    """Places (n) on edges, rows and columns, and the way across each from dark to light, down and across."""

    y: Float
    x: Float
    down: Float
    across: Float

    def sampled(self, plane: Float, along: Float, off: Float) -> Float:
        """The plane so many px along and off each, (n, along, off)."""
        y, x, down, across = (part[:, None, None] for part in (self.y, self.x, self.down, self.across))
        along = along[:, None]
        return between_px(plane, y + off * down + along * across, x + off * across - along * down)

    def off(self, plane: Float, away: float) -> Float:
        """The plane so many px toward the light from each, (n)."""
        return between_px(plane, self.y + away * self.down, self.x + away * self.across)

    def of(self, chosen: NDArray[np.bool_]) -> "_Edges":
        return _Edges(self.y[chosen], self.x[chosen], self.down[chosen], self.across[chosen])

    def with_those(self, chosen: NDArray[np.bool_], others: "_Edges") -> "_Edges":
        """These, with ``others`` in the place of the chosen."""
        parts = [part.copy() for part in (self.y, self.x, self.down, self.across)]
        for part, other in zip(parts, (others.y, others.x, others.down, others.across), strict=True):
            part[chosen] = other
        return _Edges(*parts)


def measure_ruled(picture: Picture) -> Ruled:
    """Measure how much of the edges of masses is straight and sharp along a whole run."""
    light = np.ascontiguousarray(picture.lab[..., 0])
    nothing = Ruled(0.0, 0.5, 0.5, np.zeros((1, 1), dtype=np.bool_))
    if max(light.shape) < ENOUGH * VIEWED_LONG_EDGE or min(light.shape) <= 2 * HALF + SQUARE:
        return replace(nothing, share=float("nan"))
    edges = _edges_of_masses(light, lab_at(picture, COARSE)[..., 0])
    lines, plain, ruled = _followed(light, edges)
    if SQUARE * plain.sum() < FEWEST * max(light.shape):
        return nothing
    rows, held = _rows(edges.of(ruled), light.shape)
    found = lines.of(ruled).of(held[rows] >= RUN)
    if found.y.size == 0:
        return nothing
    longest = edges.of(ruled).of(rows == held.argmax())
    y, x = ((float(at.mean()) + 0.5) / size for at, size in zip((longest.y, longest.x), light.shape, strict=True))
    return Ruled(float(found.y.size / plain.sum()), x, y, _shown(found, light.shape))


def _edges_of_masses(light: Float, coarse: Float) -> _Edges:
    """The crests of the slope in L*, where masses meet too; far enough within the picture for a run."""
    slopes: Float = np.array(np.gradient(gaussian(light, FINE)), dtype=np.float32)
    steepness = length_of(slopes[0], slopes[1])
    rows, columns = (length // SQUARE for length in light.shape)
    squares = steepness[: rows * SQUARE, : columns * SQUARE].reshape(rows, SQUARE, columns, SQUARE)
    places = squares.transpose(0, 2, 1, 3).reshape(rows * columns, SQUARE**2)
    within, number = places.argmax(axis=1), np.arange(rows * columns)
    y, x = number // columns * SQUARE + within // SQUARE, number % columns * SQUARE + within % SQUARE
    margin = HALF + FOOT[-1]
    inside = (np.minimum(y, light.shape[0] - 1 - y) > margin) & (np.minimum(x, light.shape[1] - 1 - x) > margin)
    of_masses: Float = length_of(*np.gradient(gaussian(coarse, MELTED, truncate=3)))
    there = of_masses[y * coarse.shape[0] // light.shape[0], x * coarse.shape[1] // light.shape[1]] > OF_MASSES
    some = inside & there & (steepness[y, x] >= STEEP)
    y, x = y[some], x[some]
    down, across = slopes[:, y, x]
    downs, acrosses, both = (
        gaussian(product, ABOUT)[y, x]
        for product in (np.square(slopes[0]), np.square(slopes[1]), slopes[0] * slopes[1])
    )
    angle = 0.5 * np.arctan2(2 * both, acrosses - downs)
    uphill = np.where(down * np.sin(angle) + across * np.cos(angle) < 0, np.float32(-1), np.float32(1))
    edges = _Edges(y.astype(np.float32), x.astype(np.float32), uphill * np.sin(angle), uphill * np.cos(angle))
    steepest = np.maximum(edges.off(steepness, BESIDE), edges.off(steepness, -BESIDE)) <= steepness[y, x]
    return edges.of(steepest & (edges.off(light, BEYOND) - edges.off(light, -BEYOND) > GUESSED))


def _followed(light: Float, edges: _Edges) -> tuple[_Edges, NDArray[np.bool_], NDArray[np.bool_]]:
    """The line along each edge, which of the edges are plain and neither level nor plumb, and which of those run ruled.

    Only where something of the step is taken at once near the place itself is a line looked for.
    """
    at_once, step = _taken(light, edges, NEAR_BY)
    plain, ruled = _plain(step, edges), np.zeros(step.shape, dtype=np.bool_)
    some = (step > SOME_STEP) & (at_once.mean(axis=1) > SOME_AT_ONCE * step)
    lines = _along_lines(light, edges.of(some))
    at_once, step = _taken(light, lines, WHOLE)
    plain[some] = _plain(step, lines)
    on_average = at_once.mean(axis=1)
    even = (at_once > EVEN * on_average[:, None]).mean(axis=1) >= ALL_ALONG
    ruled[some] = plain[some] & even & (on_average > AT_ONCE * step) & (on_average < OUTLINED * step)
    return edges.with_those(some, lines), plain, ruled


def _taken(light: Float, lines: _Edges, along: Float) -> tuple[Float, Float]:
    """L* taken at once at each place along each line, (n, along), and what is taken in all, (n)."""
    at_once = lines.sampled(light, along, np.array((-1, 1), dtype=np.float32))
    beside = lines.sampled(light, FOOT_ALONG, np.array((*(-away for away in FOOT), *FOOT), dtype=np.float32))
    step = (beside[..., len(FOOT) :] - beside[..., : len(FOOT)]).mean(axis=(1, 2))
    return at_once[..., 1] - at_once[..., 0], step


def _plain(step: Float, lines: _Edges) -> NDArray[np.bool_]:
    angle = np.degrees(np.arctan2(np.abs(lines.down), np.abs(lines.across)))
    return np.asarray((step > STEP) & (angle > LEVEL) & (angle < 90 - LEVEL))


def _along_lines(light: Float, edges: _Edges) -> _Edges:
    """Each edge moved and turned onto the straight line, of those tried, across which most is taken at once."""
    along, off = np.arange(-HALF, HALF + 1, 2, dtype=np.float32), np.arange(-SIDE - 1, SIDE + 2, dtype=np.float32)
    across = edges.sampled(light, along, off)
    taken = (across[..., 2:] - across[..., :-2]).reshape(edges.y.size, along.size * (2 * SIDE + 1))
    first = np.arange(along.size) * (2 * SIDE + 1)
    tried = [(turn, shift) for turn in TURNS for shift in SHIFTS]
    sums = []
    for turn, shift in tried:
        at = np.clip(SIDE + shift + turn * along, 0, 2 * SIDE - 0.001)
        whole = at.astype(np.intp)
        part = (at - whole).astype(np.float32)
        sums.append(taken[:, first + whole] @ (1 - part) + taken[:, first + whole + 1] @ part)
    turn, shift = np.array(tried, dtype=np.float32)[np.argmax(sums, axis=0)].T
    ahead = 1 / np.sqrt(1 + np.square(turn))
    down, left = ahead * (edges.down - turn * edges.across), ahead * (edges.across + turn * edges.down)
    return _Edges(edges.y + shift * edges.down, edges.x + shift * edges.across, down, left)


def _rows(edges: _Edges, shape: tuple[int, ...]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """The row of squares side by side that each edge lies in, and how many edges each row holds."""
    from scipy.ndimage import label

    squares = np.zeros([length // SQUARE + 1 for length in shape], dtype=np.bool_)
    at = edges.y.astype(np.intp) // SQUARE, edges.x.astype(np.intp) // SQUARE
    squares[at] = True
    rows, _ = label(squares, np.ones((3, 3)))
    return rows[at].astype(np.intp), np.bincount(rows[at], minlength=1)


def _shown(lines: _Edges, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """A band along the whole run of each."""
    from scipy.ndimage import maximum_filter

    mask = np.zeros(shape[:2], dtype=np.bool_)
    y, x = lines.y[:, None] + WHOLE * lines.across[:, None], lines.x[:, None] - WHOLE * lines.down[:, None]
    mask[np.rint(y).astype(np.intp), np.rint(x).astype(np.intp)] = True
    return np.asarray(maximum_filter(mask, SHOWN))


FIGURES = (
    Figure(
        name="ruled.share",
        label="Ruled edges",
        meaning="how much of the edges of masses runs straight and equally sharp",
        definition=(
            "Share of the plain edges of masses, those level and plumb aside, that runs straight and equally sharp "
            "over 2 % of the long edge about each place, and 4 % in a row."
        ),
        source=OWN,
        show=rounded(2),
        worth=STRENGTH,
        jumps=False,
    ),
)
