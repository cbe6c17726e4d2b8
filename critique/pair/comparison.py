"""What changed between two pictures, figure by figure, and whether more than a photograph could change it."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from critique.measures.figure import Figure
from critique.measures.figures import compared_figures, figure_named
from critique.measures.measure import Measures
from critique.pair.own_spread import JUMPING, OwnSpread
from critique.pair.photograph_spread import read_spreads, spread_of

Status = Literal["no change", "more", "less", "other", "not compared"]
SHOWN = 0.5  # of what is allowed for, by which a change must show in the photographs as they are too
SURE_PART = 0.6  # of 1: a part of a picture that is sure enough to be compared, or named
SURENESS = {"parts.sky_share": "sky_sureness", "parts.water_share": "water_sureness"}
CHANGED: tuple[Status, ...] = ("more", "less", "other")


@dataclass(frozen=True, slots=True)
class FigureChange:
    """One figure of both pictures. ``change`` and ``spread`` are on the figure's own scale.

    ``together_before`` and so on are the same with both brought into one light and one frame; None when nothing had to
    be done for that. ``decided_together`` says that those decided. ``status`` says whether it changed by more than a
    photograph could: 'more', 'less' ('other' for a turn of hue).
    """

    figure: str
    scale: str
    before: float
    after: float
    change: float
    spread: float
    together_before: float | None
    together_after: float | None
    together_change: float | None
    decided_together: bool
    status: Status

    @property
    def changed(self) -> bool:
        """Whether it is larger than a photograph could make."""
        return self.status in CHANGED

    @property
    def decisive(self) -> float:
        """The change that decided."""
        return self.together_change if self.decided_together and self.together_change is not None else self.change

    @property
    def ends(self) -> tuple[float, float]:
        """The figures to tell: those that decided."""
        if self.decided_together and self.together_before is not None and self.together_after is not None:
            return self.together_before, self.together_after
        return self.before, self.after


@dataclass(frozen=True, slots=True)
class Changes:
    """Every figure's change, in the order of the record."""

    figures: tuple[FigureChange, ...]

    def __getitem__(self, name: str) -> FigureChange:
        return next(change for change in self.figures if change.figure == name)

    def any_of(self, *names: str) -> bool:
        """Whether one of these changed by more than a photograph could; one that isn't compared is not known to."""
        return any(change.changed for change in self.figures if change.figure in names)

    def knows(self, *names: str) -> bool:
        """Whether one of these is compared: neither picture lacks it."""
        return any(change.figure in names and change.status != "not compared" for change in self.figures)

    def group(self, name: str) -> tuple[FigureChange, ...]:
        """The changes of one measure."""
        return tuple(change for change in self.figures if change.figure.split(".", 1)[0] == name)

    @property
    def changed(self) -> tuple[FigureChange, ...]:
        """Those that changed by more than a photograph could."""
        return tuple(change for change in self.figures if change.changed)

    @property
    def in_doubt(self) -> tuple[str, ...]:
        """Groups in which a figure changed that a hair's breadth may have moved."""
        doubted = {change.figure.split(".", 1)[0] for change in self.changed if figure_named(change.figure).jumps}
        return tuple(group for group in JUMPING if group in doubted)

    def beyond(self, jumps: Mapping[str, float]) -> "Changes":
        """The changes that are larger than ``jumps`` too, by figure; the others are none."""
        return Changes(
            tuple(
                replace(
                    change,
                    spread=max(change.spread, jumps.get(change.figure, 0.0)),
                    status="no change"
                    if change.changed and abs(change.decisive) <= jumps.get(change.figure, 0.0)
                    else change.status,
                )
                for change in self.figures
            )
        )


def compare_figures(
    seen: tuple[Measures, Measures],
    together: tuple[Measures, Measures] | None = None,
    light_is_known: bool = False,
    together_decides: bool = False,
    own_spreads: tuple[OwnSpread, ...] = (),
) -> Changes:
    """Hold every figure of two pictures against each other.

    ``seen`` are their measures as photographed, ``together`` those of both in one light and one frame, None where
    they are so already. With ``light_is_known`` (the grey was pointed at, or lies at the same place of both) only the
    smaller spread that one light leaves is allowed for, else one that a cast and another exposure have their part in.
    With ``together_decides`` the figures of both together decide, else they are told beside those as photographed.
    ``own_spreads`` is how far other light and a crop move figures of these very pictures.
    """
    spreads = read_spreads()
    changes = []
    for figure in compared_figures():
        spread = spread_of(spreads, figure, own_spreads)
        allowed = spread.same_light if light_is_known else spread.any_light
        change = _change(figure, seen, together, together_decides, allowed)
        changes.append(change if _both_sure(figure, seen) else replace(change, status="not compared"))
    return Changes(tuple(changes))


def _both_sure(figure: Figure, seen: tuple[Measures, Measures]) -> bool:
    """Whether both pictures are sure of the part whose share the figure is; others are."""
    if figure.name not in SURENESS:
        return True
    return all(getattr(measures.parts, SURENESS[figure.name]) >= SURE_PART for measures in seen)


def _change(
    figure: Figure,
    seen: tuple[Measures, Measures],
    together: tuple[Measures, Measures] | None,
    together_decides: bool,
    allowed: float,
) -> FigureChange:
    was, now = (figure.of(measures) for measures in seen)
    same_was, same_now = (None, None) if together is None else (figure.of(measures) for measures in together)
    same_change = None if same_was is None or same_now is None else figure.change(same_was, same_now)
    change = figure.change(was, now)
    status, decides = _status(figure, change, allowed), False
    if together_decides and same_change is not None:
        status, decides = _status(figure, same_change, allowed), True
        # What only one light or one frame shows is no change of the picture: for a figure that jumps, another choice by
        # a hair; for the others, what the light did to it and a correction doesn't quite undo.
        if math.isnan(change):
            status = "not compared"  # one of the photographs has too little of it
        elif status in CHANGED and change * math.copysign(1, same_change) < (
            allowed if figure.jumps else SHOWN * allowed
        ):
            status = "no change"
    return FigureChange(
        figure.name, figure.scale, was, now, change, allowed, same_was, same_now, same_change, decides, status
    )


def _status(figure: Figure, change: float, spread: float) -> Status:
    if math.isnan(change) or math.isnan(spread):
        return "not compared"
    if abs(change) <= spread:
        return "no change"
    if figure.scale == "angle":
        return "other"
    return "more" if change > 0 else "less"
