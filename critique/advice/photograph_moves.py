"""How far a figure moves when only the photograph changes: a change that moves it less is not worth a brush."""

from functools import cache
from math import inf

from critique.errors import ReferenceDataError
from critique.perception.hue import turn
from critique.perception.reference import read_table

TABLE = "photograph_spread.csv"
STAYS_WITHIN = "p95"  # of what the worst change of photograph does, what 95 in 100 pictures stay within


@cache
def _spreads() -> dict[str, tuple[str, float]]:
    """Scale and spread by figure.

    Raises
    ------
    ReferenceDataError
        When the table is missing or damaged.
    """
    try:
        return {row["figure"]: (row["scale"], float(row[STAYS_WITHIN])) for row in read_table(TABLE)}
    except (KeyError, ValueError) as error:
        raise ReferenceDataError(f"{TABLE} is damaged: make it again with make_photograph_spread.py") from error


def beyond_photograph(figure: str, before: float, after: float) -> bool | None:
    """Whether a figure of the record moved farther than another photograph moves it; None where that isn't known."""
    away = photographs_away(figure, before, after)
    return None if away is None else away > 1


def photographs_away(figure: str, before: float, after: float) -> float | None:
    """How many times another photograph's move two values of a figure lie apart; None where that isn't known."""
    known = _spreads().get(figure)
    if known is None:
        return None
    scale, spread = known
    apart = abs(float(turn(before, after)) if scale == "angle" else after - before)
    if scale == "ratio":
        apart /= max(abs(before), 1e-6)
    return apart / spread if spread > 0 else (inf if apart > 0 else 0.0)
