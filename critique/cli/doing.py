"""What is being done, on a terminal, while a person waits for it."""

import sys
from collections.abc import Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager
from typing import TypeVar

import click

from critique.steps import telling

Item = TypeVar("Item")
CLEARED = "\r\x1b[K"  # back to the start of the line, and nothing on it


@contextmanager
def doing(what: str, *, told: bool = True) -> Iterator[None]:
    """Say ``what`` on a terminal's standard error until it is done, and leave no trace of it; silent anywhere else.

    The steps that the task itself tells of take its place one after another.
    """
    if not (told and sys.stderr.isatty()):
        yield
        return

    def show(line: str) -> None:
        sys.stderr.write(f"{CLEARED}{line}")
        sys.stderr.flush()

    try:
        show(f"{what} …")
        with telling(lambda step: show(f"{step} …")):
            yield
    finally:
        show("")


def progress(items: list[Item], label: str) -> AbstractContextManager[Iterable[Item]]:
    """A progress bar on a terminal's stderr when there is more than one thing to do; silent otherwise."""
    hidden = len(items) < 2 or not sys.stderr.isatty()
    return click.progressbar(items, label=label, file=sys.stderr, hidden=hidden)
