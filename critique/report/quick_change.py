"""Changes made on many pixels quickly: by a table of colours wherever a change doesn't ask where a pixel lies."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from critique.advice.change import Change, Composed
from critique.advice.frame import WHOLE, Box, Frame
from critique.perception.cielab import lab_to_linear, lab_to_srgb8, linear_to_lab, srgb8_to_lab
from critique.perception.srgb import Codes, Float, decode_srgb, encode_srgb

if TYPE_CHECKING:
    from PIL import ImageFilter

NODES = 33  # of the table along each code: read between them, a change is met within ΔE00 0.5 on average
HEIGHTS = 48  # tables for what depends on the height: from one to the next a change moves less than can be seen
PROBES = 9  # codes along each channel on which a change is asked whether places matter to it
SAME = 0.02  # CIELAB units: what a place must move a colour by to matter

How = Literal["anywhere", "by height", "by place", "crop"]


@dataclass(frozen=True, slots=True)
class _Group:
    """Changes that are made together, and what they ask of the place."""

    how: How
    changes: tuple[Change, ...]


class QuickChange:
    """A composed change on sRGB codes, strip by strip; what depends on the height alone is the same along a strip."""

    def __init__(self, composed: Composed) -> None:
        self._groups = _grouped(composed.changes)
        self._tables: dict[tuple[int, int], ImageFilter.Color3DLUT] = {}

    @property
    def by_height(self) -> bool:
        """Whether something in it depends on the height, so that strips had better be low."""
        return any(group.how == "by height" for group in self._groups)

    def on(self, codes: Codes, frame: Frame) -> Codes:
        """Codes (height, width, 3) that lie at ``frame``, changed; a crop leaves fewer."""
        from PIL import Image

        if codes.shape[0] * codes.shape[1] == 0:
            return codes
        for number, group in enumerate(self._groups):
            if codes.size == 0:
                break
            if group.how == "crop":
                parts, frame = group.changes[0].within(codes, frame)  # type: ignore[arg-type]
                codes = np.ascontiguousarray(parts).astype(np.uint8)
            elif group.how == "by place" or (group.how == "by height" and _high(frame)):
                lab = srgb8_to_lab(codes)
                for change in group.changes:
                    lab, frame = change.within(lab, frame)
                codes = lab_to_srgb8(lab)
            else:
                table = self._table(number, group, frame)
                codes = np.asarray(Image.fromarray(np.ascontiguousarray(codes)).filter(table))
        return codes

    def _table(self, number: int, group: _Group, frame: Frame) -> "ImageFilter.Color3DLUT":
        step = 0 if group.how == "anywhere" else round((frame.box[0] + frame.box[2]) / 2 * HEIGHTS)
        if (number, step) not in self._tables:
            height = WHOLE if group.how == "anywhere" else (step / HEIGHTS, 0.0, (step + 1e-3) / HEIGHTS, 1.0)
            self._tables[number, step] = _table(group.changes, height)
        return self._tables[number, step]


def _grouped(changes: Sequence[Change]) -> tuple[_Group, ...]:
    groups: list[_Group] = []
    for change in changes:
        how = _how(change)
        last = groups[-1] if groups else None
        if last is not None and {how, last.how} <= {"anywhere", "by height"}:
            both: How = "by height" if "by height" in (how, last.how) else "anywhere"
            groups[-1] = _Group(both, (*last.changes, change))
        else:
            groups.append(_Group(how, (change,)))
    return tuple(groups)


def _how(change: Change) -> How:
    """What a change asks of the place, found by asking it."""
    whole = Frame(100, 100)
    if change.parameters.frame_left(whole, change.strength) != whole:
        return "crop"
    lab = srgb8_to_lab(_lattice(PROBES))

    def at(top: float, left: float) -> Float:
        return change.within(lab, Frame(lab.shape[0], lab.shape[1], (top, left, top + 0.05, left + 0.05)))[0]

    middle = at(0.475, 0.475)
    places = [place / 10 for place in range(10)]
    if any(np.abs(at(0.475, left) - middle).max() > SAME for left in places):
        return "by place"
    # A soft spot is nothing far from it, at every height or width but its own.
    if any(np.abs(at(top, left) - at(top, 0.475)).max() > SAME for top in places for left in places[::3]):
        return "by place"
    return "by height" if any(np.abs(at(top, 0.475) - middle).max() > SAME for top in places) else "anywhere"


def _lattice(nodes: int) -> Codes:
    """Every colour of a lattice of codes as one row (1, nodes³, 3), red running fastest."""
    steps = np.round(np.linspace(0, 255, nodes)).astype(np.uint8)
    blue, green, red = np.meshgrid(steps, steps, steps, indexing="ij")
    return np.stack([red, green, blue], axis=-1).reshape(1, -1, 3)


def _high(frame: Frame) -> bool:
    """Whether a part is too high for one table to hold all over it."""
    return frame.box[2] - frame.box[0] > 2 / HEIGHTS


def _table(changes: Sequence[Change], box: Box) -> "ImageFilter.Color3DLUT":
    from PIL import ImageFilter

    steps = np.linspace(0, 1, NODES)
    blue, green, red = np.meshgrid(steps, steps, steps, indexing="ij")
    encoded = np.stack([red, green, blue], axis=-1).reshape(1, -1, 3)
    lab = linear_to_lab(decode_srgb(encoded).astype(np.float32))
    row = Frame(1, lab.shape[1], box)
    for change in changes:
        lab, row = change.within(lab, row)
    made = encode_srgb(np.clip(lab_to_linear(lab), 0, 1))
    return ImageFilter.Color3DLUT(NODES, np.ascontiguousarray(made, dtype=np.float32).ravel())
