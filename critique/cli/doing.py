"""What is being done, on a terminal, while a person waits for it."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager


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
