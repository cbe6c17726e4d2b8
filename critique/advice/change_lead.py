"""Colours led toward those of another picture, as numbers."""

from dataclasses import dataclass

import numpy as np

from critique.advice.change import Lab, Parameters
from critique.advice.frame import Frame
from critique.perception.green_weight import green_weight

ROOM = 15.0  # L* from black and white over which a colour has no room to move: paint there has no chroma


@dataclass(frozen=True, slots=True)
class Leading:
    """Where one part's colours go: a*b* about ``mean`` becomes ``to`` + matrix · (a*b* − mean), rows first."""

    mean: tuple[float, float]
    to: tuple[float, float]
    matrix: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Lead(Parameters):
    """The greens and all other colours each led their own way; None where a part stays as it is. L* stays."""

    greens: Leading | None
    others: Leading | None

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture."""
        weight = green_weight(lab)
        room = np.clip(np.minimum(lab[..., 0], 100 - lab[..., 0]) / ROOM, 0, 1)
        changed = lab.copy()
        for part, share in ((self.greens, weight), (self.others, 1 - weight)):
            if part is not None:
                changed[..., 1:] += (_led(lab[..., 1:], part) - lab[..., 1:]) * (share * room)[..., None]
        return np.asarray(changed, dtype=np.float32)


def _led(ab: Lab, part: Leading) -> Lab:
    matrix = np.array(part.matrix, dtype=np.float32).reshape(2, 2)
    return (ab - np.array(part.mean, dtype=np.float32)) @ matrix.T + np.array(part.to, dtype=np.float32)
