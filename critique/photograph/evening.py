"""Whether the light falls off across a canvas, told by what lies around it, and how to even it."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float
from critique.photograph.corners import Corners
from critique.photograph.falloff import falloff_of, surround_of
from critique.photograph.straighten import homography

Array = NDArray[np.float64]

SAME_PAINT = 0.10  # natural log of a ratio of channels: px of the wall's own paint differ by less
ONE_WALL = 0.6  # of what is seen beside the canvas that must be of that paint
SMOOTH = 0.04  # natural log of the light by which an even wall may scatter about its own falloff
LEAST_SIDES = 2  # of the canvas on which wall must be seen: fewer would be guessing beyond what was seen
# Natural log of light by which a plane and a curved surface, both fitted to the wall, may differ on the canvas: where
# they differ by more, what lies between is guessed. Of 62 drawn photographs the 17 that agree, and have no window's
# reflection, came nearer to their painting when they were evened; those that don't agree came off by up to ΔE00 1.4.
AGREE = 0.06
# How far places that share a paint agree, from which on they show the light though they are no one even wall. Of 77
# drawn photographs without such a wall that nothing was fitted on 51 do; evened, 33 of these come nearer to even light,
# 7 farther from it, and of 26 that show 1.25 or more 25 were drawn with 1.15 or more.
AGREEMENT = 0.35
# Of what they show, in logs, that is believed: what scatters shows too much. Of the same 77 the canvas's brightness by
# a card beside it is off by more than 5 % in 41 where that isn't reckoned with, in 23 where it is, by more than 10 % in
# 21 and 7, most of these under the edge of a shadow.
RECKONED = 0.85
LEAST_PX = 0.04  # of the photograph
PLANE = 3  # of the terms
ROWS = 128  # evened at a time
GAIN_STEP = 16  # px from one place to the next at which a canvas's light is told
FITTED = 6000  # px of a wall that its light is fitted to: it may have 15,000, and light is broad


@dataclass(frozen=True, slots=True, eq=False)
class Evening:
    """The light across a canvas, as its surround shows it.

    ``falloff`` is the brightest part of the canvas's light by the darkest. ``sure`` says that the surround is one even
    wall, so that it may be evened without asking, ``likely`` that it shows the light, be it such a wall or not: then it
    may be when that is asked for. ``field`` (6,) are the natural log of light over 1, x, y, x², xy, y²; x and y are
    fractions of the photograph from its middle.
    """

    falloff: float
    sure: bool
    likely: bool
    field: Array = field(repr=False)

    def applied(self, light: Float, at: Corners) -> Float:
        """The photograph's light (height, width, 3), evened; the canvas's mean light stays."""
        height, width, _ = light.shape
        x = ((np.arange(width, dtype=np.float32) + 0.5) / width - 0.5)[None]
        y = ((np.arange(height, dtype=np.float32) + 0.5) / height - 0.5)[:, None]
        return np.asarray(np.clip(light * self._gain(x, y, at)[..., None], 0, 1), dtype=np.float32)

    def on_canvas(self, light: Float, at: Corners) -> Float:
        """The light (height, width, 3) of the canvas alone, as it was cropped out at its corners, evened."""
        high, wide, _ = light.shape
        there = homography([[0, 0], [1, 0], [1, 1], [0, 1]], np.asarray(at)).astype(np.float32)
        # Light is broad: it is told at every few px, and what lies between two of them lies between their gains.
        u = ((np.arange(0, wide + GAIN_STEP, GAIN_STEP, dtype=np.float32) + 0.5) / wide)[None]
        before, part = np.divmod(np.arange(wide), GAIN_STEP)
        part = part.astype(np.float32) / GAIN_STEP
        done = np.empty(light.shape, dtype=np.float32)
        for first in range(0, high, ROWS):
            rows = slice(first, min(first + ROWS, high))
            v = ((np.arange(rows.start, rows.stop, dtype=np.float32) + 0.5) / high)[:, None]
            x, y, w = (row[0] * u + row[1] * v + row[2] for row in there)
            known = self._gain(x / w - 0.5, y / w - 0.5, at)
            gain = known[:, before] + np.diff(known, axis=1)[:, before] * part
            np.multiply(light[rows], gain[..., None], out=done[rows])
        return np.clip(done, 0, 1, out=done)

    def on_mean(self, place: tuple[float, float], at: Corners) -> float:
        """By what the light at a place (fractions of the photograph) outdoes the canvas's mean light."""
        there = np.asarray(place) - 0.5
        return float(np.exp(_terms(there[0], there[1]) @ self.field - (_on_canvas(at) @ self.field).mean()))

    def _gain(self, x: Float, y: Float, at: Corners) -> Float:
        """By what light is multiplied at fractions of the photograph from its middle."""
        own = float((_on_canvas(at) @ self.field).mean())
        a, b, c, d, e, f = (np.float32(part) for part in self.field)
        return np.asarray(np.exp(np.float32(own) - (a + b * x + c * y + d * x * x + e * x * y + f * y * y)))


