"""Whether a file is still the one that it was."""

import hashlib
import os
from pathlib import Path

from critique.regular_file import open_regular

BLOCK = 1 << 20  # bytes read at once

Signature = tuple[int, int, int]  # size in bytes, times of the last change of content and of the file's entry in ns


def signature_of(path: str | Path) -> Signature:
    """What changes when a file is written to."""
    status = os.stat(path)
    return status.st_size, status.st_mtime_ns, status.st_ctime_ns


def content_of(path: str | Path, mark: str = "") -> str:
    """SHA-256 of a file's bytes, in hexadecimal; and of ``mark``, where its review depends on more than those."""
    digest = hashlib.sha256()
    with open_regular(path) as stream:
        while block := stream.read(BLOCK):
            digest.update(block)
    digest.update(mark.encode())
    return digest.hexdigest()
