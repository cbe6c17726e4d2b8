"""Where yellow-green lies outside of the sky: a cream sky has the hue of grass, and nobody calls it green."""

import numpy as np
from numpy.typing import NDArray

from critique.measures.parts import Parts
from critique.perception.channels import chroma_of, colours_in
from critique.perception.hue import YELLOW_GREEN, hue_of, leaf_limit
from critique.perception.ranks import median_of
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at

MAP_LONG_EDGE = 400  # px: places are named by thirds; the size that the values are seen at
LEAVES_DIFFER = 4.0  # C*: by how much plausible leaves pass the limit of one leaf [sources.md, leaf_colours.csv]
# Degrees, from well beyond the bluest leaf so strong to a turquoise that is no green to anyone; of the chroma that one
# leaf reaches at its L*; and L* at least, for in the dark a green is only dark.
BLUER, RAW, SEEN = (147.0, 200.0), 0.65, 24.0
BLUEST_LEAF = 138.0  # degrees: no leaf so strong has a hue beyond it [leaf_colours.csv]
SURE_SKY = 0.5  # sureness from which a sky is left out of what is said of the green
SURELY = 0.2  # of sureness, half of it either way, over which its share of the green comes to be left out


def sure_sky(parts: Parts, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """Where the sky lies in a picture of this shape (height, width, …), nowhere where that is a guess."""
    height, width = shape[:2]
    if parts.sky_sureness < SURE_SKY:
        return np.zeros((height, width), dtype=bool)
    return _mapped(parts.mask("sky"), shape)


def _mapped(part: NDArray[np.bool_], shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """A part as it lies in a picture of this shape (height, width, …)."""
    height, width = shape[:2]
    rows = np.minimum((np.arange(height) + 0.5) / height * part.shape[0], part.shape[0] - 1).astype(np.intp)
    columns = np.minimum((np.arange(width) + 0.5) / width * part.shape[1], part.shape[1] - 1).astype(np.intp)
    return np.asarray(part[rows][:, columns])  # rows first: several times quicker than pixel by pixel


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
    """How much of the picture that is; a sky that is neither sure nor a guess is left out in part."""
    greens = _yellow_greens(picture)
    inside = float((greens & _mapped(parts.mask("sky"), greens.shape)).mean())
    sure = float(np.clip(0.5 + (parts.sky_sureness - SURE_SKY) / SURELY, 0, 1))
    return float(greens.mean()) - sure * inside


def far_beyond_leaf(lab: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Which greens (height, width) go farther beyond the limit of one leaf than leaves differ among themselves."""
    chroma = chroma_of(lab)
    return np.asarray(YELLOW_GREEN.contains(lab) & (chroma > leaf_limit(lab[..., 0]) + LEAVES_DIFFER))


def beyond_one_leaf(lab: NDArray[np.float32], mask: NDArray[np.bool_]) -> float:
    """By how much C* the middle of what a mask (height, width) holds is stronger than one leaf is at its lightness."""
    inside = colours_in(lab, mask)
    return median_of(chroma_of(inside) - leaf_limit(inside[:, 0]))


def bluer_than_leaves(lab: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Which greens (height, width) have a hue that no leaf has, and are strong."""
    found = np.asarray((chroma_of(lab) >= RAW * leaf_limit(lab[..., 0])) & (lab[..., 0] >= SEEN))
    _, a, b = colours_in(lab, found).T
    hue = hue_of(a, b)  # of the strong ones alone, which are few
    found[found] = (hue >= BLUER[0]) & (hue <= BLUER[1])
    return found


def raw_land_greens(lab: NDArray[np.float32], parts: Parts) -> NDArray[np.bool_]:
    """Where the land is such a green (height, width)."""
    return np.asarray(bluer_than_leaves(lab) & _mapped(parts.mask("near", "middle", "far"), lab.shape))
