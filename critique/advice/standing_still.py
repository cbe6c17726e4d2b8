"""Whether a finding stands on figures that hardly moved: a limit crossed by a hair mends and costs nothing."""

from math import isnan

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
