"""Whether the painting goes on beyond a side that was found: then that side is a line in it, a horizon or a shore.

A canvas's sides stop at its corners. Where both sides that meet a third run on beyond it, so does the canvas.
"""

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Codes
from critique.photograph.canvas_edge import edge_strength, opponent_at

Array = NDArray[np.float64]

NEAREST, FARTHEST = 0.015, 0.10  # of a side's length beyond its corner: between them is looked
GROUPS, TOGETHER = 4, 4  # places beyond each corner, and px averaged in each
STEP = 0.00125  # of the canvas's long edge: how finely an edge's place is told
AROUND, OFF = 12, 2  # such steps on either side that are looked at, and by which the edge may have strayed
BESIDE = 5  # such steps from which on what is seen is other edges: of grass or mouldings, which go on everywhere
OF_BESIDE = 0.5  # of their strength, by which the edge's own counts less
SEEN = 0.9  # share of a place that must lie in the photograph
# Of that: of 75 drawn photographs the 68 with their corners right have at most 0.36, the 7 that were a part of their
# canvas at least 0.48.
GOES_ON = 0.42
RIGHT, LEFT = 1, 3  # of the sides: those that the lower one meets
LEAST = 2  # places of a side that must: with fewer nothing is known of it


def onward_beyond(pixels: Codes, corners: Array) -> Array:
    """How strongly the painting goes on beyond each side of canvases (number, 4, 2) in px: (number, 4), 0–1.

    Beyond the upper, right, lower and left side: the strength of the edge along the weaker of the two sides that meet
    it, just beyond their corners, times by how much it is stronger than what else runs beside it. 0 where neither
    shows there, nor where the lower side alone does: an easel's ledge goes on from it.
    """
    along = (np.roll(corners, -1, axis=1) - corners).reshape(-1, 2)
    length = np.hypot(*along.T)
    longest = np.repeat(length.reshape(-1, 4).max(axis=1), 4)
    outward = np.stack([along[:, 1], -along[:, 0]], axis=1) * (longest / np.maximum(length, 1e-6))[:, None]
    number = GROUPS * TOGETHER
    beyond = NEAREST + (FARTHEST - NEAREST) * (np.arange(number) + 0.5) / number
    offsets: Array = np.arange(-AROUND, AROUND + 1) * np.float64(STEP)
    parts = np.concatenate([-beyond[::-1], 1 + beyond])
    colour, seen = opponent_at(pixels, corners.reshape(-1, 2), along, outward, parts, offsets, TOGETHER)
    there = (seen[:, :, AROUND] > SEEN).reshape(-1, 4, 2, GROUPS)
    strength = (edge_strength(colour) * (seen > SEEN)).reshape(-1, 4, 2, GROUPS, len(offsets))
    known = there.sum(axis=-1)  # (number, sides, ends)
    mean = (strength * there[..., None]).sum(axis=3) / np.maximum(known, 1)[..., None]
    own = mean[..., AROUND - OFF : AROUND + OFF + 1].max(axis=-1)
    others = np.concatenate([mean[..., : AROUND - BESIDE + 1], mean[..., AROUND + BESIDE :]], axis=-1).mean(axis=-1)
    at = np.where(known >= LEAST, own * np.maximum(own - OF_BESIDE * others, 0), np.inf)
    # Beyond a side go on the one before it, at its last corner, and the one after it, at its first.
    before, after = np.roll(at[..., 1], 1, axis=1), np.roll(at[..., 0], -1, axis=1)
    weaker = np.minimum(before, after)
    weaker[:, RIGHT] = np.where(np.isfinite(before[:, RIGHT]), weaker[:, RIGHT], 0)
    weaker[:, LEFT] = np.where(np.isfinite(after[:, LEFT]), weaker[:, LEFT], 0)
    return np.where(np.isfinite(weaker), weaker, 0.0)
