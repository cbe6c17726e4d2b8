"""Greens drawn in below what a leaf can be, as numbers."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from critique.advice.change import Lab, Parameters
from critique.advice.frame import Frame
from critique.paints.calm import calm_chroma
from critique.perception.channels import chroma_of
from critique.perception.green_weight import green_weight


@dataclass(frozen=True, slots=True)
class Calm(Parameters):
    """Greens eased below ``limit`` times the leaf limit of their L*, the strongest most; the quiet ones stay.

    Value and hue stay, so that the drawing of light and shade does.
    """

    turns: ClassVar[bool] = True
    limit: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        chroma = chroma_of(lab)
        # What is true of a chroma under the whole limit is true of a part of it under that part of the limit.
        eased = self.limit * calm_chroma(lab[..., 0], chroma / np.float32(self.limit))
        scale = 1 - green_weight(lab) * (1 - eased / np.maximum(chroma, 1e-6))
        changed = lab.copy()
        changed[..., 1:] *= scale[..., None].astype(np.float32)
        return changed
