"""The demo pictures at half size, and changes of known kind, size and place."""

import io
from functools import cache

import numpy as np
from demo_pictures import demo_path
from PIL import Image

from critique.perception.cielab import lab_to_srgb8
from critique.picture.picture import Picture, picture_from_srgb

MEADOW, REPAINT = "tolvesk_01_ostermell_meadow.jpg", "tolvesk_02_ostermell_repaint.jpg"
SECOND_PASS = "tolvesk_08_ostermell_second_pass.jpg"  # over the meadow's own drawing
OTHERS = (
    "tolvesk_03_tussalund_snow.jpg",
    "tolvesk_04_lirren_evening.jpg",
    "tolvesk_05_orvalden_beeches.jpg",
    "tolvesk_06_skarrvind_ness.jpg",
)
LONG_EDGE = 640


@cache
def demo(name: str) -> Picture:
    image = Image.open(demo_path(name)).convert("RGB")
    image.thumbnail((LONG_EDGE, LONG_EDGE), Image.Resampling.BOX)
    return picture_from_srgb(np.asarray(image), name)


def repainted(picture: Picture, lab: np.ndarray) -> Picture:
    """The picture with other colours, through 8-bit codes as any file is."""
    return picture_from_srgb(lab_to_srgb8(lab.astype(np.float32)), picture.file)


def another_photograph(picture: Picture) -> Picture:
    """Saved as JPEG of quality 70, cropped by about 2 % and given a mild warm cast (ΔE00 of about 2 on a grey)."""
    light = np.where(
        picture.srgb / 255 <= 0.04045, picture.srgb / 255 / 12.92, ((picture.srgb / 255 + 0.055) / 1.055) ** 2.4
    )
    light = light * (1.035, 1.0, 0.955)
    codes = np.where(light <= 0.0031308, light * 12.92, 1.055 * np.clip(light, 0, 1) ** (1 / 2.4) - 0.055)
    height, width = codes.shape[:2]
    codes = np.clip(codes * 255 + 0.5, 0, 255).astype(np.uint8)[: round(0.985 * height), round(0.01 * width) : -3]
    stream = io.BytesIO()
    Image.fromarray(codes).save(stream, "JPEG", quality=70)
    return picture_from_srgb(np.asarray(Image.open(stream).convert("RGB")), picture.file)


def greens_muted(picture: Picture, kept: float) -> Picture:
    """Every green and yellow-green keeps ``kept`` of its chroma; lightness and hue stay."""
    lab = picture.lab.copy()
    hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1]))
    green = ((hue > 95) & (hue < 185) & (np.hypot(lab[..., 1], lab[..., 2]) > 6))[..., None]
    lab[..., 1:] *= np.where(green, np.float32(kept), np.float32(1))
    return repainted(picture, lab)


def corner_darkened(picture: Picture, values: float) -> Picture:
    """The lower right corner, 30 % of the width by 35 % of the height, darker by so many values."""
    lab = picture.lab.copy()
    height, width = lab.shape[:2]
    corner = lab[round(0.65 * height) :, round(0.7 * width) :]
    corner[..., 0] = np.maximum(corner[..., 0] - 10 * values, 2)
    return repainted(picture, lab)


def line_moved(picture: Picture, height: float, by: float) -> Picture:
    """The part above ``height`` stretched and the part below pressed, so that what lay there lies lower by ``by``."""
    rows = picture.srgb.shape[0]
    place = (np.arange(rows) + 0.5) / rows
    to = height + by
    source = np.where(place < to, place * height / to, height + (place - to) * (1 - height) / (1 - to))
    return picture_from_srgb(picture.srgb[np.clip((source * rows).astype(int), 0, rows - 1)], picture.file)


def seen_askew(picture: Picture, seed: int, reach: float = 0.06) -> tuple[Picture, np.ndarray]:
    """The picture through a random homography, and its matrix in units of the long edge (as Registration has it).

    Built with Pillow alone, which resamples by the inverse of the matrix.
    """
    rng = np.random.default_rng(seed)
    height, width = picture.srgb.shape[:2]
    edge = max(height, width)
    here = np.array([[0, 0], [width, 0], [width, height], [0, height]]) / edge
    there = here + rng.uniform(-reach, reach, (4, 2))
    matrix = _homography(here, there)
    scale = np.diag([edge, edge, 1.0])
    back = scale @ np.linalg.inv(matrix) @ np.linalg.inv(scale)
    back /= back[2, 2]
    image = Image.fromarray(picture.srgb).transform(
        (width, height), Image.Transform.PERSPECTIVE, tuple(back.ravel()[:8]), Image.Resampling.BICUBIC
    )
    return picture_from_srgb(np.asarray(image), picture.file), matrix


def _homography(here: np.ndarray, there: np.ndarray) -> np.ndarray:
    """The matrix (3, 3) that takes four points to four others: eight linear equations."""
    rows, values = [], []
    for (x, y), (u, v) in zip(here, there, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        values += [u, v]
    return np.append(np.linalg.solve(np.array(rows), np.array(values)), 1).reshape(3, 3)
