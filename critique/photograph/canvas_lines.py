"""Which long straight edges a photograph has that could be a side of a canvas."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float

STEEPEST = 0.36  # tangent of the farthest that a side leans: 15° of perspective and a camera held askew by 5°
SLOPE_STEP = 0.0125  # of the slope: 2–3 px at the ends of a line of 480 px
AGREEING = 0.09  # of the slope by which a pixel's own direction may miss the line it lies on
MOST_LINES = 44  # in each of the two directions
APART = 2.5  # px between two lines at both of their ends before they are two
SEEN = 0.012  # of the range of codes: the weakest step that is told from noise after smoothing
MOST_PX = 6000  # strongest px of edges that are asked for lines: more are texture, and time
# From red, green and blue (rows) to lightness, red by green, and yellow by blue (columns).
OPPONENT = np.array([[0.3, 0.7, 0.25], [0.59, -0.7, 0.25], [0.11, 0.0, -0.5]], dtype=np.float32)
AT_ONCE = 16  # lines that are laid at a time, so that what is asked of every px stays in the processor's cache
FEW_VOTES = 0.08  # of the side's length: a line with fewer is not long


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """Steps across one direction: ``strength`` (height, width) 0–1 saturates, ``slope`` is that of the edge there.

    For lines that run down; those that run across are found in the picture laid on its side.
    """

    strength: Float
    slope: Float
    step: Float


def opponent(codes: Float) -> Float:
    """Lightness and two differences of colour (…, 3) from sRGB codes of 0–1; roughly even to the eye."""
    flat = codes.reshape(-1, 3) @ OPPONENT
    return np.asarray(flat.reshape(codes.shape))


def edges_down(planes: Float) -> Edges:
    """The edges that run down a picture of three planes (3, height, width)."""
    from scipy.ndimage import uniform_filter1d

    _, height, width = planes.shape
    square, both = (np.zeros((height, width), dtype=np.float32) for _ in range(2))
    padded = np.empty((height + 4, width + 4), dtype=np.float32)
    for plane in planes:  # one by one they stay in the processor's cache
        padded[2:-2, 2:-2] = plane
        padded[2:-2, :2], padded[2:-2, -2:] = plane[:, :1], plane[:, -1:]
        padded[:2], padded[-2:] = padded[2], padded[-3]
        along = padded[:-4] + padded[1:-3]
        for row in range(2, 5):
            along += padded[row : row + height]
        across = along[:, 3:-1] + along[:, 4:]
        across -= along[:, :-4]
        across -= along[:, 1:-3]
        across *= np.float32(0.5 / 5)
        beside = padded[:, 1:-3] + padded[:, 2:-2]
        beside += padded[:, 3:-1]
        down = beside[3:-1] + beside[4:]
        down -= beside[:-4]
        down -= beside[1:-3]
        down *= across
        both += down
        across *= across
        square += across
    both *= np.float32(0.5 / 3)
    step: Float = np.sqrt(square)
    slope = uniform_filter1d(both, 7, axis=0, mode="nearest")
    slope /= -(uniform_filter1d(square, 7, axis=0, mode="nearest") + np.float32(1e-9))
    floor = SEEN + 0.4 * float(np.median(step[::2, ::2]))
    return Edges(strength=step / (step + np.float32(floor)), slope=slope, step=step)


def lines_down(edges: Edges) -> NDArray[np.float64]:
    """Lines (number, 2): x at the middle row and slope, x = first + second × (row − middle). The longest first."""
    rows, columns, weights, slopes = _crest(edges)
    height, width = edges.strength.shape
    if not len(rows):
        return np.zeros((0, 2))
    depth = rows - (height - 1) / 2
    votes, origin = _votes(columns, depth, weights, slopes, width)
    lines = _peaks(votes, origin, FEW_VOTES * height)
    return _distinct(_fitted(lines, columns, depth, weights, slopes), height)


def _crest(edges: Edges) -> tuple[NDArray[np.float64], ...]:
    """Pixels where the step is highest across: rows, columns (to a part of a px), weights and slopes."""
    step = edges.step
    inner = step[:, 1:-1]
    crest = (inner >= step[:, :-2]) & (inner > step[:, 2:]) & (edges.strength[:, 1:-1] > 0.45)
    crest &= np.abs(edges.slope[:, 1:-1]) < STEEPEST + AGREEING
    if crest.sum() > MOST_PX:
        crest &= inner >= np.partition(inner[crest], -MOST_PX)[-MOST_PX]
    rows, columns = np.nonzero(crest)
    columns = columns + 1
    before, here, after = step[rows, columns - 1], step[rows, columns], step[rows, columns + 1]
    part = np.clip((after - before) / (2 * (2 * here - before - after) + 1e-9), -0.5, 0.5)
    weights = edges.strength[rows, columns]
    return rows.astype(float), columns + part, weights.astype(float), edges.slope[rows, columns].astype(float)


def _votes(
    columns: NDArray[np.float64],
    depth: NDArray[np.float64],
    weights: NDArray[np.float64],
    slopes: NDArray[np.float64],
    width: int,
) -> tuple[NDArray[np.float64], int]:
    """A table (slope, x at the middle row) of how much lies on each line; x begins at −origin."""
    origin = round(0.1 * width)
    number = round(STEEPEST / SLOPE_STEP)
    reach = round(AGREEING / SLOPE_STEP)
    own = np.rint(slopes / SLOPE_STEP).astype(int)
    tried = own[:, None] + np.arange(-reach, reach + 1)
    at = columns[:, None] - tried * SLOPE_STEP * depth[:, None] + origin
    wide = width + 2 * origin
    inside = (np.abs(tried) <= number) & (at >= 0) & (at < wide - 1)
    cells = (tried + number) * wide + np.rint(at).astype(int)
    count = np.broadcast_to(weights[:, None], at.shape)
    counted = np.bincount(cells[inside], count[inside], minlength=(2 * number + 1) * wide)
    table: NDArray[np.float64] = counted.astype(np.float64).reshape(2 * number + 1, wide)
    table[:, 1:-1] = table[:, 1:-1] + 0.5 * (table[:, :-2] + table[:, 2:])
    return table, origin


def _peaks(votes: NDArray[np.float64], origin: int, least: float) -> NDArray[np.float64]:
    from scipy.ndimage import maximum_filter

    highest = (votes == maximum_filter(votes, (7, 5), mode="constant")) & (votes > least)
    slope, at = np.nonzero(highest)
    order = np.argsort(-votes[slope, at], kind="stable")[: 2 * MOST_LINES]
    middle = votes.shape[0] // 2
    return np.stack([at[order] - origin, (slope[order] - middle) * SLOPE_STEP], axis=1).astype(float)


def _fitted(
    lines: NDArray[np.float64],
    columns: NDArray[np.floating],
    depth: NDArray[np.floating],
    weights: NDArray[np.floating],
    slopes: NDArray[np.floating],
) -> NDArray[np.float64]:
    """Each line laid through the pixels near it."""
    columns, depth, weights, slopes = (part.astype(np.float32) for part in (columns, depth, weights, slopes))
    square = depth**2
    for reach in (3.0, 1.8):
        if not len(lines):
            return lines
        sums = np.empty((5, len(lines)), dtype=np.float32)
        for start in range(0, len(lines), AT_ONCE):
            some = np.s_[start : start + AT_ONCE]
            x, lean = lines[some].astype(np.float32).T[..., None]
            off = columns - x - lean * depth
            w = np.where((np.abs(off) < reach) & (np.abs(slopes - lean) < 2 * AGREEING), weights, np.float32(0))
            sums[:3, some] = w.sum(1), w @ depth, w @ square
            w *= off
            sums[3:, some] = w.sum(1), w @ depth
        total, first, second, fx, fy = sums
        total += np.float32(1e-6)
        spread = total * second - first**2 + 1e-3
        slope = (total * fy - first * fx) / spread
        lines = np.stack([lines[:, 0] + (fx - slope * first) / total, lines[:, 1] + slope], axis=1)
    return lines[np.abs(lines[:, 1]) < STEEPEST]


def _distinct(lines: NDArray[np.float64], height: int) -> NDArray[np.float64]:
    """The first of those that lie on each other."""
    half = (height - 1) / 2
    ends = np.stack([lines[:, 0] - half * lines[:, 1], lines[:, 0] + half * lines[:, 1]], axis=1)
    near = (np.abs(ends[:, None] - ends).max(axis=2) <= APART).tolist()
    kept: list[int] = []
    for number, beside in enumerate(near):
        if not any(beside[other] for other in kept):
            kept.append(number)
        if len(kept) == MOST_LINES:
            break
    return lines[kept]
