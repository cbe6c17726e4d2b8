"""Which path from the left edge to the right separates a picture best into an upper and a lower part?"""

from dataclasses import dataclass

import numpy as np

from critique.measures.division_evidence import Exact, Float, Index, agreement_along, evidence_at, sums_from_top

COLUMNS = 160  # about as many are looked at: a run along the path is then some twenty of them
MARGIN = 0.02  # of the long edge left out all round: frames, ragged canvas and scanning shadows
LEAST_PART = 0.08  # of the height that must lie above and below, or the picture is not parted but edged
MIDDLE_FAVOUR = 0.1  # power of 4y(1 − y): a line near the top or bottom parts little of the picture
NOTHING = 1e-6  # evidence that is added everywhere, so that a path through nothing runs along the middle
CLIMB_COST = 0.15  # of the strength, for climbs that sum to the height: keeps the path from following every tree
STEEPEST = 4  # rows up or down from one column to the next: some 60°
FOLLOW_BAND = 0.05  # of the height: how far a path may move when it is looked for again
FOLLOWED = 2  # times; a slope of 30° has then been found to within a row
STRAIGHT_TOLERANCE = 0.02  # of the height: what still reads as the same straight line
LEVEL_CLIMB = 0.3  # px a column at which a stretch counts half for the level of the path: 17°, steeper than any shore
LEVEL_STRETCH = 0.05  # of the width over which that is taken
# A border of chance patches is as contrasted as a shore, but turns about: dark over light here, light over dark
# there, and crooked. What is neither straight nor of one kind keeps this part of its strength.
CHANCE_STRENGTH = 0.5


@dataclass(frozen=True, slots=True)
class SeparatingPath:
    """A path across a picture, in px of the picture it was found in.

    ``rows`` (width,) is its distance from the top, ``level`` that of most of it, ``slope`` the fall to the right of
    the straight line nearest to it (px per px) and ``straightness`` the part of it on that line; ``agreement`` says
    how far the difference between above and below stays the same all along; ``strength`` is 0–1.
    """

    rows: Exact
    level: float
    slope: float
    straightness: float
    agreement: float
    strength: float


