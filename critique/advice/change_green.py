"""Changes of the greens, and of a lean toward green, as numbers."""

from dataclasses import dataclass, field
from typing import ClassVar

import numpy as np

from critique.advice.change import Lab, Parameters
from critique.advice.change_guided import light_greens
from critique.advice.frame import Frame
from critique.advice.muting import LCh, repaint_all
from critique.advice.previews import shift_cast
from critique.advice.small_map import SmallMap
from critique.measures.land_greens import BLUER, BLUEST_LEAF
from critique.perception.channels import colours_in
from critique.perception.green_weight import green_weight, may_be_green
from critique.perception.hue import GREEN_FAMILY, YELLOW_GREEN, hue_of

# Degrees beyond the border to yellow, which lies greener the lighter a colour is: nearer to it a quieted green is a khaki to
# the eye, and sunlit grass goes brown; our choice, by previews beside originals.
STILL_GREEN = 11.0
# Degrees to which foliage painted bluer than any leaf is taken along, shaded parts too: one left would stand out.
BLUEST_FOLIAGE = 200.0
YELLOWEST = 96.0  # degrees: of greens no light turns one beyond it, or it would be brown


@dataclass(frozen=True, slots=True)
class Mute(Parameters):
    """Greens over chroma ``kept`` changed as the mixtures change the strong ones: pairs of L*, C*ab, h° before, after.

    Values stay: a mixture that lands darker is brought back with white, or the drawing of light and shade would go.
    ``land`` is where the ground lies, where greens bluer than any leaf are to come among the leaves: a sea so blue stays.
    """

    turns: ClassVar[bool] = True
    kept: float
    mixtures: tuple[tuple[LCh, LCh], ...]
    light: SmallMap | None = field(default=None, metadata={"record": False})
    land: SmallMap | None = field(default=None, metadata={"record": False})

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The mixtures, varied by light and distance where a map of these is given."""
        bluest = GREEN_FAMILY.end if self.land is None else BLUEST_FOLIAGE
        greens = may_be_green(lab, bluest)  # often half of a picture, and the rest stays
        colours = colours_in(lab, greens)
        weight = green_weight(colours, bluest)
        if self.land is not None:
            aside = 1 - self.land.on(frame)[greens][:, 0]
            weight *= 1 - aside * _bluer(colours)
        quiet = repaint_all(colours, self.kept, self.mixtures, weight)
        if self.light is not None:
            # No light turns a quieted green so far toward yellow that it is none.
            yellowest = YELLOW_GREEN.start_at(quiet[..., 0]) + STILL_GREEN
            quiet = light_greens(quiet, self.light.on(frame)[greens], yellowest)
        changed = lab.copy()
        changed[greens, 1:] = quiet[:, 1:]
        return changed


def _bluer(lab: Lab) -> Lab:
    """How far each colour (n, 3) is on its way from the bluest leaf to a green that is none, 0–1."""
    return np.asarray(np.clip((hue_of(lab[:, 1], lab[:, 2]) - BLUEST_LEAF) / (BLUER[0] - BLUEST_LEAF), 0, 1))


@dataclass(frozen=True, slots=True)
class Uncast(Parameters):
    """Every colour moved by −``a``, −``b``."""

    a: float
    b: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        return shift_cast(lab, self.a, self.b)
