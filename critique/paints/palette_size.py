"""How many paints a picture needs before a limited palette carries it."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from critique.paints.box import PaintBox
from critique.paints.mixtures import Mixer, nearest, reach_of, small_sets

Float = NDArray[np.floating]

SIZES = (1, 2, 3, 4, 5, 6)  # paints beside white
# Mean ΔE00 at which two pictures are compared: a careful mixture of a colour that is seen, not measured.
SAME_ERROR = 1.5


@dataclass(frozen=True, slots=True)
class PaletteNeed:
    """The mean ΔE00 that the best 1, 2, … 6 paints beside white leave, and those paints; a small box has fewer."""

    errors: tuple[float, ...]
    paints: tuple[tuple[str, ...], ...]

    def size_at(self, error: float) -> int | None:
        """The fewest paints that come within ``error``; None when six don't."""
        return next((size for size, least in zip(SIZES, self.errors, strict=False) if least <= error), None)


def palette_needs(chosen: Sequence[tuple[Float, Float]], box: PaintBox) -> tuple[PaletteNeed, ...]:
    """For each picture what the best small palettes of a box leave of it; the mixtures are searched once for all.

    A picture is its main colours (n, 3) and their shares (n,), as ``measures.main_colours`` gives them.
    """
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
