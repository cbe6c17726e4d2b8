"""Which long straight lines does a picture hold?"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.perception.channels import length_of
from critique.perception.ranks import quantiles_of

Float = NDArray[np.float32]

LEAST_LENGTH = 0.15  # of the long edge: shorter lines don't lead the eye across a picture
LEAST_STEP = 0.1  # values a pixel, after smoothing: an edge that is seen without looking for it
EDGE_SHARE = 0.25  # of the picture at most is edge: in a picture full of strokes only the plainest can lead
MARGIN = 0.015  # of the long edge left out all round: the edge of the canvas or of a frame is no line in the picture
LARGEST_GAP = 0.03  # of the long edge: a gap that the eye closes
LEAST_COVER = 0.7  # of the length that must be edge
ANGLE_STEP = 2.0  # degrees; directions closer than this are one
ANGLE_REACH = 12.0  # degrees by which an edge may differ from the line it belongs to: painted edges waver
TURNS, ROUNDED = (-180.0, 0.0, 180.0), 1e-6  # degrees
OFFSET_REACH = 0.005  # of the long edge: how far from the line its edges may lie
MOST_LINES = 24
MOST_TRIES = 60  # directions and places looked at, strongest first


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight line from (x1, y1) to (x2, y2), in px; its first end is the left one (the upper, if upright)."""

    x1: float
    y1: float
    x2: float
    y2: float

    @property
    def length(self) -> float:
        """In px."""
        return float(np.hypot(self.x2 - self.x1, self.y2 - self.y1))


@dataclass(frozen=True, slots=True)
class _Edges:
    """Edge pixels: place (n,), direction of the edge's normal in degrees 0–180 (n,), steepness (n,)."""

    x: NDArray[np.float64]
    y: NDArray[np.float64]
    normal: NDArray[np.float64]
    step: NDArray[np.float64]


class _ByDirection:
    """Edge pixels from the middle of the picture, by direction: a line asks of those alone that run as it does."""

    def __init__(self, edges: _Edges, centre: tuple[float, float]) -> None:
        self.order = np.argsort(edges.normal, kind="stable")
        self.normal = edges.normal[self.order]
        self.x, self.y = edges.x[self.order] - centre[0], edges.y[self.order] - centre[1]

    def about(self, angle: float) -> NDArray[np.intp]:
        """Places in the order of those whose normal lies within reach of ``angle``, on either side of 0 and 180°."""
        reach = ANGLE_REACH + ROUNDED
        ends = [np.searchsorted(self.normal, (angle % 180 + way - reach, angle % 180 + way + reach)) for way in TURNS]
        return np.concatenate([np.arange(start, stop) for start, stop in ends])


def long_lines(lab: Float) -> tuple[Segment, ...]:
    """Long straight edges of value, longest first. ``lab`` is (height, width, 3), a few hundred pixels.

    Every edge pixel votes for the one straight line it could belong to [Hough transform with gradient
    directions, O'Gorman and Clowes, 1976, from memory]; the runs along the lines with most votes are the segments.
    """
    long_edge = max(lab.shape[:2])
    edges = _edge_pixels(lab[..., 0])
    centre = ((lab.shape[1] - 1) / 2, (lab.shape[0] - 1) / 2)  # so that mirrored pictures vote alike
    runs = _ByDirection(edges, centre)
    free = np.ones(len(edges.x), dtype=bool)  # in their order
    found: list[Segment] = []
    for angle, offset in _strongest_lines(edges, centre, long_edge):
        while len(found) < MOST_LINES:  # several runs may lie on one course, with a ship or a tree between them
            segment, used = _run_along(runs, free, centre, angle, offset, long_edge)
            if segment is None:
                break
            found.append(segment)
            free[used] = False
    return tuple(sorted(found, key=lambda segment: -segment.length))


def _edge_pixels(lightness: Float) -> _Edges:
    """Pixels on the crest of a step of value."""
    from scipy.ndimage import gaussian_filter, map_coordinates

    smooth = gaussian_filter(lightness.astype(np.float64), 1.0, mode="nearest")
    down, across = np.gradient(smooth)
    step = length_of(down, across) / 10
    seen = step >= LEAST_STEP
    if seen.sum() > EDGE_SHARE * (step.size - 1) - 1:  # else it lies below the least
        seen = step >= max(LEAST_STEP, quantiles_of(step, (1 - EDGE_SHARE,))[0])
    margin = max(1, round(MARGIN * max(step.shape)))
    seen[:margin], seen[-margin:], seen[:, :margin], seen[:, -margin:] = False, False, False, False
    y, x = np.nonzero(seen)
    unit_y, unit_x = down[y, x] / (10 * step[y, x]), across[y, x] / (10 * step[y, x])
    ahead = map_coordinates(step, [y + unit_y, x + unit_x], order=1, mode="nearest")
    behind = map_coordinates(step, [y - unit_y, x - unit_x], order=1, mode="nearest")
    crest = (step[y, x] >= ahead) & (step[y, x] >= behind)
    y, x = y[crest], x[crest]
    normal = np.degrees(np.arctan2(down[y, x], across[y, x])) % 180
    return _Edges(x.astype(np.float64), y.astype(np.float64), normal, step[y, x])


