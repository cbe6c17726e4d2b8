"""Which four lines make a canvas: every pair of upright and level lines held to what speaks for its four sides."""

from dataclasses import dataclass, field, fields, replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float
from critique.photograph.canvas_lines import edges_down, lines_down
from critique.photograph.canvas_sides import Array, Profiles, evenness_between, profiles, support_between, with_borders

LEAST_SIDE = 0.16  # of the photograph's side: a smaller canvas is a thing in a scene, not the subject
BEYOND = 0.03  # of the photograph's side that a corner may lie outside
LEAST_PARALLEL = 0.3  # difference of slopes of two facing sides: 15° of perspective close by
ONWARD = 0.12  # of a side's length beyond its corners: a canvas's edge stops there, a mortar line or a seam goes on
LEDGE = 0.25  # of that counts for the lower side: an easel's ledge lies along it and goes on beyond the canvas
MOST_KEPT = 6  # candidates looked at closely
FRAMES = 2  # the best of them that may be a frame's outer edge: two more are looked at inside each
PLAIN = 13.0  # score of four sides from which a canvas is there: the best of 160 files that are all painting has 12.6
INSET = 0.008  # of the photograph's long edge that a painting lies inside its frame on every side, at least
DEEPEST = 0.2  # of the same: a frame or a mat is no wider
SHARED = 0.004  # of the same: by which a side of both may lie apart
MOST_PAIRS = 400  # of lines of either direction: the worthiest, where there are more
AT_ONCE = 32  # pairs that are looked through at a time
POOL = 400  # of the best, from which they are taken
CORNERS = ((0, 0), (1, 0), (1, 1), (0, 1))  # which of two upright and two level lines meet, clockwise
NOT_OF_EACH = ("cut", "lines", "pairs")  # what of all candidates isn't told of each
ASIDE = 0.01  # of the long edge: by which two canvases beside each other may seem to overlap, askew
DISTINCT = 0.014  # of the long edge: candidates nearer than that at every corner are looked at as one


@dataclass(frozen=True, slots=True, eq=False)
class Quads:
    """Candidates, best first. ``corners`` (number, 4, 2) in px clockwise from the upper left; what speaks for each.

    ``support`` (number, 4) is the share of each side (left, right, top, bottom) along which there is an edge;
    ``even`` (number, 4) how even the outside of each side is, as log of its unevenness; ``lively`` how much less even
    the inside is than the outside, in logs; ``outside`` (number, 4, 3) the colour there.
    ``border`` (number, 4) tells which of them are borders of the photograph; ``cut`` are further ones, of which one or
    two are, where none of four plain sides is there. ``lines`` (lines, 2, 2) are all that were found, two points each;
    ``pairs`` is what all of them were chosen from.
    """

    corners: Array
    support: Array
    even: Array
    lively: Array
    outside: Array
    onward: Array
    score: Array
    border: NDArray[np.bool_]
    cut: "tuple[Quads, ...]" = ()
    lines: Array = field(default_factory=lambda: np.zeros((0, 2, 2)))
    pairs: "Pairs | None" = None

    def taken(self, which: NDArray[np.intp] | slice) -> "Quads":
        """Some of them, without what is told of all."""
        of_each = {one.name: getattr(self, one.name)[which] for one in fields(self) if one.name not in NOT_OF_EACH}
        return Quads(**of_each)

    def with_cut(self) -> "Quads":
        """The same, with further ones that borders of the photograph cut off."""
        return self if self.cut or self.pairs is None else replace(self, cut=self.pairs.cut_off())

    def beside(self, corners: Array) -> float:
        """The score of the best that lies wholly to one side of four corners (4, 2) in px; −∞ where there is none."""
        return -np.inf if self.pairs is None else self.pairs.beside(corners)


