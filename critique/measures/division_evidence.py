"""How well does a border between what lies above and what lies below part a picture?"""

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from critique.one_thread import one_thread
from critique.perception.channels import over_channels
from critique.perception.products import times

Float = NDArray[np.float32]
Exact = NDArray[np.float64]
Index = NDArray[np.intp]

# How far above and below the border the picture is compared, as parts of its height: from the edge itself to the
# big masses. Each counts much the same; the last sees the whole sky and little of the edge.
REACHES = (0.02, 0.05, 0.12, 0.3)
REACH_WEIGHTS = (0.3, 0.25, 0.25, 0.2)
# Part of the width over which a difference must hold: wider than a mast, a trunk or a figure, narrower than a shore.
RUN = 0.15
# An edge that runs on steadily holds the eye beside the masses that it parts; its weight, where theirs is 1.
EDGE_WEIGHT = 0.8
EDGE_CONTRAST = 6.0  # ΔE*ab at which an edge is plain to see; sharper ones hardly count for more
RUN_BLOCK = 40  # columns whose means along a row are one product
FAINT = 6.0  # ΔE*ab; two masses that differ less than this are hardly two, however smooth they are
CHROMA_WEIGHT = 0.8  # of a*, b* beside L*: the eye parts masses by value first (common practice, no source)


def sums_from_top(lab: Float) -> Exact:
    """Sums of L*, a*, b* and of their squares from the top down to each border: (rows + 1, columns, 4)."""
    weighted = lab * np.array([1, CHROMA_WEIGHT, CHROMA_WEIGHT], dtype=np.float32)
    moments = np.concatenate([weighted, over_channels(np.square(weighted))[..., None]], axis=-1)
    sums = np.zeros((len(lab) + 1, *moments.shape[1:]))
    for row, moment in enumerate(moments):  # whole rows at a time: a quarter of what a sum along the first axis takes
        np.add(sums[row], moment, out=sums[row + 1])
    return sums


