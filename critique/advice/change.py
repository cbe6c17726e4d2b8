"""What a change of a picture is: a function from Lab to Lab, with its numbers and the paint that does it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from numbers import Real
from typing import Any, ClassVar

import numpy as np
from numpy.typing import NDArray

from critique.advice.frame import WHOLE, Box, Frame
from critique.advice.recipe_for import RecipeFor
from critique.errors import WrongUsage
from critique.perception.channels import chroma_of
from critique.perception.hue import turn
from critique.plain import plain

Lab = NDArray[np.float32]
LEAST_STRENGTH, MOST_STRENGTH = 0.0, 1.5  # of the change as it was offered; beyond half as much again it is another one
COLOURED = 1e-3  # C*ab below which a colour has no hue to be turned


def check_strength(by: object) -> None:
    """Raise ``WrongUsage``, one line, where that is no number of times as strong as a change can be made."""
    if not isinstance(by, Real):
        raise WrongUsage(f"a change can't be made {by!r} times as strong: give a number")
    strength = float(by)
    if not LEAST_STRENGTH <= strength <= MOST_STRENGTH:  # nan lies nowhere between
        raise WrongUsage(
            f"a change can't be made {strength:g} times as strong: {LEAST_STRENGTH:g} to {MOST_STRENGTH:g}"
        )


class Parameters:
    """The numbers of one change, and what they do: a frozen dataclass of plain numbers with one method, ``on``.

    Places are fractions of the whole picture's sides, distances fractions of its long edge, as in :class:`Frame`.
    """

    __slots__ = ()
    turns: ClassVar[bool] = False  # whether it turns hues and scales chroma; else it moves colours straight

    def on(self, lab: Lab, frame: Frame) -> Lab:
        """The part of a picture (height, width, 3) that lies at ``frame``, changed."""
        raise NotImplementedError

    def at(self, lab: Lab, frame: Frame, strength: float) -> Lab:
        """The same, so many times as strong."""
        return self.turned_up(lab, self.on(lab, frame), strength)

    def turned_up(self, lab: Lab, changed: Lab, strength: float) -> Lab:
        """What it is so many times as strong, from ``lab`` and what it makes of that at full strength."""
        if strength == 1:
            return changed
        return _turned_by(lab, changed, strength) if self.turns else _moved_by(lab, changed, strength)

    def frame_left(self, frame: Frame, strength: float) -> Frame:
        """What part of ``frame`` is left: all of it, but for a crop."""
        return frame


@dataclass(frozen=True, slots=True)
class Change:
    """A change of one kind. ``apply`` is pure, works at any size, and leaves its argument alone.

    Every place in it is told by the picture before any crop, so that changes made on one picture can be applied one
    after another in any order.
    """

    kind: str  # an id of change_kinds.py
    parameters: Parameters
    recipes: tuple[RecipeFor, ...] = ()
    strength: float = 1.0

    def apply(self, lab: Lab, *, box: Box | None = None) -> Lab:
        """A picture, or the part of it that fills ``box``, with the change made.

        Parameters
        ----------
        lab : (height, width, 3) float32, CIELAB D65. A crop gives another shape.
        box : (top, left, bottom, right), fractions of the whole, where ``lab`` is a part: a strip of a large picture.
        """
        return self.within(lab, Frame(lab.shape[0], lab.shape[1], box or WHOLE))[0]

    def within(self, lab: Lab, frame: Frame) -> tuple[Lab, Frame]:
        """The same, with the part of the whole that is left."""
        if self.strength == 0 or lab.size == 0:
            return lab.copy(), frame
        return self.parameters.at(lab, frame, self.strength), self.parameters.frame_left(frame, self.strength)

    def scaled(self, by: float) -> "Change":
        """The same change turned up or down.

        Raises
        ------
        WrongUsage
            When that is less than nothing of it, or more than half as much again.
        """
        strength = self.strength * by
        check_strength(strength)
        return replace(self, strength=strength)

    def as_dict(self) -> dict[str, Any]:
        """What the record holds of it."""
        return {
            "kind": self.kind,
            "parameters": plain(self.parameters),
            "strength": plain(self.strength),
            "recipes": plain(self.recipes),
        }


@dataclass(frozen=True, slots=True)
class Composed:
    """Changes made one after another as one."""

    changes: tuple[Change, ...]

    @property
    def recipes(self) -> tuple[RecipeFor, ...]:
        """Of all of them, in order."""
        return tuple(recipe for change in self.changes for recipe in change.recipes)

    def apply(self, lab: Lab, *, box: Box | None = None) -> Lab:
        """A picture, or the part of it that fills ``box``, with every change made; see :meth:`Change.apply`."""
        frame, changed = Frame(lab.shape[0], lab.shape[1], box or WHOLE), lab.copy()
        for change in self.changes:
            changed, frame = change.within(changed, frame)
        return changed


def compose(changes: Iterable[Change]) -> Composed:
    """Changes as one, made in this order; a place in each is one of the picture before any of them crops it."""
    return Composed(tuple(changes))


def recoloured(
    lab: Lab, lightness: NDArray[np.floating], angle: NDArray[np.floating], scale: NDArray[np.floating]
) -> Lab:
    """Colours (..., 3) at another L* (...), turned in hue by an angle in radians (...), and their C* times ``scale`` (...)."""
    cos, sin = np.cos(angle) * scale, np.sin(angle) * scale
    changed = np.empty_like(lab)
    changed[..., 0] = lightness
    changed[..., 1] = lab[..., 1] * cos - lab[..., 2] * sin
    changed[..., 2] = lab[..., 1] * sin + lab[..., 2] * cos
    return changed


def _moved_by(lab: Lab, changed: Lab, strength: float) -> Lab:
    """So many times the way to what changed, straight through CIELAB."""
    moved = lab + (changed - lab) * np.float32(strength)
    moved[..., 0] = np.clip(moved[..., 0], 0, 100)
    return np.asarray(moved, dtype=np.float32)


def _turned_by(lab: Lab, changed: Lab, strength: float) -> Lab:
    """So many times the turn and the ratio of chroma: a green turned down further never comes out as its complement."""
    moved = _moved_by(lab, changed, strength)
    before, after = chroma_of(lab), chroma_of(changed)
    coloured = (before > COLOURED) & (after > COLOURED)
    ratio = np.where(coloured, after, 1) / np.where(coloured, before, 1)
    chroma = before * ratio ** np.float32(strength)
    hues = [np.degrees(np.arctan2(one[..., 2], one[..., 1])) for one in (lab, changed)]
    hue = np.radians(hues[0] + strength * turn(*hues)).astype(np.float32)
    moved[..., 1] = np.where(coloured, chroma * np.cos(hue), moved[..., 1])
    moved[..., 2] = np.where(coloured, chroma * np.sin(hue), moved[..., 2])
    return moved
