"""Why small matrices are multiplied in one thread: handing them out costs more than it brings.

Tenfold when other work is going on; and the order of the sums may change last bits from run to run.
"""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache, wraps
from typing import Any, ParamSpec, TypeVar

Given = ParamSpec("Given")
Result = TypeVar("Result")

_lock = threading.Lock()
_within = 0  # how many blocks are held at this moment, in all threads
_put_back: list[tuple[Any, int]] = []  # libraries that were held, each with the threads that it had


@contextmanager
def one_thread() -> Iterator[None]:
    """Hold numpy's matrix products to one thread within the block.

    The setting is the whole process's, so blocks that overlap in several threads share it: the first sets it, the last
    puts back what was there. Were each to put it back by itself, the first to end would let the others' sums change.
    """
    global _within
    with _lock:
        if _within == 0:
            _put_back[:] = [(library, own) for library in _libraries() if (own := library.num_threads) != 1]
            for library, _ in _put_back:
                library.set_num_threads(1)
        _within += 1
    try:
        yield
    finally:
        with _lock:
            _within -= 1
            if _within == 0:
                for library, own in _put_back:
                    library.set_num_threads(own)


def in_one_thread(function: Callable[Given, Result]) -> Callable[Given, Result]:
    """The function with numpy's matrix products held to one thread while it runs."""

    @wraps(function)
    def held(*args: Given.args, **kwargs: Given.kwargs) -> Result:
        with one_thread():
            return function(*args, **kwargs)

    return held


@cache
def _libraries() -> tuple[Any, ...]:
    """Those that multiply matrices. Looked for once: it takes milliseconds, to ask one of them a microsecond."""
    from threadpoolctl import ThreadpoolController

    return tuple(each for each in ThreadpoolController().lib_controllers if each.user_api == "blas")
