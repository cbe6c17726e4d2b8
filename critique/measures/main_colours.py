"""Which few colours stand for a picture when paints are weighed against it."""

import numpy as np
from numpy.typing import NDArray

from critique.measures.histogram import colour_histogram
from critique.measures.k_means import k_means
from critique.picture.picture import Picture, lab_at

Float = NDArray[np.floating]

COLOURS = 10  # that stand for a picture: its families, each split once or twice
LONG_EDGE = 400  # px
SEED = 1


def main_colours(picture: Picture) -> tuple[Float, Float]:
    """A picture's colours (n, 3) and their shares (n,), by weighted k-means over its histogram."""
    histogram = colour_histogram(lab_at(picture, LONG_EDGE))
    if len(histogram.share) <= COLOURS:
        return histogram.lab, histogram.share
    _, centres, labels = k_means(
        histogram.lab, histogram.share, COLOURS, starts=1, seed=SEED, most_steps=40, tolerance=1e-3
    )
    shares = np.bincount(labels, weights=histogram.share, minlength=COLOURS).astype(np.float64)
    return centres, shares
