"""Where yellow-green lies outside of the sky: a cream sky has the hue of grass, and nobody calls it green."""

import numpy as np
from numpy.typing import NDArray

from critique.measures.parts import Parts
from critique.perception.hue import YELLOW_GREEN, leaf_limit
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at

MAP_LONG_EDGE = 400  # px: places are named by thirds; the size that the values are seen at
LEAVES_DIFFER = 4.0  # C*: by how much plausible leaves pass the limit of one leaf [sources.md, leaf_colours.csv]
SURE_SKY = 0.5  # sureness from which a sky is left out of what is said of the green


def sure_sky(parts: Parts, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """Where the sky lies in a picture of this shape (height, width, …), nowhere where that is a guess."""
    height, width = shape[:2]
    if parts.sky_sureness < SURE_SKY:
        return np.zeros((height, width), dtype=bool)
    sky = parts.mask("sky")
    rows = np.minimum((np.arange(height) + 0.5) / height * sky.shape[0], sky.shape[0] - 1).astype(np.intp)
    columns = np.minimum((np.arange(width) + 0.5) / width * sky.shape[1], sky.shape[1] - 1).astype(np.intp)
    return np.asarray(sky[rows[:, None], columns[None]])


def land_greens(lab: NDArray[np.float32], parts: Parts) -> NDArray[np.bool_]:
    """Which pixels (height, width) are yellow-green and no sky."""
    return np.asarray(YELLOW_GREEN.contains(lab) & ~sure_sky(parts, lab.shape))


@kept
def _yellow_greens(picture: Picture) -> NDArray[np.bool_]:
    """Which places of the map (height, width) are yellow-green: asked of a picture with one finding after another."""
    return YELLOW_GREEN.contains(lab_at(picture, MAP_LONG_EDGE))


def land_greens_map(picture: Picture, parts: Parts) -> NDArray[np.bool_]:
    """Where yellow-green lies outside of the sky, on the map (height, width)."""
    greens = _yellow_greens(picture)
    return np.asarray(greens & ~sure_sky(parts, greens.shape))


def land_green_share(picture: Picture, parts: Parts) -> float:
    """How much of the picture that is."""
    return float(land_greens_map(picture, parts).mean())


def far_beyond_leaf(lab: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Which greens (height, width) go farther beyond the limit of one leaf than leaves differ among themselves."""
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    return np.asarray(YELLOW_GREEN.contains(lab) & (chroma > leaf_limit(lab[..., 0]) + LEAVES_DIFFER))
