"""Do hills of earth or rust stand all along under the sky, as warm as what lies before them, and dark against it?"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from critique.measures.near_ground import near_ground
from critique.measures.parts import SKY
from critique.perception.ranks import median_of, quantiles_of

Float = NDArray[np.float32]

# What lies behind other land, under the sky, has more air before it: where it is of earth or rust, warmer than the sky
# and somewhere than what it stands behind, about as warm as the ground at one's feet, and well darker than the sky, it
# hasn't gone back. Of some 230 untouched pictures one has such hills: a castle on its rock.
# C* toward orange from which on it is the same land: hills may be parted from what lies before them by either.
WARM = (14.0, 11.0)
EARTH = 75.0  # degrees of CIELAB hue: so red at least; grass, leaves and lit chalk are yellower
PIECE, AREA = 0.1, 0.008  # of the width that lies under the sky, and of the picture: a smaller piece is a thing
NEXT, STRIP = 0.03, 0.08  # of the height: how near to it the sky ends, and how much over it and below it is looked at
GAP = 0.04  # of the height: lights and darks within it are of one land
OVER_SKY, BEFORE = 10.0, 4.0  # C*: how much warmer than the sky over it, and than what lies below it
COOLER_BEFORE = 0.15  # of its columns that what lies below is so much cooler: where nothing is, the land goes on
LESS_THAN_NEAR = 3.0  # C*: by how much the ground at one's feet may be warmer still
DARKER = 28.0  # L*: how much darker than the sky over it; bricks and coats in the sun are lighter
HIGH, WIDE = 0.03, 0.23  # of the height, as a mean; of the width, all pieces together: less is a bank or a headland
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
    near: float
    lightness: float
    near_lightness: float


def warm_mountain(lab: Float, warmth: Float, part: NDArray[np.uint8], *, level: float) -> Mountain | None:
    """The hills of a picture that come forward so; None where none do.

    ``lab`` (height, width, 3), ``warmth`` and ``part`` (height, width) are maps of one picture, ``level`` (0–1 from the
    top) is the height at which land ends.
    """
    found = (_warmer_than(warm, lab, warmth, part, level) for warm in WARM)
    return next((hills for hills in found if hills is not None), None)


def _warmer_than(warm: float, lab: Float, warmth: Float, part: NDArray[np.uint8], level: float) -> Mountain | None:
    """The same, of land warmer than so many C*."""
    from scipy.ndimage import label

    earth = lab[..., 2] <= np.float32(np.tan(np.radians(EARTH))) * lab[..., 1]
    lands, _ = label((warmth > warm) & earth & (part != SKY))
    hills = []
    for index in np.flatnonzero(np.bincount(lands.ravel())[1:] >= AREA * lands.size) + 1:
        piece = _under_sky(lands == index, part)
        ground = None if piece is None else near_ground(part, level, apart_from=lands == index)
        if piece is None or ground is None:
            continue
        hill = _standing(piece, lab, warmth, ground)
        if hill is not None and hill.forward >= 0:
            hills.append((int(index), piece, hill))
    if sum(piece.any(axis=0).mean() for _, piece, _ in hills) < WIDE:
        return None
    _, _, largest = max(hills, key=lambda hill: int(hill[1].sum()))
    land = np.isin(lands, [index for index, _, _ in hills])
    return replace(largest, mask=_filled(_upper(land, warmth, largest.near)) & (part != SKY))


def _upper(land: NDArray[np.bool_], warmth: Float, near: float) -> NDArray[np.bool_]:
    """Of hills, the land that hangs together with their outline and is nearer to its warmth than to that in front.

    A valley that is warm too, and less, goes on from them to one's feet.
    """
    from scipy.ndimage import label

    rows, first = np.arange(len(land))[:, None], land.argmax(axis=0)
    crest = land & (rows < first + max(2, round(STRIP * len(land))))
    pieces, _ = label(land & (warmth > (median_of(warmth[crest]) + near) / 2))
    there = np.isin(pieces, np.unique(pieces[crest & (pieces > 0)]))
    return there if there.any() else land


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


def _standing(land: NDArray[np.bool_], lab: Float, warmth: Float, ground: NDArray[np.bool_]) -> Mountain | None:
    """A piece of land under the sky, if it is shaped as hills are and dark against the sky; ``ground`` is in front."""
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
    if float((before < far - BEFORE).mean()) < COOLER_BEFORE or lightness > light_over - DARKER:
        return None
    near, near_lightness = median_of(warmth[ground]), median_of(lab[ground][:, 0])
    forward = min(far - near + LESS_THAN_NEAR, far - beyond - OVER_SKY)
    return Mountain(land, forward, far, beyond, near, lightness, near_lightness)
