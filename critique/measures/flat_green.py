"""Where green is laid on flat: neither light and shade nor a second green in it."""

import numpy as np
from numpy.typing import NDArray

from critique.measures.land_greens import MAP_LONG_EDGE, land_greens_map
from critique.measures.parts import Parts
from critique.measures.reads_as_green import ReadsAsGreen
from critique.perception.channels import chroma_of, colours_in
from critique.perception.difference import delta_e_2000
from critique.perception.hue import hue_of
from critique.perception.ranks import middle_colour, quantiles_of
from critique.picture.kept import kept
from critique.picture.picture import Picture, lab_at

AROUND = 0.02  # of the long edge, the side of a square: a bough, a tuft, a step of a meadow
NO_LIGHT, NO_HUE = 2.5, 1.5  # standard deviation in it of L*, of a* and b* together: less is one coat of one mixture
MOSTLY_GREEN = 0.8  # of that square: nearer to its rim a green isn't asked
OLIVE, QUIET = 107.0, 16.0  # degrees, and C*: a golden haze and a grey-green mist are flat, and no leaves
# Degrees, from the yellowest tenth of all that is flat to its coolest: one mixture keeps its hue from light to dark,
# and grass laid in stroke by stroke doesn't. Of greens brushed out the most has 3, of three lawns and meadows whose
# readers saw their strokes vary the least 6.
ONE_MIXTURE = 5.0
ONE_GREEN, MOST = 8.0, 0.6  # ΔE00 from the middle of all that is flat; of it: flat shapes in many greens are a manner


@kept
def flat_greens(picture: Picture, parts: Parts, reads: ReadsAsGreen) -> NDArray[np.bool_]:
    """Where leaves and grass, no olive and no grey, are laid on flat and in one green, on the map (height, width)."""
    from scipy.ndimage import uniform_filter

    lab = lab_at(picture, MAP_LONG_EDGE)
    clear = (chroma_of(lab) >= QUIET) & (hue_of(lab[..., 1], lab[..., 2]) >= OLIVE)
    green = land_greens_map(picture, parts) & reads.where(lab.shape) & clear
    side = max(3, round(AROUND * max(lab.shape[:2])))
    inside = uniform_filter(green.astype(np.float32), side)
    if not (green & (inside > MOSTLY_GREEN)).any():
        return np.zeros_like(green)
    least = np.maximum(inside, 1e-3)
    spread = []
    for channel in range(3):
        own = np.where(green, lab[..., channel], 0).astype(np.float64)  # squares less squares: float32 isn't enough
        spread.append(uniform_filter(own * own, side) / least - np.square(uniform_filter(own, side) / least))
    flat = (spread[0] < NO_LIGHT**2) & (spread[1] + spread[2] < NO_HUE**2)
    found = np.asarray(green & flat & (inside > MOSTLY_GREEN))
    if found.any():
        colours = colours_in(lab, found)
        one = delta_e_2000(middle_colour(colours), colours) <= ONE_GREEN
        yellowest, coolest = quantiles_of(hue_of(colours[:, 1], colours[:, 2]), (0.1, 0.9))
        found[found] = one & (one.mean() >= MOST) & (coolest - yellowest <= ONE_MIXTURE)
    return found
