"""Changes that follow the masses of a picture: numbers, and small maps that say where."""

from dataclasses import dataclass, field
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from critique.advice.change import Lab, Parameters, recoloured
from critique.advice.change_light import LabColour
from critique.advice.frame import Frame
from critique.advice.guiding import guided
from critique.advice.previews import soft_spot
from critique.advice.small_map import SmallMap
from critique.perception.channels import chroma_of, colours_in, over_channels
from critique.perception.green_weight import eased, green_weight, may_be_green
from critique.perception.hue import turn
from critique.perception.oklab import quieter

LINE = 4  # numbers of a guide for each thing that it says
OF_THE_HUE, HUE_GONE = 25.0, 45.0  # degrees from the loud hue: as loud as it, and no longer touched
FAR_IN_FULL = 1.3  # of the guide, which is less than 1 inside narrow hills
DARK_UNTIL = 26.0  # L*: what is lighter than this was never closed
STROKES_APART = 1.0  # of their own contrast, that strokes in an opened dark gain; our choice


@dataclass(frozen=True, slots=True)
class Settle(Parameters):
    """L* drawn ``part`` of the way to its mass, up from darks ``darks_part``, ``colour_part`` for a* and b*.

    Where a map of places is given it says how far.
    """

    part: float
    darks_part: float
    colour_part: float
    masses: SmallMap = field(metadata={"record": False})
    places: SmallMap | None = field(default=None, metadata={"record": False})

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """By the lines of the mass that it lies in."""
        lines = self.masses.on(frame)
        where = self.places.on(frame)[..., 0] if self.places is not None else np.float32(1)
        changed = lab.copy()
        for channel in range(lines.shape[-1] // LINE):
            line = lines[..., LINE * channel : LINE * (channel + 1)]
            settled = over_channels(line[..., :3] * lab) + line[..., 3]
            moved = settled - lab[..., channel]
            part = np.float32(self.colour_part) if channel else np.where(moved > 0, self.darks_part, self.part)
            changed[..., channel] += (moved * where * part).astype(np.float32)
        changed[..., 0] = np.clip(changed[..., 0], 0, 100)
        return changed


@dataclass(frozen=True, slots=True)
class QuietThing(Parameters):
    """What stands at ``x``, ``y``, within ``reach`` of the long edge, drawn ``part`` of the way to what surrounds it.

    Its colours move as one, by as much as its ``own`` middle lies from what is ``around``, so that its strokes stay; of
    their contrast ``kept`` is left.
    """

    x: float
    y: float
    reach: float
    part: float
    kept: float
    thing: SmallMap = field(metadata={"record": False})
    own: SmallMap = field(metadata={"record": False})
    around: SmallMap = field(metadata={"record": False})

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The thing alone, not the air about it."""
        near = eased(np.clip(soft_spot(frame, self.x, self.y, self.reach) * 2.2 - 0.2, 0, 1))
        mask = np.clip(guided(self.thing, lab, frame), 0, 1) * near
        own = self.own.on(frame)
        moved = (self.around.on(frame) - own) * np.float32(self.part) - (lab - own) * np.float32(1 - self.kept)
        changed = np.asarray(lab + moved * mask[..., None], dtype=np.float32)
        changed[..., 0] = np.clip(changed[..., 0], 0, 100)
        return changed


@dataclass(frozen=True, slots=True)
class Hush(Parameters):
    """The loud colour at ``hue`` with chroma over ``start``: what exceeds that at ``ratio``, turned and shaded to its neighbours.

    ``part`` is how far of the way its lightness and the rest of its colour go to those.
    """

    hue: float
    start: float
    ratio: float
    part: float
    around: SmallMap = field(metadata={"record": False})

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """By how loud it is, anywhere in the picture."""
        chroma = chroma_of(lab)
        away = np.abs(turn(self.hue, np.degrees(np.arctan2(lab[..., 2], lab[..., 1]))))
        of_it = eased(np.clip((HUE_GONE - away) / (HUE_GONE - OF_THE_HUE), 0, 1))
        excess = np.maximum(chroma - self.start, 0)
        loud = (of_it * eased(np.clip(excess / max(0.5 * self.start, 6.0), 0, 1))).astype(np.float32)
        scale = 1 - of_it * excess * (1 - self.ratio) / np.maximum(chroma, 1e-6)
        changed = lab.copy()
        there = scale < 1
        if there.any():
            changed[there] = quieter(lab[there], scale[there])
        return np.asarray(
            changed + (self.around.on(frame) - changed) * (loud * np.float32(self.part))[..., None], dtype=np.float32
        )


@dataclass(frozen=True, slots=True)
class OpenDarks(Parameters):
    """Darks below L* ``below`` lifted by ``lift`` and given ``colour`` of the colour that lies around them."""

    below: float
    lift: float
    colour: float
    around: SmallMap = field(metadata={"record": False})
    own: SmallMap = field(metadata={"record": False})

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """By how dark it is; strokes in it stand apart more, and the darkest of them stay as accents."""
        around = self.around.on(frame)
        dark = eased(np.clip((DARK_UNTIL + self.below - lab[..., 0]) / DARK_UNTIL, 0, 1)).astype(np.float32)
        changed = lab.copy()
        room = np.clip(around[..., 0] / 45, 0.45, 1.25)  # darks that lie in light land take more of it
        strokes = np.clip(STROKES_APART * (lab[..., 0] - self.own.on(frame)[..., 0]), -self.lift * room, self.lift)
        changed[..., 0] += (np.float32(self.lift) * room + strokes) * dark
        changed[..., 1:] += (around[..., 1:] - lab[..., 1:]) * (dark * np.float32(self.colour))[..., None]
        return changed


@dataclass(frozen=True, slots=True)
class Recede(Parameters):
    """Far land drawn to the air ``haze`` (L*, a*, b*) over it: ``part`` of the way, at most ``lift``, in L*.

    In colour it goes ``colour_part`` of the way.
    """

    part: float
    lift: float
    colour_part: float
    haze: LabColour
    far: SmallMap = field(metadata={"record": False})

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """Where the far land lies."""
        mask = np.clip(FAR_IN_FULL * guided(self.far, lab, frame), 0, 1)
        moved = np.array(self.haze, dtype=np.float32) - lab
        moved[..., 0] = np.clip(moved[..., 0] * np.float32(self.part), -self.lift, self.lift)
        moved[..., 1:] *= np.float32(self.colour_part)
        return np.asarray(lab + moved * mask[..., None], dtype=np.float32)


@dataclass(frozen=True, slots=True)
class Wake(Parameters):
    """What colour there is, as it differs from the middle colour ``a``, ``b``, ``gain`` times as strong."""

    a: float
    b: float
    gain: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture, less toward white and black."""
        room = np.clip(np.minimum(lab[..., 0], 100 - lab[..., 0]) / 15, 0, 1)[..., None]
        middle = np.array((self.a, self.b), dtype=np.float32)
        changed = lab.copy()
        changed[..., 1:] = lab[..., 1:] + (lab[..., 1:] - middle) * np.float32(self.gain - 1) * room
        return changed


@dataclass(frozen=True, slots=True)
class LightGreens(Parameters):
    """Greens turned (degrees), stronger or greyer (natural logarithm of the ratio) and lighter (L*) as a map has it.

    ``warm`` and ``cool`` are the most that they are turned toward yellow and toward blue; one as yellow as ``yellowest``
    is turned no more that way, or it would go brown.
    """

    turns: ClassVar[bool] = True
    warm: float
    cool: float
    yellowest: float
    light: SmallMap = field(metadata={"record": False})

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """Where they are green, by where they lie."""
        greens = may_be_green(lab)
        changed = lab.copy()
        changed[greens] = light_greens(
            colours_in(lab, greens), colours_in(self.light.on(frame), greens), self.yellowest
        )
        return changed


def light_greens(lab: Lab, light: NDArray[np.float32], yellowest: float | NDArray[np.floating]) -> Lab:
    """Greens of a picture turned, strengthened and lightened as ``light`` (..., 3) has it.

    ``yellowest`` is the hue in degrees, for all or for each (...), from which on none is turned toward yellow.
    """
    weight = green_weight(lab)
    turned = light[..., 0] * weight
    hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1]))
    room = np.maximum(hue - yellowest, 1e-3)
    turned = np.where(turned < 0, -room * (1 - np.exp(np.minimum(turned, 0) / room)), turned)
    lightness = np.clip(lab[..., 0] + light[..., 2] * weight, 2, 98)
    return recoloured(lab, lightness, np.radians(turned), np.exp(light[..., 1] * weight))