def _strongest_lines(edges: _Edges, centre: tuple[float, float], long_edge: int) -> list[tuple[float, float]]:
    """Normals (degrees) and offsets from the centre (px) of the lines with most votes, most first."""
    from scipy.ndimage import gaussian_filter, maximum_filter

    if len(edges.x) == 0:
        return []
    radians = np.radians(edges.normal)
    offset = (edges.x - centre[0]) * np.cos(radians) + (edges.y - centre[1]) * np.sin(radians)
    reach = int(np.ceil(long_edge * 0.75))
    angles, offsets = round(180 / ANGLE_STEP), 2 * reach + 1
    row = np.rint(edges.normal / ANGLE_STEP).astype(np.intp)
    offset = np.where(row >= angles, -offset, offset)  # 180° is 0° seen from the other side
    column = np.clip(np.rint(offset).astype(np.intp) + reach, 0, offsets - 1)
    votes = np.bincount(row % angles * offsets + column, minlength=angles * offsets).reshape(angles, offsets)
    around = np.concatenate([votes[-8:, ::-1], votes, votes[:8, ::-1]]).astype(np.float64)
    smooth = gaussian_filter(around, (ANGLE_REACH / ANGLE_STEP / 2, OFFSET_REACH * long_edge), mode="constant")
    peaks = (smooth == maximum_filter(smooth, (5, 5)))[8:-8] & (smooth[8:-8] > 0)
    angle_index, offset_index = np.nonzero(peaks)
    order = np.argsort(-np.round(smooth[8:-8][peaks], 6), kind="stable")[:MOST_TRIES]
    return [(float(angle_index[i] * ANGLE_STEP), float(offset_index[i] - reach)) for i in order]


def _run_along(
    runs: _ByDirection,
    free: NDArray[np.bool_],
    centre: tuple[float, float],
    angle: float,
    offset: float,
    long_edge: int,
) -> tuple[Segment | None, NDArray[np.intp]]:
    """The longest run of free edge pixels along a line, straightened, and which pixels it takes; None if too short."""
    x, y = runs.x, runs.y
    near = np.zeros(0, dtype=np.intp)
    for _ in range(2):  # the second time on the line fitted to the first run
        normal = np.radians(angle)
        near = runs.about(angle)
        near = near[free[near]]
        away = np.abs(x[near] * np.cos(normal) + y[near] * np.sin(normal) - offset)
        near = near[away <= max(1.5, OFFSET_REACH * long_edge)]
        turn = np.abs((runs.normal[near] - angle + 90) % 180 - 90)
        near = near[turn <= ANGLE_REACH]
        near = near[np.argsort(runs.order[near])]  # line by line
        near = near[_longest_run(-x[near] * np.sin(normal) + y[near] * np.cos(normal), LARGEST_GAP * long_edge)]
        if len(near) < LEAST_LENGTH * long_edge / 3:
            return None, near
        angle, offset = _fitted(x[near], y[near], angle)
    normal = np.radians(angle)
    along = -x[near] * np.sin(normal) + y[near] * np.cos(normal)
    start, stop = float(along.min()), float(along.max())
    cover = len(np.unique(np.rint(along))) / (stop - start + 1)
    if stop - start < LEAST_LENGTH * long_edge or cover < LEAST_COVER:
        return None, near
    foot = (centre[0] + offset * np.cos(normal), centre[1] + offset * np.sin(normal))
    ends = sorted((foot[0] - at * np.sin(normal), foot[1] + at * np.cos(normal)) for at in (start, stop))
    return Segment(*(float(number) for end in ends for number in end)), near


def _longest_run(along: NDArray[np.float64], gap: float) -> NDArray[np.intp]:
    """Of places along a line, which lie in the longest stretch without a gap, in rising order."""
    if len(along) == 0:
        return np.zeros(0, dtype=np.intp)
    index = np.argsort(along, kind="stable")
    breaks = np.flatnonzero(np.diff(along[index]) > gap) + 1
    starts, stops = np.concatenate([[0], breaks]), np.concatenate([breaks, [len(index)]])
    lengths = along[index[stops - 1]] - along[index[starts]]
    best = int(np.argmax(np.round(lengths, 6)))
    return np.sort(index[starts[best] : stops[best]])


def _fitted(x: NDArray[np.float64], y: NDArray[np.float64], angle: float) -> tuple[float, float]:
    """Normal (degrees, on the side of ``angle``) and offset of the line through points, by least squares."""
    middle = float(x.mean()), float(y.mean())
    across, down = x - middle[0], y - middle[1]
    along = math.atan2(2 * float(across @ down), float(across @ across) - float(down @ down)) / 2
    side = math.cos(along + math.pi / 2 - math.radians(angle))
    normal = along + math.copysign(math.pi / 2, side)  # the least spread of points lies across their most
    normal = math.atan2(math.sin(normal), math.cos(normal))
    return math.degrees(normal), middle[0] * math.cos(normal) + middle[1] * math.sin(normal)
