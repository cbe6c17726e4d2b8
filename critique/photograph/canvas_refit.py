"""The sides of a canvas laid through the edge itself, to a small part of a px: straight, and bearing with outliers."""

import numpy as np
from numpy.typing import NDArray

from critique.perception.channels import over_channels
from critique.perception.srgb import Codes, Float
from critique.photograph.canvas_edge import meetings, opponent_at

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
CLEAR = 0.3  # weight from which a place tells whether the edge wavers
OUTLYING = 3.0  # times the middle distance from its own curve, beyond which a place counts no more


def refitted(pixels: Codes, corners: Array, fixed: NDArray[np.bool_]) -> Array:
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


def wavering(pixels: Codes, corners: Array) -> float:
    """How far the sides waver about their own curves, in parts of the long edge: as a hand's line does, not a canvas's.

    A lens bends a straight edge, which a parabola follows; noise moves each place by itself. What is left is by how
    much neighbours stray together, the mean of the sides; 0 where none is seen well enough.
    """
    offsets: Array = np.arange(-STEPS - HALF - 1, STEPS + HALF + 2) * np.float64(STEP)
    parts = ENDS + (1 - 2 * ENDS) * (np.arange(GROUPS * TOGETHER) + 0.5) / (GROUPS * TOGETHER)
    places = parts.reshape(GROUPS, TOGETHER).mean(axis=1)
    along = np.roll(corners, -1, axis=0) - corners
    length = np.hypot(*along.T)
    inward = np.stack([-along[:, 1], along[:, 0]], axis=1) / length[:, None]
    colour, _ = opponent_at(pixels, corners, along, inward * length.max(), parts, offsets, TOGETHER)
    off, weight = _crests(colour)
    strayed = [_strayed(places, *side) for side in zip(off, weight > CLEAR, strict=True) if side[1].sum() > GROUPS / 4]
    return float(np.mean(strayed)) if strayed else 0.0


def _strayed(places: Array, off: Array, clear: NDArray[np.bool_]) -> float:
    """The root of what neighbouring places of one side stray together; negative where they stray apart."""
    kept, middle, away = clear, 0.0, off
    curve = np.stack([np.ones_like(places), places - 0.5, (places - 0.5) ** 2], axis=1)
    for _ in range(3):
        own = curve[kept]  # three terms of one size: the normal equations lose nothing, and are quick
        away = off - curve @ np.linalg.solve(own.T @ own + 1e-12 * np.eye(3), own.T @ off[kept])
        middle = max(float(np.median(np.abs(away[clear]))), 1e-6)
        kept = clear & (np.abs(away) <= OUTLYING * middle)
    held = np.clip(away, -OUTLYING * middle, OUTLYING * middle) * clear
    together = float((held[1:] * held[:-1]).sum()) / max(int((clear[1:] & clear[:-1]).sum()), 1)
    return float(np.sign(together) * np.sqrt(abs(together)))


def _crests(colour: Float) -> tuple[Array, Array]:
    """How far inside each side and place (4, GROUPS) the greatest step of colour lies, and what it counts."""
    pairs = colour[:, :, :-1] + colour[:, :, 1:]
    step = 0.5 * (pairs[:, :, HALF:] - pairs[:, :, :-HALF])
    size = np.sqrt(over_channels(step**2)).astype(np.float64)
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
