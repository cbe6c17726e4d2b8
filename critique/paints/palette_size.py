"""How many paints a picture needs before a limited palette carries it."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from critique.measures.histogram import colour_histogram
from critique.paints.box import PaintBox
from critique.paints.mixtures import Mixer, nearest, reach_of, small_sets
from critique.picture.picture import Picture, lab_at

Float = NDArray[np.floating]

COLOURS = 10  # that stand for a picture: its families, each split once or twice
COLOURS_LONG_EDGE = 400  # px
SIZES = (1, 2, 3, 4, 5, 6)  # paints beside white
SAME_ERROR = (
    1.5  # mean ΔE00 at which two pictures are compared: a careful mixture of a colour that is seen, not measured
)
SEED = 1


@dataclass(frozen=True, slots=True)
class PaletteNeed:
    """The mean ΔE00 that the best 1, 2, … 6 paints beside white leave, and those paints; a small box has fewer."""

    errors: tuple[float, ...]
    paints: tuple[tuple[str, ...], ...]

    def size_at(self, error: float) -> int | None:
        """The fewest paints that come within ``error``; None when six don't."""
        return next((size for size, least in zip(SIZES, self.errors, strict=False) if least <= error), None)


def palette_needs(pictures: Sequence[Picture], box: PaintBox) -> tuple[PaletteNeed, ...]:
    """For each picture what the best small palettes of a box leave of it; the mixtures are searched once for all."""
    chosen = [_colours(picture) for picture in pictures]
    aims = np.concatenate([colours for colours, _ in chosen])
    count = len(box.paints)
    mixer = Mixer.of(box.with_white)
    errors = {
        size: nearest(reach_of(mixer, small_sets(count, size)), aims).error for size in (1, 2, 3) if size <= count
    }
    needs, start = [], 0
    for colours, shares in chosen:
        span = slice(start, start + len(colours))
        needs.append(_need({size: error[:, span] for size, error in errors.items()}, shares, box))
        start += len(colours)
    return tuple(needs)


def _need(errors: dict[int, Float], shares: Float, box: PaintBox) -> PaletteNeed:
    count = len(box.paints)
    triples = {members: row for row, members in enumerate(combinations(range(count), 3))}
    least, names = [], []
    for size in SIZES[: min(len(SIZES), count)]:
        if size <= 3:
            sets = list(combinations(range(count), size))
            means = errors[size] @ shares
        else:
            sets = list(combinations(range(count), size))
            within = np.array([[triples[three] for three in combinations(chosen, 3)] for chosen in sets])
            best = errors[3][within[:, 0]].copy()
            for column in within.T[1:]:
                np.minimum(best, errors[3][column], out=best)
            means = best @ shares
        winner = int(np.argmin(means))
        least.append(float(means[winner]))
        names.append(tuple(box.paints[paint].name for paint in sets[winner]))
    # A larger palette holds every smaller one: what a search leaves in the last digit is no loss.
    return PaletteNeed(tuple(float(error) for error in np.minimum.accumulate(least)), tuple(names))


def _colours(picture: Picture) -> tuple[Float, Float]:
    """A picture's colours (n, 3) and their shares (n,), by weighted k-means over its histogram."""
    from sklearn.cluster import KMeans

    histogram = colour_histogram(lab_at(picture, COLOURS_LONG_EDGE))
    if len(histogram.share) <= COLOURS:
        return histogram.lab, histogram.share
    model = KMeans(COLOURS, n_init=1, random_state=SEED, max_iter=40, tol=1e-3)
    labels = model.fit_predict(histogram.lab, sample_weight=histogram.share)
    shares = np.bincount(labels, weights=histogram.share, minlength=COLOURS).astype(np.float64)
    return np.asarray(model.cluster_centers_, dtype=np.float64), shares
