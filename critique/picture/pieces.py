"""Where in the picture the pieces of a shape lie that make up most of it?"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.picture.areas import area_in_part, area_of
from critique.picture.places import place_of, spot

Float = NDArray[np.float32]

REACH = 0.05  # of the long edge, width of the window in which what lies close together is one piece: leaves, rocks
JOINED = 0.35  # of that window that is filled, for its middle to belong to a piece
NEARLY_ALL, MOST = 0.8, 0.5  # of the shape in its largest piece: it is told by that alone; it is most of it
A_SECOND, BOTH = 0.25, 0.65  # of the shape: in a second piece, and in both, to tell the two
WIDE = 0.5  # of the width that eight tenths of a piece span: its middle is no spot, the thirds that hold it are told


def most_of_it_lies(weight: ArrayLike) -> str:
    """Where most of a shape lies, such as "in the lower left"; empty where no words tell that.

    A shape in one piece lies where that piece does, one in two where both do. Of one that is scattered the thirds are
    told that hold it, if it lies to a side, at the top or at the bottom.

    Parameters
    ----------
    weight : of every place (height, width), 0 outside the shape; a mask weighs all of it alike.
    """
    weighed = np.asarray(weight, dtype=np.float32)
    pieces = _largest_two(weighed)
    shares = [float(piece.sum() / weighed.sum()) for piece in pieces]
    if not pieces:
        return ""
    if shares[0] >= NEARLY_ALL:
        return _of_a_piece(pieces[0])
    if len(pieces) > 1 and shares[1] >= A_SECOND and sum(shares) >= BOTH:
        return _of_two(*pieces)
    if shares[0] >= MOST:
        return _of_a_piece(pieces[0])
    place = place_of(weighed)
    if place.column == "wide" and place.row not in ("top", "bottom"):
        return ""
    return area_of(weighed > 0) or place.words


def _largest_two(weighed: Float) -> list[Float]:
    """The two heaviest pieces, the heavier first, each what of the shape lies in it."""
    from scipy.ndimage import label, uniform_filter

    window = max(3, round(REACH * max(weighed.shape)) | 1)
    around = uniform_filter((weighed > 0).astype(np.float32), window, mode="nearest")
    pieces, number = label(around >= JOINED)
    if number == 0:
        return []
    held = np.bincount(pieces.ravel(), weights=weighed.ravel())
    held[0] = 0
    return [np.where(pieces == at, weighed, 0) for at in np.argsort(-held, kind="stable")[:2] if held[at] > 0]


def _of_a_piece(piece: Float) -> str:
    """The area that it fills, the thirds that it spans, or the spot where its middle is."""
    if area := area_in_part(piece > 0):
        return area
    first, last = np.percentile(np.nonzero(piece)[1], (10, 90)) / piece.shape[1]
    place = place_of(piece)
    return place.words if last - first > WIDE and not place.everywhere else _spot(piece)


def _of_two(one: Float, other: Float) -> str:
    if area := area_in_part(one + other > 0):
        return area
    first, second = _spot(one), _spot(other)
    return first if first == second else f"{first} and {second}"


def _spot(piece: Float) -> str:
    down, across = ((np.arange(size) + 0.5) / size for size in piece.shape)
    rows, columns = piece.sum(axis=1), piece.sum(axis=0)
    return str(spot(float((across * columns).sum() / columns.sum()), float((down * rows).sum() / rows.sum())))
