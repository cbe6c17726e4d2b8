"""Changes of the greens, and of a lean toward green, as numbers."""

from dataclasses import dataclass, field
from typing import ClassVar

from critique.advice.change import Lab, Parameters
from critique.advice.change_guided import light_greens
from critique.advice.frame import Frame
from critique.advice.muting import LCh, repaint_all
from critique.advice.previews import shift_cast
from critique.advice.small_map import SmallMap
from critique.perception.channels import colours_in
from critique.perception.green_weight import may_be_green
from critique.perception.hue import YELLOW_GREEN

# Degrees beyond the border to yellow, which lies greener the lighter a colour is: nearer to it a quieted green is a khaki to
# the eye, and sunlit grass goes brown; our choice, by previews beside originals.
STILL_GREEN = 11.0
YELLOWEST = 96.0  # degrees: of greens no light turns one beyond it, or it would be brown


@dataclass(frozen=True, slots=True)
class Mute(Parameters):
    """Greens over chroma ``kept`` changed as the mixtures change the strong ones: pairs of L*, C*ab, h° before, after.

    Values stay: a mixture that lands darker is brought back with white, or the drawing of light and shade would go.
    """

    turns: ClassVar[bool] = True
    kept: float
    mixtures: tuple[tuple[LCh, LCh], ...]
    light: SmallMap | None = field(default=None, metadata={"record": False})

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The mixtures, varied by light and distance where a map of these is given."""
        greens = may_be_green(lab)  # often half of a picture, and the rest stays
        quiet = repaint_all(colours_in(lab, greens), self.kept, self.mixtures)
        if self.light is not None:
            # No light turns a quieted green so far toward yellow that it is none.
            yellowest = YELLOW_GREEN.start_at(quiet[..., 0]) + STILL_GREEN
            quiet = light_greens(quiet, self.light.on(frame)[greens], yellowest)
        changed = lab.copy()
        changed[greens, 1:] = quiet[:, 1:]
        return changed


@dataclass(frozen=True, slots=True)
class Uncast(Parameters):
    """Every colour moved by −``a``, −``b``."""

    a: float
    b: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        return shift_cast(lab, self.a, self.b)
