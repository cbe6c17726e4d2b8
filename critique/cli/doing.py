"""What is being done, on a terminal, while a person waits for it."""

import sys
from collections.abc import Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager
from typing import TypeVar

import click

Item = TypeVar("Item")


@contextmanager
def doing(what: str, *, told: bool = True) -> Iterator[None]:
    """Say ``what`` on a terminal's standard error until it is done, and leave no trace of it; silent anywhere else."""
    shown = told and sys.stderr.isatty()
    if shown:
        sys.stderr.write(f"{what} …")
        sys.stderr.flush()
    try:
        yield
    finally:
        if shown:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()


def progress(items: list[Item], label: str) -> AbstractContextManager[Iterable[Item]]:
    """A progress bar on a terminal's stderr when there is more than one thing to do; silent otherwise."""
    hidden = len(items) < 2 or not sys.stderr.isatty()
    return click.progressbar(items, label=label, file=sys.stderr, hidden=hidden)