@dataclass(frozen=True, slots=True, eq=False)
class _Sides:
    """Every stretch of one direction's lines between two of the other's: (lines, pairs, …)."""

    support: Array
    even: Array  # outside where the line is the first (left, top) or the second (right, bottom): (2, lines, pairs)
    lively: Array
    outside: Array
    onward: Array


def candidate_quads(codes: Float) -> Quads:
    """Candidates in a small photograph (height, width, 3), sRGB codes of 0–1."""
    from critique.photograph.canvas_lines import opponent

    channels = opponent(codes)
    height, width, _ = channels.shape
    turned = channels.transpose(1, 0, 2)
    upright_edges = edges_down(np.ascontiguousarray(channels.transpose(2, 0, 1)))
    level_edges = edges_down(np.ascontiguousarray(channels.transpose(2, 1, 0)))
    upright_lines, level_lines = lines_down(upright_edges), lines_down(level_edges)
    upright = with_borders(profiles(upright_lines, upright_edges, channels), width)
    level = with_borders(profiles(level_lines, level_edges, turned), height)
    x, y = _crossings(upright, level)
    u_pairs, l_pairs = _pairs(upright, x, width), _pairs(level, y.T, height)
    if not len(u_pairs) or not len(l_pairs):
        return _none()
    u_sides = _sides(upright, y, l_pairs)
    l_sides = _sides(level, x.T, u_pairs)
    found = _best(u_sides, l_sides, u_pairs, l_pairs, x, y, (height, width))
    lines = np.concatenate([_ends(upright_lines, height), _ends(level_lines, width)[..., ::-1]])
    return replace(found, lines=lines)


def _ends(lines: Array, rows: int) -> Array:
    """Where lines that run down cross the first and the last row: (lines, 2, 2), x and y."""
    y = np.array([0.0, rows - 1.0])
    x = lines[:, :1] + lines[:, 1:] * (y - (rows - 1) / 2)
    return np.stack([x, np.broadcast_to(y, x.shape)], axis=-1)


def _crossings(upright: Profiles, level: Profiles) -> tuple[Array, Array]:
    """Where each upright line (x of y) crosses each level one (y of x), in px of the photograph."""
    a, b = upright.lines[:, :1], upright.lines[:, 1:]
    c, d = level.lines[:, 0], level.lines[:, 1]
    middle_y, middle_x = (upright.rows - 1) / 2, (level.rows - 1) / 2
    x = (a + b * (c - d * middle_x - middle_y)) / (1 - b * d)
    return x, c + d * (x - middle_x)


def _pairs(along: Profiles, crossing: Array, length: int) -> NDArray[np.intp]:
    """Pairs of lines that can face each other, the one of smaller x (or y) first."""
    order = np.argsort(along.lines[:, 0])
    pairs = np.array(list(combinations(order, 2)), dtype=np.intp).reshape(-1, 2)
    first, second = along.lines[pairs[:, 0]], along.lines[pairs[:, 1]]
    good = (second[:, 0] - first[:, 0] > LEAST_SIDE * length) & (np.abs(first[:, 1] - second[:, 1]) < LEAST_PARALLEL)
    return pairs[good]


def _sides(along: Profiles, crossing: Array, pairs: NDArray[np.intp]) -> _Sides:
    """``crossing`` (lines, other lines): the row at which each line meets the others."""
    start, end = along.at(crossing[:, pairs[:, 0]]), along.at(crossing[:, pairs[:, 1]])
    short = end - start < 4
    end = np.where(short, np.minimum(start + 4, along.support.shape[1] - 1), end)
    line = np.broadcast_to(np.arange(len(along.lines))[:, None], start.shape)
    # The parts next to the corners are left out: a line fitted to a side misses it there by most.
    trim = np.where(end - start > 16, 1, 0)
    support = np.where(short, 0, support_between(along, line, start, end))
    before, uneven_before = evenness_between(along.before, line, start + trim, end - trim)
    after, uneven_after = evenness_between(along.after, line, start + trim, end - trim)
    even = np.log(np.stack([uneven_before, uneven_after]))
    beyond = np.maximum(np.rint(ONWARD * (end - start)).astype(int), 3)
    last = along.support.shape[1] - 1
    ends = [
        support_between(along, line, np.clip(a, 0, last), np.clip(b, 0, last))
        for a, b in ((start - 1 - beyond, start - 1), (end + 1, end + 1 + beyond))
    ]
    onward = np.mean(ends, axis=0)
    lively = np.stack([even[1] - even[0], even[0] - even[1]])
    return _Sides(support, even, lively, np.stack([before, after]), onward)


