"""Changes of value, as numbers."""

from dataclasses import dataclass

from critique.advice.change import Lab, Parameters
from critique.advice.frame import Frame
from critique.advice.previews import stretch_values

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
