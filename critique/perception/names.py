"""What a colour is called: ISCC–NBS names. [Kelly, J. Res. NBS 61(5), 1958, RP 2911]"""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.difference import delta_e_2000
from critique.perception.reference import read_table

# The blocks are sectors of hue first, so hue counts a little more than in plain CIEDE2000. Anything from 0.85 to 0.95
# names the colour chart's patches best; at 1 its yellow green becomes a greenish yellow, at 0.8 its brown turns grey.
HUE_FACTOR = 0.9


@cache
def _centroids() -> tuple[tuple[str, ...], NDArray[np.float64]]:
    rows = read_table("iscc_nbs_names.csv")
    return tuple(row["name"] for row in rows), np.array([[float(row[axis]) for axis in "Lab"] for row in rows])


def colour_names(lab: ArrayLike) -> list[str]:
    """ISCC–NBS names of CIELAB colours (n, 3): that of the nearest block centroid by CIEDE2000."""
    names, centroids = _centroids()
    colours = np.asarray(lab, dtype=np.float64).reshape(-1, 3)
    nearest = delta_e_2000(colours[:, None, :], centroids[None, :, :], kH=HUE_FACTOR).argmin(axis=1)
    return [names[index] for index in nearest]


def colour_name(lab: ArrayLike) -> str:
    """ISCC–NBS name of one CIELAB colour (3,)."""
    return colour_names(lab)[0]
