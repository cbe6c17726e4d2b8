"""How far a figure moves when only the photograph changes, so that a change of paint can be told from it."""

from dataclasses import dataclass

from critique.advice.figures_compared import Figure
from critique.errors import ReferenceDataError
from critique.perception.reference import read_table

TABLE = "photograph_spread.csv"
OF_LIGHT = ("brightness", "cast")
OF_CAMERA = ("jpeg", "crop", "size")
FIFTY_AT_ONCE = 1.35  # times what 95 in 100 pictures stay within: with fifty figures compared, few pairs then raise one
LEFT_OF_LIGHT = 0.4  # of its light that a photograph keeps after balancing: a reference is seldom the same grey twice


@dataclass(frozen=True, slots=True)
class Spread:
    """What a change of photograph can do to one figure, on the figure's own scale.

    ``any_light`` holds for two photographs as they are, ``same_light`` once both were balanced by a grey that they
    share: then what is left is the camera's part and a remnant of the light's.
    """

    any_light: float
    same_light: float


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


def spread_of(spreads: dict[str, Spread], figure: Figure) -> Spread:
    """The spread of a figure, never less than what is worth a word."""
    if figure.name not in spreads:
        raise ReferenceDataError(f"{TABLE} has no figure {figure.name!r}: make it again with this version")
    measured = spreads[figure.name]
    return Spread(max(measured.any_light, figure.worth), max(measured.same_light, figure.worth))


def _spread(row: dict[str, str]) -> Spread:
    camera = max(float(row[kind]) for kind in OF_CAMERA)
    light = max(float(row[kind]) for kind in OF_LIGHT)
    same_light = max(camera, LEFT_OF_LIGHT * light)
    return Spread(FIFTY_AT_ONCE * max(float(row["p95"]), same_light), FIFTY_AT_ONCE * same_light)
