"""Every kind of change that there is: the one table of them, what shows across a room first."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from critique.advice import far_drafts as far
from critique.advice import green_drafts as green
from critique.advice import guided_drafts as guided
from critique.advice import light_drafts as light
from critique.advice import shape_drafts as shape
from critique.advice.change_kind import ChangeKind

MUTE = "mute_greens"

CHANGE_KINDS: tuple[ChangeKind, ...] = (  # the order among equals
    ChangeKind(MUTE, "mute the greens", ("green_strength",), green.mute, trusted=True, eases=("green_area",)),
    ChangeKind("less_green", "less green", ("green_area",), green.trade, quieted_first=True, worst_only=True),
    ChangeKind("move_division", "move the division", ("halving",), shape.move_line, worst_only=True),
    ChangeKind("gather_values", "gather the values", ("value_masses",), guided.gather),
    ChangeKind("widen_values", "widen the values", ("value_range",), shape.widen, trusted=True),
    ChangeKind("take_out_cast", "take out the green cast", ("green_cast",), green.uncast),
    ChangeKind("vary_greens", "vary the greens", ("green_evenness",), green.vary, quieted_first=True, trusted=True),
    ChangeKind("quiet_edge", "quiet the edge", ("edge_pull",), guided.quiet_edge),
    ChangeKind("quiet_loudest", "quiet the loudest colour", ("loudest_colour",), guided.quiet_loudest),
    ChangeKind("open_darks", "open the darks", ("closed_darks",), guided.open_darks),
    ChangeKind("recede_land", "let the far land go", ("land_distance",), far.recede_land),
    ChangeKind("wake_colour", "wake the colour", ("dead_colour",), guided.wake_colour),
    ChangeKind("rest_for_eye", "give the eye a rest", ("equal_flecks",), guided.rest_for_eye),
    # Of places that compete the light is tried first, where both are lights: it is lowered whole, and nothing about it.
    ChangeKind("quiet_light", "let one light lead", ("two_lights", "competing_lights"), light.quiet_light),
    ChangeKind("quiet_second", "let one place lead", ("competing_lights",), guided.quiet_second),
)

# A context's own table and never the process's: what one thread adds, no other sees.
_table: ContextVar[tuple[ChangeKind, ...]] = ContextVar("change_kinds", default=CHANGE_KINDS)


def all_change_kinds() -> tuple[ChangeKind, ...]:
    """The kinds that hold here, in their order among equals."""
    return _table.get()


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
