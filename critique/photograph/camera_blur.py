"""A photographed painting as crisp as its own file: the camera's blur told by the sharpest steps, and undone."""

import numpy as np

from critique.perception.srgb import Float
from critique.photograph.fitness import step_width

# What reads a texture reads less of it in a soft photograph. Since the parts are fitted to soft copies too, what reads
# as green of 76 paintings loses 0.002 and 0.006 of the area by a blur of 0.6 and 1.2 px at the viewing size (fitted
# without, six of them lost 0.02 to 0.09); touch, edges and detail move (tests/benchmarks/parts_steadiness.py).
SHARP_STEP = 1.28  # px over which the sharpest steps of a painting's file are spread: the middle of 76
STEP_OF_BLUR = 2.24  # times a Gaussian's radius is a step's height by its steepest part: √(2π) = 2.5, less its own px
# Px of blur that are undone: less does nothing, more can't be told from the painter's own touch.
LEAST, MOST = 0.25, 1.2
ORDER = 2  # times that what the blur took is put back; each takes noise up by as much again at most


def recovered(light: Float, radius: float) -> Float:
    """Linear light (height, width, 3) of a photographed painting at the viewing size, without a blur of that radius.

    What such a blur takes off is put back, and what it takes off that: nearly all that a picture of this size shows.
    Hardly a blur leaves the light as it is. [van Cittert's iteration, Zeitschrift für Physik 69, 1931; from memory]
    """
    from scipy.ndimage import gaussian_filter

    if radius < LEAST:
        return light
    lost, done = light, light.copy()
    for _ in range(ORDER):
        lost = lost - gaussian_filter(lost, (radius, radius, 0), mode="nearest")
        done += lost
    return np.asarray(np.clip(done, 0, 1), dtype=np.float32)


def blur_of(light: Float) -> float:
    """Radius in px of the Gaussian that spreads the sharpest steps as far as they are; 0 where none can be told."""
    wide = step_width(light)
    if wide is None or wide <= SHARP_STEP:
        return 0.0
    return min(float(np.sqrt(wide**2 - SHARP_STEP**2)) / STEP_OF_BLUR, MOST)
