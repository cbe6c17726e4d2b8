"""A picture as other photographs of it would have it: softer, noisier, in another light, cropped, mirrored.

Parts of a picture are fitted to such copies too, so that what is told of a painting is also told of its photograph.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from make_photograph_spread import through_jpeg
from scipy.ndimage import gaussian_filter, zoom

from critique.perception.srgb import Codes, linear_to_srgb8, srgb8_to_linear
from critique.photograph.camera_blur import blur_of, recovered
from critique.picture.other_light import SIDES, Gains, cast_gains

QUALITY = 60  # of JPEG
CROP = 0.03  # of the width and the height, half of it on each side
CAST = 3.0  # ΔE00 on a light grey: what is left after a card or a chart is 1 to 3
EXPOSURE = 0.1  # of the light
BLURS = {"soft": 0.6, "softer": 1.2}  # px of the viewing size: what a telephone's photograph has left
GRAIN, DARK = 0.012, 0.003  # noise by the root of the light, and the light that a sensor's own noise is like
PHOTOGRAPHED = 0.8  # px of blur, undone again as far as it can be told
COPIES = ("soft", "softer", "noise", "jpeg", "cast", "lighter", "darker", "crop", "mirror", "photograph")
Place = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Copy:
    """One copy: its codes (height, width, 3), and where a place (x, y: 0–1) of the picture lies in it."""

    kind: str
    srgb: Codes
    place: Callable[[Place], Place]


def same(place: Place) -> Place:
    return place


def mirrored(place: Place) -> Place:
    return 1 - place[0], place[1]


def cropped(place: Place) -> Place:
    x, y = (float(np.clip((part - CROP / 2) / (1 - CROP), 0, 1)) for part in place)
    return x, y


def copy_of(srgb: Codes, kind: str, seed: int) -> Copy:
    """One of ``COPIES`` of a picture at the viewing size; ``seed`` chooses the noise and the cast's side."""
    random = np.random.default_rng([seed, COPIES.index(kind)])
    if kind == "mirror":
        return Copy(kind, np.ascontiguousarray(srgb[:, ::-1]), mirrored)
    if kind == "crop":
        rows, columns = (round(CROP / 2 * length) for length in srgb.shape[:2])
        return Copy(kind, srgb[rows : len(srgb) - rows, columns : srgb.shape[1] - columns], cropped)
    if kind == "jpeg":
        return Copy(kind, through_jpeg(srgb, QUALITY), same)
    return Copy(kind, linear_to_srgb8(_in_another_photograph(srgb8_to_linear(srgb), kind, random)), same)


def _in_another_photograph(light: np.ndarray, kind: str, random: np.random.Generator) -> np.ndarray:
    side = SIDES[random.integers(len(SIDES))]
    match kind:
        case "soft" | "softer":
            return grainy(softened(light, BLURS[kind]), random)
        case "noise":
            return grainy(light, random)
        case "cast":
            return cast(light, side, CAST)
        case "lighter":
            return np.minimum(light * np.float32(1 + EXPOSURE), 1)
        case "darker":
            return light / np.float32(1 + EXPOSURE)
    soft = grainy(softened(resampled(light, random), PHOTOGRAPHED), random)
    return cast(recovered(soft, blur_of(soft)), side, CAST / 2)


def softened(light: np.ndarray, blur: float) -> np.ndarray:
    return gaussian_filter(light, (blur, blur, 0), mode="nearest")


def grainy(light: np.ndarray, random: np.random.Generator) -> np.ndarray:
    noise = random.normal(size=light.shape) * np.sqrt(np.maximum(light, 0) * 0.5 + DARK) * GRAIN
    return np.clip(light + noise, 0, 1).astype(np.float32)


def cast(light: np.ndarray, side: Gains, much: float) -> np.ndarray:
    return np.clip(light * np.array(cast_gains(side, much), dtype=np.float32), 0, 1)


def resampled(light: np.ndarray, random: np.random.Generator) -> np.ndarray:
    """Up to another size and back, as straightening does it."""
    height, width = light.shape[:2]
    more = random.uniform(1.1, 1.6)
    up = zoom(light, (more, more, 1), order=1, mode="nearest")
    return np.asarray(zoom(up, (height / up.shape[0], width / up.shape[1], 1), order=1, mode="nearest"))
