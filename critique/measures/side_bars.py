"""Do thin bars stand along a side, a fence, a post or a bright trunk, that outdo all upright lines farther in?"""

from dataclasses import dataclass

import numpy as np

from critique.measures.smoothing import Float, gaussian, gaussian_down

# A bar of a few px is lost where spots are compared at 200 px, and its contrast with it.
THIN = 0.008  # of the long edge, spread of a Gaussian: what is wider is a spot, and is compared as one
ALONG, PLACE = 0.02, 0.02  # of the long edge: spreads over a bar's length, and over the bars of one place
BORDER, INSIDE = 0.08, 0.18  # of the width: how near the side they stand, and from where on all else is inside
RIM = 0.005  # of the width: what lies nearer to a side may be the rim of a scan
FAINTEST = 4.0  # L*: an inside with less holds nothing


@dataclass(frozen=True, slots=True)
class SideBars:
    """The plainest bars at a side: where (0–1), how strong in L*, and that beside the strongest upright ones."""

    side: str  # 'left' or 'right'
    x: float
    y: float
    contrast: float
    strength: float


def side_bars(lightness: Float) -> SideBars:
    """Find them in a picture of some 400 px or more; ``lightness`` is L* (height, width)."""
    long_edge = max(lightness.shape)
    rim = round(RIM * lightness.shape[1])
    lightness = lightness[:, rim : lightness.shape[1] - rim]
    thin = lightness - gaussian(lightness, THIN * long_edge, truncate=3)
    upright = gaussian_down(thin, ALONG * long_edge, truncate=3)
    near = np.sqrt(gaussian(np.square(upright), PLACE * long_edge, truncate=3))
    width = near.shape[1]
    border, inset = max(1, round(BORDER * width)), round(INSIDE * width)
    inside = max(float(near[:, inset : width - inset].max(initial=0.0)), FAINTEST)
    left, right = near[:, :border], near[:, width - border :]
    side, strip, first = ("left", left, 0) if left.max() >= right.max() else ("right", right, width - border)
    row, column = np.unravel_index(int(strip.argmax()), strip.shape)
    contrast = float(strip.max())
    return SideBars(
        side=side,
        x=(first + int(column) + rim + 0.5) / (width + 2 * rim),
        y=(int(row) + 0.5) / len(near),
        contrast=contrast,
        strength=contrast / inside,
    )
