"""Did a repaint only become crisper or softer, while its masses and colours stayed where they were?"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.pair.overlay import Overlay, overlaid
from critique.pair.register import Registration
from critique.picture.areas import area_of, same_frame
from critique.picture.picture import Picture, lab_at
from critique.picture.places import place_of
from critique.words.figures import percent

LONG_EDGE, SMALLEST = 640, 560  # px: strokes need all of the viewing size, and a smaller file shows them softer
SAME_SIZE = 1.15  # times: a canvas photographed from farther away shows them softer too
STROKE = 3.0  # px, spread of the Gaussian that takes strokes and edges away, and leaves the masses
CELLS, SHOWN = 12, 120  # along each side; px of a mask that is named by its place
SEEN = 0.7  # L*, root mean square of what is finer than masses, in the crisper of the two: less is an even place
# Times as strong. Saved as a JPEG of quality 70, cropped and laid on again, one place in ten of six pictures goes past
# 0.82 to 1.1; photographed a little out of focus as well (0.6 px), 0.67 to 1.42.
CRISPER, SOFTER = 1.5, 0.6
ALL_OVER = 0.75  # of the cells that have anything fine in them
LEAST_PART = 0.06  # of the picture
# Of the cells that went one way: more that went the other are another brushwork, neither crisper nor softer.
ONE_WAY = 0.25


@dataclass(frozen=True, slots=True)
class Definition:
    """How much finer detail is: ``times`` as strong as it was over ``share`` of the picture, or ``all_over`` it."""

    times: float
    share: float
    all_over: bool
    mask: NDArray[np.bool_] = field(metadata={"record": False}, repr=False)  # (CELLS, CELLS)


def definition_moved(first: Picture, second: Picture, registration: Registration) -> Definition | None:
    """What became of the strokes and edges of two pictures that follow one drawing; None where nothing is sure."""
    if min(max(lab_at(one, LONG_EDGE).shape) for one in (first, second)) < SMALLEST or not _one_size(registration):
        return None
    was, now = _fine(overlaid(first, second, registration, LONG_EDGE))
    seen = np.fmax(was, now) >= SEEN
    times = np.where(seen, now / np.maximum(was, 1e-3), 1.0)
    ways = [mask for mask in (times >= CRISPER, times <= SOFTER) if mask.mean() >= LEAST_PART]
    if len(ways) != 1:
        return None
    (mask,) = ways
    other = times <= SOFTER if times[mask].min() > 1 else times >= CRISPER
    if other.sum() > ONE_WAY * mask.sum():
        return None
    all_over = bool(mask.sum() >= ALL_OVER * seen.sum())
    return Definition(float(np.median(times[mask])), float(mask.mean()), all_over, mask)


def definition_in_words(definition: Definition) -> str:
    """What became of it and where; that a photograph may do that too where it did so all over."""
    how = "crisper" if definition.times > 1 else "softer"
    told = f"Big shapes and their colours are as they were, but edges and strokes are {how}"
    if definition.all_over:
        focus = "in better" if definition.times > 1 else "out of"
        return f"{told} all over: brushwork, or only a photograph {focus} focus."
    mask = same_frame(definition.mask, (SHOWN, SHOWN))
    return f"{told} {area_of(mask) or place_of(mask)} ({percent(definition.share)} of the picture)."


def _one_size(registration: Registration) -> bool:
    """Whether the second was photographed about as large as the first."""
    corners = registration.place(np.array([(0.25, 0.25), (0.75, 0.25), (0.25, 0.5)]))
    sides = np.linalg.norm(corners[1:] - corners[0], axis=1) / (0.5, 0.25)
    return bool((sides < SAME_SIZE).all() and (sides > 1 / SAME_SIZE).all())


def _fine(both: Overlay) -> list[NDArray[np.float64]]:
    """The strength of what is finer than masses in each cell of both, L*; 0 where a cell isn't in both."""
    from scipy.ndimage import gaussian_filter

    told = []
    for lab in (both.first, both.second):
        squared = np.square(lab[..., 0] - gaussian_filter(lab[..., 0], STROKE))
        told.append(np.sqrt(_in_cells(np.where(both.covered, squared, 0))))
    return told


def _in_cells(values: NDArray[np.float32]) -> NDArray[np.float64]:
    rows, columns = (np.arange(CELLS) * side // CELLS for side in values.shape)
    sums = np.add.reduceat(np.add.reduceat(values.astype(np.float64), rows), columns, axis=1)
    counts = np.diff([*rows, values.shape[0]])[:, None] * np.diff([*columns, values.shape[1]])
    return np.asarray(sums / counts)
