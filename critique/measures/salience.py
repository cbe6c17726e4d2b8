"""Where does a picture catch the eye: rare colours, upright edges, small reds and whites, large and lone things?"""

import numpy as np
from numpy.typing import NDArray

from critique.measures.smoothing import gaussian
from critique.perception.channels import chroma_of, length_of, over_channels
from critique.perception.ranks import quantiles_of
from critique.photograph.scale import area_average

Float = NDArray[np.float32]

CHANNELS = ("rarity", "upright", "red", "white", "large", "alone", "shining")
MELTED = 0.012  # of the long edge: spread of a Gaussian under which strokes melt before their colour is counted
COLOUR_STEP = (10.0, 8.0, 8.0)  # L*, a*, b*: colours that are one when it is counted how much of the picture has them
COLOUR_SPREAD = 0.6  # steps over which the count is smoothed, so that a cast or another exposure hardly moves it
LEAST_SHARE = 1e-4  # of the area: rarer colours are not rarer to the eye
EDGE_SPREAD = 0.005  # of the long edge: the finest edge that counts; below it lies the brush
GATHERING = 0.036  # of the long edge: what lies within it acts as one, of edges and of rare colours
SPOT, SURROUND = 0.006, 4.0  # of the long edge: spread of a small figure; times it, what it is compared with
LEAST_SPOT = 1.0  # px: below it spots are the grain of a tiny picture
SPOT_GATHERING = 0.02  # of the long edge: the same of spots
LARGE, ABOUT = 0.08, 2.5  # of the long edge: spread of a house near by, a crown; times it, what it is compared with
LARGE_SIZE = 50  # px of the copy that large things are looked for on
# Of the long edge: spread of a place with detail, and of what lies about it; values a pixel, added to the latter.
DETAIL, ABOUT_DETAIL, FAINT_DETAIL = 0.05, 0.2, 0.02
ALONE = 2.0  # times as much detail again as all about: what is more alone catches the eye no more
PALE, WHITEST = 70.0, 100.0  # L*: from where on, and up to where, a light shines
LIGHT, ABOUT_LIGHT = 0.12, 0.3  # of the long edge: spread of a large light, and of what it is compared with
LIGHTEST = 20.0  # L*, by which a large light outshines what lies about it; more catches the eye no more
INSIDE = 0.08  # of the short side: a channel's scale is that of the picture without its border
FULL = 0.99  # of the inside that lies below a channel's full scale
FULLEST = 1.3  # of the full scale; what goes beyond catches the eye no more
# Added to each full scale, in the channel's own units (natural logarithms of share, values a pixel, a*, L* and C*,
# ΔE*ab), 0.15 of the middle of 76 paintings: so that in a picture without contrast nothing stands out.
FLOOR = {"rarity": 0.34, "upright": 0.028, "red": 0.27, "white": 0.39, "large": 2.7}


def salience(lab: Float, rarity: Float | None = None) -> dict[str, Float]:
    """How much each place of a picture of a few hundred pixels stands out by each channel.

    The first five are 0–1.3 of their full scale in the picture, the last two 0–2 on a scale that is the same for all.

    ``lab`` is (height, width, 3) CIELAB, each channel (height, width); ``rarity`` is its `rarity_of`, where that has
    been measured already.

    Rarity of colour is the negative logarithm of its share of the picture, self-information as used by Bruce and
    Tsotsos, 2005, "Saliency based on information maximization" (from memory); upright edges are what figures, houses,
    masts and trunks have and clouds and furrows have not; red is what is redder than its surround (Gelasca, Tomasic and
    Ebrahimi, 2005, "Which colors best catch your eyes", from memory), white what is lighter and less coloured: dress,
    cattle, sails, walls, falling water; large is what differs as a whole from all about it; alone is what has more
    detail than all about it, a boat on a lake or rocks in mist; shining is a large pale light, a low sun or a gap in
    clouds.
    """
    long_edge = max(lab.shape[:2])
    red, white = _spots(lab, long_edge)
    maps = {
        "rarity": blur(rarity if rarity is not None else rarity_of(lab), GATHERING * long_edge),
        "upright": blur(_upright(lab[..., 0], long_edge), GATHERING * long_edge),
        "red": red,
        "white": white,
        "large": _large(lab),
    }
    return {name: _scaled(maps[name], FLOOR[name]) for name in maps} | {
        "alone": _alone(lab[..., 0]),
        "shining": _shining(lab),
    }


