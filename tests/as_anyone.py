"""The program run as a command by a user who is held to permissions, even where the tests are run by the superuser."""

import ctypes
import subprocess
import sys


def command(*words) -> subprocess.CompletedProcess[str]:
    """``critique`` with these words, in a process of its own that is held to permissions like anyone's."""
    return subprocess.run(
        [sys.executable, "-m", "critique", *map(str, words)],
        capture_output=True,
        text=True,
        preexec_fn=without_privileges,
    )


def without_privileges() -> None:
    """Take from a superuser's process the right to pass over permissions. [capabilities(7)]"""
    for right in (1, 2):  # CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH
        ctypes.CDLL(None).prctl(24, right, 0, 0, 0)
