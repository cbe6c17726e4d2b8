"""What is being done, told to whoever waits for it: a terminal, a page, a program that calls the library."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

Listener = Callable[[str], None]

# A context's own: what one thread waits for, no other hears of.
_listener: ContextVar[Listener | None] = ContextVar("steps", default=None)


def step(what: str) -> None:
    """Say what is begun, such as "Measuring"; nothing happens where nobody listens."""
    listener = _listener.get()
    if listener is not None:
        listener(what)


@contextmanager
def telling(listener: Listener) -> Iterator[None]:
    """While it is open, ``listener`` is called with a few words at the start of each step of a longer task.

    The words are for people, and may change.

    >>> with telling(print):
    ...     step("Measuring")
    Measuring
    """
    token = _listener.set(listener)
    try:
        yield
    finally:
        _listener.reset(token)
