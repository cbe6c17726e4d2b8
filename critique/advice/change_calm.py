"""Greens drawn in below what a leaf can be, and greens given up, as numbers."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from critique.advice.change import Lab, Parameters
from critique.advice.frame import Frame
from critique.paints.calm import calm_chroma
from critique.perception.green_weight import green_weight
from critique.perception.hue import turn

STRAW_HUE, STRAW_CHROMA = 92.0, 28.0  # dry grass in the sun, on the near side of the border to green; common practice
SHADE_HUE, SHADE_CHROMA = 205.0, 9.0  # a shadow that the sky looks into: blue-grey, the relief of a green; the same
PASSING = 0.7  # of the spread of values over which a green passes into what it is given up for


@dataclass(frozen=True, slots=True)
class Calm(Parameters):
    """Greens eased below ``limit`` times the leaf limit of their L*, the strongest most; the quiet ones stay.

    Value and hue stay, so that the drawing of light and shade does.
    """

    turns: ClassVar[bool] = True
    limit: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        chroma = np.hypot(lab[..., 1], lab[..., 2])
        # What is true of a chroma under the whole limit is true of a part of it under that part of the limit.
        eased = self.limit * calm_chroma(lab[..., 0], chroma / np.float32(self.limit))
        scale = 1 - green_weight(lab) * (1 - eased / np.maximum(chroma, 1e-6))
        changed = lab.copy()
        changed[..., 1:] *= scale[..., None].astype(np.float32)
        return changed


@dataclass(frozen=True, slots=True)
class GiveAway(Parameters):
    """Greens given up: what lies ``start`` times ``reach`` L* above ``middle`` to straw, below it to a blue-grey.

    The middle stays green; values stay.
    """

    turns: ClassVar[bool] = True
    middle: float
    reach: float
    start: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        weight = green_weight(lab)
        away = (lab[..., 0] - np.float32(self.middle)) / np.float32(self.reach)
        hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1]))
        chroma = np.hypot(lab[..., 1], lab[..., 2])
        light, dark = (_smooth(np.clip((side - self.start) / PASSING, 0, 1)) * weight for side in (away, -away))
        turned = turn(hue, STRAW_HUE) * light + turn(hue, SHADE_HUE) * dark
        keep = (1 - light * _over(chroma, STRAW_CHROMA)) * (1 - dark * _over(chroma, SHADE_CHROMA))
        angle = np.radians(hue + turned)
        changed = lab.copy()
        changed[..., 1], changed[..., 2] = chroma * keep * np.cos(angle), chroma * keep * np.sin(angle)
        return changed


def _over(chroma: NDArray[np.floating], limit: float) -> NDArray[np.floating]:
    """What part of a chroma lies over a limit."""
    return np.asarray(np.maximum(1 - limit / np.maximum(chroma, 1), 0))


def _smooth(x: NDArray[np.floating]) -> NDArray[np.floating]:
    return np.asarray(x * x * (3 - 2 * x))