def light_across(light: Float, corners: Corners) -> Evening | None:
    """Read the light's falloff off what lies around a canvas; None where too little of it shares a paint."""
    small, beside = surround_of(light, corners)
    if beside.mean() < LEAST_PX:
        return None
    logs = np.log(np.maximum(small, np.float32(1e-3)))
    return _by_one_wall(logs, beside, corners) or _by_many_paints(logs, beside, corners)


def _by_one_wall(logs: Float, beside: NDArray[np.bool_], corners: Corners) -> Evening | None:
    """As one even wall shows it; None where what lies around is none."""
    height, width = beside.shape
    ratios = np.stack([logs[..., 0] - logs[..., 1], logs[..., 2] - logs[..., 1]], axis=2)
    wall = beside & (np.abs(ratios - np.median(ratios[beside], axis=0)).max(axis=2) < SAME_PAINT)
    if wall.sum() < ONE_WALL * beside.sum() or wall.mean() < LEAST_PX or _sides_seen(wall, corners) < LEAST_SIDES:
        return None
    x, y = np.meshgrid((np.arange(width) + 0.5) / width - 0.5, (np.arange(height) + 0.5) / height - 0.5)
    every = max(1, int(wall.sum()) // FITTED)
    own = np.flatnonzero(wall)[::every]
    levels = logs.reshape(-1, 3)[own].mean(axis=1, dtype=np.float64)
    terms, there = _terms(x.ravel()[own], y.ravel()[own]), _on_canvas(corners)
    fitted, scatter = _fitted(terms, levels)
    across, plane = there @ fitted, there[:, :PLANE] @ _fitted(terms[:, :PLANE], levels)[0]
    apart = float(np.abs((across - across.mean()) - (plane - plane.mean())).max())
    if scatter >= SMOOTH or apart >= AGREE:
        return None
    return Evening(float(np.exp(np.ptp(across))), True, True, fitted)


def _by_many_paints(logs: Float, beside: NDArray[np.bool_], corners: Corners) -> Evening | None:
    """As places that share a paint show it; None where too few do. Such have no say in how the light curves."""
    told = falloff_of(logs, beside)
    if told is None:
        return None
    slope, agreement = told
    field = np.array([0.0, *(RECKONED * slope), 0.0, 0.0, 0.0])
    likely = bool(agreement >= AGREEMENT and _sides_seen(beside, corners) >= LEAST_SIDES)
    return Evening(float(np.exp(np.ptp(_on_canvas(corners) @ field))), False, likely, field)


def _fitted(terms: Array, logs: Array) -> tuple[Array, float]:
    """Least squares that goes back without what lies far off: switches, shadows, a skirting board."""
    kept = np.ones(len(logs), dtype=bool)
    found: Array = np.zeros(terms.shape[1])
    for _ in range(4):
        own = terms[kept]  # six of them, all of one size: the normal equations lose nothing, and are quick
        found = np.asarray(np.linalg.solve(own.T @ own + 1e-9 * np.eye(own.shape[1]), own.T @ logs[kept]), np.float64)
        off = np.abs(logs - terms @ found)
        kept = off <= max(3 * float(np.median(off)), 1e-3)
    # The spread that holds two thirds of all, of normal scatter one standard deviation.
    return found, float(np.quantile(np.abs(logs - terms @ found), 0.68))


def _terms(x: Array, y: Array) -> Array:
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=-1)


def _on_canvas(corners: Corners) -> Array:
    """The terms at a grid of places on the canvas."""
    points = np.asarray(corners) - 0.5
    u, v = (part[..., None] for part in np.meshgrid(np.linspace(0, 1, 9), np.linspace(0, 1, 9)))
    upper, lower = points[0] * (1 - u) + points[1] * u, points[3] * (1 - u) + points[2] * u
    places = (upper * (1 - v) + lower * v).reshape(-1, 2)
    return _terms(places[:, 0], places[:, 1])


def _sides_seen(seen: NDArray[np.bool_], corners: Corners) -> int:
    """On how many sides of a canvas any of the surround is seen."""
    points = np.asarray(corners) * [seen.shape[1], seen.shape[0]]
    left, right = points[[0, 3], 0].mean(), points[[1, 2], 0].mean()
    top, low = points[[0, 1], 1].mean(), points[[2, 3], 1].mean()
    parts = (seen[:, : max(int(left), 0)], seen[:, int(right) :], seen[: max(int(top), 0)], seen[int(low) :])
    return sum(part.size > 0 and part.sum() > 0.01 * seen.size for part in parts)
