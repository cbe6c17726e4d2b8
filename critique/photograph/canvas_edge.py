"""Where exactly a side of the canvas runs: the painted edge inside a frame's lip, to a part of a px."""

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float
from critique.photograph.canvas_lines import opponent
from critique.photograph.canvas_quads import LEDGE

Array = NDArray[np.float64]

REACH = 0.022  # of the canvas's long edge, on both sides of where the side was found
STEPS = 28  # offsets on either side
PLACES = 96  # along a side
FURTHER = 12  # places beyond each corner, where a canvas's edge has stopped but a seam of the wall goes on
AWAY = 0.12  # of a side's length that they reach beyond it
TOGETHER = 6  # places averaged before a step is looked for: noise and grain go, the edge stays
LOWER = 2  # of the sides: the one that an easel's ledge lies along
ENDS = 0.03  # of a side left out at both of its corners, where the neighbours' frames meet
LEAN = 10  # offsets by which a side's two ends may move apart
FLOOR = 0.010  # of the range of codes: a step within noise
STRIP = 4  # offsets whose colours are the outside or the inside of an edge
# Of a whole edge's strength: for each log of unevenness, for going on beyond the corners, for lying farther inside.
LIVELY, EVEN, ONWARD, INNER = 0.12, 0.03, 0.20, 0.12
# A fold, where a painted canvas turns to its side: one colour on both sides of it, in other light, from end to end.
FOLD = 0.5  # 0–1: how much of an edge must be light alone; edges in paintings reach 0.48
FOLD_SUPPORT = 0.55  # 0–1: strength of the edge along the side
FOLD_AWAY = 3  # offsets that it lies inside the outer edge
FOLD_STEP = 0.08  # natural log of lightness: the least step of light that is a fold
FOLD_SPREAD = 0.03  # the same, by which that step may differ along the side without counting against it
FOLD_LIVELY = 0.15  # the same, by which both sides of it change along it: between two even things it would be no fold


def snapped(codes: NDArray[np.uint8], corners: Array) -> tuple[Array, Array]:
    """Corners (4, 2) in px of ``codes`` moved to the painted edge, and what speaks for each side (4, 4).

    The figures are the strength of the edge along the side (0–1), the log of how uneven the strip outside is, by how
    much the strip inside is more uneven, in logs, and the edge's strength beyond the corners. Sides run upper, right,
    lower, left.
    """
    after = np.roll(corners, -1, axis=0)
    long_edge = float(np.hypot(*(after - corners).T).max())
    lines, figures = [], []
    for number, (start, end) in enumerate(zip(corners, after, strict=True)):
        line, figure = _side(codes, start, end, REACH * long_edge, LEDGE if number == LOWER else 1.0)
        lines.append(line)
        figures.append(figure)
    ends = np.array(lines)  # (4, 2 ends, 2)
    moved = np.array([_meeting(ends[side - 1], ends[side]) for side in range(4)])
    return moved, np.array(figures)


