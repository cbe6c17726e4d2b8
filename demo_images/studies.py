"""Where does each colour go before the brush is lifted: noise, ramps and outlines a scene is planned with.

All coordinates are design units (see brushwork); colours are CIELAB, noted as L*, C*, hue angle.
"""

from __future__ import annotations

import numpy as np
from brushwork import Easel, Field
from numpy.typing import ArrayLike
from scipy import ndimage

LATTICE = 64  # cells before the noise repeats; no scene shows so many


def lch(lightness: float, chroma: float, hue: float) -> Field:
    """CIELAB of a colour noted as lightness, chroma and hue angle in degrees."""
    angle = np.radians(hue)
    return np.array([lightness, chroma * np.cos(angle), chroma * np.sin(angle)], np.float32)


def noise(seed: int, x: ArrayLike, y: ArrayLike, octaves: int = 3, gain: float = 0.5) -> Field:
    """Smooth noise of about unit variance over points given in cells of the coarsest octave."""
    rng = np.random.default_rng(seed)
    x, y = np.broadcast_arrays(np.asarray(x, np.float32), np.asarray(y, np.float32))
    total = np.zeros(x.shape, np.float32)
    weight, size, power = 1.0, 1.0, 0.0
    for _ in range(octaves):
        lattice = ndimage.spline_filter(rng.standard_normal((LATTICE, LATTICE)), order=2, mode="grid-wrap")
        shift = rng.random(2) * LATTICE
        points = np.stack([y * size + shift[0], x * size + shift[1]])
        total += weight * ndimage.map_coordinates(
            lattice.astype(np.float32), points, order=2, mode="grid-wrap", prefilter=False
        )
        power += weight**2
        weight, size = weight * gain, size * 2
    return (total / np.sqrt(power * 0.45)).astype(np.float32)


def step(low: float, high: float, values: Field) -> Field:
    """Smooth step from 0 at ``low`` to 1 at ``high`` (which may be the smaller)."""
    t = np.clip((values - low) / (high - low), 0, 1)
    return (t * t * (3 - 2 * t)).astype(np.float32)


def ramp(t: Field, stops: list[tuple[float, Field]]) -> Field:
    """Colours (..., 3) along a ramp of (position, CIELAB) stops, positions rising."""
    at = [s[0] for s in stops]
    return np.stack([np.interp(t, at, [s[1][k] for s in stops]) for k in range(3)], axis=-1).astype(np.float32)


def mix(first: Field, second: Field, share: Field | float) -> Field:
    """``share`` of the second colour in the first, in CIELAB."""
    share = np.asarray(share, np.float32)
    return (first + (second - first) * (share[..., None] if share.ndim else share)).astype(np.float32)


def outline(
    points: list[tuple[float, float]], x: Field, rough: float = 0.0, cell: float = 60.0, seed: int = 0
) -> Field:
    """Height y of a ridge or shore drawn through points, smooth between them, roughened by noise of ``rough`` units."""
    from scipy.interpolate import PchipInterpolator

    px, py = zip(*points, strict=True)
    y = PchipInterpolator(px, py)(np.clip(x, px[0], px[-1])).astype(np.float32)
    if rough:
        y = y + rough * noise(seed, x / cell, np.zeros_like(x), 4, 0.6)
    return y.astype(np.float32)


def polygon(easel: Easel, points: list[tuple[float, float]], soft: float = 1.2) -> Field:
    """Mask (h, w) 0–1 of a shape given by its corners in design units, its edge softened over ``soft`` units."""
    from PIL import Image, ImageDraw

    rows, cols = easel.relief.shape
    page = Image.new("L", (cols * 2, rows * 2))
    ImageDraw.Draw(page).polygon([(px * easel.scale * 2, py * easel.scale * 2) for px, py in points], fill=255)
    mask = np.asarray(page, np.float32).reshape(rows, 2, cols, 2).mean(axis=(1, 3)) / 255
    return ndimage.gaussian_filter(mask, soft * easel.scale) if soft else mask


def spread(easel: Easel, count: int, box: tuple[float, float, float, float]) -> tuple[Field, Field]:
    """``count`` points even but not regular in a box x0, y0, x1, y1 (a low-discrepancy sequence, jittered)."""
    plastic = 1.32471795724475  # root of x³ = x + 1, which spreads points evenly in the plane
    k = np.arange(count)
    loose = 0.35 / np.sqrt(count)
    u = (easel.rng.random() + k / plastic + easel.rng.normal(0, loose, count)) % 1
    v = (easel.rng.random() + k / plastic**2 + easel.rng.normal(0, loose, count)) % 1
    return box[0] + u * (box[2] - box[0]), box[1] + v * (box[3] - box[1])


