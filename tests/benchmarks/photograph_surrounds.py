"""What lies around a painting in a drawn photograph: walls, planks, bricks, grass, a studio, a table."""

from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

Array = NDArray[np.float32]
Random = np.random.Generator

SUPERSAMPLING = 2  # px along a side for each px of the photograph
SURROUNDS = ("white wall", "dark wall", "coloured wall", "same colour", "brick", "wood", "grass", "studio", "table")


def noise_over(random: Random, u: Array, v: Array, scale: float, stretch: float = 1.0, octaves: int = 3) -> Array:
    """Cloudy noise of mean 0 and about unit spread; ``scale`` in canvas heights. One value for each px to be."""
    u, v = (at[::SUPERSAMPLING, ::SUPERSAMPLING] for at in (u, v))
    total = np.zeros_like(u)
    for octave in range(octaves):
        field = random.normal(size=(64, 64)).astype(np.float32)
        step = scale / 2**octave
        at = np.stack([v / step, u / step / stretch])
        total += ndimage.map_coordinates(field, at, order=1, mode="grid-wrap") * 0.6**octave
    return total.repeat(SUPERSAMPLING, 0).repeat(SUPERSAMPLING, 1)


def sampled(picture: Array, x: Array, y: Array) -> Array:
    """``picture`` at fractions ``x``, ``y`` of its sides."""
    at = np.stack([y * picture.shape[0] - 0.5, x * picture.shape[1] - 0.5])
    return np.stack([ndimage.map_coordinates(picture[..., c], at, order=1, mode="nearest") for c in range(3)], -1)


def evenly(like: Array, colour: Any) -> Array:
    return np.broadcast_to(np.asarray(colour, np.float32), (*like.shape, 3)).copy()


def surround_of(
    kind: str, random: Random, u: Array, v: Array, painting: Array, others: list[Array], standing: bool
) -> Array:
    if standing:  # the background stands farther back and is not in the canvas's plane
        grow = random.uniform(1.2, 2.5)
        u, v = u * grow + random.uniform(-1, 1), v * grow + random.uniform(-1, 1)
    if kind == "grass":
        return _grass(random, u, v)
    if kind == "studio":
        return _studio(random, u, v, others)
    if kind in ("wood", "table"):
        return _wood(random, u, v, kind == "table")
    if kind == "brick":
        return _brick(random, u, v)
    return _wall(kind, random, u, v, painting)