def _side(codes: NDArray[np.uint8], start: Array, end: Array, reach: float, onward: float) -> tuple[Array, Array]:
    """The line (two points) that is the painted edge between two corners; inside lies to the right of start → end."""
    along = end - start
    inward = np.array([-along[1], along[0]]) / max(float(np.hypot(*along)), 1e-6)
    offsets = np.linspace(-reach, reach, 2 * STEPS + 1)
    parts = _parts()
    points = start + parts[:, None, None] * along + offsets[None, :, None] * inward
    colour, seen = _colours(codes, points)
    groups = len(parts) // TOGETHER
    seen = seen.reshape(groups, TOGETHER, -1).mean(axis=1) > 0.9
    colour = colour.reshape(groups, TOGETHER, len(offsets), 3).mean(axis=1)
    strength = _strength(colour) * seen
    middle = slice(FURTHER // TOGETHER, -FURTHER // TOGETHER)
    outer, inner = _strips(colour[middle])
    worth, figures = _worth(strength, outer, inner, onward)
    best = np.unravel_index(int(worth.argmax()), worth.shape)
    folded = _fold(outer, inner)[:, None] * (figures[0] > FOLD_SUPPORT)
    folded[: best[0] + FOLD_AWAY] = 0
    if folded.max() > FOLD:
        best = np.unravel_index(int(np.where(folded > FOLD, worth, -np.inf).argmax()), worth.shape)
    first, last = best[0], best[0] + best[1] - LEAN
    # The two ends of the row of places lie half a group inside the side's ends.
    low, high = parts[FURTHER : FURTHER + TOGETHER].mean(), parts[-FURTHER - TOGETHER : -FURTHER].mean()
    slope = (offsets[last] - offsets[first]) / (high - low)
    at_start, at_end = offsets[first] - slope * low, offsets[first] + slope * (1 - low)
    return np.array([start + at_start * inward, end + at_end * inward]), figures[:, best[0], best[1]]


def _parts() -> Array:
    """Places along a side as parts of its length, those beyond its corners too."""
    own = ENDS + (1 - 2 * ENDS) * (np.arange(PLACES) + 0.5) / PLACES
    beyond = ENDS + (AWAY - ENDS) * (np.arange(FURTHER) + 0.5) / FURTHER
    return np.concatenate([-beyond[::-1], own, 1 + beyond])


def _colours(codes: NDArray[np.uint8], points: Array) -> tuple[Float, NDArray[np.bool_]]:
    """Opponent colours of the px at points (…, 2), and which of them lie inside the photograph.

    A few px along the side are averaged afterwards, which lays the edge between them as finely as interpolation would.
    """
    height, width, _ = codes.shape
    x, y = np.floor(points[..., 0]).astype(np.intp), np.floor(points[..., 1]).astype(np.intp)
    seen = (x >= 0) & (x < width) & (y >= 0) & (y < height)
    at = np.clip(y, 0, height - 1) * width + np.clip(x, 0, width - 1)
    return opponent(np.take(codes.reshape(-1, 3), at, axis=0).astype(np.float32) / 255), seen


def _strength(colour: Float) -> Array:
    """Edge strength 0–1 (groups, offsets) across the side."""
    step = np.zeros(colour.shape[:2])
    before = 0.5 * (colour[:, :-4] + colour[:, 1:-3])
    after = 0.5 * (colour[:, 3:-1] + colour[:, 4:])
    step[:, 2:-2] = np.sqrt(((after - before) ** 2).sum(axis=2))
    # Only the crest of a step counts, so that a soft one isn't found at its foot.
    crest = np.zeros_like(step)
    crest[:, 1:-1] = np.where((step[:, 1:-1] >= step[:, :-2]) & (step[:, 1:-1] >= step[:, 2:]), step[:, 1:-1], 0)
    near = crest.copy()
    for shift, part in ((1, 0.75), (2, 0.3)):
        near[:, shift:] = np.maximum(near[:, shift:], part * crest[:, :-shift])
        near[:, :-shift] = np.maximum(near[:, :-shift], part * crest[:, shift:])
    return near / (near + FLOOR + 0.3 * float(np.median(step[::2, 2:-2:2])))


def _strips(colour: Float) -> tuple[Array, Array]:
    """Mean colours just outside and just inside of an edge at each offset (groups, offsets, 3)."""
    padded = np.pad(colour, ((0, 0), (STRIP + 2, STRIP + 2), (0, 0)), mode="edge")
    sums = np.cumsum(np.pad(padded, ((0, 0), (1, 0), (0, 0))), axis=1, dtype=np.float64)
    number = colour.shape[1]
    at = np.arange(number) + STRIP + 2
    outer = (sums[:, at - 1] - sums[:, at - 1 - STRIP]) / STRIP
    inner = (sums[:, at + 2 + STRIP] - sums[:, at + 2]) / STRIP
    return outer, inner


def _worth(strength: Array, outer: Array, inner: Array, going_on: float) -> tuple[Array, Array]:
    """What speaks for a line from each offset at the first place to each near it at the last: (offsets, leans)."""
    groups, number = outer.shape[:2]
    spare = (len(strength) - groups) // 2
    steady = np.arange(-spare, groups + spare) / (groups - 1)
    first = np.arange(number)[:, None, None]
    lean = np.arange(-LEAN, LEAN + 1)[None, :, None]
    at = np.clip(np.rint(first + lean * steady).astype(int), 0, number - 1)
    inside = ((first + lean >= 0) & (first + lean < number))[..., 0]
    found = strength[np.arange(len(strength)), at]
    support = found[..., spare : spare + groups].mean(axis=2)
    onward = np.concatenate([found[..., :spare], found[..., -spare:]], axis=2).mean(axis=2) * going_on
    flat = np.arange(groups) - (groups - 1) / 2
    middle = np.clip(first[..., 0] + lean[..., 0] // 2, 0, number - 1)
    outside, within = (np.log(_uneven(strip, flat))[middle] for strip in (outer, inner))
    figures = np.stack([support, outside, within - outside, onward])
    worth = support + LIVELY * np.clip(within - outside, -1.5, 1.5) - EVEN * np.clip(outside, -4.5, -1.5)
    worth += INNER * support * (middle - STEPS) / STEPS - ONWARD * onward
    return np.where(inside, worth, -np.inf), figures


def _fold(outer: Array, inner: Array) -> Array:
    """How much an edge at each offset is one of light alone, 0–1."""
    out, within = (np.log(strip[..., 0] + 0.02) for strip in (outer, inner))
    step = within - out
    mean, spread = np.abs(step.mean(axis=0)), step.std(axis=0)
    changing = np.minimum(out.std(axis=0), within.std(axis=0))
    one_light = np.clip(mean / (spread + FOLD_SPREAD) / 3, 0, 1) * (mean > FOLD_STEP)
    return np.asarray(one_light * np.clip(changing / FOLD_LIVELY, 0, 1))


def _uneven(strip: Array, flat: Array) -> Array:
    """How uneven a strip (groups, offsets, 3) is about a steady change along it, for each offset."""
    off = strip - strip.mean(axis=0)
    lean = np.einsum("g,goc->oc", flat, off) / (flat**2).sum()
    rest = off - flat[:, None, None] * lean
    return np.asarray(np.sqrt((rest**2).sum(axis=2).mean(axis=0) + 0.008**2))


def _meeting(first: Array, second: Array) -> Array:
    """Where two lines, of two points each, cross."""
    (p, q), (r, s) = first, second
    d, e = q - p, s - r
    cross = d[0] * e[1] - d[1] * e[0]
    part = ((r[0] - p[0]) * e[1] - (r[1] - p[1]) * e[0]) / (cross if abs(cross) > 1e-9 else 1e-9)
    return np.asarray(p + part * d)
