"""What is left of a picture when the painter half closes the eyes."""

import numpy as np
from numpy.typing import NDArray

SQUINT_RADIUS = 0.02  # of the long edge: detail smaller than this melts; common practice, no source
SQUINT_EDGE = 6.0  # L*: steps larger than this stay edges


def squint(lightness: NDArray[np.float32]) -> NDArray[np.float32]:
    """Smooth L* (height, width) but keep its large edges. [He, Sun and Tang, Guided Image Filtering, ECCV 2010]

    The guide is the picture itself, so a plane of small variance becomes its mean and an edge stays.
    """
    from scipy.ndimage import uniform_filter

    size = 2 * max(1, round(SQUINT_RADIUS * max(lightness.shape))) + 1

    def mean(values: NDArray[np.floating]) -> NDArray[np.float32]:
        return np.asarray(uniform_filter(values, size, mode="nearest"), dtype=np.float32)

    average = mean(lightness)
    variance = np.maximum(mean(lightness * lightness) - average * average, 0)
    keep = variance / (variance + np.float32(SQUINT_EDGE**2))
    return mean(keep) * lightness + mean((np.float32(1) - keep) * average)