def jitter(easel: Easel, lab: Field, amount: float, warm: float = 0.0) -> Field:
    """Vary colours (n, 3) as a brush does that is never loaded twice alike; ``warm`` swings between ochre and blue."""
    n = len(lab)
    moved = lab + easel.rng.normal(0, 1, (n, 3)) * np.array([1.0, 0.6, 0.8]) * amount
    swing = np.clip(easel.rng.standard_t(4, n), -3, 3)[:, None] * np.array([0.3, 0.8, 1.6]) * warm
    return (moved + swing).astype(np.float32)


def cover(
    easel: Easel,
    plan: Field,
    angle: Field | float,
    width: Field | float,
    *,
    ratio: float = 3.0,
    density: float = 1.4,
    where: Field | None = None,
    size: Field | None = None,
    differs: float = 0.0,
    amount: float = 1.5,
    warm: float = 0.8,
    wobble: float = 0.12,
    load: tuple[float, float] = (0.6, 1.0),
    order: str = "shuffled",
    box: tuple[float, float, float, float] | None = None,
    brush: str = "flat",
    streak: float = 2.0,
    body: float = 0.5,
    pickup: float = 0.15,
    opacity: float = 0.95,
) -> None:
    """Cover a region with strokes that take their colour from a plan (h, w, 3) and their lie from an angle field.

    ``where`` (h, w) is the chance that a stroke is laid; ``size`` (h, w) scales its width with distance; a stroke is
    left out where the canvas is within ``differs`` of the plan (CIELAB distance). ``ratio`` is length over width.
    ``order``: "shuffled", "down" (far to near) or "lights last".
    """
    x0, y0, x1, y1 = box or (0, 0, easel.width, easel.height)
    over = width * 0.6  # the brush also starts beyond the edge of the canvas
    box = (
        x0 - over * (x0 <= 0),
        y0 - over * (y0 <= 0),
        x1 + over * (x1 >= easel.width),
        y1 + over * (y1 >= easel.height),
    )
    least = float(size.min()) if size is not None else 1.0
    area = (box[2] - box[0]) * (box[3] - box[1])
    x, y = spread(easel, int(density * area / (width * width * least**2 * ratio)) + 1, box)
    rng = easel.rng
    scale = np.ones(len(x)) if size is None else easel.at(size, x, y)
    keep = rng.random(len(x)) < (least / scale) ** 2
    if where is not None:
        keep &= rng.random(len(x)) < easel.at(where, x, y)
    if differs:
        soft = ndimage.gaussian_filter(easel.colour, (*(2 * (0.4 * width * easel.scale,)), 0))
        gap = np.linalg.norm(easel.at(soft, x, y) - easel.at(plan, x, y), axis=-1)
        keep &= gap > differs * rng.uniform(0.5, 1.5, len(x))
    x, y, scale = x[keep], y[keep], scale[keep]
    if order == "down":
        rank = np.argsort(y + rng.normal(0, 14, len(y)) * scale)
    elif order == "lights last":
        rank = np.argsort(easel.at(plan, x, y)[..., 0] + rng.normal(0, 6, len(y)))
    else:
        rank = rng.permutation(len(x))
    x, y, scale = x[rank], y[rank], scale[rank]
    n = len(x)
    lie = np.full(n, angle) if np.isscalar(angle) else easel.at(angle, x, y)  # type: ignore[arg-type]
    wide = width * scale * np.exp(rng.normal(0, 0.22, n))
    long = wide * ratio * np.exp(rng.normal(0, 0.28, n))
    bend = rng.normal(0, 0.10, n) / long
    if not np.isscalar(angle):
        ends = [easel.at(angle, x + s * np.cos(lie) * long / 2, y + s * np.sin(lie) * long / 2) for s in (-1, 1)]  # type: ignore[arg-type]
        turn = (ends[1] - ends[0] + np.pi / 2) % np.pi - np.pi / 2
        bend += np.clip(turn, -1, 1) / (2 * long)
    easel.lay(
        x,
        y,
        lie + rng.normal(0, wobble, n),
        long,
        wide,
        jitter(easel, easel.at(plan, x, y), amount, warm),
        bend=bend,
        streak=streak * rng.uniform(0.4, 1.6, n),
        load=rng.uniform(*load, n),
        opacity=opacity,
        body=body,
        pickup=pickup,
        brush=brush,
    )
