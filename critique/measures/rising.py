"""How far values have come from where they begin to count to where they count in full."""

import numpy as np
from numpy.typing import NDArray


def rising(values: NDArray[np.floating], limits: tuple[float, float]) -> NDArray[np.float64]:
    """From 0 at the first limit to 1 at the second."""
    return np.asarray(np.clip((values - limits[0]) / (limits[1] - limits[0]), 0, 1), dtype=np.float64)
