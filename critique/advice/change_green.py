"""Changes of the greens, and of a lean toward green, as numbers."""

from dataclasses import dataclass
from typing import ClassVar

from critique.advice.change import Lab, Parameters
from critique.advice.frame import Frame
from critique.advice.muting import LCh, repaint_all
from critique.advice.previews import recede_greens, shift_cast, trade_greens, vary_greens


@dataclass(frozen=True, slots=True)
class Mute(Parameters):
    """Greens over chroma ``kept`` changed as the mixtures change the strong ones: pairs of L*, C*ab, h° before, after."""

    turns: ClassVar[bool] = True
    kept: float
    mixtures: tuple[tuple[LCh, LCh], ...]

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        return repaint_all(lab, self.kept, self.mixtures)


@dataclass(frozen=True, slots=True)
class Trade(Parameters):
    """Light greens to straw and dark ones to a warm grey, from ``start`` L* away from ``middle``, in full at ``full``."""

    turns: ClassVar[bool] = True
    middle: float
    start: float
    full: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        return trade_greens(lab, self.middle, self.start, self.full)


@dataclass(frozen=True, slots=True)
class Vary(Parameters):
    """Light greens turned ``warm`` degrees toward yellow, dark ones ``cool`` toward blue, in full ``reach`` L* away."""

    turns: ClassVar[bool] = True
    middle: float
    reach: float
    warm: float
    cool: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        return vary_greens(lab, self.middle, self.reach, self.warm, self.cool)


@dataclass(frozen=True, slots=True)
class Recede(Parameters):
    """Greens at ``top`` of the land (of the height) at so much of their chroma, lighter (L*) and cooler (degrees)."""

    turns: ClassVar[bool] = True
    top: float
    bottom: float
    chroma: float
    lighter: float
    cooler: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """By how high it lies."""
        return recede_greens(lab, frame, self.top, self.bottom, self.chroma, self.lighter, self.cooler)


@dataclass(frozen=True, slots=True)
class Uncast(Parameters):
    """Every colour moved by −``a``, −``b``."""

    a: float
    b: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        return shift_cast(lab, self.a, self.b)
