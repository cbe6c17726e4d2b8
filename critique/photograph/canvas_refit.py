"""The sides of a canvas laid through the edge itself, to a small part of a px: straight, and bearing with outliers."""

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float
from critique.photograph.canvas_edge import Pixels, meetings, opponent_at

Array = NDArray[np.float64]

REACH, STEP = 0.004, 0.0005  # of the long edge: how far the edge may lie from where it was found, how finely it is told
STEPS = round(REACH / STEP)
HALF = 2  # offsets on either side that a step is taken over, averaged by twos
GROUPS, TOGETHER = 40, 4  # places along a side, and px averaged in each
ENDS = 0.03  # of a side left out at both of its corners
ROUNDS, TRIES = 2, 6  # times that the edge is looked for, and that the places are weighed
FLOOR = 0.02  # of the range of codes: a place whose step is as small counts half
OFF = 0.0012  # of the long edge: a place as far from the line counts half
LEAST = 4.0  # places that a line is laid through, all told: with fewer it stays


def refitted(pixels: Pixels, corners: Array, fixed: NDArray[np.bool_]) -> Array:
    """Corners (4, 2) in px, refined; the sides that are ``fixed`` (4,) stay."""
    parts = ENDS + (1 - 2 * ENDS) * (np.arange(GROUPS * TOGETHER) + 0.5) / (GROUPS * TOGETHER)
    offsets: Array = np.arange(-STEPS - HALF - 1, STEPS + HALF + 2) * np.float64(STEP)
    places = parts.reshape(GROUPS, TOGETHER).mean(axis=1)
    for _ in range(ROUNDS):
        after = np.roll(corners, -1, axis=0)
        along = after - corners
        longest = np.hypot(*along.T).max()
        inward = np.stack([-along[:, 1], along[:, 0]], axis=1) / np.hypot(*along.T)[:, None]
        colour, seen = opponent_at(pixels, corners, along, inward * longest, parts, offsets, TOGETHER)
        off, weight = _crests(colour)
        weight *= seen.min(axis=2) > 0.9
        weight[fixed] = 0
        first, lean = _lines(places, off, weight) * longest
        lines = np.stack([corners + first[:, None] * inward, after + (first + lean)[:, None] * inward], axis=1)
        corners = meetings(np.roll(lines, 1, axis=0), lines)
    return corners


def _crests(colour: Float) -> tuple[Array, Array]:
    """How far inside each side and place (4, GROUPS) the greatest step of colour lies, and what it counts."""
    pairs = colour[:, :, :-1] + colour[:, :, 1:]
    step = 0.5 * (pairs[:, :, HALF:] - pairs[:, :, :-HALF])
    size = np.sqrt((step**2).sum(-1)).astype(np.float64)
    spare = (size.shape[2] - 2 * STEPS - 1) // 2
    size = size[:, :, spare : spare + 2 * STEPS + 1]
    at = size.argmax(axis=2)
    before, here, after = (
        np.take_along_axis(size, np.clip(at + shift, 0, 2 * STEPS)[..., None], axis=2)[..., 0] for shift in (-1, 0, 1)
    )
    part = np.clip((after - before) / (2 * (2 * here - before - after) + 1e-9), -0.5, 0.5)
    within = (at > 0) & (at < 2 * STEPS)
    return (at - STEPS + part) * STEP, here / (here + FLOOR) * within


def _lines(places: Array, off: Array, weight: Array) -> Array:
    """A line for each side: (2, 4), offset at its start and by how much more at its end."""
    own, line = weight, np.zeros((2, 4))
    for _ in range(TRIES):
        total, first, second = own.sum(axis=1), own @ places, own @ places**2
        fx, fy = (own * off).sum(axis=1), (own * off) @ places
        spread = total * second - first**2 + 1e-6
        lean = (total * fy - first * fx) / spread
        line = np.where(total < LEAST, 0, np.stack([(fx - lean * first) / np.maximum(total, 1e-6), lean]))
        away = np.abs(off - line[0][:, None] - line[1][:, None] * places)
        own = weight / (1 + (away / OFF) ** 2)
    return line
