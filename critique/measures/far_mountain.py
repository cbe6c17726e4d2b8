"""Do whole hills stand under the sky warmer than all that lies before them, and dark against the sky?"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from critique.measures.parts import SKY
from critique.perception.ranks import median_of, quantiles_of

Float = NDArray[np.float32]

# What lies behind other land, under the sky, has more air before it: so wide and high, warmer than the sky and than all
# it stands behind, and as dark against the sky as near land is, it hasn't gone back. Of 170 untouched pictures and
# some 200 photographs none has such hills: lit chalk and trees in autumn are 34 L* darker than their sky at most and
# light themselves, most trees are narrower, and a plain behind them is lower. Of 26 with whole mountains painted warm
# 20 have them, or are told another way.
WARM = 22.0  # C* toward orange from which on it is the same land
PIECE, AREA = 0.1, 0.008  # of the width that lies under the sky, and of the picture: a smaller piece is a thing
NEXT, STRIP = 0.03, 0.08  # of the height: how near to it the sky ends, and how much over it and below it is looked at
GAP = 0.04  # of the height: lights and darks within it are of one land
OVER_SKY, BEFORE = 20.0, 10.0  # C*: how much warmer than the sky over it, and than what lies below it
ALL_ALONG = 0.6  # of its columns that what lies below is so much cooler
OVER_NEAR = 8.0  # C*: how much warmer than the ground at one's feet
# L*: or so much darker than it, where what it stands behind is dark too: a sunny field is as warm as earth. Brown
# woods behind snow are darker than it, and stand behind nothing.
UNDER_NEAR = 25.0
DARKER, DARK = 36.0, 45.0  # L*: how much darker than the sky over it, and at most: lit and hazy hills are lighter
HIGH, WIDE = 0.07, 0.25  # of the height, as a mean; of the width, all pieces together
MOST_OF_IT, ENDS = 0.95, 0.8  # so much of it ends above this height: what reaches lower lies at one's feet
STEEPEST, OUTLINE = 0.6, 0.02  # rise over run of its outline, smoothed over so much of the width; of gables 0.8


@dataclass(frozen=True, slots=True, eq=False)
class Mountain:
    """``mask`` (height, width) is where it lies, all its pieces; the figures are those of the largest.

    ``forward`` is by how many C* it exceeds the limits, ``far`` and ``beyond`` are its warmth and that of the sky over
    it, C* toward orange, ``lightness`` its L*.
    """

    mask: NDArray[np.bool_]
    forward: float
    far: float
    beyond: float
    lightness: float


def warm_mountain(
    lab: Float, warmth: Float, part: NDArray[np.uint8], *, near: float, near_lightness: float
) -> Mountain | None:
    """The hills of a picture that come forward so; None where none do.

    ``lab`` (height, width, 3), ``warmth`` and ``part`` (height, width) are maps of one picture, ``near`` and
    ``near_lightness`` are the warmth and L* of the ground in front.
    """
    from scipy.ndimage import label

    lands, _ = label((warmth > WARM) & (part != SKY))
    large = np.flatnonzero(np.bincount(lands.ravel())[1:] >= AREA * lands.size) + 1
    pieces = [(int(index), _under_sky(lands == index, part)) for index in large]
    stand = [
        (index, piece, _standing(piece, lab, warmth, (near, near_lightness)))
        for index, piece in pieces
        if piece is not None
    ]
    hills = [(index, piece, hill) for index, piece, hill in stand if hill is not None and hill.forward > 0]
    if sum(piece.any(axis=0).mean() for _, piece, _ in hills) < WIDE:
        return None
    _, _, largest = max(hills, key=lambda hill: int(hill[1].sum()))
    return replace(largest, mask=_filled(np.isin(lands, [index for index, _, _ in hills])) & (part != SKY))


def _filled(land: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Land without the gaps that its lights and darks leave in it."""
    from scipy.ndimage import binary_closing, binary_fill_holes

    size = max(1, round(GAP * len(land)))
    inner = np.pad(land, size, mode="edge")
    closed = binary_closing(inner, np.ones((size, size), dtype=bool))[size:-size, size:-size]
    return np.asarray(binary_fill_holes(closed))


def _under_sky(land: NDArray[np.bool_], part: NDArray[np.uint8]) -> NDArray[np.bool_] | None:
    """Of a piece of land the columns over which the sky begins; None where they are few."""
    height, width = land.shape
    columns = np.arange(width)
    above = land.argmax(axis=0) - np.arange(max(2, round(NEXT * height)) + 1)[:, None]
    open_ = (part[np.maximum(above, 0), columns] == SKY).any(axis=0) & land.any(axis=0)
    return np.asarray(land & open_) if open_.mean() >= PIECE else None


def _standing(land: NDArray[np.bool_], lab: Float, warmth: Float, near: tuple[float, float]) -> Mountain | None:
    """A piece of land under the sky, if it is shaped as hills are and dark against the sky.

    ``near`` is the warmth and L* of the ground in front.
    """
    from scipy.ndimage import gaussian_filter1d

    height, width = land.shape
    columns = np.flatnonzero(land.any(axis=0))
    top, last = land[:, columns].argmax(axis=0), height - 1 - land[::-1, columns].argmax(axis=0)
    outline = gaussian_filter1d(top.astype(np.float32), OUTLINE * width)
    rows = np.nonzero(land)[0].astype(np.float32)
    if (
        len(rows) < HIGH * height * len(columns)
        or quantiles_of(rows, (MOST_OF_IT,))[0] > ENDS * height
        or median_of(np.abs(np.gradient(outline))) > STEEPEST
    ):
        return None
    aside = round(NEXT * height / 2) + np.arange(max(2, round(STRIP * height)))[:, None]
    over, below = np.maximum(top - aside, 0), np.minimum(last + aside, height - 1)
    far, lightness = median_of(warmth[land]), median_of(lab[land][:, 0])
    beyond, light_over = (median_of(field[over, columns]) for field in (warmth, lab[..., 0]))
    before = warmth[below, columns].mean(axis=0)
    along = float((before < far - BEFORE).mean())
    if along < ALL_ALONG or lightness > min(DARK, light_over - DARKER):
        return None
    forward = far - near[0] - OVER_NEAR
    if median_of(lab[below, columns, 0]) <= DARK:
        forward = max(forward, near[1] - lightness - UNDER_NEAR)
    forward = min(forward, far - beyond - OVER_SKY)
    return Mountain(land, forward, far, beyond, lightness)
