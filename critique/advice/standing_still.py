"""What a finding came to in a later picture: a limit crossed by a hair mends nothing, nor does a lesser weight alone."""

from math import isnan

from critique.advice.finding import Finding, Level
from critique.advice.kind import by_its_figure_alone
from critique.advice.kinds import kind_named
from critique.measures.figure import Figure
from critique.measures.figures import figure_named
from critique.measures.measure import Measures


def stands_still(kind: str, before: Measures, after: Measures) -> bool:
    """Whether no figure of a kind of finding moved by as much as is worth a word."""
    return all(figure_stands_still(figure_named(name), before, after) for name in kind_named(kind).figures)


def figure_stands_still(figure: Figure, before: Measures, after: Measures) -> bool:
    """Whether a figure moved by less than is worth a word; one that is missing on both sides did."""
    was, now = figure.value(before), figure.value(after)
    if isnan(was) or isnan(now):
        return isnan(was) and isnan(now)
    return abs(figure.change(was, now)) < figure.worth if figure.compared else was == now


def level_reached(before: Finding | None, after: Finding | None) -> Level:
    """The level of a finding in the later picture, held to what it was in the earlier one; what neither has holds.

    To watch where its own figure stays beyond the limit that it was to be reworked for, whatever it weighs now: two
    thirds of green, quieted, are two thirds of green.
    """
    if after is None or before is None:
        return after.level if after is not None else "holds"
    limits = kind_named(before.kind).by_limits
    beyond = limits(before.figure) == limits(after.figure) == "rework"
    return "watch" if before.level == "rework" and after.level == "holds" and beyond else after.level


def moved_otherwise(before: Finding | None, after: Finding | None, was: Measures, now: Measures) -> str:
    """By what else a finding stands better or worse, where its own figure is at the level that it was; else empty.

    One that a picture gave no cause for is held to its figure there.
    """
    found = before or after
    if found is None:
        return ""
    kind = kind_named(found.kind)
    if kind.otherwise is by_its_figure_alone:
        return ""
    if (before is None or after is None) and any(
        isnan(figure_named(name).of(measures)) for name in kind.figures for measures in (was, now)
    ):
        return ""  # one of them has nothing of it
    own = figure_named(found.stands_on or kind.figures[0])
    ends = (before.figure if before else own.of(was), after.figure if after else own.of(now))
    return kind.otherwise(was, now) if kind.by_limits(ends[0]) == kind.by_limits(ends[1]) else ""
