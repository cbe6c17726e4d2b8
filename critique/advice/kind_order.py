"""Kinds of finding in the order in which a review raises them."""

from collections.abc import Iterable

from critique.advice.kinds import all_kinds


def in_order(ids: Iterable[str]) -> list[str]:
    """Ids of kinds, each once, in the order of a review; those that no table has come last, by name."""
    wanted = set(ids)
    known = [kind.id for kind in all_kinds() if kind.id in wanted]
    return [*known, *sorted(wanted.difference(known))]
