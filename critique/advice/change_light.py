"""Changes of value and of light, as numbers."""

from dataclasses import dataclass

import numpy as np

from critique.advice.change import Lab, Parameters
from critique.advice.frame import Frame
from critique.advice.previews import belonging, shift_value, soft_spot, split_light, stretch_values

LabColour = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Widen(Parameters):
    """L* ``low``–``high`` stretched to ``to_low``–``to_high``."""

    low: float
    high: float
    to_low: float
    to_high: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        return stretch_values(lab, self.low, self.high, self.to_low, self.to_high)


@dataclass(frozen=True, slots=True)
class Gather(Parameters):
    """Each L* drawn ``part`` of the way to the mean of its mass; masses lie between ``borders``, darkest first."""

    borders: tuple[float, ...]
    means: tuple[float, ...]
    part: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        lightness = lab[..., 0]
        mass = np.digitize(lightness, np.array(self.borders, dtype=np.float32))
        middle = np.array(self.means, dtype=np.float32)[mass]
        return shift_value(lab, (middle - lightness) * np.float32(self.part))


@dataclass(frozen=True, slots=True)
class WarmLights(Parameters):
    """``warm`` (a*, b*) into what is lighter than L* ``high``, ``cool`` into what is darker than ``low``."""

    low: float
    high: float
    cool: tuple[float, float]
    warm: tuple[float, float]

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        return split_light(lab, self.low, self.high, self.cool, self.warm)


@dataclass(frozen=True, slots=True)
class DarkenPlace(Parameters):
    """The place at ``x``, ``y`` (of width and height) darker by ``darker`` L*, fading over ``reach`` of the long edge."""

    x: float
    y: float
    reach: float
    darker: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """By how near it lies to the place."""
        return shift_value(lab, soft_spot(frame, self.x, self.y, self.reach) * np.float32(-self.darker))


@dataclass(frozen=True, slots=True)
class PartValues(Parameters):
    """The colour ``which`` of some CIELAB colours, and all that is most like it, moved by ``by`` L*."""

    colours: tuple[LabColour, ...]
    which: int
    by: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        return shift_value(lab, np.float32(self.by) * belonging(lab, self.colours, self.which))
