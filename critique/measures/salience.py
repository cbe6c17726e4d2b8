"""Where does a picture catch the eye: rare colours, upright edges, spots of red, dark shapes on light, busy colour?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.smoothing import gaussian
from critique.photograph.scale import area_average

Float = NDArray[np.float32]

CHANNELS = ("rarity", "upright", "red", "silhouette", "touch")
# What each channel weighs in the logarithm of how likely the eye is to settle, in its own share of the picture. Fitted
# (conditional logit with a penalty) to the focal places that two machine readings marked in 58 paintings. Of some sixty
# channels that were tried (contrast of value and chroma at four sizes, spectral residual, glow in the dark, warm on
# cool, parts of the picture, the dividing line …) these say nearly all: fitted with an eighth of the pictures left out
# in turn they find 40 of 58, and 34 of the surest 47; the first three alone 36 and 29.
WEIGHTS = {"rarity": 6.5, "upright": 3.3, "red": 10.0, "silhouette": 2.0, "touch": 2.2}
MELTED = 0.012  # of the long edge: spread of a Gaussian under which strokes melt before their colour is counted
COLOUR_STEP = (10.0, 8.0, 8.0)  # L*, a*, b*: colours that are one when it is counted how much of the picture has them
COLOUR_SPREAD = 0.6  # steps over which the count is smoothed, so that a cast or another exposure hardly moves it
LEAST_SHARE = 1e-4  # of the area: rarer colours are not rarer to the eye
EDGE_SPREAD = 0.005  # of the long edge: the finest edge that counts; below it lies the brush
GATHERING = 0.036  # of the long edge: what lies within it acts as one
SPOTS = (0.008, 0.016)  # of the long edge: spread of a figure, of a house
SURROUND = 4.0  # times the spot: what it is compared with
INSIDE = 0.08  # of the short side: a channel's scale is that of the picture without its border
FULL = 0.99  # of the inside that lies below a channel's full scale
FULLEST = 1.3  # of the full scale; what goes beyond catches the eye no more
# Added to each full scale, in the channel's own units (natural logarithms of share, values a pixel, a*/10): so that in
# a picture without contrast nothing stands out.
FLOOR = {"rarity": 0.6, "upright": 0.04, "red": 1.0, "silhouette": 0.1, "touch": 0.1}
GATHERED = ("rarity", "upright", "red")  # the channels whose neighbours act as one; the others are wide already
SHAPE, BEHIND, LIT = (
    0.025,
    0.12,
    4.0,
)  # of the long edge: a dark shape and what is behind it; values from which that is light
MARK = 0.006  # of the long edge: finer than this is touch
TOUCH_HERE, TOUCH_ABOUT = 0.02, 0.1  # of the long edge: a place, and what it is busier than


@dataclass(frozen=True, slots=True)
class Salience:
    """What catches the eye: ``total`` (height, width) and that by each of the channels, of the same shape.

    The channels are 0–1.3 of their full scale, the total is 1 where there is nothing at all and grows without a limit.
    """

    total: Float
    parts: dict[str, Float]


def salience(lab: Float, touch: Float) -> Salience:
    """Salience of a picture of a few hundred pixels; ``lab`` is (height, width, 3) CIELAB.

    ``touch`` is its ``colour_touch``.

    Rarity of colour is the negative logarithm of its share of the picture, self-information as used by Bruce and
    Tsotsos, 2005, "Saliency based on information maximization" (from memory); upright edges are what figures, houses,
    masts and trunks have and clouds and furrows have not; red is what is redder than its surround (Gelasca, Tomasic and
    Ebrahimi, 2005, "Which colors best catch your eyes", from memory); a silhouette is darker than a light behind it;
    touch is busy in colour where small figures are.
    """
    long_edge = max(lab.shape[:2])
    maps = {"rarity": _rarity(lab, long_edge), "upright": _upright(lab[..., 0], long_edge)}
    maps["red"] = _redder(np.maximum(lab[..., 1], 0), long_edge)
    maps = {name: blur(field, GATHERING * long_edge) if name in GATHERED else field for name, field in maps.items()}
    maps["silhouette"] = _silhouette(lab[..., 0], long_edge)
    maps["touch"] = _busier(touch, long_edge)
    parts = {name: _scaled(maps[name], FLOOR[name]) for name in CHANNELS}
    total = np.exp(sum(WEIGHTS[name] * parts[name] for name in CHANNELS))
    return Salience(np.asarray(total, dtype=np.float32), parts)


def rarity_of(lab: Float) -> Float:
    """How seldom the colour of each place is in a picture (height, width, 3), in natural logarithms."""
    return _rarity(lab, max(lab.shape[:2]))


def _rarity(lab: Float, long_edge: int) -> Float:
    """How seldom the colour of each place is in the picture: natural logarithms of one over its share."""
    from scipy.ndimage import gaussian_filter, map_coordinates

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


def _redder(redness: Float, long_edge: int) -> Float:
    """How far spots are redder than what surrounds them, in tens of a*."""
    steps = [np.clip(step, 0, None) / 10 for step in from_surround(redness, long_edge)]
    return np.asarray(np.mean(steps, axis=0), dtype=np.float32)


def _silhouette(lightness: Float, long_edge: int) -> Float:
    """How far shapes are darker than a light behind them: values, times how light that is."""
    value = lightness / np.float32(10)
    behind = blur(value, BEHIND * long_edge)
    darker = np.clip(behind - blur(value, SHAPE * long_edge), 0, None)
    return np.asarray(darker * np.clip(behind - LIT, 0, None), dtype=np.float32)


def colour_touch(lab: Float, long_edge: int) -> Float:
    """How strong the small marks of colour are, in a*b*, brought to the size of a copy of that long edge in px."""
    marks = lab[..., 1:] - blur(lab[..., 1:], MARK * max(lab.shape[:2]))
    squares = np.square(marks).sum(axis=-1, keepdims=True, dtype=np.float32)
    return np.asarray(np.sqrt(area_average(squares, long_edge)[..., 0]), dtype=np.float32)


def _busier(touch: Float, long_edge: int) -> Float:
    """How much busier in colour a place is than what lies about it."""
    busier = blur(touch, TOUCH_HERE * long_edge) - blur(touch, TOUCH_ABOUT * long_edge)
    return np.asarray(np.clip(busier, 0, None), dtype=np.float32)


def from_surround(channels: Float, long_edge: int) -> list[Float]:
    """Spots of every size less what surrounds them."""
    return [blur(channels, spot * long_edge) - blur(channels, SURROUND * spot * long_edge) for spot in SPOTS]


def _scaled(field: Float, floor: float) -> Float:
    edge = round(INSIDE * min(field.shape))
    inside = field[edge : field.shape[0] - edge, edge : field.shape[1] - edge]
    return np.asarray(np.minimum(field / (np.quantile(inside, FULL) + floor), FULLEST), dtype=np.float32)


def highest_near(field: Float, reach: float) -> Float:
    """The highest of a field (height, width) around every place, within ``reach`` (a part of the long edge)."""
    from scipy.ndimage import maximum_filter

    size = 2 * max(1, round(reach * max(field.shape))) + 1
    return np.asarray(maximum_filter(field, size, mode="nearest"), dtype=field.dtype)


def blur(field: Float, spread: float) -> Float:
    """Gaussian blur of the first two axes."""
    return gaussian(field, spread, truncate=3)
