"""Two folders change places in one step, where the system can do that."""

import ctypes
import os
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

_HERE = -100  # AT_FDCWD of Linux: paths count from the working folder
_EXCHANGE = 2  # RENAME_EXCHANGE of Linux [renameat2(2)] and RENAME_SWAP of macOS [renamex_np(2)]


def exchanged(first: Path, second: Path) -> bool:
    """Let two folders of one file system change places; False where that can't be done, and nothing has happened."""
    call = _call()
    return call is not None and call(os.fsencode(first), os.fsencode(second)) == 0


@cache
def _call() -> Callable[[bytes, bytes], int] | None:
    try:
        library = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "darwin":
            swap = library.renamex_np
            return lambda first, second: int(swap(first, second, ctypes.c_uint(_EXCHANGE)))
        move = library.renameat2
        return lambda first, second: int(move(_HERE, first, _HERE, second, ctypes.c_uint(_EXCHANGE)))
    except (OSError, AttributeError, TypeError):
        return None
