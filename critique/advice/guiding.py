"""What makes a soft map follow the edges of a picture: a straight line from its colours to the map, window by window.

The coefficients of those lines are smooth, so that a small map of them serves the picture at any size.
[He, Sun and Tang, Guided Image Filtering, IEEE PAMI 35(6), 2013; He and Sun, Fast Guided Filter, 2015]
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from critique.advice.frame import Frame
from critique.advice.small_map import SmallMap
from critique.perception.channels import over_channels

Lab = NDArray[np.float32]
WORKED_AT = 160  # px along the long edge
MASK_SOFTNESS = (5.0, 5.0, 5.0)  # L*, a*, b* below which a step of colour isn't an edge
MASK_REACH = 0.035  # of the long edge: half a window


def guide(lab: Lab, wanted: NDArray[np.floating], reach: float, softness: Sequence[float]) -> SmallMap:
    """The map ``wanted`` (height, width) as lines from the colours of ``lab`` (height, width, 3): four numbers a cell.

    ``reach`` is half a window, of the long edge; a step of colour below ``softness`` (L*, a*, b*) is smoothed over.
    """
    from scipy.ndimage import uniform_filter

    size = 2 * max(1, round(reach * max(lab.shape[:2]))) + 1

    def mean(field: NDArray[np.floating]) -> NDArray[np.float64]:
        return np.asarray(uniform_filter(field.astype(np.float64), (size, size, 0)[: field.ndim], mode="nearest"))

    colours, target = lab.astype(np.float64), np.asarray(wanted, dtype=np.float64)
    middle, level = mean(colours), mean(target)
    products = mean((colours[..., :, None] * colours[..., None, :]).reshape(*lab.shape[:2], 9)).reshape(
        *lab.shape[:2], 3, 3
    )
    spread = products - middle[..., :, None] * middle[..., None, :] + np.diag(np.square(softness))
    together = mean(colours * target[..., None]) - middle * level[..., None]
    slopes = np.linalg.solve(spread, together[..., None])[..., 0]
    start = level - over_channels(slopes * middle)
    return SmallMap.of(mean(np.concatenate([slopes, start[..., None]], axis=-1)))


def guided(small: SmallMap, lab: Lab, frame: Frame) -> NDArray[np.float32]:
    """What such a map says of the colours of a picture, or of a part of it: (height, width)."""
    lines = small.on(frame)
    return np.asarray(over_channels(lines[..., :3] * lab) + lines[..., 3], dtype=np.float32)


def guided_mask(lab: Lab, mask: NDArray[np.generic]) -> SmallMap:
    """A mask (0–1) of the same shape as a line from colours."""
    return guide(lab, mask.astype(np.float32), MASK_REACH, MASK_SOFTNESS)


def resized(mask: NDArray[np.generic], shape: tuple[int, ...]) -> NDArray[np.float32]:
    """A map (height, width) at another size."""
    down, across = (
        np.minimum(((np.arange(n) + 0.5) * m / n).astype(int), m - 1)
        for n, m in zip(shape[:2], mask.shape[:2], strict=True)
    )
    return np.asarray(mask[down][:, across], dtype=np.float32)
