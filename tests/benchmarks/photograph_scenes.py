"""Photographs of a painting in a scene, drawn with known corners, so that finding a canvas can be held to the truth."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from photograph_surrounds import SUPERSAMPLING, SURROUNDS, Array, Random, evenly, noise_over, sampled, surround_of
from scipy import ndimage

FRAMES = ("none", "none", "edge", "thin", "wide", "gilt", "mat")
FORMATS = ((4, 3), (3, 4), (3, 2), (2, 3), (16, 9), (9, 16), (1, 1))
CARD_HEIGHT = 0.14  # canvas heights


@dataclass(frozen=True, slots=True)
class Scene:
    """One photograph: ``linear`` (height, width, 3), the canvas's corners in px clockwise from its upper left."""

    linear: Array
    corners: NDArray[np.float64]
    surround: str
    frame: str
    facts: dict[str, float]
    card: NDArray[np.float64] | None = None  # corners in px of a grey card and a chart, where both have room
    chart: NDArray[np.float64] | None = None
    light: Array | None = None  # where both have room: the lamp's light on the scene, and what the canvas reflects of
    reflection: Array | None = None  # a window, both (height, width, 3); their canvas's paint is the rest


def draw_scene(
    seed: int, painting: Array, others: list[Array], long_edge: int = 960, *, neutrals: bool = False
) -> Scene:
    """Photograph ``painting`` (linear light), with ``others`` to stand about in a studio.

    ``neutrals`` lays a grey card and a chart of 24 patches on the wall beside it, where the photograph has room.
    """
    random = np.random.default_rng(seed)
    surround = str(random.choice(SURROUNDS))
    frame = str(random.choice(FRAMES))
    form = FORMATS[random.integers(len(FORMATS))] if random.random() < 0.35 else _form_like(painting, random)
    width, height = (round(long_edge * part / max(form)) for part in form)
    aspect = painting.shape[1] / painting.shape[0]
    corners, facts = _camera(random, width, height, aspect)
    u, v = _plane(corners, aspect, width, height)
    size = 1.0 / float(np.hypot(*(corners[2] - corners[0])))  # canvas heights a px, roughly
    standing = surround in ("grass", "studio")
    there = surround_of(surround, random, u, v, painting, others, standing)
    scene, canvas = _hang(there, frame, random, u, v, painting, aspect, standing, size)
    card = chart = None
    if neutrals:
        scene, card, chart = _neutrals(scene, u, v, corners, aspect, width, height)
    light = _light(random, width, height, facts)
    reflection = _reflection(random, u, v, aspect, canvas, facts)
    seen = _camera_faults(_shrunk(scene * light + reflection), random, facts)
    if card is None:
        return Scene(seen, corners, surround, frame, facts)
    return Scene(seen, corners, surround, frame, facts, card, chart, _shrunk(light), _shrunk(reflection))


def _form_like(painting: Array, random: Random) -> tuple[int, int]:
    lying = painting.shape[1] > painting.shape[0]
    return ((4, 3), (3, 2), (16, 9))[random.integers(3)] if lying else ((3, 4), (2, 3))[random.integers(2)]


def _camera(random: Random, width: int, height: int, aspect: float) -> tuple[NDArray[np.float64], dict[str, float]]:
    """Corners in px of a canvas seen by a camera that is turned by up to 15° and held askew by up to 4°."""
    focal = random.uniform(0.85, 2.5) * max(width, height)
    area = random.uniform(0.3, 0.85) if random.random() < 0.8 else random.uniform(0.12, 0.3)
    straight = random.random() < 0.2
    for _ in range(400):
        yaw, pitch = np.radians(random.uniform(-15, 15, 2) * (0.15 if straight else 1))
        roll = np.radians(random.normal(0, 0.5 if straight else 1.5))
        turn = _turn(yaw, pitch, roll)
        side = np.sqrt(aspect)
        flat = np.array([[-side, -1 / side, 0], [side, -1 / side, 0], [side, 1 / side, 0], [-side, 1 / side, 0]]) / 2
        distance = focal / np.sqrt(area * width * height)
        seen = flat @ turn.T + [0, 0, distance]
        points = focal * seen[:, :2] / seen[:, 2:] + [width / 2, height / 2]
        spare = np.array([width, height]) - np.ptp(points, axis=0)
        middle = np.array([width, height]) / 2 - (points.max(0) + points.min(0)) / 2
        points += middle + random.uniform(-0.42, 0.42, 2) * np.maximum(spare, 0)
        beyond = np.maximum(np.maximum(-points, points - [width, height]), 0).max() / max(width, height)
        cut = random.random() < 0.06
        if beyond == 0 or (cut and beyond < 0.012 and spare.max() > 0.05 * max(width, height)):
            facts = {"area": area, "yaw": np.degrees(yaw), "pitch": np.degrees(pitch), "beyond": beyond}
            return points, {name: float(value) for name, value in facts.items()}
        area *= 0.985
    raise RuntimeError("no camera found")


