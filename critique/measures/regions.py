"""Which small regions of one colour a picture is made of, and what each looks like."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.measures.smoothing import gaussian
from critique.picture.picture import Picture, lab_at

TEXTURE_LONG_EDGE = 320  # px: a leaf mass is still rough here, a sky's brushwork mostly isn't
REGIONS = 350  # asked for; each then is about a twentieth of the picture across
COMPACTNESS = 8.0  # CIELAB units that a step of one region's width counts: edges win over even shapes
STEADY = 0.007  # of the long edge, spread of a Gaussian: by finer detail, borders run anew at every saving of a file
ROUNDS = 5  # of the clustering: regions no longer move much after these
Float = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Regions:
    """Regions of a small copy of a picture. ``labels`` is (height, width); the rest has one row a region (n,).

    ``lab`` (n, 3) is the mean colour, ``x`` and ``y`` the middle (0–1 from the upper left), ``share`` the area 0–1,
    ``rough`` how much L* changes from one pixel to the next, ``level`` how much of that change runs up and down
    (1: level strokes only, 0: upright ones). ``pairs`` (m, 2) are the regions that touch, each pair once, and
    ``border`` (m,) the length of what they share, in px of the small copy.
    """

    labels: NDArray[np.intp]
    lab: Float
    x: Float
    y: Float
    share: Float
    rough: Float
    level: Float
    pairs: NDArray[np.intp]
    border: Float

    def mean(self, values: NDArray[np.floating]) -> Float:
        """Of a map (height, width), the mean over each region (n,)."""
        total = np.bincount(self.labels.ravel(), weights=values.ravel(), minlength=len(self.share))
        return (total / (self.share * self.labels.size)).astype(np.float32)


def find_regions(picture: Picture) -> Regions:
    """Regions of a picture: simple linear iterative clustering. [Achanta et al., IEEE PAMI 34(11), 2012]"""
    from skimage.segmentation import slic

    fine = lab_at(picture, TEXTURE_LONG_EDGE)
    upright, sideways = _steps(fine[..., 0])
    lab = _halved(fine)
    upright, sideways = _halved(upright), _halved(sideways)
    parted = gaussian(lab, STEADY * max(lab.shape[:2]), truncate=3)
    labels = slic(
        parted,
        n_segments=REGIONS,
        compactness=COMPACTNESS / max(float(np.ptp(parted)), 1.0),  # slic stretches what it is given to 0–1
        max_num_iter=ROUNDS,
        convert2lab=False,
        start_label=0,
        channel_axis=-1,
    )
    return _described(labels.astype(np.intp), lab, upright, sideways)


def _steps(lightness: Float) -> tuple[Float, Float]:
    """How much L* changes upward and sideways at each pixel (height, width)."""
    padded = np.pad(lightness, 1, mode="edge")
    upright = np.abs(padded[2:, 1:-1] - padded[1:-1, 1:-1]) + np.abs(padded[:-2, 1:-1] - padded[1:-1, 1:-1])
    sideways = np.abs(padded[1:-1, 2:] - padded[1:-1, 1:-1]) + np.abs(padded[1:-1, :-2] - padded[1:-1, 1:-1])
    return upright / 2, sideways / 2


def _halved(values: Float) -> Float:
    """A map (height, width, …) at half the size; an odd last row or column is left out. A tiny one is kept."""
    height, width = values.shape[:2]
    if min(height, width) < 16:
        return values
    cut = values[: height // 2 * 2, : width // 2 * 2]
    return (cut[::2, ::2] + cut[1::2, ::2] + cut[::2, 1::2] + cut[1::2, 1::2]) / np.float32(4)


def block_means(values: Float, shape: tuple[int, int]) -> Float:
    """Means of a map (height, width, …) over the blocks that a smaller copy of this shape (rows, columns) is made of.

    What doesn't fill a block, at the right and the lower edge, is left out; a map of that size is handed back.
    """
    rows, columns = max(1, values.shape[0] // shape[0]), max(1, values.shape[1] // shape[1])
    cut = values[: shape[0] * rows, : shape[1] * columns]
    total = sum(cut[row::rows, column::columns] for row in range(rows) for column in range(columns))
    return np.asarray(total / np.float32(rows * columns), dtype=np.float32)


def _described(labels: NDArray[np.intp], lab: Float, upright: Float, sideways: Float) -> Regions:
    height, width = labels.shape
    flat = labels.ravel()
    count = np.bincount(flat).astype(np.float32)
    rows, columns = np.divmod(np.arange(flat.size), width)

    def mean(values: NDArray[np.floating]) -> Float:
        return (np.bincount(flat, weights=values.ravel()) / count).astype(np.float32)

    up, side = mean(upright), mean(sideways)
    pairs, border = _touching(labels)
    return Regions(
        labels=labels,
        lab=np.stack([mean(lab[..., axis]) for axis in range(3)], axis=1),
        x=mean((columns + 0.5) / width),
        y=mean((rows + 0.5) / height),
        share=count / np.float32(flat.size),
        rough=np.asarray((up + side) / 2, dtype=np.float32),
        level=np.asarray(up / np.maximum(up + side, np.float32(1e-3)), dtype=np.float32),
        pairs=pairs,
        border=border,
    )


def _touching(labels: NDArray[np.intp]) -> tuple[NDArray[np.intp], Float]:
    """Pairs of labels that lie beside each other (m, 2), and how long their common border is (m,)."""
    beside = np.concatenate(
        [
            np.stack([labels[:, :-1].ravel(), labels[:, 1:].ravel()], axis=1),
            np.stack([labels[:-1].ravel(), labels[1:].ravel()], axis=1),
        ]
    )
    beside = np.sort(beside[beside[:, 0] != beside[:, 1]], axis=1)
    number = int(labels.max()) + 1
    code, length = np.unique(beside[:, 0] * number + beside[:, 1], return_counts=True)
    return np.stack(np.divmod(code, number), axis=1), length.astype(np.float32)
