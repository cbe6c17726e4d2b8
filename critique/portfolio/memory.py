"""What a review took is given back before the next, so that the thousandth needs no more memory than the tenth."""

import ctypes
import gc
from collections.abc import Callable
from functools import cache

EVERY = 8  # reviews after which memory goes back to the system: asking for it again each time takes a thirtieth of one

_passed_over = False  # whether what the first review loaded is passed over
_reviews = 0  # since memory last went back


def give_back() -> None:
    """Free what the last review left, and hand it to the system now and then.

    Figures, and the picture with them, refer to themselves in circles: Python frees them only when it happens to look,
    by which time several are waiting, and large arrays between them leave the heap in pieces. Looking after
    each is quick because what the first one loaded stays and is passed over.
    """
    global _passed_over, _reviews
    gc.collect()
    if not _passed_over:  # to ask gc how much it passes over takes as long as a small measure
        gc.freeze()
        _passed_over = True
    _reviews += 1
    if _reviews >= EVERY and (trim := _trim()) is not None:
        trim(0)
        _reviews = 0


def end_giving_back() -> None:
    """Let Python look at everything again, once there are no more reviews in this process."""
    global _passed_over
    gc.unfreeze()
    _passed_over = False


@cache
def _trim() -> Callable[[int], int] | None:
    """glibc's ``malloc_trim``; other C libraries have none, and don't keep as much."""
    try:
        found: Callable[[int], int] = ctypes.CDLL(None).malloc_trim
    except (OSError, AttributeError, TypeError):
        return None
    return found
