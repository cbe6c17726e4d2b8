"""How does a loaded brush mark a canvas: bristle streaks, dry ends, grain, wet paint picked up, relief?

Lengths are in design units: a picture is drawn 1600 units wide or thereabouts and ``Easel.scale`` turns units into
pixels, so that the same scene can be painted small for a test. Colours are CIELAB (D65).
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

Field = NDArray[np.float32]

VARIANTS = 12  # textures of each brush; strokes also differ in size, bend and load, so none is recognised twice
ROWS, COLUMNS = 64, 192  # bristles across, steps along, of the finest texture
GRAIN_CELL = 3.1  # design units between threads of the canvas: about 9 threads a centimetre at 60 cm width
RELIEF_LIGHTNESS = 5.0  # L* a unit slope of the paint adds or takes; more looks like plastic
PAINT_DEPTH = 2.2  # design units of height of one full-bodied stroke, exaggerated so that it shows


@dataclass
class Brush:
    """Textures of one kind of brush, finest first; each entry is (amount, streak, ridge) by variant."""

    name: str
    levels: list[tuple[Field, Field, Field]] = field(default_factory=list)


def _smooth_rows(rng: np.random.Generator, sigma_v: float, sigma_u: float) -> Field:
    """Unit-variance noise (VARIANTS, ROWS, COLUMNS), smoothed across and along the bristles."""
    raw = rng.standard_normal((VARIANTS, ROWS, COLUMNS)).astype(np.float32)
    out = ndimage.gaussian_filter(raw, (0, sigma_v, sigma_u), mode="reflect")
    out /= out.std(axis=(1, 2), keepdims=True)
    return out


def make_brush(name: str, ragged: float, roundness: float, streaks: float, seed: int) -> Brush:
    """Make the textures of a brush.

    ``ragged`` is how unevenly bristles lift off (share of the length), ``roundness`` 0 a flat to 1 a pointed round,
    ``streaks`` how much the amount of paint differs from bristle to bristle.
    """
    rng = np.random.default_rng(seed)
    v = np.linspace(-1, 1, ROWS, dtype=np.float32)[None, :, None]
    u = np.linspace(0, 1, COLUMNS, dtype=np.float32)[None, None, :]
    bristle = _smooth_rows(rng, 0.8, 40) * 0.6 + _smooth_rows(rng, 2.6, 60) * 0.6
    fleck = _smooth_rows(rng, 0.9, 5)
    ends = ndimage.gaussian_filter(rng.random((VARIANTS, ROWS, 2)).astype(np.float32), (0, 1.1, 0))
    ends = (ends - ends.min(axis=1, keepdims=True)) / np.ptp(ends, axis=1, keepdims=True)
    lift = roundness * 0.34 * (1 - np.sqrt(np.clip(1 - v**2, 0, 1)))
    start = ends[:, :, :1] * ragged * 0.35 + lift
    stop = 1 - ends[:, :, 1:] * ragged - lift
    inside = np.clip((u - start) / 0.03, 0, 1) * np.clip((stop - u) / (0.03 + 0.1 * ragged), 0, 1)
    sides = np.clip((1 - np.abs(v) ** (6 - 3 * roundness)) * 3.0, 0, 1)
    fading = 1 - 0.45 * ragged * u**1.5
    amount = (1.0 * fading + streaks * bristle + 0.35 * streaks * fleck) * inside * sides
    ridge = 0.5 + 0.35 * bristle + 0.15 * fleck + 0.5 * np.exp(-(((np.abs(v) - 0.86) / 0.1) ** 2))
    ridge = ridge + 0.5 * np.exp(-(((u - stop + 0.05) / 0.05) ** 2))
    streak = np.clip(bristle * 0.7 + 0.35 * fleck, -2, 2)
    brush = Brush(name)
    for step in (1, 2, 4, 8):
        brush.levels.append(tuple(_shrink(t, step) for t in (amount, streak, ridge)))  # type: ignore[arg-type]
    return brush


def _shrink(texture: Field, step: int) -> Field:
    """Average a texture over ``step`` bristles and ``step`` steps along."""
    n, rows, columns = texture.shape
    cut = texture.reshape(n, rows // step, step, columns // step, step)
    return np.ascontiguousarray(cut.mean(axis=(2, 4)), dtype=np.float32)


BRUSHES = {
    "flat": make_brush("flat", ragged=0.22, roundness=0.15, streaks=0.22, seed=11),
    "filbert": make_brush("filbert", ragged=0.16, roundness=0.7, streaks=0.18, seed=12),
    "round": make_brush("round", ragged=0.08, roundness=1.0, streaks=0.12, seed=13),
    "dry": make_brush("dry", ragged=0.55, roundness=0.2, streaks=0.45, seed=14),
    "rigger": make_brush("rigger", ragged=0.12, roundness=1.0, streaks=0.05, seed=15),
}


class Easel:
    """A canvas being painted: colour (h, w, 3) CIELAB, relief (h, w), and its grain (h, w) 0–1."""

    def __init__(self, width: float, height: float, scale: float, ground: tuple[float, float, float], seed: int):
        self.width, self.height, self.scale = float(width), float(height), float(scale)
        self.rng = np.random.default_rng(seed)
        shape = (round(height * scale), round(width * scale))
        y, x = np.mgrid[0 : shape[0], 0 : shape[1]].astype(np.float32)
        self.x, self.y = (x + 0.5) / scale, (y + 0.5) / scale
        threads = 2 * np.pi / GRAIN_CELL
        wander = ndimage.gaussian_filter(self.rng.standard_normal(shape).astype(np.float32), 6 * scale) * 8 * scale
        weave = np.sin(self.x * threads + wander) * np.sin(self.y * threads - wander)
        lumps = ndimage.gaussian_filter(self.rng.standard_normal(shape).astype(np.float32), max(0.8 * scale, 0.4))
        self.grain = np.clip(0.5 + 0.28 * weave + 0.2 * lumps / lumps.std(), 0, 1).astype(np.float32)
        wash = ndimage.gaussian_filter(self.rng.standard_normal(shape).astype(np.float32), 40 * scale)
        self.colour = np.empty((*shape, 3), np.float32)
        self.colour[:] = ground
        self.colour[..., 0] += 3.0 * wash / wash.std() + 2.0 * (self.grain - 0.5)
        self.relief = np.zeros(shape, np.float32)
        self.limit: Field | None = None

    def at(self, values: Field, x: Field, y: Field) -> Field:
        """Look up a field of the canvas at points given in design units."""
        rows = np.clip((np.asarray(y) * self.scale).astype(int), 0, values.shape[0] - 1)
        columns = np.clip((np.asarray(x) * self.scale).astype(int), 0, values.shape[1] - 1)
        return values[rows, columns]

    def lay(
        self,
        x: Field,
        y: Field,
        angle: Field,
        length: Field,
        width: Field,
        lab: Field,
        *,
        bend: Field | float = 0.0,
        streak: Field | float = 2.0,
        load: Field | float = 0.8,
        opacity: Field | float = 0.95,
        body: float = 0.5,
        pickup: float = 0.12,
        brush: str = "flat",
    ) -> None:
        """Lay strokes one after another, in the order given.

        ``x``, ``y`` are the middles (n,); ``angle`` in radians; ``bend`` curvature per unit.
        ``streak`` is how far bristles differ, in L* (n,) or in L*a*b* (n, 3).
        ``load`` runs from 0, dry, to 1, full; ``pickup`` is the share of wet paint taken up from the canvas.
        """
        n = len(x)
        if n == 0:
            return
        spread = np.asarray(streak, np.float32)
        if spread.ndim < 2:
            spread = np.broadcast_to(spread.reshape(-1, 1), (n, 1)) * np.float32([1.0, 0.25, 0.6])
        columns = [
            np.broadcast_to(np.asarray(a, np.float64), (n,)) for a in (x, y, angle, length, width, bend, load, opacity)
        ]
        table = np.stack(columns, axis=1)
        table[:, [0, 1, 3, 4]] *= self.scale
        table[:, 5] /= self.scale
        levels = BRUSHES[brush].levels
        variant = self.rng.integers(0, VARIANTS, n)
        flip = self.rng.random(n) < 0.5
        for i in range(n):
            self._stroke(table[i], np.asarray(lab[i], np.float32), spread[i], levels, variant[i], flip[i], body, pickup)

    def _stroke(
        self,
        row: NDArray[np.float64],
        lab: Field,
        spread: Field,
        levels: list[tuple[Field, Field, Field]],
        variant: int,
        flip: bool,
        body: float,
        pickup: float,
    ) -> None:
        """Blend one stroke in; ``row`` is x, y, angle, length, width, bend, load, opacity in pixels."""
        cx, cy, angle, length, width, bend, load, opacity = row
        width = max(width, 1.0)
        length = max(length, width)
        cos, sin = np.cos(angle), np.sin(angle)
        sag = abs(bend) * length * length / 4
        reach_x = abs(cos) * length / 2 + abs(sin) * (width / 2 + sag) + 1
        reach_y = abs(sin) * length / 2 + abs(cos) * (width / 2 + sag) + 1
        rows, cols = self.relief.shape
        x0, x1 = max(int(cx - reach_x), 0), min(int(cx + reach_x) + 2, cols)
        y0, y1 = max(int(cy - reach_y), 0), min(int(cy + reach_y) + 2, rows)
        if x0 >= x1 or y0 >= y1:
            return
        dx = np.arange(x0, x1, dtype=np.float32)[None, :] + np.float32(0.5 - cx)
        dy = np.arange(y0, y1, dtype=np.float32)[:, None] + np.float32(0.5 - cy)
        u = dx * np.float32(cos) + dy * np.float32(sin)
        v = dy * np.float32(cos) - dx * np.float32(sin)
        if bend:
            v -= np.float32(bend) * u * u
        level = 0 if width > 40 else 1 if width > 20 else 2 if width > 9 else 3
        amount, streak, ridge = (t[variant] for t in levels[level])
        n_v, n_u = amount.shape
        iu = (u * np.float32(n_u / length) + np.float32(n_u / 2)).astype(np.int32)
        iv = (v * np.float32(n_v / width) + np.float32(n_v / 2)).astype(np.int32)
        cover = np.clip(np.minimum(width / 2 - np.abs(v), length / 2 - np.abs(u)) + 0.5, 0, 1)
        np.clip(iu, 0, n_u - 1, out=iu)
        np.clip(iv, 0, n_v - 1, out=iv)
        if flip:
            iu = n_u - 1 - iu
        index = iv * n_u + iu
        window = (slice(y0, y1), slice(x0, x1))
        need = np.float32(1.0 - load) * (0.3 + 1.0 * (1 - self.grain[window]))
        alpha = np.clip((amount.take(index) - need) * 1.8, 0, 1) * cover * np.float32(opacity)
        if self.limit is not None:
            alpha *= self.limit[window]
        if pickup:
            iy, ix = min(max(int(cy), 0), rows - 1), min(max(int(cx), 0), cols - 1)
            lab = lab + np.float32(pickup) * (self.colour[iy, ix] - lab)
        under = self.colour[window]
        paint = lab + streak.take(index)[..., None] * spread
        paint -= under
        paint *= alpha[..., None]
        under += paint
        relief = self.relief[window]
        relief += alpha * (np.float32(body) * ridge.take(index) - relief * np.float32(0.75))

    def finished(self) -> Field:
        """The picture (h, w, 3) CIELAB with the light of the studio raking over its relief from the upper left."""
        depth = ndimage.gaussian_filter(self.relief * PAINT_DEPTH + self.grain * 0.55, 0.55 * self.scale)
        slope_y, slope_x = np.gradient(depth * self.scale)
        shade = np.tanh((slope_x * 0.6 + slope_y * 0.8) * 1.1)
        lab = self.colour.copy()
        lab[..., 0] = np.clip(
            lab[..., 0] * (1 + shade * RELIEF_LIGHTNESS / 70) + shade * RELIEF_LIGHTNESS * 0.45, 2, 99
        )
        return lab
