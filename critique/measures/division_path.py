"""Which path from the left edge to the right separates a picture best into an upper and a lower part?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Float = NDArray[np.float32]

# How far above and below the path the picture is compared, as fractions of its height: from the edge itself to
# the big masses. Each counts the same but the last, which sees the whole sky and little of the edge.
REACHES = (0.02, 0.05, 0.12, 0.3)
REACH_WEIGHTS = (0.3, 0.25, 0.25, 0.2)
# Part of the width over which a difference must hold: wider than a mast, a trunk or a figure, narrower than a shore.
RUN = 0.15
# A line that runs level holds the eye more than a ragged one of the same contrast; weight of that beside the masses.
LEVEL_WEIGHT = 0.8
EDGE_CONTRAST = 6.0  # ΔE*ab at which an edge is plain to see; sharper ones hardly count for more
FAINT = 6.0  # ΔE*ab; two masses that differ less than this are hardly two, however smooth they are
CHROMA_WEIGHT = 0.8  # of a*, b* beside L*: the eye parts masses by value first (common practice, no source)
CLIMB_COST = 0.3  # evidence lost for a step of one pixel up or down; keeps the path from following every tree
STEEPEST = 2  # pixels up or down in one column: about 63°
MARGIN = 0.02  # of the long edge left out all round: frames, ragged canvas and scanning shadows
LEAST_PART = 0.08  # of the height that must lie above and below, or the picture is not parted but edged
MIDDLE_FAVOUR = 0.1  # power of 4y(1 − y): a line near the top or bottom parts little of the picture


STRAIGHT_TOLERANCE = 0.02  # of the height: what still reads as the same straight line
# A border of chance patches is as contrasted as a shore, but turns about: dark over light here, light over dark
# there, and crooked. What is neither straight nor of one kind keeps this part of its strength.
CHANCE_STRENGTH = 0.5


@dataclass(frozen=True, slots=True)
class SeparatingPath:
    """A path across a picture, between rows, in px of the picture it was found in.

    ``rows`` (columns,) is its distance from the top, ``level`` that of most of it, ``slope`` the fall to the right of
    the straight line nearest to it (px per px) and ``straightness`` the part of it on that line; ``agreement`` says
    how far the difference between above and below stays the same all along; ``strength`` is 0–1.
    """

    rows: NDArray[np.float64]
    level: float
    slope: float
    straightness: float
    agreement: float
    strength: float


def separating_path(lab: Float) -> SeparatingPath:
    """Find the path along which the picture above differs most from the picture below.

    ``lab`` is (height, width, 3) CIELAB, scaled to a few hundred pixels. Dynamic programming over the columns,
    on evidence that rewards masses that differ as wholes, and edges that run level.
    """
    height, width = lab.shape[:2]
    margin = max(1, round(MARGIN * max(height, width)))
    inner = lab[margin : height - margin, margin : width - margin].astype(np.float64)
    inner[..., 1:] *= CHROMA_WEIGHT
    run = _odd(RUN * width)
    sums = _column_sums(inner)
    evidence = (_mass_evidence(inner, run) + LEVEL_WEIGHT * _level_evidence(sums, run)) / (1 + LEVEL_WEIGHT)
    path = _best_path(_favoured(evidence))
    along = evidence[path, np.arange(len(path))]
    rows = np.pad(path + float(margin), (margin, width - margin - len(path)), mode="edge")
    slope, straightness = _straight_line(rows, STRAIGHT_TOLERANCE * height)
    agreement = _agreement(sums, path)
    kept = CHANCE_STRENGTH + (1 - CHANCE_STRENGTH) * max(agreement, straightness)
    return SeparatingPath(rows, _main_level(rows), slope, straightness, agreement, float(along.mean()) * kept)


def _main_level(rows: NDArray[np.float64]) -> float:
    """Where most of the path runs, in px: the median, in which climbs over a sail or a tree count little."""
    from scipy.ndimage import uniform_filter1d

    climb = uniform_filter1d(np.abs(np.gradient(rows)), 9, mode="nearest")  # px a column, over nine columns
    weight = 1 / (1 + np.square(climb / 0.15))  # half at 8.5°, steeper than any shore
    order = np.argsort(rows, kind="stable")
    reached = np.cumsum(weight[order])
    return float(np.interp(reached[-1] / 2, reached - weight[order] / 2, rows[order]))


def _straight_line(rows: NDArray[np.float64], tolerance: float) -> tuple[float, float]:
    """Slope of the straight line nearest to the path, and the part of the path within ``tolerance`` px of it.

    The median slope between places half a width apart, so that a hill on one side doesn't tilt a horizon.
    """
    half = len(rows) // 2
    slope = float(np.median((rows[half:] - rows[: len(rows) - half]) / half))
    rest = rows - slope * np.arange(len(rows))
    return slope, float(np.mean(np.abs(rest - np.median(rest)) <= tolerance))


def _agreement(sums: NDArray[np.float64], path: NDArray[np.intp]) -> float:
    """The mean difference of above and below, as a share of the mean of its lengths, at the best of the reaches."""
    columns = np.arange(len(path))
    agreement = 0.0
    for reach in REACHES[1:]:
        above, below = _boxes(sums, max(2, round(reach * (len(sums) - 1))))
        step = (above - below)[path, columns]
        lengths = float(np.sqrt(np.square(step).sum(-1)).mean())
        if lengths > 0:
            agreement = max(agreement, float(np.sqrt(np.square(step.mean(0)).sum())) / lengths)
    return agreement


def _mass_evidence(lab: NDArray[np.float64], run: int) -> NDArray[np.float64]:
    """How well each border between rows parts what lies above from what lies below: (height + 1, width), 0–1.

    The square root of the share of the variance that the border explains (η), within boxes one run wide.
    """
    height = lab.shape[0]
    moments = np.concatenate([lab, np.square(lab).sum(-1, keepdims=True)], axis=-1)
    sums = _column_sums(_along_rows(moments, run))
    total = np.zeros(sums.shape[:2])
    for reach, weight in zip(REACHES, REACH_WEIGHTS, strict=True):
        above, below = _boxes(sums, max(2, round(reach * height)))
        between = np.square(above[..., :3] - below[..., :3]).sum(-1) / 4
        within = (_variance(above) + _variance(below)) / 2
        total += weight * np.sqrt(between / (between + within + FAINT**2 / 4))
    return total


def _level_evidence(sums: NDArray[np.float64], run: int) -> NDArray[np.float64]:
    """How steadily a plain edge of one kind runs along each border between rows: (height + 1, width), 0–1."""
    above, below = _boxes(sums, max(2, round(REACHES[0] * (len(sums) - 1))))
    step = above - below
    size = np.sqrt(np.square(step).sum(-1, keepdims=True)) + 1e-9
    steady = _along_rows(step / size * np.tanh(size / EDGE_CONTRAST), run)
    return np.asarray(np.sqrt(np.square(steady).sum(-1)))


def _favoured(evidence: NDArray[np.float64]) -> NDArray[np.float64]:
    """Evidence with the favour of the middle, and without the strips at the top and the bottom."""
    down = np.arange(len(evidence)) / (len(evidence) - 1)
    favoured = evidence * ((4 * down * (1 - down)) ** MIDDLE_FAVOUR)[:, None]
    favoured[(down < LEAST_PART) | (down > 1 - LEAST_PART)] = -len(evidence)
    return favoured


def _best_path(gain: NDArray[np.float64]) -> NDArray[np.intp]:
    """The row in every column for which the summed gain, less the cost of climbing, is highest."""
    height, width = gain.shape
    columns = np.ascontiguousarray(gain.T)
    steps = sorted(range(-STEEPEST, STEEPEST + 1), key=abs)
    came_from = np.zeros((width, height), dtype=np.int8)
    padded = np.full(height + 2 * STEEPEST, -np.inf)
    best = columns[0]
    for column in range(1, width):
        padded[STEEPEST : height + STEEPEST] = best
        best = np.full(height, -np.inf)
        for step in steps:
            offer = padded[STEEPEST + step : STEEPEST + step + height] - CLIMB_COST / (1 + LEVEL_WEIGHT) * abs(step)
            better = offer > best
            best = np.where(better, offer, best)
            came_from[column][better] = step
        best = best + columns[column]
    rows = np.empty(width, dtype=np.intp)
    rows[-1] = int(best.argmax())
    for column in range(width - 1, 0, -1):
        rows[column - 1] = rows[column] + came_from[column, rows[column]]
    return rows


def _odd(length: float) -> int:
    """The nearest odd whole number, at least 3: a window with a middle, so that mirrored pictures agree."""
    return max(3, 2 * int(length // 2) + 1)


def _along_rows(field: NDArray[np.float64], run: int) -> NDArray[np.float64]:
    from scipy.ndimage import uniform_filter1d

    return np.asarray(uniform_filter1d(field, run, axis=1, mode="nearest"))


def _column_sums(field: NDArray[np.float64]) -> NDArray[np.float64]:
    """Sums from the top down to each border between rows: (height + 1, width, channels)."""
    return np.concatenate([np.zeros_like(field[:1]), np.cumsum(field, axis=0)])


def _boxes(sums: NDArray[np.float64], reach: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Means of up to ``reach`` rows above, and below, every border between rows."""
    border = np.arange(len(sums))
    top, bottom = np.maximum(border - reach, 0), np.minimum(border + reach, len(sums) - 1)
    above = (sums - sums[top]) / np.maximum(border - top, 1)[:, None, None]
    below = (sums[bottom] - sums) / np.maximum(bottom - border, 1)[:, None, None]
    return above, below


def _variance(box: NDArray[np.float64]) -> NDArray[np.float64]:
    """Summed over the channels, from means (…, 0:3) and the mean square (…, 3)."""
    return np.asarray(np.maximum(box[..., 3] - np.square(box[..., :3]).sum(-1), 0))
