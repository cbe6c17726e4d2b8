"""What the command does with its own process, and no library may: its streams, its warnings, what nobody foresaw."""

import io
import os
import sys
import warnings
from pathlib import Path

from critique.errors import NO_ROOM

PROGRAM = "critique"
_STDERR = 2  # its file descriptor, in every process
_TALKATIVE = ("PIL", "tifffile")  # libraries that log what is wrong with a file; the error that they raise says enough
_MOST_HEAPS = -8  # M_ARENA_MAX of glibc's malloc.h
DEBUG = "CRITIQUE_DEBUG"  # a variable of the environment: set it to 1 to see where a fault arose


def take_terminal() -> None:
    """Keep what image libraries print from the person, and let no letter fail on a terminal that lacks it.

    libtiff writes to the file descriptor itself, and its own switch is out of reach inside Pillow: the descriptor leads
    nowhere from here on, in this process and in the workers that it starts, and ``sys.stderr`` to where it led.
    """
    if not debugging():
        warnings.simplefilter("ignore")
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    _part_stderr()


def started_as() -> str:
    """What starts the program again from here: its name, or its script where no shell finds that."""
    import shutil

    script = Path(sys.argv[0])
    if script.stem != PROGRAM or not script.is_file() or shutil.which(PROGRAM) is not None:
        return PROGRAM
    own = Path.cwd() / script
    if not own.is_relative_to(Path.cwd()):
        return str(own)
    below = own.relative_to(Path.cwd())
    return str(below) if len(below.parts) > 1 else os.path.join(".", below)


def quiet_libraries() -> None:
    """Keep what libraries log about a file to themselves. Before a command runs, so that help needn't load logging."""
    import logging

    for library in _TALKATIVE:
        logging.getLogger(library).addHandler(logging.NullHandler())


def share_one_heap() -> None:
    """Let all threads of the command take memory from one heap: a heap each keeps what its thread has let go.

    A review of six megapixels then needs 30 MiB less. Only glibc is asked; other C libraries have no such switch.
    """
    import ctypes

    try:
        ctypes.CDLL(None).mallopt(_MOST_HEAPS, 1)
    except (OSError, AttributeError, TypeError):
        pass


def debugging() -> bool:
    """Whether the person asked to see where a fault arose."""
    return os.environ.get(DEBUG, "") not in ("", "0")


def _part_stderr() -> None:
    try:
        if sys.stderr.fileno() != _STDERR:
            return
        sys.stderr.flush()
        kept = os.dup(_STDERR)
        with open(os.devnull, "wb") as nowhere:
            os.dup2(nowhere.fileno(), _STDERR)
    except (OSError, AttributeError, ValueError):  # a process without stderr has nothing to keep clean
        return
    encoding = sys.stderr.encoding
    sys.stderr = open(kept, "w", encoding=encoding, errors="backslashreplace", buffering=1)


def fault_in_one_line(error: BaseException) -> str:
    """What to say of an error that nobody foresaw."""
    if isinstance(error, MemoryError):
        return "there is not enough memory for this; close other programs, or give a smaller copy"
    if isinstance(error, OSError) and error.errno in NO_ROOM:
        return f"there is no room for what is written ({(error.strerror or 'disk full').lower()}); make room"
    told = " ".join(str(error).split())[:200]
    return (
        f"this is a fault of the program, not yours ({type(error).__name__}{': ' + told if told else ''}); "
        f"set {DEBUG}=1 and run it again to see where it arose"
    )
