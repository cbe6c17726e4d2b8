"""The meadow at Ostermell: as first painted, too green and cut in half; after a second pass; and as repainted."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from brushwork import Easel, Field
from forms import Ground, cottage, grass, ground_plane, shadow
from scipy import ndimage
from skies import around, clouds, paint_sky
from studies import cover, jitter, lch, mix, noise, outline, ramp, spread, step
from trees import Leaves, tree

WIDTH, HEIGHT = 1600.0, 1200.0


@dataclass(frozen=True)
class State:
    """What differs between the two states of the picture; the place and its drawing are the same."""

    horizon: float  # y of the meadow's far edge
    sky: list[tuple[float, Field]]
    cloud: tuple[Field, Field, Field]
    banks: list[tuple[float, float, float, float]]
    hills: tuple[Field, Field]
    row: Leaves
    oak: Leaves
    oak_height: float
    meadow: list[tuple[float, Field]]  # notes from the far edge to the near
    patches: tuple[Field, Field]
    path: tuple[Field, Field]
    ragged: float  # how much the tree row varies in height
    corners: float  # L* taken from the corners
    seed: int = 7


FIRST = State(
    horizon=640,
    sky=[(0.0, lch(68, 26, 255)), (0.6, lch(79, 17, 248)), (1.0, lch(87, 9, 235))],
    cloud=(lch(95, 4, 90), lch(89, 5, 260), lch(82, 8, 265)),
    banks=[(330, 250, 420, 120), (1180, 190, 480, 130), (760, 420, 300, 70)],
    hills=(lch(70, 14, 240), lch(62, 22, 170)),
    row=Leaves(lch(30, 34, 138), lch(41, 48, 134), lch(53, 60, 128), lch(62, 66, 122)),
    oak=Leaves(lch(27, 32, 140), lch(40, 50, 135), lch(53, 62, 128), lch(64, 68, 120)),
    oak_height=265,
    meadow=[(0.0, lch(67, 62, 121)), (0.25, lch(61, 64, 127)), (0.6, lch(56, 62, 131)), (1.0, lch(48, 56, 134))],
    patches=(lch(66, 66, 118), lch(47, 52, 137)),
    path=(lch(72, 24, 105), lch(60, 34, 116)),
    ragged=0.05,
    corners=0.0,
)

# The same canvas after a second pass: greens greyed with their complement, the near ground and the corners darkened.
SECOND_PASS = replace(
    FIRST,
    row=Leaves(lch(29, 15, 132), lch(40, 20, 126), lch(51, 26, 118), lch(60, 31, 110)),
    oak=Leaves(lch(25, 15, 130), lch(37, 21, 124), lch(49, 28, 114), lch(60, 35, 104)),
    meadow=[(0.0, lch(68, 30, 104)), (0.25, lch(61, 29, 110)), (0.6, lch(51, 27, 113)), (1.0, lch(38, 22, 114))],
    patches=(lch(64, 31, 102), lch(44, 22, 120)),
    path=(lch(74, 18, 88), lch(60, 20, 90)),
    corners=7.0,
)

REPAINT = State(
    horizon=832,
    sky=[(0.0, lch(62, 17, 258)), (0.45, lch(75, 11, 250)), (0.8, lch(84, 8, 170)), (1.0, lch(87, 13, 82))],
    cloud=(lch(93, 9, 82), lch(80, 7, 60), lch(66, 9, 290)),
    banks=[(520, 620, 780, 340), (1290, 320, 660, 230), (120, 290, 460, 160), (960, 690, 480, 90), (230, 735, 420, 70)],
    hills=(lch(64, 11, 262), lch(55, 10, 215)),
    row=Leaves(lch(27, 9, 120), lch(38, 13, 112), lch(50, 20, 100), lch(62, 28, 92)),
    oak=Leaves(lch(19, 9, 95), lch(31, 15, 110), lch(45, 24, 98), lch(60, 34, 88)),
    oak_height=470,
    meadow=[
        (0.0, lch(80, 32, 87)),
        (0.12, lch(72, 27, 91)),
        (0.3, lch(58, 22, 101)),
        (0.6, lch(48, 21, 96)),
        (1.0, lch(33, 17, 88)),
    ],
    patches=(lch(66, 30, 84), lch(41, 14, 118)),
    path=(lch(78, 11, 72), lch(57, 12, 58)),
    ragged=0.32,
    corners=9.0,
)


def meadow(easel: Easel, state: State) -> None:
    """Paint one state, from the sky forward."""
    _sky(easel, state)
    _hills(easel, state)
    land = ground_plane(easel, state.horizon, 560)
    way, half = _path_line(easel, state)
    _field(easel, state, land, way, half)
    _trees(easel, state)
    _foreground(easel, state, way, half)


def _sky(easel: Easel, state: State) -> None:
    sky = ramp(easel.y / state.horizon, state.sky)
    sky[..., 0] += 1.6 * noise(state.seed, easel.x / 420, easel.y / 120, 3)
    clouds(easel, sky, state.banks, state.cloud, state.seed + 20)
    lie = around(sky[..., 0], 14 * easel.scale, -0.12)
    paint_sky(easel, sky, lie, state.horizon)


def _hills(easel: Easel, state: State) -> None:
    h = state.horizon
    far = outline(
        [(0, h - 78), (300, h - 92), (620, h - 64), (980, h - 96), (1300, h - 74), (1600, h - 88)], easel.x, 5, 160, 5
    )
    near = outline([(0, h - 40), (420, h - 34), (800, h - 56), (1150, h - 34), (1600, h - 58)], easel.x, 4, 120, 6)
    box = (0.0, h - 130, WIDTH, h + 24)
    for ridge, note, width in ((far, state.hills[0], 20), (near, state.hills[1], 17)):
        plan = np.broadcast_to(note, easel.colour.shape).copy()
        plan += noise(int(width), easel.x / 90, easel.y / 26, 3)[..., None] * np.float32([2.2, 1.0, 2.2])
        inside = step(-2.5, 2.5, easel.y - ridge)
        easel.limit = ndimage.gaussian_filter(inside, 1.2 * easel.scale)
        slope = np.arctan(np.gradient(ridge, axis=1) * easel.scale).astype(np.float32)
        cover(
            easel,
            plan,
            slope,
            width,
            ratio=3,
            density=3.2,
            where=inside,
            box=box,
            amount=1.6,
            brush="filbert",
            body=0.3,
        )
    easel.limit = None


def _path_line(easel: Easel, state: State) -> tuple[Field, Field]:
    """Middle x and half width of the path for every row of the canvas."""
    d = np.clip((easel.y - state.horizon) / (HEIGHT - state.horizon), 0, 1)
    bends = [(0.0, 600.0), (0.06, 640.0), (0.16, 770.0), (0.34, 860.0), (0.6, 760.0), (1.0, 520.0)]
    from scipy.interpolate import PchipInterpolator

    line = PchipInterpolator(*zip(*bends, strict=True))(d).astype(np.float32)
    wander = noise(77, d * 7, np.zeros_like(d), 3) * 16 * d
    return line + wander, (3 + 96 * d**1.25).astype(np.float32)


def _field(easel: Easel, state: State, land: Ground, way: Field, half: Field) -> None:
    plan = ramp(land.depth, state.meadow)
    large = noise(state.seed + 1, land.wx / 2.2, land.wz * 0.8, 3)
    small = noise(state.seed + 2, land.wx / 0.8, land.wz * 2.2, 3)
    light, dark = (np.broadcast_to(p, plan.shape) for p in state.patches)
    fade = np.clip(1.1 - 0.7 * land.depth, 0.2, 1)
    plan = mix(plan, light, 0.55 * step(0.35, 1.2, large + 0.4 * small) * fade)
    plan = mix(plan, dark, 0.6 * step(0.35, 1.3, -large + 0.5 * small))
    plan[..., 0] += 1.5 * small
    out = np.hypot((easel.x / WIDTH - 0.42) * 1.05, (easel.y - state.horizon) / 420)
    plan[..., 0] -= state.corners * step(0.45, 1.15, out) * land.depth
    ruts = np.abs(np.abs(easel.x - way) / half - 0.55)
    inside = np.abs(easel.x - way) / half
    edge = 1.0 + 0.16 * noise(31, easel.x / 60, easel.y / 18, 3)
    on = step(edge + 0.12, edge - 0.12, inside)
    track = mix(
        np.broadcast_to(state.path[0], plan.shape),
        np.broadcast_to(state.path[1], plan.shape),
        step(0.30, 0.05, ruts) * 0.7,
    )
    track = mix(track, plan, 0.42 * step(0.3, 0.0, inside) + 0.45 * land.depth)
    plan = mix(plan, track, on)
    fall = 0.05 * noise(9, easel.x / 500, easel.y / 200, 2) + 0.10 * (easel.x - 800) / 800 * land.depth
    line = np.arctan2(np.ones_like(way), np.gradient(way, axis=0) * 1.0)
    lie = np.where(on > 0.5, np.where(land.depth > 0.3, line - np.pi * (line > np.pi / 2), fall), fall).astype(
        np.float32
    )
    box = (0.0, state.horizon - 6, WIDTH, HEIGHT)
    for k, (width, ratio) in enumerate(((52, 3.4), (30, 3.0), (17, 3.2))):
        cover(
            easel,
            plan,
            lie,
            width,
            ratio=ratio,
            density=(6.0, 1.9, 1.4)[k],
            where=land.mask,
            size=land.size,
            box=box,
            differs=0.0 if k == 0 else 3.0,
            amount=1.8,
            warm=1.4,
            wobble=0.14,
            order="down",
            streak=2.6,
            body=0.5,
            brush="flat" if k < 2 else "filbert",
            load=(0.7, 1.0) if k == 0 else (0.4, 0.9),
        )


def _trees(easel: Easel, state: State) -> None:
    h, rng = state.horizon, np.random.default_rng(state.seed + 5)
    _row_mass(easel, state)
    wood = lch(26, 9, 60)
    x = -30.0
    row = []
    while x < WIDTH + 40:
        tall = 66 * np.exp(state.ragged * rng.normal(0, 1) + state.ragged * 0.9 * np.sin(x / 170))
        row.append((x, tall))
        x += tall * rng.uniform(0.42, 0.75)
    for k in rng.permutation(len(row)):
        x, tall = row[k]
        if abs(x - 470) < 90 and state.ragged > 0.2:
            continue
        tree(
            easel,
            x,
            h + 6 + rng.normal(0, 2),
            tall,
            tall * rng.uniform(0.8, 1.25),
            state.row,
            trunk=wood,
            seed=100 + k,
            clumps=7,
            dab=1.25,
            rise=0.5,
            holes=0.0,
            limbs=False,
        )
    _homestead(easel, state)
    tall = state.oak_height
    foot = h + 42
    shade = mix(state.meadow[-1][1], state.oak.dark, 0.35)
    shadow(easel, 1235, foot + 6, tall * 1.05, tall * 0.13, shade)
    tree(easel, 1085, foot - 18, tall * 0.66, tall * 0.56, state.oak, trunk=wood, seed=61, clumps=14, holes=0.10)
    tree(easel, 1330, foot - 8, tall * 0.74, tall * 0.62, state.oak, trunk=wood, seed=64, clumps=16, holes=0.10)
    tree(easel, 1215, foot, tall, tall * 0.80, state.oak, trunk=wood, seed=63, clumps=26, holes=0.22)


def _row_mass(easel: Easel, state: State) -> None:
    """The shadow of the whole row, one mass, before its trees are told apart."""
    h = state.horizon
    top = h - 34 - 15 * state.ragged * np.sin(easel.x / 170) + 5 * noise(51, easel.x / 70, 0 * easel.x, 3)
    where = step(-3, 4, easel.y - top) * step(h + 8, h + 2, easel.y)
    plan = mix(
        np.broadcast_to(state.row.mid, easel.colour.shape),
        np.broadcast_to(state.row.dark, easel.colour.shape),
        step(h - 36, h - 2, easel.y),
    )
    cover(
        easel,
        plan,
        np.pi / 2,
        13,
        ratio=1.8,
        density=4,
        where=where,
        box=(0, h - 70, WIDTH, h + 10),
        wobble=0.5,
        amount=2.2,
        warm=1.0,
        brush="filbert",
        body=0.3,
    )


def _homestead(easel: Easel, state: State) -> None:
    h, wood = state.horizon, lch(24, 9, 60)
    quiet = state.corners > 0
    walls = (lch(92, 9, 84), lch(66, 8, 300)) if quiet else (lch(84, 12, 105), lch(70, 12, 118))
    roofs = (lch(47, 36, 48), lch(35, 26, 40)) if quiet else (lch(52, 24, 60), lch(44, 22, 62))
    if quiet:
        tree(easel, 408, h + 2, 150, 92, state.oak, trunk=wood, seed=71, clumps=12, upright=0.4, holes=0.08)
        tree(easel, 585, h + 2, 118, 100, state.row, trunk=wood, seed=72, clumps=10, holes=0.05)
        tree(easel, 545, h, 96, 90, state.oak, trunk=wood, seed=73, clumps=10, holes=0.0)
    cottage(easel, 478, h + 12, 138, walls, roofs, lch(24, 6, 300))
    tree(easel, 396, h + 20, 44, 60, state.row, trunk=wood, seed=74, clumps=7, rise=0.45, holes=0.0, limbs=False)
    tree(easel, 556, h + 20, 34, 52, state.row, trunk=wood, seed=75, clumps=7, rise=0.45, holes=0.0, limbs=False)


def _foreground(easel: Easel, state: State, way: Field, half: Field) -> None:
    h = state.horizon
    x, y = spread(easel, 430, (0, h + 60, WIDTH, HEIGHT + 30))
    d = (y - h) / (HEIGHT - h)
    clump = noise(41, x / 150, y / 70, 2)
    clear = np.abs(x - easel.at(way, x, np.minimum(y, HEIGHT - 1))) > 0.92 * easel.at(
        half, x, np.minimum(y, HEIGHT - 1)
    )
    keep = clear & (easel.rng.random(len(x)) < d**1.1 * (0.12 + 0.88 * (clump > 0.25)))
    x, y, d = x[keep], y[keep], d[keep]
    order = np.argsort(y)
    grass(easel, x[order], y[order], (10 + 74 * d**1.5)[order], lean=0.12, width=3.2, lift=(-9, 11))
    if state.corners > 0:
        _seed_heads(easel, state, x, y, d)


def _seed_heads(easel: Easel, state: State, x: Field, y: Field, d: Field) -> None:
    """A few warm seed heads and pale flowers near the path, so that the foreground answers the house."""
    rng = easel.rng
    pick = rng.random(len(x)) < 0.5 * np.exp(-(((x - 640) / 420) ** 2))
    k = np.repeat(np.flatnonzero(pick), 4)
    n = len(k)
    tall = (14 + 80 * d[k] ** 1.5) * rng.uniform(0.7, 1.15, n)
    px, py = x[k] + rng.normal(0, 0.25, n) * tall, y[k] - tall
    notes = np.stack([lch(72, 30, 82), lch(84, 12, 90), lch(55, 26, 40)])
    lab = jitter(easel, notes[rng.choice(3, n, p=[0.6, 0.28, 0.12])] - np.outer(8 * d[k], [1, 0, 0]), 2.5, 1.5)
    wide = np.maximum((2.2 + 5 * d[k]) * np.exp(rng.normal(0, 0.3, n)), 2)
    lie = -np.pi / 2 + rng.normal(0.3, 0.5, n)
    easel.lay(px, py, lie, wide * rng.uniform(1.4, 3.0, n), wide, lab, brush="dry", load=0.9, body=1.0, pickup=0.05)
