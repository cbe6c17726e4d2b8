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
AS_WELL = 0.08  # of evidence: two paths that differ by no more part a picture about as well
STRAIGHT_TOLERANCE = 0.02  # of the height: what still reads as the same straight line
LEVEL_CLIMB = 0.3  # px a column at which a stretch counts half for the level of the path: 17°, steeper than any shore
LEVEL_STRETCH = 0.05  # of the width over which that is taken
# A border of chance patches is as contrasted as a shore, but turns about: dark over light here, light over dark
# there, and crooked. What is neither straight nor of one kind keeps this part of its strength.
CHANCE_STRENGTH = 0.5


AROUND = 0.03  # of the height: how far from the level of a path its border may lie
NEAR_REACH = 0.05  # of the height: so far from the height that a path is sought near, a border counts half
NEAR_FLATNESS = 4  # power of the fall of that: within half of the reach nearness hardly counts
HELD_TO_IT = 0.03  # of the height: so far from that first path, a border counts half when it is followed
NEAR_BAND = 0.2  # of the height: farther off none is sought at first


@dataclass(frozen=True, slots=True, eq=False)
class Looked:
    """A picture as a path is sought in it: all but the ``margin`` (px), in a few columns.

    ``sums`` are those of `sums_from_top`, ``centres`` where the columns lie (px from the margin), and ``evidence``
    (borders, columns) how well level borders part it.
    """

    margin: int
    sums: Exact
    centres: Exact
    evidence: Exact

    @property
    def evidence_of_all(self) -> Exact:
        """The same of all borders of the picture, 0 in the margin."""
        return np.pad(self.evidence, ((self.margin, self.margin), (0, 0)))

    def stands_out(self, level: float) -> float:
        """How far the evidence around a height (px) exceeds that of half the borders."""
        each = self.evidence.mean(axis=1)
        at = min(max(round(level) - self.margin, 0), len(each) - 1)
        reach = max(2, round(AROUND * len(each)))
        return float(each[max(0, at - reach) : at + reach + 1].max() - np.median(each))


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


def look_at(lab: Float) -> Looked:
    """Look at ``lab``, (height, width, 3) CIELAB, scaled to a few hundred pixels."""
    height, width = lab.shape[:2]
    margin = max(1, min(round(MARGIN * max(height, width)), min(height, width) // 8))
    columns, centres = _fewer_columns(lab[margin : height - margin, margin : width - margin])
    sums = sums_from_top(columns)
    return Looked(margin, sums, centres, evidence_at(sums))


def separating_path(lab: Float, *, looked: Looked | None = None, near: float | None = None) -> SeparatingPath:
    """Find the path along which the picture above differs most from the picture below.

    ``lab`` is (height, width, 3) CIELAB, scaled to a few hundred pixels; ``looked`` is what `look_at` saw in it, and
    ``near`` a height (0–1) near which the path runs, None for wherever it parts most. Dynamic programming over the
    columns, on evidence that rewards masses that differ as wholes, and edges that run on; found once with the picture
    as it stands, then again with the picture slid so that the path lies level, which does justice to slopes and hills.
    """
    height, width = lab.shape[:2]
    seen = looked if looked is not None else look_at(lab)
    sums, margin = seen.sums, seen.margin
    place = None if near is None else near * height - margin
    anywhere = _favour(len(sums), None)
    favour = anywhere if place is None else _favour(len(sums), place)
    # A slope leaves the height that it was looked for near: it is followed wherever it runs, but not to another edge.
    first = _first_path(seen.evidence, favour, place)
    tried = _followed(sums, first, anywhere, None if place is None else HELD_TO_IT * len(sums))
    agreements = agreement_along(sums, tried)
    found = []
    for each, agreement in zip(tried, agreements, strict=True):
        rows = margin + np.interp(np.arange(width) + 0.5, seen.centres + margin, each)
        found.append((float(agreement), *_straight_line(rows, STRAIGHT_TOLERANCE * height)))
    steady = float(np.mean([max(agreement, straightness) for agreement, _, straightness in found]))
    strength = _along(sums, tried) * (CHANCE_STRENGTH + (1 - CHANCE_STRENGTH) * steady)
    agreement, slope, straightness = found[-1]
    return SeparatingPath(rows, _main_level(rows), slope, straightness, agreement, strength)


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


def _favour(rows: int, near: float | None) -> Exact:
    """What each border (rows,) is favoured by: the middle, or nearness to one (px). Below 0 none is sought there."""
    down = np.arange(rows) / (rows - 1)
    favour = (4 * down * (1 - down)) ** MIDDLE_FAVOUR
    if near is not None:
        favour = 1 / (1 + ((np.arange(rows) - near) / (NEAR_REACH * rows)) ** NEAR_FLATNESS)
    favour[(down < LEAST_PART) | (down > 1 - LEAST_PART)] = -1
    return np.asarray(favour)


def _first_path(evidence: Exact, favour: Exact, near: float | None) -> Index:
    """The path among level borders, at first; ``near`` (px) bounds where it is sought."""
    first, last = 0, len(evidence)
    if near is not None:
        middle, band = min(max(round(near), 0), last - 1), round(NEAR_BAND * last)
        first, last = max(0, middle - band), min(last, middle + band + 1)
    level = np.arange(first, last)[:, None]
    borders = np.broadcast_to(level, (len(level), evidence.shape[1]))
    return _best_rows(_favoured(evidence[first:last], borders, favour), borders)


def _followed(sums: Exact, path: Index, favour: Exact, held: float | None) -> Index:
    """The path and what it becomes when it is found again near itself, among borders that run so: (n, columns).

    Borders ``held`` px from it count half; None holds it nowhere.
    """
    reach = max(2, round(FOLLOW_BAND * len(sums)))
    paths = [path]
    for _ in range(FOLLOWED):
        borders = np.clip(paths[-1] + np.arange(-reach, reach + 1)[:, None], 0, len(sums) - 1)
        gain = _favoured(evidence_at(sums, borders), borders, favour)
        if held is not None:
            gain /= 1 + ((borders - path) / held) ** NEAR_FLATNESS
        paths.append(_best_rows(gain, borders))
    return np.array(paths)


def _along(sums: Exact, paths: Index) -> float:
    """The mean evidence along the last path and those that led there: none of several that part a picture about as well
    takes another's strength by a hair. A slope is found by the last alone, and hardly held to the others.
    """
    each = evidence_at(sums, paths).mean(axis=1)
    return float(np.clip(each, each[-1] - AS_WELL, each[-1] + AS_WELL).mean())


def _favoured(evidence: Exact, borders: Index, favour: Exact) -> Exact:
    """Evidence with the favour of each border, and without those that none is sought at."""
    rows = len(favour)
    favoured = np.where(favour[borders] < 0, -rows, (evidence + NOTHING) * favour[borders])
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
    offers, best = np.lib.stride_tricks.sliding_window_view(kept, count, axis=1), kept[:, STEEPEST : count + STEEPEST]
    charged, left = np.ascontiguousarray(costs.T)[..., None], np.empty((len(costs), count))
    best[0] = columns[0]
    for offer, charge, own, to in zip(offers[:-1], charged[1:], columns[1:], best[1:], strict=True):
        np.subtract(offer, charge, out=left)
        np.maximum.reduce(left, axis=0, out=to)
        np.add(to, own, out=to)
    rows = np.empty(width, dtype=np.intp)
    rows[-1] = int(best[-1].argmax())
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