def _turn(yaw: float, pitch: float, roll: float) -> NDArray[np.float64]:
    from scipy.spatial.transform import Rotation

    return np.asarray(Rotation.from_euler("yxz", [yaw, pitch, roll]).as_matrix())


def _plane(corners: NDArray[np.float64], aspect: float, width: int, height: int) -> tuple[Array, Array]:
    """Where each px of the enlarged photograph lies on the wall, in canvas heights from the canvas's upper left."""
    from skimage.transform import ProjectiveTransform

    flat = np.array([[0, 0], [aspect, 0], [aspect, 1], [0, 1]])
    matrix = ProjectiveTransform.from_estimate(corners, flat).params
    x = (np.arange(width * SUPERSAMPLING, dtype=np.float32) + 0.5) / SUPERSAMPLING
    y = ((np.arange(height * SUPERSAMPLING, dtype=np.float32) + 0.5) / SUPERSAMPLING)[:, None]
    u, v, w = (row[0] * x + row[1] * y + row[2] for row in matrix.astype(np.float32))
    return u / w, v / w


def _hang(
    there: Array,
    frame: str,
    random: Random,
    u: Array,
    v: Array,
    painting: Array,
    aspect: float,
    standing: bool,
    px: float,
) -> tuple[Array, Array]:
    """The scene with the canvas and its frame in it, and where the canvas lies."""
    out = np.maximum(np.maximum(-u, u - aspect), np.maximum(-v, v - 1))  # canvas heights outside the painted edge
    wide = {"none": 0.0, "edge": 0.0, "thin": 0.018, "wide": 0.1, "gilt": 0.13, "mat": 0.16}[frame]
    wide *= random.uniform(0.6, 1.5)
    scene = _shadowed(there, random, u, v, aspect, wide)
    if standing or random.random() < 0.1:
        scene = _easel(scene, random, u, v, aspect, wide)
    if frame == "edge":  # the canvas's own side, painted over or bare
        side = random.uniform(0.01, 0.03)
        left, low = random.random() < 0.5, random.random() < 0.3
        beyond = (-u if left else u - aspect) if not low else v - 1
        strip = (beyond > 0) & (beyond < side) & (((v > 0) & (v < 1)) if not low else ((u > 0) & (u < aspect)))
        bare = random.random() < 0.5
        rim = sampled(painting, np.clip(u / aspect, 0, 1)[strip][None], np.clip(v, 0, 1)[strip][None])[0] * 0.6
        scene[strip] = random.uniform(0.2, 0.7) if bare else rim
    elif wide:
        scene = _framed(scene, frame, random, u, v, aspect, out, wide)
    inside = np.clip(-out / px * 0.7 + 0.5, 0, 1)[..., None]
    seen = inside[..., 0] > 0
    canvas = np.zeros((*u.shape, 3), np.float32)
    canvas[seen] = sampled(painting, u[seen][None] / aspect, v[seen][None])[0]
    canvas *= 1 + random.uniform(0, 0.03) * noise_over(random, u, v, 0.006)[..., None]
    if wide:  # the frame's lip shades the upper and left edge
        deep = random.uniform(0.001, 0.008)
        lip = np.minimum(np.where(v > 0, v, 1), np.where(u > 0, u, 1))
        canvas *= (1 - random.uniform(0, 0.6) * np.clip(1 - lip / deep, 0, 1))[..., None]
    return scene * (1 - inside) + canvas * inside, inside


def _shadowed(there: Array, random: Random, u: Array, v: Array, aspect: float, wide: float) -> Array:
    if random.random() < 0.25:
        return there
    x, y = random.uniform(-0.05, 0.05), random.uniform(0, 0.06)
    soft = random.uniform(0.004, 0.08)
    off = np.maximum(np.abs(u - aspect / 2 - x) - aspect / 2 - wide, np.abs(v - 0.5 - y) - 0.5 - wide)
    return there * (1 - random.uniform(0.2, 0.75) * np.clip(0.5 - off / soft, 0, 1))[..., None]