@dataclass(frozen=True, slots=True, eq=False)
class Pairs:
    """Pairs of upright lines and pairs of level ones that make up candidates, and what speaks for their sides.

    ``upright`` (pairs, 2) and ``level`` (pairs, 2) are numbers of lines; ``u_borders`` and ``l_borders`` count which of
    them are the photograph's; ``against`` (upright pairs, level pairs) is the less, the more speaks for all four sides,
    endless where they meet too far outside the photograph. ``x`` and ``y`` are where lines cross, (lines, lines).
    """

    u: _Sides
    l: _Sides
    u_pairs: NDArray[np.intp]
    l_pairs: NDArray[np.intp]
    x: Array
    y: Array
    size: tuple[int, int]
    rows: NDArray[np.intp]
    columns: NDArray[np.intp]
    against: Array
    borders: tuple[NDArray[np.intp], NDArray[np.intp]]

    def best(self, among: NDArray[np.bool_]) -> Quads:
        """The best of some candidates, each a (row, column)."""
        every = self._worthiest(among)
        by_score = np.argsort(-every.score, kind="stable")
        order = _distinct(every.corners, by_score, DISTINCT * max(self.size))
        return every.taken(_with_nested(every.corners, by_score, order, max(self.size)))

    def cut_off(self) -> tuple[Quads, ...]:
        """The best of those that borders of the photograph cut off.

        Such a canvas has three sides, two that face each other where it fills the photograph from end to end, or two
        that meet.
        """
        borders = self.borders[0][:, None] + self.borders[1]
        one, two, facing = borders == 1, borders == 2, self.borders[0][:, None] != 1
        return self.best(one), self.best(two & facing), self.best(two & ~facing)

    def beside(self, corners: Array) -> float:
        """The score of the best candidate that lies wholly to one side of four corners (4, 2); −∞ without one."""
        first, last = corners.min(axis=0) + ASIDE * max(self.size), corners.max(axis=0) - ASIDE * max(self.size)
        u, l = self.u_pairs[self.rows], self.l_pairs[self.columns]
        # All four corners of a candidate lie to the right (or below): of both its upright lines on both its level ones.
        # To the left (or above) of the others lie all four in the same way.
        apart = np.zeros(self.against.shape, dtype=np.bool_)
        for beyond in (self.x > last[0], self.x < first[0], self.y > last[1], self.y < first[1]):
            apart |= _all_four(beyond, u, l)
        apart &= (self.borders[0][:, None] == 0) & (self.borders[1] == 0)
        return float(self._worthiest(apart).score.max(initial=-np.inf)) if apart.any() else -np.inf

    def _worthiest(self, among: NDArray[np.bool_]) -> Quads:
        """As many of some candidates as are looked at further, in no order."""
        against = np.where(among, self.against, np.inf).ravel()
        flat = np.argpartition(against, POOL - 1)[:POOL] if len(against) > POOL else np.arange(len(against))
        p, q = np.unravel_index(flat[against[flat] < np.inf], self.against.shape)
        rows, columns = self.rows[p], self.columns[q]
        return _of_pairs(rows, columns, self.u, self.l, self.u_pairs, self.l_pairs, self.x, self.y, self.size)


