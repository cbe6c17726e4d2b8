"""Colours led toward those of another picture, as numbers."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from critique.advice.change import Lab, Parameters
from critique.advice.frame import Frame
from critique.advice.guiding import guided
from critique.advice.small_map import SmallMap
from critique.perception.green_weight import green_weight

ROOM = 15.0  # L* from black and white over which a colour has no room to move: paint there has no chroma


@dataclass(frozen=True, slots=True)
class Leading:
    """Where one sort of colour goes: a*b* about ``mean`` becomes ``to`` + matrix · (a*b* − mean), rows first."""

    mean: tuple[float, float]
    to: tuple[float, float]
    matrix: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Within:
    """How one part of the picture is led, such as its sky: the greens in it and the rest; None for what stays."""

    part: str
    greens: Leading | None
    others: Leading | None
    where: SmallMap = field(metadata={"record": False})  # the part, following edges


@dataclass(frozen=True, slots=True)
class Lead(Parameters):
    """The greens and all other colours each led their own way; None where they stay as they are. L* stays.

    ``within`` are the parts that have a way of their own, since both pictures surely have them.
    """

    greens: Leading | None
    others: Leading | None
    within: tuple[Within, ...] = ()

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The same anywhere in the picture but for its parts."""
        weight = green_weight(lab)
        room = np.clip(np.minimum(lab[..., 0], 100 - lab[..., 0]) / ROOM, 0, 1)
        shares = _shares([guided(one.where, lab, frame) for one in self.within])
        changed = lab.copy()
        ways = [(one.greens, one.others) for one in self.within] + [(self.greens, self.others)]
        for (greens, others), share in zip(ways, (*shares, 1 - sum(shares)), strict=True):
            for part, own in ((greens, weight), (others, 1 - weight)):
                if part is not None:
                    changed[..., 1:] += (_led(lab[..., 1:], part) - lab[..., 1:]) * (share * own * room)[..., None]
        return np.asarray(changed, dtype=np.float32)


def _shares(masks: list[NDArray[np.float32]]) -> list[NDArray[np.float32]]:
    """Masks that follow edges run over at them: never more than all of a place between them."""
    masks = [np.clip(mask, 0, 1) for mask in masks]
    over = np.maximum(sum(masks), 1) if masks else 1
    return [np.asarray(mask / over, dtype=np.float32) for mask in masks]


def _led(ab: Lab, part: Leading) -> Lab:
    matrix = np.array(part.matrix, dtype=np.float32).reshape(2, 2)
    return (ab - np.array(part.mean, dtype=np.float32)) @ matrix.T + np.array(part.to, dtype=np.float32)