def rarity_of(lab: Float) -> Float:
    """How seldom the colour of each place of a picture (height, width, 3) is in it: the logarithm of 1 / its share."""
    from scipy.ndimage import gaussian_filter, map_coordinates

    long_edge = max(lab.shape[:2])
    steps = np.array(COLOUR_STEP, dtype=np.float32)
    at = blur(lab, MELTED * long_edge) / steps
    at -= np.floor(at.min((0, 1))) - 1
    size = tuple(int(number) for number in np.ceil(at.max((0, 1))) + 2)
    flat = at.reshape(-1, 3)
    index = np.ravel_multi_index(tuple(np.rint(flat).astype(np.intp).T), size)
    counts = np.bincount(index, minlength=int(np.prod(size))).reshape(size) / len(flat)
    smooth = gaussian_filter(counts, COLOUR_SPREAD, mode="constant", truncate=3)
    share = map_coordinates(smooth, flat.T, order=1, mode="nearest").reshape(lab.shape[:2])
    return np.asarray(np.log(smooth.max() / np.maximum(share, LEAST_SHARE)), dtype=np.float32)


def _upright(lightness: Float, long_edge: int) -> Float:
    """How much steeper value is across than up and down, in values a pixel."""
    smooth = blur(lightness, EDGE_SPREAD * long_edge) / np.float32(10)
    down, across = np.gradient(smooth)
    return np.asarray(np.clip(np.abs(across) - np.abs(down), 0, None), dtype=np.float32)


def _spots(lab: Float, long_edge: int) -> tuple[Float, Float]:
    """How far small spots are redder than what surrounds them (a*), and lighter and less coloured (L* and C*)."""
    red = np.maximum(lab[..., 1], 0)
    channels = np.stack([lab[..., 0], red, chroma_of(lab)], axis=-1)
    spread = max(SPOT * long_edge, LEAST_SPOT)
    apart = blur(channels, spread) - blur(channels, SURROUND * spread)
    lighter, redder, paler = (np.clip(way * apart[..., k], 0, None) for k, way in enumerate((1, 1, -1)))
    both = blur(np.stack([redder, np.sqrt(lighter * paler)], axis=-1), SPOT_GATHERING * long_edge)
    return both[..., 0], both[..., 1]


def _large(lab: Float) -> Float:
    """How far large things differ from all about them, in ΔE*ab."""
    small = area_average(lab, LARGE_SIZE)
    long_edge = max(small.shape[:2])
    apart = blur(small, LARGE * long_edge) - blur(small, ABOUT * LARGE * long_edge)
    return _enlarged(np.sqrt(over_channels(np.square(apart))), lab.shape)


def _alone(lightness: Float) -> Float:
    """How much more detail a place has than all about it, in parts of the latter, 0–2."""
    long_edge = max(lightness.shape)
    smooth = blur(lightness, EDGE_SPREAD * long_edge) / np.float32(10)
    steepness = length_of(*np.gradient(smooth)).astype(np.float32, copy=False)
    about = blur(steepness, ABOUT_DETAIL * long_edge) + np.float32(FAINT_DETAIL)
    return np.asarray(np.clip(blur(steepness, DETAIL * long_edge) / about - 1, 0, ALONE), dtype=np.float32)


def _shining(lab: Float) -> Float:
    """How pale large lights are, 0–1, times how much they outshine what lies about them in values, 0–2."""
    small = area_average(lab[..., :1], LARGE_SIZE)[..., 0]
    long_edge = max(small.shape)
    apart = blur(small, LIGHT * long_edge) - blur(small, ABOUT_LIGHT * long_edge)
    pale = np.clip((small - PALE) / (WHITEST - PALE), 0, 1)
    return _enlarged(pale * np.clip(apart, 0, LIGHTEST) / 10, lab.shape)


def _enlarged(field: NDArray[np.floating], shape: tuple[int, ...]) -> Float:
    """What was looked for on a small copy, at the size (height, width, …) of the picture."""
    from scipy.ndimage import zoom

    ways = (shape[0] / field.shape[0], shape[1] / field.shape[1])
    return np.asarray(zoom(field, ways, order=1, mode="nearest", grid_mode=True), dtype=np.float32)


def _scaled(field: Float, floor: float) -> Float:
    edge = round(INSIDE * min(field.shape))
    inside = field[edge : field.shape[0] - edge, edge : field.shape[1] - edge]
    return np.asarray(np.minimum(field / (quantiles_of(inside, (FULL,))[0] + floor), FULLEST), dtype=np.float32)


def highest_near(field: Float, reach: float) -> Float:
    """The highest of a field (height, width) around every place, within ``reach`` (a part of the long edge)."""
    from scipy.ndimage import maximum_filter

    size = 2 * max(1, round(reach * max(field.shape))) + 1
    return np.asarray(maximum_filter(field, size, mode="nearest"), dtype=field.dtype)


def blur(field: Float, spread: float) -> Float:
    """Gaussian blur of the first two axes."""
    return gaussian(field, spread, truncate=3)