def separating_path(lab: Float) -> SeparatingPath:
    """Find the path along which the picture above differs most from the picture below.

    ``lab`` is (height, width, 3) CIELAB, scaled to a few hundred pixels. Dynamic programming over the columns, on
    evidence that rewards masses that differ as wholes, and edges that run on; found once with the picture as it
    stands, then again with the picture slid so that the path lies level, which does justice to slopes and hills.
    """
    height, width = lab.shape[:2]
    margin = max(1, min(round(MARGIN * max(height, width)), min(height, width) // 8))
    columns, centres = _fewer_columns(lab[margin : height - margin, margin : width - margin])
    sums = sums_from_top(columns)
    path = _followed(sums, _first_path(sums))
    along = float(evidence_at(sums, path[None]).mean())
    agreement = agreement_along(sums, path)
    rows = margin + np.interp(np.arange(width) + 0.5, centres + margin, path)
    slope, straightness = _straight_line(rows, STRAIGHT_TOLERANCE * height)
    kept = CHANCE_STRENGTH + (1 - CHANCE_STRENGTH) * max(agreement, straightness)
    return SeparatingPath(rows, _main_level(rows), slope, straightness, agreement, along * kept)


def _fewer_columns(lab: Float) -> tuple[Float, Exact]:
    """The picture with neighbouring columns averaged, and where the middles of the new columns lie, in px."""
    width = lab.shape[1]
    count = max(1, round(width / max(1, round(width / COLUMNS))))
    edges = np.rint(np.linspace(0, width, count + 1)).astype(np.intp)
    sums = _summed(lab, edges)
    means = np.asarray(sums / np.diff(edges)[:, None].astype(np.float32), dtype=np.float32)
    return means, (edges[:-1] + edges[1:]) / 2


def _summed(lab: Float, edges: Index) -> Float:
    """Sums over the columns from each edge to the next: by few whole columns at a time, quicker than run by run."""
    first, count = edges[:-1], np.diff(edges)
    sums = np.take(lab, first, axis=1)
    for further in range(1, int(count.max())):
        has = np.flatnonzero(count > further)
        if len(has) == len(first):
            sums += np.take(lab, first + further, axis=1)
        else:
            sums[:, has] += np.take(lab, first[has] + further, axis=1)
    return np.asarray(sums, dtype=np.float32)


def _first_path(sums: Exact) -> Index:
    borders = np.broadcast_to(np.arange(len(sums))[:, None], sums.shape[:2])
    return _best_rows(_favoured(evidence_at(sums), borders, len(sums)), borders)


def _followed(sums: Exact, path: Index) -> Index:
    """The path found again near itself, among borders that run as it does."""
    reach = max(2, round(FOLLOW_BAND * len(sums)))
    for _ in range(FOLLOWED):
        borders = np.clip(path + np.arange(-reach, reach + 1)[:, None], 0, len(sums) - 1)
        path = _best_rows(_favoured(evidence_at(sums, borders), borders, len(sums)), borders)
    return path


def _favoured(evidence: Exact, borders: Index, rows: int) -> Exact:
    """Evidence with the favour of the middle, and without the strips at the top and the bottom."""
    down = borders / (rows - 1)
    favoured = (evidence + NOTHING) * (4 * down * (1 - down)) ** MIDDLE_FAVOUR
    favoured[(down < LEAST_PART) | (down > 1 - LEAST_PART)] = -rows
    # Climbs are charged by the row; this makes them a part of the height, and the sum over the columns a mean.
    return np.asarray(favoured * (rows - 1) / borders.shape[1])


def _best_rows(gain: Exact, borders: Index) -> Index:
    """Of ``borders`` (n, columns), those, one a column, for which the gain less the cost of climbing is highest."""
    count, width = gain.shape
    columns = np.ascontiguousarray(gain.T)
    fall = np.diff(borders[count // 2], prepend=borders[count // 2, :1])
    costs = CLIMB_COST * np.abs(np.arange(-STEEPEST, STEEPEST + 1)[:, None] - fall)
    # The best gain up to each place, column by column; which way it came is asked again of the path alone.
    kept = np.full((width, count + 2 * STEEPEST), -np.inf)
    offers = np.lib.stride_tricks.sliding_window_view(kept, count, axis=1)
    best = columns[0]
    for column in range(1, width):
        kept[column - 1, STEEPEST : count + STEEPEST] = best
        best = (offers[column - 1] - costs[:, column, None]).max(axis=0) + columns[column]
    rows = np.empty(width, dtype=np.intp)
    rows[-1] = int(best.argmax())
    for column in range(width - 1, 0, -1):
        row = int(rows[column])
        ways = kept[column - 1, row : row + len(costs)] - costs[:, column]
        rows[column - 1] = row + int(ways.argmax()) - STEEPEST
    return np.asarray(borders[rows, np.arange(width)])


def _main_level(rows: Exact) -> float:
    """Where most of the path runs, in px: the mean of its middle half, in which climbs over a sail count little."""
    from scipy.ndimage import uniform_filter1d

    stretch = max(3, 2 * int(LEVEL_STRETCH * len(rows) // 2) + 1)
    climb = uniform_filter1d(np.abs(np.gradient(rows)), stretch, mode="nearest")
    weight = 1 / (1 + np.square(climb / LEVEL_CLIMB))
    order = np.argsort(rows, kind="stable")
    reached = np.cumsum(weight[order]) / weight.sum()
    inside = np.clip(np.minimum(reached, 0.75) - np.maximum(reached - weight[order] / weight.sum(), 0.25), 0, None)
    return float((inside * rows[order]).sum() / inside.sum())


def _straight_line(rows: Exact, tolerance: float) -> tuple[float, float]:
    """Slope of the straight line nearest to the path, and the part of the path within ``tolerance`` px of it.

    The median slope between places half a width apart, so that a hill on one side doesn't tilt a horizon.
    """
    half = len(rows) // 2
    slope = float(np.median((rows[half:] - rows[: len(rows) - half]) / half))
    rest = rows - slope * np.arange(len(rows))
    return slope, float(np.mean(np.abs(rest - np.median(rest)) <= tolerance))
