"""Which connected places a picture falls into, as a painter would number them on a key."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.perception.srgb import Float
from critique.picture.picture import Picture, lab_at

LONG_EDGE = 320  # px: strokes melt into the places that they fill
CELLS = 700  # superpixels: each a few brush strokes
COMPACT = 0.06  # of SLIC, which scales colours to 0–1: how much nearness weighs against colour
SMOOTH = 1.2  # px of blur before it: the grain of the canvas is no place
VALUE, HUE = 1.0, 1.3  # weights of L* and a*b*: a place of another hue is mixed anew, one of another value let down
FEWEST, MOST = 8, 12  # places: what is told apart on a sheet held at arm's length, and has room there
WORTH_PARTING = 9.0  # CIELAB units between two halves, each of a twentieth of the picture, for them to stay two
SMALLEST = 0.006  # of the picture: less is a touch and no place
SEED_ROWS = 3

Labels = NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """A picture parted into connected places: ``labels`` (height, width), numbered from 0; ``lab`` the small copy."""

    labels: Labels
    lab: Float

    @property
    def count(self) -> int:
        """How many there are."""
        return int(self.labels.max()) + 1

    def shares(self) -> NDArray[np.float64]:
        """Of the picture (count,)."""
        return np.bincount(self.labels.ravel(), minlength=self.count) / self.labels.size

    def colours(self) -> NDArray[np.float64]:
        """Mean CIELAB of each (count, 3)."""
        flat = self.labels.ravel()
        sums = [np.bincount(flat, weights=self.lab[..., axis].ravel(), minlength=self.count) for axis in range(3)]
        return np.stack(sums, axis=1) / np.bincount(flat, minlength=self.count)[:, None]

    def touching(self) -> NDArray[np.float64]:
        """Length of the border between every two, (count, count), in px of the small copy."""
        return border_lengths(self.labels, self.count)


def places_of(picture: Picture) -> Places:
    """Part a picture into 8 to 12 connected places of one colour each; a plain picture has fewer.

    Superpixels are joined with their neighbours, the pair that loses least first. [Achanta et al., SLIC, PAMI 34(11),
    2012; Ward, 1963]
    """
    from scipy.ndimage import gaussian_filter
    from skimage.segmentation import slic

    lab = np.asarray(lab_at(picture, LONG_EDGE), dtype=np.float32)
    smooth = np.stack([gaussian_filter(lab[..., axis], SMOOTH) for axis in range(3)], axis=-1)
    weighted = smooth * np.array([VALUE, HUE, HUE], dtype=np.float32)
    cells = slic(
        weighted, n_segments=CELLS, compactness=COMPACT, convert2lab=False, start_label=0, enforce_connectivity=True
    )
    labels = _joined(np.asarray(cells, dtype=np.intp), weighted)
    return Places(_numbered(_swept(labels, weighted)), lab)


def border_lengths(labels: Labels, count: int) -> NDArray[np.float64]:
    """Number of neighbouring pixels of every two labels (count, count), symmetric, 0 on the diagonal."""
    lengths = np.zeros((count, count))
    for one, other in ((labels[:, :-1], labels[:, 1:]), (labels[:-1], labels[1:])):
        code = one.ravel() * count + other.ravel()
        lengths += np.bincount(code, minlength=count * count).reshape(count, count)
    lengths += lengths.T
    np.fill_diagonal(lengths, 0)
    return lengths


def _joined(cells: Labels, lab: Float) -> Labels:
    """Superpixels joined by Ward's criterion, neighbours only, until what is left differs or is few enough."""
    count = int(cells.max()) + 1
    size: NDArray[np.float64] = np.bincount(cells.ravel(), minlength=count).astype(np.float64)
    colour: NDArray[np.float64] = np.stack(
        [np.bincount(cells.ravel(), weights=lab[..., axis].ravel(), minlength=count) for axis in range(3)], axis=1
    )
    colour = colour / size[:, None]
    near = border_lengths(cells, count) > 0
    alive = np.ones(count, bool)
    into = np.arange(count)
    least = _worth(1 / 20, 1 / 20, WORTH_PARTING) * cells.size
    cost = np.full((count, count), np.inf)
    rows, columns = np.nonzero(near)
    cost[rows, columns] = _ward(size, colour, rows, columns)
    while alive.sum() > 1:
        flat = int(cost.argmin())
        one, other = divmod(flat, count)
        if not np.isfinite(cost[one, other]):
            break
        left = int(alive.sum())
        if left <= FEWEST or (left <= MOST and cost[one, other] >= least):
            break
        colour[one] = (colour[one] * size[one] + colour[other] * size[other]) / (size[one] + size[other])
        size[one] += size[other]
        near[one] |= near[other]
        near[:, one] |= near[:, other]
        near[one, one] = False
        near[other] = near[:, other] = False
        alive[other] = False
        into[into == other] = one
        cost[other] = cost[:, other] = np.inf
        neighbours = np.flatnonzero(near[one])
        cost[one] = cost[:, one] = np.inf
        cost[one, neighbours] = cost[neighbours, one] = _ward(size, colour, np.full(len(neighbours), one), neighbours)
    return into[cells]


def _ward(size: NDArray[np.float64], colour: NDArray[np.float64], one: Labels, other: Labels) -> NDArray[np.float64]:
    apart = ((colour[one] - colour[other]) ** 2).sum(axis=1)
    return np.asarray(size[one] * size[other] / (size[one] + size[other]) * apart)


def _worth(one: float, other: float, apart: float) -> float:
    return one * other / (one + other) * apart**2


def _swept(labels: Labels, lab: Float) -> Labels:
    """Places too small to be numbered given to the neighbour with which they share most of their border."""
    _, found = np.unique(labels, return_inverse=True)
    labels = found.reshape(labels.shape)
    while True:
        count = int(labels.max()) + 1
        size = np.bincount(labels.ravel(), minlength=count)
        smallest = int(size.argmin())
        if count <= 1 or size[smallest] >= SMALLEST * labels.size:
            return np.asarray(labels, dtype=np.intp)
        neighbour = int(border_lengths(labels, count)[smallest].argmax())
        labels = np.where(labels == smallest, neighbour, labels)
        _, found = np.unique(labels, return_inverse=True)
        labels = found.reshape(labels.shape)


def _numbered(labels: Labels) -> Labels:
    """Numbered as a page is read: from the top down, and from the left in each band of height."""
    count = int(labels.max()) + 1
    rows, columns = np.indices(labels.shape)
    size = np.bincount(labels.ravel(), minlength=count)
    down = np.bincount(labels.ravel(), weights=rows.ravel(), minlength=count) / size / labels.shape[0]
    across = np.bincount(labels.ravel(), weights=columns.ravel(), minlength=count) / size
    order = np.lexsort((across, np.floor(down * SEED_ROWS * 2)))
    rank = np.empty(count, np.intp)
    rank[order] = np.arange(count)
    return np.asarray(rank[labels], dtype=np.intp)
