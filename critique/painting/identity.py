"""Which folder a painting has: one a painting, whatever else is called the same."""

import hashlib
import os
from pathlib import Path

from critique.painting.history import FILE, read_history
from critique.regular_file import open_regular
from critique.report.naming import safe_name

ENDS = 65_536  # bytes at either end of a file that tell it from others, with its size


def source_id(path: Path) -> str:
    """A digest of where a file lies. The path itself is nobody's business who is sent the folder."""
    return hashlib.sha256(os.fsencode(os.path.abspath(path))).hexdigest()[:20]


def file_id(path: Path) -> str:
    """A digest of a file's size and both its ends; empty where it can't be read."""
    try:
        with open_regular(path) as stream:
            start = stream.read(ENDS)
            size = stream.seek(0, os.SEEK_END)
            stream.seek(max(0, size - ENDS))
            return hashlib.sha256(f"{size}".encode() + start + stream.read(ENDS)).hexdigest()[:20]
    except (OSError, ValueError):
        return ""


def painting_folder(out: Path, source: Path) -> Path:
    """The folder within ``out`` of the painting that a file shows.

    It is called by the file's stem, whatever else is looked at in the same run. A folder of that name that belongs to
    another painting (another file in another place) is left alone, and the next is taken: "meadow (2)". A file that
    lies within a painting's folder, such as a straightened photograph, belongs to that painting.
    """
    within = _around(out, source)
    if within is not None:
        return within
    wanted = safe_name(source.stem)
    own, content = source_id(source), None
    number = 0
    while True:
        number += 1
        folder = out / (wanted if number == 1 else f"{wanted} ({number})")
        history = read_history(folder)
        if history is None or not history.source or history.source == own:
            return folder
        content = file_id(source) if content is None else content
        if content and any(run.file_id == content for run in history.runs):  # it was moved, or copied
            return folder


def _around(out: Path, source: Path) -> Path | None:
    home = Path(os.path.abspath(out))
    for parent in Path(os.path.abspath(source)).parents:
        if parent.parent == home and (parent / FILE).is_file():
            return out / parent.name
    return None
