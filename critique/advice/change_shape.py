"""Changes of where things lie, as numbers."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from critique.advice.change import Lab, Parameters
from critique.advice.frame import Bend, Frame


@dataclass(frozen=True, slots=True)
class MoveLine(Parameters):
    """The line at ``height`` moved to ``to``, fractions of the height, in the same format."""

    height: float
    to: float

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The rows of the bent picture that come out of this part of it."""
        return self.at(lab, frame, 1.0)

    def at(self, lab: Lab, frame: Frame, strength: float) -> Lab:
        """The same, so many times as far."""
        _, source = self._rows(frame, strength)
        top, bottom = frame.box[0], frame.box[2]
        place = np.clip((source - top) / (bottom - top) * len(lab) - np.float32(0.5), 0, len(lab) - 1)
        return _between_rows(lab, place)

    def frame_left(self, frame: Frame, strength: float) -> Frame:
        """The same as a frame."""
        rows, _ = self._rows(frame, strength)
        whole = _whole(frame)
        top = float(rows[0]) / whole if len(rows) else frame.box[0]
        bottom = float(rows[-1] + 1) / whole if len(rows) else frame.box[0]
        return Frame(len(rows), frame.columns, (top, frame.box[1], bottom, frame.box[3]), self._bend(strength))

    def _bend(self, strength: float) -> Bend:
        return Bend(self.height, self.height + (self.to - self.height) * strength)

    def _rows(self, frame: Frame, strength: float) -> tuple[NDArray[np.intp], NDArray[np.float32]]:
        """Which rows of the bent picture come out of a part of it, and from where in the whole each is taken."""
        whole = _whole(frame)
        source = self._bend(strength).source(((np.arange(whole) + 0.5) / whole).astype(np.float32))
        inside = (source >= frame.box[0]) & (source < frame.box[2])
        return np.flatnonzero(inside), source[inside]


def _between_rows(lab: Lab, place: NDArray[np.float32]) -> Lab:
    """Rows of a picture at places between its own, as crisp where they are stretched as they were. [Keys, 1981]"""
    above = np.minimum(place.astype(np.intp), max(len(lab) - 2, 0))
    t = (place - above).astype(np.float32)
    weights = (
        ((2 - t) * t - 1) * t / 2,
        ((3 * t - 5) * t * t + 2) / 2,
        ((4 - 3 * t) * t + 1) * t / 2,
        (t - 1) * t * t / 2,
    )
    made = np.zeros((len(place), *lab.shape[1:]), np.float32)
    for step, weight in zip((-1, 0, 1, 2), weights, strict=True):
        made += lab[np.clip(above + step, 0, len(lab) - 1)] * weight[:, None, None]
    made[..., 0] = np.clip(made[..., 0], 0, 100)
    return made


def _whole(frame: Frame) -> int:
    """Rows of the whole picture."""
    return max(round(frame.rows / (frame.box[2] - frame.box[0])), 1)
