"""Every kind of change that there is: the one table of them, what shows across a room first."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from critique.advice import green_drafts as green
from critique.advice import light_drafts as light
from critique.advice import shape_drafts as shape
from critique.advice.change_kind import ChangeKind

MUTE = "mute_greens"
LESSER = 0.3  # of its worth that a touch of colour counts for

CHANGE_KINDS: tuple[ChangeKind, ...] = (  # the order among equals
    ChangeKind(MUTE, "mute the greens", ("green_strength",), green.mute),
    ChangeKind("less_green", "less green", ("green_area",), green.trade, quieted_first=True),
    ChangeKind("move_division", "move the division", ("halving",), shape.crops),
    ChangeKind("gather_values", "gather the values", ("value_masses",), shape.gather),
    ChangeKind("widen_values", "widen the values", ("value_range",), shape.widen),
    ChangeKind("take_out_cast", "take out the green cast", ("green_cast",), green.uncast),
    ChangeKind("vary_greens", "vary the greens", ("green_evenness",), green.vary, quieted_first=True),
    ChangeKind("recede_greens", "let the far greens go", ("land_distance",), light.recede, quieted_first=True),
    ChangeKind("part_values", "part two values", ("green_neighbours",), light.part_values),
    ChangeKind("quiet_edge", "quiet the edge", ("edge_pull",), shape.quiet_edge),
    ChangeKind("darken_edge", "darken the edge", ("edge_pull",), light.darken_edge, eager=light.pulls_by_light),
    ChangeKind("warm_lights", "warm the lights", ("colour_run",), light.warm_lights),
    ChangeKind("add_relief", "add a touch of relief", ("green_relief",), shape.accent, part_of_worth=LESSER),
)

# A context's own table and never the process's: what one thread adds, no other sees.
_table: ContextVar[tuple[ChangeKind, ...]] = ContextVar("change_kinds", default=CHANGE_KINDS)


def all_change_kinds() -> tuple[ChangeKind, ...]:
    """The kinds that hold here, in their order among equals."""
    return _table.get()


def change_kind(id: str) -> ChangeKind:
    """The kind of that id; raises KeyError when there is none."""
    found = next((kind for kind in all_change_kinds() if kind.id == id), None)
    if found is None:
        raise KeyError(id)
    return found


@contextmanager
def registered(kind: ChangeKind) -> Iterator[ChangeKind]:
    """While it is open, ``kind`` is one of the kinds, the last among equals.

    Raises
    ------
    ValueError
        When there is a kind of that id already.
    """
    if any(kind.id == other.id for other in all_change_kinds()):
        raise ValueError(f"there is a kind of change {kind.id!r} already")
    token = _table.set((*all_change_kinds(), kind))
    try:
        yield kind
    finally:
        _table.reset(token)
