"""Which connected piece of a shape is the largest?"""

import numpy as np
from numpy.typing import NDArray


def largest_piece(mask: NDArray[np.bool_], weight: NDArray[np.floating] | None = None) -> NDArray[np.bool_]:
    """Where the largest connected piece of a mask (height, width) lies, of equals the first; nowhere where none is.

    Places that touch at a corner alone are not connected. ``weight``, of every place (height, width) and above 0 within
    the mask, makes the heaviest the largest; without it all places weigh alike.
    """
    from scipy.ndimage import label

    pieces, number = label(mask)
    if number == 0:
        return np.zeros(mask.shape, dtype=np.bool_)
    if number == 1:
        return np.array(mask, dtype=np.bool_)
    held = np.bincount(pieces[mask], weights=None if weight is None else weight[mask])
    return np.asarray(pieces == held[1:].argmax() + 1)
