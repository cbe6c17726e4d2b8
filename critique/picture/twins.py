"""Whether two pictures are one painting twice: another photograph of it, a smaller copy, a crop, a turned file."""

import numpy as np
from numpy.typing import NDArray

from critique.perception.cielab import linear_to_lab
from critique.perception.srgb import Float
from critique.photograph.scale import area_average

SIDE = 24  # cells of a small picture along either side
SHIFTS = (-1, 0, 1)  # cells by which two photographs may be cropped differently
# Correlation from which on two are one. Of 84 landscapes, 76 old ones and the demos, the two most alike reach 0.83,
# two states of one painting 0.89; each beside itself under another lamp, exposure, falloff and crop at least 0.88.
ALIKE = 0.86
FLAT = 1.0  # L*, spread below which a picture has nothing to be known by

Cells = NDArray[np.float32]


def cells_of(light: Float) -> Cells:
    """A picture's light as L*a*b* of ``SIDE`` × ``SIDE`` cells, whatever its shape, on its longer side or not."""
    from PIL import Image

    small = area_average(light, 8 * SIDE)
    planes = [
        np.asarray(
            Image.fromarray(np.ascontiguousarray(small[..., channel])).resize((SIDE, SIDE), Image.Resampling.BOX)
        )
        for channel in range(3)
    ]
    return np.asarray(linear_to_lab(np.clip(np.stack(planes, axis=-1), 0, 1)), dtype=np.float32)


def same_painting(one: Cells, other: Cells) -> bool:
    """Whether two pictures show one painting, in whatever light each was photographed."""
    return likeness(one, other) >= ALIKE


def likeness(one: Cells, other: Cells) -> float:
    """The best correlation of value and colour over small shifts and quarter turns, −1 to 1.

    Each channel is taken from its own mean, so that lamp and exposure count for little.
    """
    return float(likenesses(np.stack([one, other]))[0, 1])


def likenesses(cells: NDArray[np.float32]) -> NDArray[np.float32]:
    """The same of every two of many (n, SIDE, SIDE, 3): (n, n)."""
    first = _from_means(cells[:, 1:-1, 1:-1])
    best = np.full((len(cells), len(cells)), -1.0, dtype=np.float32)
    for turns in range(4):
        turned = np.rot90(cells, turns, axes=(1, 2))
        for down in SHIFTS:
            for across in SHIFTS:
                part = turned[:, 1 + down : SIDE - 1 + down, 1 + across : SIDE - 1 + across]
                np.maximum(best, first @ _from_means(part).T, out=best)
    flat = cells[..., 0].std(axis=(1, 2)) < FLAT
    best[flat], best[:, flat] = 0.0, 0.0
    return best


def _from_means(cells: NDArray[np.float32]) -> NDArray[np.float32]:
    """Cells (n, …, 3) as rows of length 1, each channel taken from its own mean."""
    rows = (cells - cells.mean(axis=(1, 2), keepdims=True)).reshape(len(cells), -1)
    return np.asarray(rows / (np.linalg.norm(rows, axis=1, keepdims=True) + 1e-9), dtype=np.float32)
