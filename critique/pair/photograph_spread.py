"""How far a figure moves when only the photograph changes, so that a change of paint can be told from it."""

import math
from dataclasses import dataclass, replace

from critique.errors import ReferenceDataError
from critique.measures.figure import Figure
from critique.pair.own_spread import OwnSpread
from critique.perception.reference import read_table

TABLE = "photograph_spread.csv"
OF_LIGHT = ("brightness", "cast")
OF_CAMERA = ("jpeg", "crop", "size")
FIFTY_AT_ONCE = 1.35  # times what 95 in 100 pictures stay within: with fifty figures compared, few pairs then raise one
# What is told of a line that stays the same line: where another becomes the line, as in one picture of twenty, the
# figures leap, and that is looked for on the pictures themselves (`own_spread`). So nine in ten are what counts.
FOLLOWED = "division."
LEFT_OF_LIGHT = 0.6  # of its light that a photograph keeps after balancing: a reference is seldom the same grey twice


@dataclass(frozen=True, slots=True)
class Spread:
    """What a change of photograph can do to one figure, on the figure's own scale.

    ``camera`` is what JPEG, crop and size do, ``light`` what exposure and casts do, ``together`` the worst of all of
    them; each is what 95 in 100 pictures stay within.
    """

    camera: float
    light: float
    together: float
    worth: float = 0.0

    @property
    def any_light(self) -> float:
        """For two photographs as they are."""
        return max(FIFTY_AT_ONCE * max(self.together, self.camera, self.light), self.worth)

    @property
    def same_light(self) -> float:
        """For two photographs balanced by a grey that they share."""
        return max(FIFTY_AT_ONCE * max(self.camera, LEFT_OF_LIGHT * self.light), self.worth)


UNKNOWN = Spread(math.nan, math.nan, math.nan, math.nan)


def read_spreads() -> dict[str, Spread]:
    """Spreads by figure: 95 in 100 pictures moved less under the worst of the changes of photograph.

    Raises
    ------
    ReferenceDataError
        When the table is missing or damaged.
    """
    try:
        return {row["figure"]: _spread(row) for row in read_table(TABLE)}
    except (KeyError, ValueError) as error:
        raise ReferenceDataError(f"{TABLE} is damaged: make it again with make_photograph_spread.py") from error


def spread_of(spreads: dict[str, Spread], figure: Figure, own: tuple[OwnSpread, ...] = ()) -> Spread:
    """The spread of a figure, never less than what is worth a word; unknown for one that was never measured so.

    ``own`` is what other light and a crop do to the pictures in question, where that was measured on them.
    """
    if figure.name not in spreads:
        return UNKNOWN
    measured = replace(spreads[figure.name], worth=figure.worth)
    if not own or figure.name not in own[0].light:
        return measured
    camera = max(measured.camera, *(each.crop[figure.name] for each in own))
    return replace(measured, camera=camera, light=max(each.light[figure.name] for each in own), together=camera)


def _spread(row: dict[str, str]) -> Spread:
    camera = max(float(row[kind]) for kind in OF_CAMERA)
    light = max(float(row[kind]) for kind in OF_LIGHT)
    if row["figure"].startswith(FOLLOWED):
        most = float(row["p90"])
        return Spread(min(camera, most), min(light, most), most)
    return Spread(camera, light, float(row["p95"]))
