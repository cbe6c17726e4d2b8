"""Colours made quieter at the hue that the eye sees: CIELAB turns a blue to violet as its chroma falls.

[B. Ottosson, A perceptual color space for image processing, 2020: Oklab, its two matrices]
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from critique.perception.cielab import lab_to_xyz, xyz_to_lab

TO_CONES = np.array(
    [
        [0.8189330101, 0.3618667424, -0.1288597137],
        [0.0329845436, 0.9293118715, 0.0361456387],
        [0.0482003018, 0.2643662691, 0.6338517070],
    ]
)  # from XYZ of D65, Y of white = 1
TO_OKLAB = np.array(
    [
        [0.2104542553, 0.7936177850, -0.0040720468],
        [1.9779984951, -2.4285922050, 0.4505937099],
        [0.0259040371, 0.7827717662, -0.8086757660],
    ]
)


def xyz_to_oklab(xyz: ArrayLike) -> NDArray[np.float64]:
    """XYZ (..., 3) of D65, Y of white = 1, to Oklab (..., 3)."""
    return np.asarray(np.cbrt(np.asarray(xyz, dtype=np.float64) @ TO_CONES.T) @ TO_OKLAB.T)


def oklab_to_xyz(oklab: ArrayLike) -> NDArray[np.float64]:
    """Oklab (..., 3) to XYZ (..., 3) of D65, Y of white = 1."""
    cones = (np.asarray(oklab, dtype=np.float64) @ np.linalg.inv(TO_OKLAB).T) ** 3
    return np.asarray(cones @ np.linalg.inv(TO_CONES).T)


def quieter(lab: ArrayLike, part: ArrayLike) -> NDArray[np.float32]:
    """CIELAB (..., 3) with ``part`` (...; 0–1) of its chroma left: lightness and the hue that is seen stay."""
    values = np.asarray(lab, dtype=np.float64)
    oklab = xyz_to_oklab(lab_to_xyz(values))
    oklab[..., 1:] *= np.asarray(part, dtype=np.float64)[..., None]
    changed = xyz_to_lab(oklab_to_xyz(oklab)).reshape(values.shape)
    chroma = np.hypot(values[..., 1], values[..., 2]) * np.asarray(part, dtype=np.float64)
    size = np.hypot(changed[..., 1], changed[..., 2])
    changed[..., 1:] *= (chroma / np.maximum(size, 1e-6))[..., None]  # as much less as asked, in CIELAB
    changed[..., 0] = values[..., 0]
    return np.asarray(changed, dtype=np.float32)
