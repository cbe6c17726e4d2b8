"""A kind of finding that holds for a while only, added from outside."""

from collections.abc import Iterator
from contextlib import contextmanager

from critique.advice.kind import Kind
from critique.advice.kinds import TABLE, all_kinds, kind_named


@contextmanager
def registered(kind: Kind, *, before: str | None = None) -> Iterator[Kind]:
    """While it is open, ``kind`` is one of the kinds: at the end, or ``before`` the kind of that id.

    Raises
    ------
    ValueError
        When there is a kind of that id, title or virtue already.
    """
    kinds = all_kinds()
    names = {kind.title, kind.called("holds")}
    if any(kind.id == other.id or names & {other.title, other.called("holds")} for other in kinds):
        raise ValueError(f"there is a kind of finding {kind.id!r}, or one called {kind.title!r}, already")
    place = len(kinds) if before is None else kinds.index(kind_named(before))
    token = TABLE.set((*kinds[:place], kind, *kinds[place:]))
    try:
        yield kind
    finally:
        TABLE.reset(token)
