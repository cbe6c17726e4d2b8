"""What changed between two pictures, figure by figure, and whether more than a photograph could change it."""

import math
from dataclasses import dataclass
from typing import Literal

from critique.advice.figures_compared import FIGURES, Figure
from critique.advice.own_spread import OwnSpread
from critique.advice.photograph_spread import Spread, read_spreads, spread_of
from critique.measures.measure import Measures

Status = Literal["no change", "more", "less", "other", "not compared"]
CHANGED: tuple[Status, ...] = ("more", "less", "other")


@dataclass(frozen=True, slots=True)
class FigureChange:
    """One figure of both pictures. ``change`` and ``spread`` are on the figure's own scale.

    ``balanced_before`` and so on are the same with both in one light; None when no balance was made. ``in_one_light``
    says that those decided. ``status`` says whether it changed by more than a photograph could: 'more', 'less' ('other'
    for a turn of hue).
    """

    figure: str
    scale: str
    before: float
    after: float
    change: float
    spread: float
    balanced_before: float | None
    balanced_after: float | None
    balanced_change: float | None
    in_one_light: bool
    status: Status

    @property
    def changed(self) -> bool:
        """Whether it is larger than a photograph could make."""
        return self.status in CHANGED

    @property
    def ends(self) -> tuple[float, float]:
        """The figures to tell: those that decided."""
        if self.in_one_light and self.balanced_before is not None and self.balanced_after is not None:
            return self.balanced_before, self.balanced_after
        return self.before, self.after


@dataclass(frozen=True, slots=True)
class Changes:
    """Every figure's change, in the order of the record."""

    figures: tuple[FigureChange, ...]

    def __getitem__(self, name: str) -> FigureChange:
        return next(change for change in self.figures if change.figure == name)

    def any_of(self, *names: str) -> bool:
        """Whether one of these changed by more than a photograph could."""
        return any(self[name].changed for name in names)

    def group(self, name: str) -> tuple[FigureChange, ...]:
        """The changes of one measure."""
        return tuple(change for change in self.figures if change.figure.split(".", 1)[0] == name)

    @property
    def changed(self) -> tuple[FigureChange, ...]:
        """Those that changed by more than a photograph could."""
        return tuple(change for change in self.figures if change.changed)


def compare_figures(
    before: Measures,
    after: Measures,
    balanced: tuple[Measures, Measures] | None = None,
    light_is_known: bool = False,
    own_spreads: tuple[OwnSpread, ...] = (),
) -> Changes:
    """Hold every figure of two pictures against each other.

    ``balanced`` are the measures of both in one light. With ``light_is_known`` (the grey was pointed at, or lies at
    the same place of both) they decide, against the smaller spread that one light leaves. Else the figures as
    photographed decide, against a spread that a cast and another exposure have their part in, and the balanced ones
    are told beside them. ``own_spreads`` is how far other light and a crop move
    figures of these very pictures.
    """
    spreads = read_spreads()
    return Changes(
        tuple(
            _change(figure, before, after, balanced, light_is_known, spread_of(spreads, figure, own_spreads))
            for figure in FIGURES
        )
    )


def _change(
    figure: Figure,
    before: Measures,
    after: Measures,
    balanced: tuple[Measures, Measures] | None,
    light_is_known: bool,
    spread: Spread,
) -> FigureChange:
    was, now = figure.of(before), figure.of(after)
    same_was, same_now = (None, None) if balanced is None else (figure.of(measures) for measures in balanced)
    same_change = None if same_was is None or same_now is None else figure.change(same_was, same_now)
    decides = light_is_known and same_change is not None
    allowed = spread.same_light if decides else spread.any_light
    change = figure.change(was, now)
    status = _status(figure, same_change if decides and same_change is not None else change, allowed)
    return FigureChange(
        figure.name, figure.scale, was, now, change, allowed, same_was, same_now, same_change, decides, status
    )


def _status(figure: Figure, change: float, spread: float) -> Status:
    if math.isnan(change):
        return "not compared"
    if abs(change) <= spread:
        return "no change"
    if figure.scale == "angle":
        return "other"
    return "more" if change > 0 else "less"