def _easel(scene: Array, random: Random, u: Array, v: Array, aspect: float, wide: float) -> Array:
    wood = np.array([0.35, 0.22, 0.12]) * random.uniform(0.4, 1.6)
    grain = (1 + 0.1 * noise_over(random, v, u, 0.03, 8))[..., None]
    middle = aspect / 2 + random.normal(0, 0.03)
    mast = (np.abs(u - middle) < random.uniform(0.02, 0.06)) & (v > -random.uniform(0.1, 0.8))
    ledge = (v > 1 + wide) & (v < 1 + wide + random.uniform(0.02, 0.07))
    ledge &= np.abs(u - middle) < random.uniform(0.3, 0.75) * aspect
    legs = (np.abs(np.abs(u - middle) - (v - 1) * 0.25 - 0.15) < 0.025) & (v > 1 + wide)
    for part, tone in ((mast, 0.8), (legs, 0.9), (ledge, 1.1)):
        scene = np.where(part[..., None], (wood * tone * grain).astype(np.float32), scene)
    return scene


def _framed(
    scene: Array, frame: str, random: Random, u: Array, v: Array, aspect: float, out: Array, wide: float
) -> Array:
    band = (out > -0.02) & (out < wide)
    sides = np.stack([-v, u - aspect, v - 1, -u])
    side = sides.argmax(0)
    depth = np.clip(out / wide, 0, 1)
    if frame == "mat":
        moulding = random.uniform(0.1, 0.3)
        card = evenly(u, random.uniform(0.55, 0.85) * (1 + random.normal(0, 0.03, 3)))
        scene = np.where((band & (depth < 1 - moulding))[..., None], card, scene)
        bevel = band & (out < 0.006)
        scene[bevel] *= np.float32(random.uniform(0.8, 1.1))
        band &= depth >= 1 - moulding
        depth = (depth - 1 + moulding) / moulding
    if frame == "gilt":
        colour = np.array([0.5, 0.33, 0.1]) * random.uniform(0.4, 1.5)
    else:
        colours = ([0.02, 0.02, 0.02], [0.3, 0.17, 0.08], [0.7, 0.7, 0.68], [0.1, 0.05, 0.03], [0.5, 0.36, 0.2])
        colour = np.array(colours[random.integers(len(colours))]) * random.uniform(0.7, 1.3)
    knots = np.linspace(0, 1, random.integers(3, 9))
    profile = np.interp(depth, knots, np.exp(random.normal(0, 0.45 if frame == "gilt" else 0.2, len(knots))))
    lit = random.uniform(0.65, 1.3, 4).astype(np.float32)[side]
    along = np.where(side % 2 == 0, u, v)
    tone = profile * lit
    if frame == "gilt":
        period = random.uniform(0.03, 0.12)
        carved = np.sin(2 * np.pi * along / period) * np.sin(2 * np.pi * depth * random.integers(1, 3))
        tone = tone * (1 + random.uniform(0, 0.4) * carved) * np.exp(0.15 * noise_over(random, u, v, 0.02))
    else:
        tone = tone * (1 + 0.05 * noise_over(random, u, v, 0.02))
    moulded = np.clip(evenly(u, colour) * tone[..., None].astype(np.float32), 0.003, 1)
    if random.random() < 0.3:  # a slip of another colour next to the painting
        moulded[depth < random.uniform(0.08, 0.2)] = random.uniform(0.05, 0.8)
    return np.where(band[..., None], moulded, scene)


def _neutrals(
    scene: Array, u: Array, v: Array, corners: NDArray[np.float64], aspect: float, width: int, height: int
) -> tuple[Array, NDArray[np.float64] | None, NDArray[np.float64] | None]:
    """A card of L* 50 and the chart in the canvas's plane, at the first side of it where both are wholly seen."""
    from skimage.transform import ProjectiveTransform

    from critique.perception.cielab import lab_to_linear
    from critique.photograph.balance import chart_lab

    flat = np.array([[0, 0], [aspect, 0], [aspect, 1], [0, 1]])
    seen = ProjectiveTransform.from_estimate(flat, corners)
    high, wide, gap = CARD_HEIGHT, 1.5 * CARD_HEIGHT, 0.02
    places = []
    for away in (0.03, 0.06, 0.1, 0.18, 0.27):  # beyond whatever frame there is
        places += [
            ((aspect + away, 0.2), (aspect + away, 0.2 + high + gap)),
            ((-away - wide, 0.2), (-away - wide, 0.2 + high + gap)),
            ((0.1, 1 + away), (0.1 + wide + gap, 1 + away)),
            ((0.1, -away - high), (0.1 + wide + gap, -away - high)),
        ]
    box = np.array([[0, 0], [wide, 0], [wide, high], [0, high]])
    for first, second in places:
        card, chart = (seen(box + at) for at in (first, second))
        both = np.concatenate([card, chart])
        if (both > 2).all() and (both < [width - 2, height - 2]).all():
            break
    else:
        return scene, None, None
    scene = scene.copy()
    inside = (u > first[0]) & (u < first[0] + wide) & (v > first[1]) & (v < first[1] + high)
    scene[inside] = lab_to_linear(np.array([50.0, 0, 0], np.float32))
    x, y = (u - second[0]) / wide * 6, (v - second[1]) / high * 4
    inside = (x > 0) & (x < 6) & (y > 0) & (y < 4)
    patches = lab_to_linear(chart_lab().astype(np.float32))
    number = np.floor(y[inside]).astype(int) * 6 + np.floor(x[inside]).astype(int)
    border = np.minimum(np.abs(x - np.round(x)), np.abs(y - np.round(y)))[inside] < 0.08
    scene[inside] = np.where(border[:, None], 0.02, patches[np.clip(number, 0, 23)])
    return scene, card, chart


