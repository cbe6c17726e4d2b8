"""Which colour a palette gives for each colour that a picture asks for.

The answer is worked out on a lattice of CIELAB, only where the picture has colours, and read between its nodes by
trilinear interpolation: neighbouring colours stay neighbours, and nothing bands.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from critique.one_thread import in_one_thread
from critique.paints.box import PaintBox
from critique.paints.mixtures import Float32, Index, Mixer, Reach, reach_of, refine, small_sets

if TYPE_CHECKING:
    from scipy.spatial import cKDTree

STEP = 4.0  # CIELAB units between nodes: colours that the palette mixes are then met within ΔE00 0.7 on average
ORIGIN = np.array([-STEP, -130.0, -130.0], np.float32)  # L*, a*, b* of the first node
NODES = (28, 67, 67)  # to L* 104 and a*, b* 134: all of sRGB with a node to spare
# How a difference counts: value before hue, hue before chroma. A repaint survives duller colours; it does not survive
# other values. Common practice, no source.
VALUE_WEIGHT, HUE_WEIGHT, CHROMA_WEIGHT = 3.0, 1.5, 1.0
GREY = 12.0  # C* below which hue loses its meaning, and counts no more than chroma
STARTS = 6  # lattice mixtures, each of another set of paints, from which a node is refined
REACHED = 0.1  # weighted units within which a node is met, and no further start is tried
STRETCH = np.array([VALUE_WEIGHT, 1, 1], np.float32)  # of L*, a*, b*, to find those near by
SHORTLIST = 48  # nearest lattice mixtures that are ranked for them
SMOOTHING = 1.0  # nodes: levels the small jumps where two mixtures are equally near
RANKED = 1_000  # nodes whose nearest are ranked at a time, so that a colourful picture takes no more memory
BLOCK = 16_000  # px interpolated at a time: they stay in the cache


@dataclass(frozen=True, slots=True, eq=False)
class ReachableMap:
    """How every colour of a picture moves when a palette mixes it: (28, 67, 67, 3) of CIELAB, on the lattice."""

    move: Float32

    def applied(self, lab: Float32) -> Float32:
        """Colours (..., 3) as the palette gives them; those that the map was not made for stay as they are."""
        flat = np.ascontiguousarray(lab, dtype=np.float32).reshape(-1, 3)
        table = np.ascontiguousarray(self.move.reshape(-1, 3).T)
        found = np.empty_like(flat)
        for start in range(0, len(flat), BLOCK):
            span = slice(start, start + BLOCK)
            found[span] = flat[span] + _between(table, flat[span])
        found[:, 0] = np.clip(found[:, 0], 0, 100)
        return found.reshape(lab.shape)


@in_one_thread
def reachable_map(lab: Float32, box: PaintBox) -> ReachableMap:
    """The map of the colours (..., 3) of a picture to the nearest mixtures of a box and its white."""
    used = _used_nodes(lab)
    places = np.argwhere(used).astype(np.float32) * np.float32(STEP) + ORIGIN
    move = np.zeros((*NODES, 3), np.float32)
    move[used] = nearest_reachable(places, box) - places
    return ReachableMap(_smoothed(move, used))


@in_one_thread
def nearest_reachable(colours: Float32, box: PaintBox) -> Float32:
    """The mixture of at most three paints and white nearest to each colour (n, 3), values first."""
    size = min(len(box.paints), 3)
    reach = reach_of(Mixer.of(box.with_white), small_sets(len(box.paints), size))
    aims = _showable(colours)
    metric = _metric(aims)
    starts = _starts(reach, aims, metric)
    best, error = np.empty_like(aims), np.full(len(aims), np.inf, np.float32)
    for chosen in starts.T:
        todo = np.flatnonzero((error > REACHED) & (chosen >= 0))
        lab = _refined(reach, chosen[todo], aims[todo], metric[todo])
        miss = _distance(lab, aims[todo], metric[todo])
        better = miss < error[todo]
        best[todo[better]], error[todo[better]] = lab[better], miss[better]
    return best


def _used_nodes(lab: Float32) -> NDArray[np.bool_]:
    """Nodes (28, 67, 67) at the corners of a cell that holds any of the colours."""
    cell = ((lab.reshape(-1, 3) - ORIGIN) * np.float32(1 / STEP)).astype(np.int32)
    code = (cell[:, 0] * NODES[1] + cell[:, 1]) * NODES[2] + cell[:, 2]
    held = (np.bincount(code, minlength=int(np.prod(NODES))) > 0).reshape(NODES)
    corners = held.copy()
    for axis in range(3):
        corners |= np.roll(corners, 1, axis=axis)
    return corners


def _showable(colours: Float32) -> Float32:
    """Nodes may lie above white or below black: they ask for the value at that end."""
    aims = np.array(colours, np.float32)
    aims[:, 0] = np.clip(aims[:, 0], 0, 100)
    return aims


def _metric(aims: Float32) -> Float32:
    """Matrices (n, 3, 3) that turn a difference in CIELAB into weighted differences of value, chroma and hue."""
    chroma = np.hypot(aims[:, 1], aims[:, 2])
    cos, sin = aims[:, 1] / np.maximum(chroma, 1e-6), aims[:, 2] / np.maximum(chroma, 1e-6)
    hue = CHROMA_WEIGHT + (HUE_WEIGHT - CHROMA_WEIGHT) * np.clip(chroma / GREY, 0, 1)
    metric = np.zeros((len(aims), 3, 3), np.float32)
    metric[:, 0, 0] = VALUE_WEIGHT
    metric[:, 1, 1], metric[:, 1, 2] = CHROMA_WEIGHT * cos, CHROMA_WEIGHT * sin
    metric[:, 2, 1], metric[:, 2, 2] = -hue * sin, hue * cos
    return metric


def _distance(lab: Float32, aims: Float32, metric: Float32) -> Float32:
    return np.asarray(np.linalg.norm(np.einsum("nij,nj->ni", metric, lab - aims), axis=1))


def _starts(reach: Reach, aims: Float32, metric: Float32) -> Index:
    """Numbers (n, starts) of the nearest lattice mixtures, best first, each of another set of paints; −1 for none."""
    from scipy.spatial import cKDTree

    cloud = reach.lab.reshape(-1, 3)
    tree = cKDTree(cloud * STRETCH)
    spans = [slice(start, start + RANKED) for start in range(0, len(aims), RANKED)] or [slice(0)]
    near = (_shortlist(tree, cloud, aims[span], metric[span]) for span in spans)
    return np.concatenate([_of_other_sets(each, reach.lab.shape[1]) for each in near])


def _shortlist(tree: "cKDTree", cloud: Float32, aims: Float32, metric: Float32) -> Index:
    """Numbers (n, at most SHORTLIST) of the lattice mixtures nearest to each colour, best first."""
    count = min(SHORTLIST, len(cloud))
    _, near = tree.query(aims * STRETCH, k=count)
    near = np.asarray(near, dtype=np.intp).reshape(len(aims), count)
    offset = np.einsum("nij,nkj->nki", metric, cloud[near] - aims[:, None, :])
    return np.take_along_axis(near, np.argsort((offset**2).sum(axis=-1), axis=1, kind="stable"), axis=1)


def _of_other_sets(near: Index, points: int) -> Index:
    """Of such numbers the first few of different sets of paints, each of so many points; −1 for none."""
    number, count = near // points, near.shape[1]
    first = np.stack([(number[:, :k] != number[:, k : k + 1]).all(axis=1) for k in range(count)], axis=1)
    order = np.argsort(~first, axis=1, kind="stable")[:, :STARTS]
    return np.where(np.take_along_axis(first, order, axis=1), np.take_along_axis(near, order, axis=1), -1)


def _refined(reach: Reach, chosen: Index, aims: Float32, metric: Float32) -> Float32:
    points = reach.lab.shape[1]
    sets = reach.sets[chosen // points]
    parts = reach.parts_at(chosen // points, chosen % points)
    return reach.mixer.lab(sets, refine(reach.mixer, sets, parts, aims, metric))


def _smoothed(move: Float32, used: NDArray[np.bool_]) -> Float32:
    """The moves averaged with their neighbours' where those are known."""
    from scipy.ndimage import gaussian_filter

    weight = gaussian_filter(used.astype(np.float32), SMOOTHING)
    smooth = np.stack([gaussian_filter(move[..., axis], SMOOTHING) for axis in range(3)], axis=-1)
    return np.asarray(np.where(used[..., None], smooth / np.maximum(weight, 1e-6)[..., None], 0), dtype=np.float32)


def _between(table: Float32, lab: Float32) -> Float32:
    """The entries of a table (3, nodes) between nodes for colours (n, 3), by trilinear interpolation.

    One row a channel: long runs of memory are quicker than many of three numbers.
    """
    place = np.ascontiguousarray(((lab - ORIGIN) * np.float32(1 / STEP)).T)
    cell = place.astype(np.int32)
    within = place - cell
    base = ((cell[0] * NODES[1] + cell[1]) * NODES[2] + cell[2]).astype(np.intp)
    found = np.zeros_like(place)
    for i in (0, 1):
        x = within[0] if i else 1 - within[0]
        for j in (0, 1):
            xy = x * (within[1] if j else 1 - within[1])
            for k in (0, 1):
                share = xy * (within[2] if k else 1 - within[2])
                node = base + ((i * NODES[1] + j) * NODES[2] + k)
                for own, channel in zip(found, table, strict=True):
                    own += share * np.take(channel, node)
    return found.T
