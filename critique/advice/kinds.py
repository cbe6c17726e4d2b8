"""Every kind of finding that there is, gravest first, as a teacher would raise them: the one table of them.

What each is stands in the module of its part of the page; here stands their order.
"""

from contextvars import ContextVar

from critique.advice import kinds_colour, kinds_division, kinds_eye, kinds_green, kinds_touch, kinds_values
from critique.advice.finding import Finding
from critique.advice.kind import Kind

KINDS: tuple[Kind, ...] = (
    kinds_green.GREEN_STRENGTH,
    kinds_green.GREEN_AREA,
    kinds_green.GREEN_EVENNESS,
    kinds_colour.GREEN_CAST,
    kinds_values.VALUE_RANGE,
    kinds_values.FULL_CONTRAST,
    kinds_values.VALUE_MASSES,
    kinds_values.SMALL_LIGHTS,
    kinds_values.CLOSED_DARKS,
    kinds_values.BARE_SKY,
    kinds_colour.DEAD_COLOUR,
    kinds_colour.LOUDEST_COLOUR,
    kinds_colour.COLOUR_CAST,
    kinds_eye.EDGE_PULL,
    kinds_touch.PALE_RIMS,
    kinds_touch.SOFT_EDGES,
    kinds_touch.HARD_EDGES,
    kinds_touch.OUTLINES,
    kinds_touch.EQUAL_FLECKS,
    kinds_eye.BULLS_EYE,
    kinds_eye.MIDDLE_SUBJECT,
    kinds_eye.LIKE_ROW,
    kinds_division.WATER_LEVEL,
    kinds_division.SYMMETRY,
    kinds_division.HALVING,
    kinds_division.UPRIGHT_HALVES,
    kinds_colour.LAND_DISTANCE,
    kinds_eye.BUSY_FOREGROUND,
    kinds_eye.EVEN_FOREGROUND,
    kinds_eye.COMPETING_LIGHTS,
    kinds_eye.TWO_LIGHTS,
    kinds_eye.NEAR_EDGE,
    kinds_eye.SIDE_WEIGHT,
    kinds_green.GREEN_RELIEF,
    kinds_green.GREEN_NEIGHBOURS,
    kinds_eye.FOCAL_PLACE,
    kinds_colour.COLOUR_RUN,
)

TABLE: ContextVar[tuple[Kind, ...]] = ContextVar("kinds", default=KINDS)  # a context's own: threads see no other's


def all_kinds() -> tuple[Kind, ...]:
    """The kinds that hold here, in the order of a review."""
    return TABLE.get()


def kind_of(finding: Finding) -> Kind:
    """The kind of a finding; raises KeyError for one that no table has."""
    return kind_named(finding.kind)


def kind_named(name: str) -> Kind:
    """The kind with that id, title or virtue, as a painter would write it; raises KeyError when there is none."""
    by_id = [kind for kind in all_kinds() if kind.id == name]
    named = by_id or [kind for kind in all_kinds() if name in (kind.title, kind.called("holds"))]
    if not named:
        raise KeyError(name)
    return named[0]
