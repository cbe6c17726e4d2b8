"""A file that others may change is opened without waiting, and what was opened is looked at before it is read."""

import errno
import io
import os
import stat
from pathlib import Path
from typing import BinaryIO

_WITHOUT_WAITING = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)


class NotOrdinary(OSError):
    """What lies there is a folder, a pipe or a device."""


def open_regular(path: str | Path) -> BinaryIO:
    """The bytes of an ordinary file. A pipe that took the file's place would be waited for for ever.

    Raises
    ------
    NotOrdinary
        When it is a folder, a pipe or a device; ``strerror`` says which.
    OSError
        When it can't be opened.
    """
    try:
        descriptor = os.open(path, os.O_RDONLY | _WITHOUT_WAITING)
    except PermissionError:
        if os.path.isdir(path):  # where folders can't be opened as files
            raise NotOrdinary(errno.EISDIR, "is a folder", str(path)) from None
        raise
    except ValueError as error:  # a name with a zero byte
        raise OSError(errno.EINVAL, str(error), str(path)) from None
    try:
        found = os.fstat(descriptor)
        if stat.S_ISDIR(found.st_mode):
            raise NotOrdinary(errno.EISDIR, "is a folder", str(path))
        if not stat.S_ISREG(found.st_mode):
            raise NotOrdinary(errno.EINVAL, "is not an ordinary file", str(path))
        return io.BufferedReader(io.FileIO(descriptor, "rb"))
    except BaseException:
        os.close(descriptor)
        raise
