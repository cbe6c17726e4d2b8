"""What a picture would look like with a change applied: one function a change, colours in, colours out.

Every function takes CIELAB (height, width, 3) float32 and gives a new array; changes fade in over hue and chroma, so
that no edge appears where none was painted. What depends on the place is told in fractions of the whole picture.
"""

import numpy as np
from numpy.typing import NDArray

from critique.advice.change import Lab
from critique.advice.frame import Frame


def shift_cast(lab: Lab, a: float, b: float) -> Lab:
    """Move every colour (height, width, 3) by −a, −b in CIELAB, less toward white and black, which have no room to move."""
    room = np.clip(np.minimum(lab[..., 0], 100 - lab[..., 0]) / 15, 0, 1).astype(np.float32)
    return _with_ab(lab, lab[..., 1] - np.float32(a) * room, lab[..., 2] - np.float32(b) * room)


def stretch_values(lab: Lab, low: float, high: float, to_low: float, to_high: float) -> Lab:
    """Stretch the L* of a picture (height, width, 3) so that ``low``–``high`` becomes ``to_low``–``to_high``; the ends stay within 2–98."""
    changed = lab.copy()
    changed[..., 0] = np.clip((lab[..., 0] - low) * ((to_high - to_low) / max(high - low, 1e-3)) + to_low, 2, 98)
    return changed


def soft_spot(frame: Frame, x: float, y: float, reach: float) -> NDArray[np.float32]:
    """A soft weight (height, width) about a place (0–1 of the whole's width and height), 1 at it.

    ``reach`` is the weight's standard deviation as a part of the whole's long edge.
    """
    height, width = frame.sides
    down = np.exp(-(((frame.down - y) * (height / reach)) ** 2) / 2)
    return np.asarray(down * np.exp(-(((frame.across - x) * (width / reach)) ** 2) / 2), dtype=np.float32)


def _with_ab(lab: Lab, a: NDArray[np.floating], b: NDArray[np.floating]) -> Lab:
    changed = np.empty_like(lab)
    changed[..., 0], changed[..., 1], changed[..., 2] = lab[..., 0], a, b
    return changed