def _all_four(of_crossings: NDArray[np.bool_], u: NDArray[np.intp], l: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Whether it is true of all four crossings (lines, lines) of each pair of upright lines with each of level ones."""
    both = of_crossings[:, l[:, 0]] & of_crossings[:, l[:, 1]]
    return both[u[:, 0]] & both[u[:, 1]]


def _best(
    u: _Sides,
    l: _Sides,
    u_pairs: NDArray[np.intp],
    l_pairs: NDArray[np.intp],
    x: Array,
    y: Array,
    size: tuple[int, int],
) -> Quads:
    height, width = size
    worth_u = _side_score(u.support, u.even, u.lively, u.onward)
    worth_l = _side_score(l.support, l.even, l.lively, np.stack([l.onward, LEDGE * l.onward]))
    # The last two lines of either direction are the photograph's borders.
    u_borders, l_borders = (u_pairs >= len(x) - 2).sum(axis=1), (l_pairs >= len(y.T) - 2).sum(axis=1)
    rows, columns = _worthiest(worth_u, u_pairs, u_borders), _worthiest(worth_l, l_pairs, l_borders)
    upright = _of_both(worth_u[:, :, columns], u_pairs[rows])  # (upright pairs, level pairs)
    across = _of_both(worth_l[:, :, rows], l_pairs[columns]).T
    near = (x > -BEYOND * width) & (x < (1 + BEYOND) * width) & (y > -BEYOND * height) & (y < (1 + BEYOND) * height)
    against = np.where(_all_four(near, u_pairs[rows], l_pairs[columns]), -(upright + across), np.inf)
    own = u_borders[rows], l_borders[columns]
    pairs = Pairs(u, l, u_pairs, l_pairs, x, y, size, rows, columns, against, own)
    whole = replace(pairs.best(own[0][:, None] + own[1] == 0), pairs=pairs)
    return whole if whole.score.max(initial=-np.inf) >= PLAIN else whole.with_cut()


def _of_both(worth: Array, pairs: NDArray[np.intp]) -> Array:
    """What speaks for the first and the second line of pairs together, of (2, lines, …): (pairs, …)."""
    return np.asarray(worth[0][pairs[:, 0]] + worth[1][pairs[:, 1]])


def _worthiest(worth: Array, pairs: NDArray[np.intp], borders: NDArray[np.intp]) -> NDArray[np.intp]:
    """The pairs of lines that may be two sides of one of the best: in a wall of bricks there are too many."""
    if len(pairs) <= MOST_PAIRS:
        return np.arange(len(pairs))
    # A few at a time, so that they stay in the processor's cache.
    parts = np.array_split(pairs, len(pairs) // AT_ONCE + 1)
    best = np.concatenate([_of_both(worth, part).max(axis=1) for part in parts])
    order = np.argsort(np.where(borders > 0, -np.inf, -best), kind="stable")
    return np.sort(order[: MOST_PAIRS + (borders > 0).sum()])


def _of_pairs(
    p: NDArray[np.intp],
    q: NDArray[np.intp],
    u: _Sides,
    l: _Sides,
    u_pairs: NDArray[np.intp],
    l_pairs: NDArray[np.intp],
    x: Array,
    y: Array,
    size: tuple[int, int],
) -> Quads:
    """The candidates made of upright pairs ``p`` and level pairs ``q``."""
    left, right, top, bottom = u_pairs[p, 0], u_pairs[p, 1], l_pairs[q, 0], l_pairs[q, 1]

    def four(name: str) -> Array:
        us, ls = getattr(u, name), getattr(l, name)
        return np.stack([us[0, left, q], us[1, right, q], ls[0, top, p], ls[1, bottom, p]], axis=1)

    support = np.stack([u.support[left, q], u.support[right, q], l.support[top, p], l.support[bottom, p]], axis=1)
    onward = np.stack([u.onward[left, q], u.onward[right, q], l.onward[top, p], LEDGE * l.onward[bottom, p]], axis=1)
    crossings = [(u_pairs[p, i], l_pairs[q, j]) for i, j in CORNERS]
    corners = np.stack([np.stack([x[at], y[at]], axis=1) for at in crossings], axis=1)
    outside = four("outside")
    even, lively = four("even"), four("lively")
    score = quad_score(support, even, lively, outside, onward, corners, size)
    sides = np.stack([left >= len(x) - 2, right >= len(x) - 2, top >= len(y.T) - 2, bottom >= len(y.T) - 2], axis=1)
    return Quads(corners, support, even, lively, outside, onward, score, sides)


def _side_score(support: Array, even: Array, lively: Array, onward: Array) -> Array:
    """What speaks for stretches as a first (0) and second (1) side: (2, lines, pairs)."""
    return 3.0 * support - 0.8 * onward + 0.35 * np.clip(lively, -1.5, 1.5) - 0.15 * np.clip(even, -4.5, -1.5)


def quad_score(
    support: Array, even: Array, lively: Array, outside: Array, onward: Array, corners: Array, size: tuple[int, int]
) -> Array:
    """What speaks for whole candidates: their sides, the weakest of them, one surround, and the size."""
    sides = _side_score(support, even, lively, onward).sum(axis=1)
    weakest = support.min(axis=1)
    spread = np.sqrt(((outside - outside.mean(axis=1, keepdims=True)) ** 2).sum(-1).mean(-1))
    area = _area(corners) / (size[0] * size[1])
    return np.asarray(sides + 4.0 * weakest - 1.5 * np.clip(spread, 0, 0.4) + 0.5 * np.log(np.maximum(area, 1e-3)))


def _distinct(corners: Array, order: NDArray[np.intp], apart: float) -> NDArray[np.intp]:
    """The best of each cluster of candidates that are nearly one."""
    kept: list[int] = []
    while len(order) and len(kept) < MOST_KEPT:
        best = int(order[0])
        kept.append(best)
        order = order[np.abs(corners[order] - corners[best]).reshape(len(order), 8).max(axis=1) > apart]
    return np.array(kept, dtype=np.intp)


def _with_nested(
    corners: Array, by_score: NDArray[np.intp], kept: NDArray[np.intp], long_edge: int
) -> NDArray[np.intp]:
    """Those and, inside each of the first, the best that shares no side with it, and the best that shares some.

    Of a painting in its frame, the frame's outer edges may outshine it, or a mixture of both.
    """
    more = list(kept)
    for outer in kept[:FRAMES]:
        inset = insets(corners[outer], corners[by_score]) / long_edge
        inside = (inset.min(axis=1) > -SHARED) & (inset.max(axis=1) < DEEPEST)
        for nested in (by_score[inside & (inset.min(axis=1) > INSET)], by_score[inside]):
            apart = np.abs(corners[nested][:, None] - corners[more]).max(axis=(2, 3)).min(axis=1)
            more += [int(one) for one in nested[apart > DISTINCT * long_edge][:1]]
    return np.array(more, dtype=np.intp)


def insets(outer: Array, inner: Array) -> Array:
    """How far the corners of quads ``inner`` (…, 4, 2) lie inside each side of ``outer``: the nearer of two each."""
    along = np.roll(outer, -1, axis=0) - outer
    inward = np.stack([-along[:, 1], along[:, 0]], axis=1) / np.maximum(np.hypot(*along.T), 1e-9)[:, None]
    ends = np.stack([inner, np.roll(inner, -1, axis=-2)])
    return np.asarray(((ends - outer) * inward).sum(axis=-1).min(axis=0))


def _area(corners: Array) -> Array:
    after = np.roll(corners, -1, axis=1)
    return np.asarray(np.abs((corners[..., 0] * after[..., 1] - after[..., 0] * corners[..., 1]).sum(axis=1)) / 2)


def _none() -> Quads:
    four = np.zeros((0, 4))
    return Quads(np.zeros((0, 4, 2)), four, four, four, np.zeros((0, 4, 3)), four, np.zeros(0), four > 0)