def evidence_at(sums: Exact, borders: Index | None = None) -> Exact:
    """How well borders between rows part what lies above them from what lies below, 0–1.

    ``borders`` (n, columns) are the borders to look at, those of one row belonging together; None looks at all level
    ones. For the masses it is the square root of the share of the variance that the border explains (η), within
    boxes one run wide; for the edge, how steadily one kind of step runs on.
    """
    run = max(3, 2 * int(RUN * sums.shape[1] // 2) + 1)  # odd, so that mirrored pictures agree
    if borders is None:
        return _level_evidence(sums, run)
    total: NDArray[np.floating] | float = 0.0
    middle = _at(sums, borders)
    for reach, weight in zip(REACHES, REACH_WEIGHTS, strict=True):
        above, below = _boxes(sums, borders, reach, middle)
        if reach == REACHES[0]:
            total += EDGE_WEIGHT * _steadiness(np.moveaxis(above[..., :3] - below[..., :3], 2, 0), run)
        above, below = (_along_rows(np.moveaxis(box, 2, 0), run) for box in (above, below))
        total += weight * _parted(above - below, _variance(above) + _variance(below))
    return np.asarray(total, dtype=np.float64) / (1 + EDGE_WEIGHT)


def _level_evidence(sums: Exact, run: int) -> Exact:
    """The same of every level border, 0 at the first and the last.

    The run of a mean is the mean of a run, so that the sums are run along once for all reaches; and what lies above one
    border lies below another, so that each box is looked at once.
    """
    channels = np.ascontiguousarray(np.moveaxis(sums, 2, 0))
    along = _along_rows(channels, run)
    last, (_, height, width) = len(sums) - 1, channels.shape
    total = np.zeros((height - 2, width), dtype=np.float32)
    for reach, weight in zip(REACHES, REACH_WEIGHTS, strict=True):
        rows = max(2, round(reach * last))
        above, below = np.s_[..., : last - 1, :], np.s_[..., rows : rows + last - 1, :]
        if reach == REACHES[0]:
            edge = _level_boxes(channels[:3], rows)
            total += np.float32(EDGE_WEIGHT) * _steadiness(edge[above] - edge[below], run)
        boxes = _level_boxes(along, rows)
        spread = _variance(boxes)
        total += np.float32(weight) * _parted(boxes[above] - boxes[below], spread[above] + spread[below])
    return np.pad(total.astype(np.float64) / (1 + EDGE_WEIGHT), ((1, 1), (0, 0)))


def _level_boxes(channels: Exact, rows: int) -> Float:
    """Means of ``rows`` rows each, from the first row alone down to the last one alone: (channels, boxes, columns)."""
    last = channels.shape[1] - 1
    first = np.arange(1 - rows, last)
    count = np.minimum(first + rows, last) - np.maximum(first, 0)
    boxes = np.empty((len(channels), len(first), channels.shape[2]), dtype=np.float32)
    inner = last + 1 - rows  # boxes that lie inside as wholes: slices are quicker than a list of rows
    for where, sums in (
        (np.s_[: rows - 1], channels[:, 1:rows] - channels[:, :1]),
        (np.s_[rows - 1 : rows - 1 + inner], channels[:, rows:] - channels[:, :inner]),
        (np.s_[rows - 1 + inner :], channels[:, -1:] - channels[:, inner:last]),
    ):
        np.divide(sums, count[where, None], out=boxes[:, where], casting="same_kind")
    return boxes


def _parted(step: Float, spreads: Float) -> Float:
    """The square root of the share of the variance that a border explains; ``spreads`` is that of both sides, added."""
    between = _squared(step[:3]) / 4
    return np.asarray(np.sqrt(between / (between + spreads / 2 + np.float32(FAINT**2 / 4))), dtype=np.float32)


def agreement_along(sums: Exact, paths: Index) -> Exact:
    """How far the difference between above and below stays the same all along each of ``paths`` (n, columns), 0–1.

    The length of its mean as a share of the mean of its lengths, at the reach where that is highest.
    """
    agreement = np.zeros(len(paths))
    middle = _at(sums, paths)
    for reach in REACHES[1:]:
        above, below = _boxes(sums, paths, reach, middle)
        step = (above - below)[..., :3].astype(np.float64)
        lengths = np.sqrt(over_channels(np.square(step))).mean(axis=1)
        mean = np.sqrt(np.square(step.mean(axis=1)).sum(axis=1))
        agreement = np.maximum(agreement, np.divide(mean, lengths, out=np.zeros_like(mean), where=lengths > 0))
    return agreement


def _steadiness(step: Float, run: int) -> Float:
    size = np.sqrt(_squared(step)) + np.float32(1e-6)
    steady = _along_rows(step * (np.tanh(size / np.float32(EDGE_CONTRAST)) / size), run)
    return np.asarray(np.sqrt(_squared(steady)), dtype=np.float32)


def _boxes(sums: Exact, borders: Index, reach: float, middle: Exact) -> tuple[Float, Float]:
    """Means of the rows within ``reach`` (part of the height) above and below borders: (n, columns, 4) each.

    ``middle`` are the sums down to the borders.
    """
    last = len(sums) - 1
    rows = max(2, round(reach * last))
    top, bottom = np.maximum(borders - rows, 0), np.minimum(borders + rows, last)
    above = (middle - _at(sums, top)) / np.maximum(borders - top, 1)[..., None]
    below = (_at(sums, bottom) - middle) / np.maximum(bottom - borders, 1)[..., None]
    return above.astype(np.float32), below.astype(np.float32)


def _at(sums: Exact, borders: Index) -> Exact:
    """The sums down to borders (n, columns): (n, columns, 4)."""
    columns = sums.shape[1]
    return np.asarray(np.take(sums.reshape(-1, sums.shape[2]), borders * columns + np.arange(columns), axis=0))


def _along_rows(channels: NDArray[np.floating], run: int) -> NDArray[Any]:
    """Means of ``run`` (odd) neighbours along the rows of (channels, n, columns), as if the ends went on."""
    rows = channels.reshape(-1, channels.shape[-1])
    means = np.empty_like(rows)
    with one_thread():
        for first, last, start, stop, weights in _run_blocks(rows.shape[1], run, rows.dtype.char):
            times(rows[:, start:stop], weights, means[:, first:last])
    return means.reshape(channels.shape)


@lru_cache(maxsize=16)
def _run_blocks(width: int, run: int, kind: str) -> tuple[tuple[int, int, int, int, NDArray[Any]], ...]:
    """Columns ``first`` to ``last`` by few at a time, the columns ``start`` to ``stop`` that reach into them, and how
    much each of these counts: most of the columns of one product for all would count nothing."""
    weights, blocks = _run_weights(width, run, kind), []
    for first in range(0, width, RUN_BLOCK):
        last = min(first + RUN_BLOCK, width)
        start, stop = max(0, first - run // 2), min(width, last + run // 2)
        blocks.append((first, last, start, stop, np.ascontiguousarray(weights[start:stop, first:last])))
    return tuple(blocks)


@lru_cache(maxsize=16)
def _run_weights(width: int, run: int, kind: str) -> NDArray[Any]:
    """How much each place of a row (width, ) counts in the mean about each: a product is quicker than running sums."""
    near = np.arange(width)[:, None] + np.arange(-(run // 2), run // 2 + 1)
    weights = np.zeros((width, width))
    np.add.at(weights, (np.clip(near, 0, width - 1), np.arange(width)[:, None]), 1 / run)
    return weights.astype(kind)


def _squared(vectors: Float) -> Float:
    """Squared lengths of (channels, …)."""
    return np.asarray(np.einsum("c...,c...->...", vectors, vectors))


def _variance(box: Float) -> Float:
    """Summed over the channels, from means (0:3, …) and the mean square (3, …)."""
    return np.asarray(np.maximum(box[3] - _squared(box[:3]), 0))
