"""Changes of the frame and of single places, as numbers."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.change import Lab, Parameters
from critique.advice.change_light import LabColour
from critique.advice.frame import Frame
from critique.advice.previews import soft_spot

LEAST_LEFT = 0.1  # of a side that a crop leaves, however strong it is made
FORM_KEPT = 0.25  # of the light and shade under a touch that stays, as over a form
TOUCH_EDGE, TOUCH_CRISP = 0.35, 4.0  # where the touch ends, and how sharply: a stroke has an edge


@dataclass(frozen=True, slots=True)
class Crop(Parameters):
    """What lies between ``top`` and ``bottom``, ``left`` and ``right``, fractions of the sides; the rest is cut off."""

    top: float
    left: float
    bottom: float
    right: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The rows and columns whose middle lies inside."""
        return self.at(lab, frame, 1.0)

    def at(self, lab: Lab, frame: Frame, strength: float) -> Lab:
        """So many times as much cut off each side."""
        rows, columns = self._inside(frame, strength)
        return np.ascontiguousarray(lab[rows][:, columns])

    def frame_left(self, frame: Frame, strength: float) -> Frame:
        """The same as a frame."""
        rows, columns = self._inside(frame, strength)
        top, bottom = _kept(rows, frame.box[0], frame.box[2])
        left, right = _kept(columns, frame.box[1], frame.box[3])
        return Frame(int(rows.sum()), int(columns.sum()), (top, left, bottom, right))

    def _inside(self, frame: Frame, strength: float) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
        top, bottom = _ends(self.top, self.bottom, strength)
        left, right = _ends(self.left, self.right, strength)
        down, across = frame.down[:, 0], frame.across[0]
        return (down >= top) & (down < bottom), (across >= left) & (across < right)


def _ends(start: float, end: float, strength: float) -> tuple[float, float]:
    """Where a side begins and ends when so many times as much is cut off it."""
    start, cut = start * strength, (1 - end) * strength
    most = max(start + cut, 1e-9)
    ease = min((1 - LEAST_LEFT) / most, 1.0)
    return start * ease, 1 - cut * ease


def _kept(inside: NDArray[np.bool_], start: float, end: float) -> tuple[float, float]:
    """The span of the whole that is kept of a span; nothing kept is an empty span."""
    kept = np.flatnonzero(inside)
    if len(kept) == 0:
        return start, start
    step = (end - start) / len(inside)
    return start + float(kept[0]) * step, start + float(kept[-1] + 1) * step


@dataclass(frozen=True, slots=True)
class QuietPlace(Parameters):
    """The place at ``x``, ``y`` drawn ``part`` of the way to one ``calm`` colour, fading over ``reach``."""

    x: float
    y: float
    reach: float
    calm: LabColour
    part: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """By how near it lies to the place."""
        weight = soft_spot(frame, self.x, self.y, self.reach)[..., None] * np.float32(self.part)
        return np.asarray(lab + (np.array(self.calm, dtype=np.float32) - lab) * weight, dtype=np.float32)


@dataclass(frozen=True, slots=True)
class Touch(Parameters):
    """One touch of a brush at ``x``, ``y``, of one ``colour``; ``reach`` of the long edge, ``wide`` times as wide as high."""

    x: float
    y: float
    reach: float
    wide: float
    colour: LabColour

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """Where the brush touches."""
        spread = soft_spot(frame, self.x, self.y, self.reach, self.wide)
        weight = np.clip((spread - TOUCH_EDGE) / (1 - TOUCH_EDGE) * TOUCH_CRISP, 0, 1)[..., None]
        touch = np.empty_like(lab)
        touch[..., 0] = self.colour[0] + (lab[..., 0] - self.colour[0]) * np.float32(FORM_KEPT)
        touch[..., 1:] = self.colour[1:]
        return np.asarray(lab + (touch - lab) * weight, dtype=np.float32)
