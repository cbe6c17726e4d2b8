"""Where exactly a side of the canvas runs: the painted edge inside a frame's lip, to a part of a px."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.perception.channels import over_channels
from critique.perception.srgb import Codes, Float
from critique.photograph.canvas_lines import opponent
from critique.photograph.canvas_quads import LEDGE

Array = NDArray[np.float64]

REACH = 0.022  # of the canvas's long edge, on both sides of where the side was found
STEPS = 28  # offsets on either side
PLACES = 96  # along a side
FURTHER = 12  # places beyond each corner, where a canvas's edge has stopped but a seam of the wall goes on
AWAY = 0.12  # of a side's length that they reach beyond it
AT_ONCE = 1 << 14  # px looked at at a time, so that every step stays in the processor's cache
TOGETHER = 6  # places averaged before a step is looked for: noise and grain go, the edge stays
LOWER = 2  # of the sides: the one that an easel's ledge lies along
ENDS = 0.03  # of a side left out at both of its corners, where the neighbours' frames meet
LEAN, LEAN_STEP = 10, 2  # offsets by which a side's two ends may move apart, and the step in which that is tried
OTHER = 8  # offsets (0.6 % of the long edge) from which another line near a side is another edge
FLOOR = 0.010  # of the range of codes: a step within noise
NEARBY = 4  # other edges near a side that are told
NEARBY_APART = 4  # offsets from which two edges are two
STRIP = 4  # offsets whose colours are the outside or the inside of an edge
# Of a whole edge's strength: for each log of unevenness, for going on beyond the corners, for lying farther inside.
LIVELY, EVEN, ONWARD, INNER = 0.10, 0.02, 0.25, 0.38
# A fold, where a painted canvas turns to its side: one colour on both sides of it, in other light, from end to end.
FOLD = 0.5  # 0–1: how much of an edge must be light alone; edges in paintings reach 0.48
FOLD_SUPPORT = 0.55  # 0–1: strength of the edge along the side
FOLD_AWAY = 3  # offsets that it lies inside the outer edge
FOLD_STEP = 0.08  # natural log of lightness: the least step of light that is a fold
FOLD_SPREAD = 0.03  # the same, by which that step may differ along the side without counting against it
FOLD_LIVELY = 0.15  # the same, by which both sides of it change along it: between two even things it would be no fold


@dataclass(frozen=True, slots=True, eq=False)
class Sides:
    """What speaks for each side of some canvases, (number, 4) each; sides run upper, right, lower, left.

    ``edge`` is the strength of the edge along the side (0–1), ``uneven`` the log of how uneven the strip outside is,
    ``lively`` by how much the strip inside is more uneven, in logs, ``onward`` the edge's strength beyond the corners,
    ``clear`` by how much the edge is worth more than any other near it, ``within`` the strength of the strongest that
    lies farther inside, ``fold`` how much of the edge is light alone (0–1), ``moved`` how far it lay from where it was
    looked for, in parts of the reach; ``outside`` (number, 4, 3) are the opponent colours there.
    """

    edge: Array
    uneven: Array
    lively: Array
    onward: Array
    clear: Array
    within: Array
    fold: Array
    moved: Array
    outside: Array


def snapped(pixels: Codes, corners: Array) -> tuple[Array, Sides, Array]:
    """Corners (number, 4, 2) in px moved to the painted edge, and what speaks for each side.

    Last the other edges near each side, (number, 4, NEARBY, 2, 2): two points each, in px, the worthiest first.
    """
    along = np.roll(corners, -1, axis=1) - corners
    reach = np.repeat(REACH * np.hypot(along[..., 0], along[..., 1]).max(axis=1), 4)
    start, along = corners.reshape(-1, 2), along.reshape(-1, 2)
    inward = np.stack([-along[:, 1], along[:, 0]], axis=1) / np.maximum(np.hypot(*along.T), 1e-6)[:, None]
    going_on = np.where(np.arange(len(start)) % 4 == LOWER, LEDGE, 1.0)
    parts = _parts()
    offsets = np.linspace(-1, 1, 2 * STEPS + 1)
    colour, seen = opponent_at(pixels, start, along, inward * reach[:, None], parts, offsets, TOGETHER)
    strength = edge_strength(colour) * (seen > 0.9)
    outer, inner = _strips(colour[:, FURTHER // TOGETHER : -FURTHER // TOGETHER])
    ends, nearby, sides = _best_lines(strength, outer, inner, going_on)
    unit = reach / STEPS
    first, last = np.moveaxis((np.concatenate([ends[:, None], nearby], axis=1) - STEPS) * unit[:, None, None], 2, 0)
    # The two ends of the row of places lie half a group inside the side's ends.
    low, high = parts[FURTHER : FURTHER + TOGETHER].mean(), parts[-FURTHER - TOGETHER : -FURTHER].mean()
    slope = (last - first) / (high - low)
    lines = np.stack(
        [
            start[:, None] + (first - slope * low)[..., None] * inward[:, None],
            (start + along)[:, None] + (first + slope * (1 - low))[..., None] * inward[:, None],
        ],
        axis=2,
    ).reshape(-1, 4, 1 + NEARBY, 2, 2)
    best = lines[:, :, 0]
    return meetings(np.roll(best, 1, axis=1), best), sides, lines[:, :, 1:]


def _parts() -> Array:
    """Places along a side as parts of its length, those beyond its corners too."""
    own = ENDS + (1 - 2 * ENDS) * (np.arange(PLACES) + 0.5) / PLACES
    beyond = ENDS + (AWAY - ENDS) * (np.arange(FURTHER) + 0.5) / FURTHER
    return np.concatenate([-beyond[::-1], own, 1 + beyond])


def opponent_at(
    pixels: Codes, start: Array, along: Array, across: Array, parts: Array, offsets: Array, together: int
) -> tuple[Float, Float]:
    """Opponent colours around each side (sides, groups, offsets, 3), and the share of it inside the photograph.

    A few px along the side are averaged, which lays the edge between them as finely as interpolation would.
    """
    first, way, beside, part, off = (np.asarray(one, np.float32) for one in (start, along, across, parts, offsets))
    groups = len(parts) // together
    colour = np.empty((len(start), groups, len(offsets), 3), np.float32)
    seen = np.empty(colour.shape[:3], np.float32)
    few = max(1, AT_ONCE // (len(parts) * len(offsets)))
    for one in range(0, len(start), few):
        some = np.s_[one : one + few]
        x, y = (
            (first[some, i, None] + part * way[some, i, None])[..., None] + beside[some, i, None, None] * off
            for i in (0, 1)
        )
        total, seen[some] = _totals_at(pixels, x, y, together)
        colour[some] = opponent(total.astype(np.float32) / np.float32(255 * together))
    return colour, seen


def _totals_at(pixels: Codes, x: Float, y: Float, together: int) -> tuple[NDArray[np.uint16], Float]:
    """Codes of places (sides, places, offsets) in px, so many along a side added up; and the share that is inside."""
    height, width, _ = pixels.shape
    shape = (len(x), x.shape[1] // together, together, x.shape[2])
    if min(x.min(), y.min()) >= 0 and x.max() < width and y.max() < height:
        seen = np.ones((shape[0], shape[1], shape[3]), np.float32)
    else:
        there = (x >= 0) & (x < width) & (y >= 0) & (y < height)
        seen = there.reshape(shape).mean(axis=2, dtype=np.float32)
        x, y = np.clip(x, 0, width - 1), np.clip(y, 0, height - 1)
    at = y.astype(np.intp)
    at *= width
    at += x.astype(np.intp)
    each = np.take(pixels.reshape(-1, 3), at, axis=0).reshape(*shape, 3)
    total: NDArray[np.uint16] = each[:, :, 0].astype(np.uint16)
    for place in range(1, together):
        total += each[:, :, place]
    return total, seen


def edge_strength(colour: Float) -> Float:
    """Edge strength 0–1 (sides, groups, offsets) across each side."""
    step = np.zeros(colour.shape[:3], np.float32)
    pairs = colour[:, :, :-1] + colour[:, :, 1:]
    difference = 0.5 * (pairs[:, :, 3:] - pairs[:, :, :-3])
    step[:, :, 2:-2] = np.sqrt(over_channels(difference * difference))
    # Only the crest of a step counts, so that a soft one isn't found at its foot.
    crest = np.zeros_like(step)
    inner = step[:, :, 1:-1]
    crest[:, :, 1:-1] = np.where((inner >= step[:, :, :-2]) & (inner >= step[:, :, 2:]), inner, 0)
    near = crest.copy()
    for shift, part in ((1, np.float32(0.75)), (2, np.float32(0.3))):
        near[:, :, shift:] = np.maximum(near[:, :, shift:], part * crest[:, :, :-shift])
        near[:, :, :-shift] = np.maximum(near[:, :, :-shift], part * crest[:, :, shift:])
    floor = FLOOR + 0.3 * _middles(step[:, ::2, 2:-2:2])[:, None, None]
    return np.asarray(near / (near + floor))


def _middles(values: Float) -> Float:
    """The median of each side's values (sides, …): numpy's own, which looks for what is no number, takes four times."""
    rows = values.reshape(len(values), -1)
    low, high = (rows.shape[1] - 1) // 2, rows.shape[1] // 2
    ordered = np.partition(rows, (low, high), axis=1)
    return (ordered[:, low] + ordered[:, high]) / np.float32(2)


def _strips(colour: Float) -> tuple[Float, Float]:
    """Mean colours just outside and just inside of an edge at each offset (sides, groups, offsets, 3)."""
    padded = np.pad(colour, ((0, 0), (0, 0), (STRIP + 3, STRIP + 2), (0, 0)), mode="edge")
    sums = np.cumsum(padded, axis=2)
    number = colour.shape[2]
    outer = (sums[:, :, STRIP + 1 : STRIP + 1 + number] - sums[:, :, 1 : 1 + number]) / STRIP
    after = 2 * STRIP + 4
    inner = (sums[:, :, after : after + number] - sums[:, :, after - STRIP : after - STRIP + number]) / STRIP
    return outer.astype(np.float32, copy=False), inner.astype(np.float32, copy=False)


def _best_lines(
    strength: Float, outer: Float, inner: Float, going_on: Array
) -> tuple[NDArray[np.intp], NDArray[np.intp], Sides]:
    """For each side the offsets at its first and last place (sides, 2), those of others near it, what speaks for it."""
    sides, groups, number = outer.shape[:3]
    spare = (strength.shape[1] - groups) // 2
    steady = np.arange(-spare, groups + spare) / (groups - 1)
    first = np.arange(number)[:, None, None]
    leans = np.arange(-LEAN, LEAN + 1, LEAN_STEP)
    lean = leans[:, None]
    at = np.clip(np.rint(first + lean * steady).astype(np.intp), 0, number - 1)
    inside = ((first + lean >= 0) & (first + lean < number))[..., 0]
    flat = at + np.arange(strength.shape[1]) * number
    found = np.take(strength.reshape(sides, -1), flat, axis=1)  # (sides, offsets, leans, groups)
    share = np.zeros((strength.shape[1], 2), np.float32)  # of each place in the side and in what goes on beyond it
    share[:, 1] = 1 / (2 * spare)
    share[spare : spare + groups] = 1 / groups, 0
    support, onward = np.moveaxis((found.reshape(-1, len(share)) @ share).reshape(*found.shape[:3], 2), -1, 0)
    onward = onward * going_on[:, None, None].astype(np.float32)
    middle = np.clip(first[..., 0] + leans // 2, 0, number - 1)
    out, within = (np.log(uneven_strip(strip)) for strip in (outer, inner))
    beside = LIVELY * np.clip(within - out, -1.5, 1.5) - EVEN * np.clip(out, -4.5, -1.5)
    plain = support + beside[:, middle] - ONWARD * onward
    worth = plain + INNER * support * (middle - STEPS) / STEPS
    plain, worth = (np.where(inside, one, -np.inf) for one in (plain, worth))
    every = np.arange(sides)
    best = worth.reshape(sides, -1).argmax(axis=1)
    fold_at = _fold(outer, inner)
    folded = fold_at[..., None] * (support > FOLD_SUPPORT)
    folded[np.broadcast_to(first[..., 0] < (best // len(leans) + FOLD_AWAY)[:, None, None], folded.shape)] = 0
    fold = np.where(folded > FOLD, worth, -np.inf).reshape(sides, -1)
    best = np.where(np.isfinite(fold.max(axis=1)), fold.argmax(axis=1), best)
    row, column = best // len(leans), best % len(leans)
    ends = np.stack([np.broadcast_to(first[..., 0], inside.shape), first[..., 0] + leans])
    own = ends[:, row, column]  # (2, sides)
    off = ends[:, None] - own[..., None, None]  # (2, sides, offsets, leans)
    apart = np.abs(off).max(axis=0) >= OTHER
    clear = worth[every, row, column] - np.where(apart, worth, -np.inf).reshape(sides, -1).max(axis=1)
    farther = off.min(axis=0) >= OTHER
    within_it = np.where(farther & inside, support, 0).reshape(sides, -1).max(axis=1)
    at_middle = middle[row, column]

    def four(figure: NDArray[np.floating]) -> Array:
        return figure.reshape(-1, 4, *figure.shape[1:]).astype(np.float64)

    return (
        np.stack([row, row + leans[column]], axis=1),
        _nearby(plain, ends, own),
        Sides(
            edge=four(support[every, row, column]),
            uneven=four(out[every, at_middle]),
            lively=four((within - out)[every, at_middle]),
            onward=four(onward[every, row, column]),
            clear=four(clear),
            within=four(within_it),
            fold=four(fold_at[every, at_middle]),
            moved=four(np.abs(row + leans[column] / 2 - STEPS) / STEPS),
            outside=four(outer.mean(axis=1)[every, at_middle]),
        ),
    )


def _nearby(worth: Float, ends: NDArray[np.intp], own: NDArray[np.intp]) -> NDArray[np.intp]:
    """The worthiest lines that are other edges: offsets at both ends (sides, NEARBY, 2)."""
    left = worth.reshape(len(worth), -1)
    ends = ends.reshape(2, -1)
    found = []
    for _ in range(NEARBY):
        left = np.where(np.abs(ends[:, None] - own[..., None]).max(axis=0) < NEARBY_APART, -np.inf, left)
        own = ends[:, left.argmax(axis=1)]
        found.append(own.T)
    return np.stack(found, axis=1)


def _fold(outer: Float, inner: Float) -> Float:
    """How much an edge at each offset is one of light alone, 0–1 (sides, offsets)."""
    out, within = (np.log(np.maximum(strip[..., 0], 0) + np.float32(0.02)) for strip in (outer, inner))
    step = within - out
    mean, spread = np.abs(step.mean(axis=1)), step.std(axis=1)
    changing = np.minimum(out.std(axis=1), within.std(axis=1))
    one_light = np.clip(mean / (spread + FOLD_SPREAD) / 3, 0, 1) * (mean > FOLD_STEP)
    return np.asarray(one_light * np.clip(changing / FOLD_LIVELY, 0, 1))


def uneven_strip(strip: Float) -> Float:
    """How uneven strips (sides, places, …, 3) are about a steady change along them, for each side and all between."""
    number = strip.shape[1]
    flat = (np.arange(number) - (number - 1) / 2).astype(np.float32)
    off = strip - strip.mean(axis=1, keepdims=True)
    lean = np.einsum("g,sg...c->s...c", flat, off)
    square = np.einsum("sg...c,sg...c->s...", off, off) - np.einsum("s...c,s...c->s...", lean, lean) / (flat**2).sum()
    return np.asarray(np.sqrt(np.maximum(square, 0) / number + 0.008**2))


def meetings(first: Array, second: Array) -> Array:
    """Where lines, of two points each (…, 2, 2), cross those of ``second``."""
    p, r = first[..., 0, :], second[..., 0, :]
    d, e = first[..., 1, :] - p, second[..., 1, :] - r
    cross = d[..., 0] * e[..., 1] - d[..., 1] * e[..., 0]
    cross = np.where(np.abs(cross) > 1e-9, cross, 1e-9)
    part = ((r - p)[..., 0] * e[..., 1] - (r - p)[..., 1] * e[..., 0]) / cross
    return np.asarray(p + part[..., None] * d)