def _wall(kind: str, random: Random, u: Array, v: Array, painting: Array) -> Array:
    if kind == "white wall":
        colour = random.uniform(0.55, 0.85) * (1 + random.normal(0, 0.02, 3))
    elif kind == "dark wall":
        colour = random.uniform(0.015, 0.09) * (1 + random.normal(0, 0.15, 3))
    elif kind == "same colour":
        rim = max(2, painting.shape[0] // 40)
        edges = [painting[:rim], painting[-rim:], painting[:, :rim], painting[:, -rim:]]
        chosen = edges if random.random() < 0.5 else [edges[random.integers(4)]]
        colour = np.concatenate([edge.reshape(-1, 3) for edge in chosen]).mean(0)
    else:
        colour = random.uniform(0.1, 0.5) * (1 + random.normal(0, 0.35, 3).clip(-0.8, 1))
    wall = evenly(u, np.clip(colour, 0.005, 0.95))
    wall *= 1 + (random.uniform(0, 0.03) * noise_over(random, u, v, random.uniform(0.008, 0.03)))[..., None]
    wall *= 1 + (random.uniform(0, 0.04) * noise_over(random, u, v, 1.5))[..., None]
    if random.random() < 0.35:  # a floor, with its skirting board
        top = 1 + random.uniform(0.12, 0.6)
        board = (v > top) & (v < top + 0.09)
        wall[v >= top + 0.09] = _wood(random, u, v * 2, True)[v >= top + 0.09]
        wall[board] = random.uniform(0.4, 0.8)
    if random.random() < 0.25:  # the room's corner, a door frame or a cupboard
        at = random.choice([-random.uniform(0.1, 0.8), random.uniform(1.6, 2.4)])
        wall[(u < at) if at < 0 else (u > at)] *= np.float32(random.uniform(0.5, 0.85))
    if random.random() < 0.25:
        x, y = random.uniform(-0.6, 2), random.uniform(-0.4, 1.4)
        switch = (abs(u - x) < 0.04) & (abs(v - y) < 0.04)
        wall[switch] = random.uniform(0.3, 0.9)
    return wall


def _wood(random: Random, u: Array, v: Array, wide: bool) -> Array:
    if random.random() < 0.5:
        u, v = v, u
    plank = random.uniform(0.12, 0.4) * (2 if wide else 1)
    number = np.floor(v / plank).astype(int) % 64
    tone = random.normal(1, 0.13, 64).astype(np.float32)[number]
    grain = noise_over(random, u + number * 3.7, v, 0.02, stretch=14, octaves=3)
    colour = np.array([0.42, 0.25, 0.13]) * random.uniform(0.25, 1.5) * (1 + random.normal(0, 0.12, 3))
    wood = evenly(u, np.clip(colour, 0.01, 0.9)) * (tone * (1 + random.uniform(0.05, 0.2) * grain))[..., None]
    seam = np.abs(v / plank - np.round(v / plank)) * plank < random.uniform(0.002, 0.006)
    wood[seam] *= np.float32(random.uniform(0.15, 0.7))
    return np.clip(wood, 0.003, 0.95)


def _brick(random: Random, u: Array, v: Array) -> Array:
    high, long = random.uniform(0.08, 0.16), random.uniform(0.2, 0.4)
    row = np.floor(v / high)
    along = u / long + 0.5 * (row % 2)
    number = (np.floor(along) * 7 + row * 13).astype(int) % 97
    tone = random.normal(1, 0.2, 97).astype(np.float32)[number]
    painted = random.random() < 0.4
    colour = [0.6, 0.6, 0.58] if painted else np.array([0.3, 0.12, 0.08]) * random.uniform(0.6, 1.6)
    wall = (
        evenly(u, colour)
        * ((1 + (tone - 1) * (0.2 if painted else 1)) * (1 + 0.12 * noise_over(random, u, v, 0.03)))[..., None]
    )
    off = np.minimum(np.abs(v / high - np.round(v / high)) * high, np.abs(along - np.round(along)) * long)
    wall[off < 0.008] = np.asarray(colour) * random.uniform(0.6, 0.85) if painted else random.uniform(0.25, 0.5)
    return np.clip(wall, 0.005, 0.95)


def _grass(random: Random, u: Array, v: Array) -> Array:
    tone = 0.25 * noise_over(random, u, v, 0.5) + 0.5 * noise_over(random, u, v, 0.015, 0.35, 3)
    colour = np.array([0.13, 0.22, 0.04]) * random.uniform(0.5, 1.6) * (1 + random.normal(0, 0.15, 3))
    field = evenly(u, colour) * np.exp(0.8 * tone)[..., None]
    field[..., 0] *= np.exp(0.2 * noise_over(random, u, v, 0.2))
    if random.random() < 0.5:  # a horizon with a sky and bushes
        line = random.uniform(-0.6, 0.9) + 0.12 * noise_over(random, u, v * 0, 0.4)
        sky = np.array([0.45, 0.58, 0.8]) * random.uniform(0.6, 1.2)
        field = np.where(
            (v < line)[..., None], evenly(u, sky) * (1 + 0.1 * noise_over(random, u, v, 0.8))[..., None], field
        )
    return np.clip(field, 0.002, 1).astype(np.float32)


def _studio(random: Random, u: Array, v: Array, others: list[Array]) -> Array:
    room = _wall("coloured wall" if random.random() < 0.5 else "white wall", random, u, v, others[0])
    for _ in range(random.integers(6, 22)):
        x, y = random.uniform(-1.5, 3.5), random.uniform(-1, 2.5)
        wide, high = random.uniform(0.1, 1.0, 2)
        lean = random.normal(0, 0.06)
        along, down = u - x + lean * (v - y), v - y - lean * (u - x)
        inside = (along > 0) & (along < wide) & (down > 0) & (down < high)
        if not inside.any():
            continue
        what = random.random()
        if what < 0.25:
            other = others[random.integers(len(others))]
            room[inside] = sampled(other, along[inside][None] / wide, down[inside][None] / high)[0]
        elif what < 0.4:  # a bright window or lamp
            room[inside] = random.uniform(0.7, 1.3) * np.array([0.9, 1.0, 1.1])
        elif what < 0.55:  # books, brushes, boards on end
            stripes = np.floor(along[inside] / wide * random.integers(4, 14)).astype(int)
            room[inside] = random.uniform(0.02, 0.6, (16, 3)).astype(np.float32)[stripes % 16]
        else:
            colour = random.uniform(0.02, 0.7) * (1 + random.normal(0, 0.3, 3)).clip(0.2, 2)
            room[inside] = colour * (1 + 0.1 * noise_over(random, u, v, 0.1))[inside][:, None]
    soft = random.uniform(0, 5)
    return np.stack([ndimage.gaussian_filter(room[..., c], soft) for c in range(3)], -1) if soft > 1 else room
