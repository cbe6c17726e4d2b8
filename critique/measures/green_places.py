"""How far the greens of a picture differ in hue from one place of it to another."""

import numpy as np

from critique.measures.land_greens import MAP_LONG_EDGE, land_greens_map
from critique.measures.parts import Parts
from critique.measures.smoothing import gaussian
from critique.perception.hue import hue_of
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at

MASS = 0.06  # of the long edge, spread of a Gaussian: a bank, a crown, a stretch of meadow, and no stroke
THINNEST = 1e-3  # of a mass: with less green in it there is none to speak of
# Degrees, from which a green turns from place to place to anyone. Of six pictures of much strong green two that readers
# called one green have 1.0 and 1.4; three whose greens they saw go from cool to yellow or to olive 3.1 to 4.5.
PLACES_DIFFER = 2.8


@kept
def hue_over_places(picture: Picture, parts: Parts) -> float:
    """Standard deviation of the mean hue of masses of green outside of the sky, degrees; 0 where there is none.

    Colours that lie mixed everywhere have one mean; what is cool on the left and yellow on the right has many.
    """
    green = land_greens_map(picture, parts)
    if not green.any():
        return 0.0
    lab = lab_at(picture, MAP_LONG_EDGE)
    # Beyond an edge the field is as at the edge, the mask too: their ratio is the mean of what is green and inside.
    planes = np.dstack([np.where(green, lab[..., 1], 0), np.where(green, lab[..., 2], 0), green])
    a, b, held = np.moveaxis(gaussian(planes, MASS * max(green.shape)), 2, 0)
    inside = green & (held > THINNEST)
    hue = hue_of(a[inside], b[inside])
    return float(np.std(hue, dtype=np.float64)) if hue.size else 0.0
