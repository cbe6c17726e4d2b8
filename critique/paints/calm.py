"""What a green is when it is calmed: the one answer that palettes are chosen for, mixed for and painted from."""

import numpy as np
from numpy.typing import ArrayLike

from critique.perception.green_weight import green_weight
from critique.perception.hue import leaf_limit
from critique.perception.srgb import Float

KNEE = 0.5  # of the leaf limit: greens quieter than this stay as they are; common practice, no source


def calm_chroma(lightness: ArrayLike, chroma: ArrayLike) -> Float:
    """The C*ab of greens (...), drawn in below the leaf limit of their L*, the strongest most; their order stays."""
    limit = leaf_limit(np.asarray(lightness))
    strength = np.asarray(chroma)
    knee = KNEE * limit
    room = np.maximum(limit - knee, 1e-6)
    eased = knee + room * (1 - np.exp(-np.maximum(strength - knee, 0) / room))
    return np.asarray(np.minimum(eased, strength))


def calm_greens(lab: Float) -> Float:
    """Colours (..., 3) with the greens drawn in below the leaf limit; lightness, hue and other colours stay."""
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    scale = 1 - green_weight(lab) * (1 - calm_chroma(lab[..., 0], chroma) / np.maximum(chroma, 1e-6))
    calm = lab.copy()
    calm[..., 1:] *= scale[..., None].astype(lab.dtype)
    return calm