def _light(random: Random, width: int, height: int, facts: dict[str, float]) -> Array:
    """Falloff to 1 : 1.6, a lamp of 2700–6500 K of which the camera takes away a part, and a shadow across."""
    from colour import CCT_to_xy, XYZ_to_sRGB, xy_to_XYZ

    angle, fall = random.uniform(0, 2 * np.pi), random.uniform(1, 1.6)
    x = (np.arange(width * SUPERSAMPLING, dtype=np.float32) + 0.5) / (width * SUPERSAMPLING) - 0.5
    y = ((np.arange(height * SUPERSAMPLING, dtype=np.float32) + 0.5) / (height * SUPERSAMPLING))[:, None] - 0.5
    along = (x * np.cos(angle) + y * np.sin(angle)) / 1.2
    light = fall ** (-along)
    facts["shadow"] = float(random.random() < 0.25)
    if facts["shadow"]:
        across = random.uniform(0, 2 * np.pi)
        edge = x * np.cos(across) + y * np.sin(across) - random.uniform(-0.3, 0.3)
        light = light * (1 - random.uniform(0.1, 0.45) * np.clip(edge / random.uniform(0.02, 0.2) + 0.5, 0, 1))
    kelvin = random.uniform(2700, 6500)
    white = XYZ_to_sRGB(xy_to_XYZ(CCT_to_xy(kelvin, method="Kang 2002")), apply_cctf_encoding=False)
    white = np.clip(white / white[1], 0.05, 4) ** (1 - random.uniform(0.3, 1.0))
    facts |= {"falloff": fall, "kelvin": kelvin}
    return (light[..., None] * white * random.uniform(0.75, 1.15)).astype(np.float32)


def _reflection(random: Random, u: Array, v: Array, aspect: float, canvas: Array, facts: dict[str, float]) -> Array:
    facts["reflection"] = 0.0
    if random.random() > 0.2:
        return np.zeros((*u.shape, 3), np.float32)
    x, y, size = random.uniform(0, aspect), random.uniform(0, 1), random.uniform(0.1, 0.4)
    spot = np.exp(-((((u - x) / size) ** 2 + ((v - y) / size / random.uniform(0.5, 2)) ** 2) ** random.uniform(1, 3)))
    strength = random.uniform(0.05, 0.8)
    facts["reflection"] = strength
    return (strength * spot)[..., None] * canvas * np.array([1, 1, 1.02], np.float32)


def _shrunk(scene: Array) -> Array:
    height, width = (side // SUPERSAMPLING for side in scene.shape[:2])
    blocks = scene.reshape(height, SUPERSAMPLING, width, SUPERSAMPLING, 3)
    return np.asarray(blocks.mean(axis=(1, 3), dtype=np.float32))


def _camera_faults(scene: Array, random: Random, facts: dict[str, float]) -> Array:
    """Blur, a sensor's noise and its clipping."""
    blur = random.choice([0.4, 0.8, 1.5, 2.2], p=[0.35, 0.4, 0.2, 0.05])
    scene = np.stack([ndimage.gaussian_filter(scene[..., c], blur) for c in range(3)], -1)
    grain = random.uniform(0.002, 0.03)
    noise = random.normal(size=scene.shape).astype(np.float32) * np.sqrt(np.maximum(scene, 0) * 0.5 + 0.003) * grain
    facts |= {"blur": float(blur), "noise": float(grain)}
    return np.clip(scene + noise, 0, 1).astype(np.float32)
