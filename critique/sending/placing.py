"""How a file that is sent comes into its place: what stood there before is laid aside, not lost."""

import os
from pathlib import Path

from critique.errors import OutputError
from critique.photograph.saving import write_beside
from critique.regular_file import open_regular

ASIDE = "earlier"  # folder beside the new file


def placed(path: Path, data: bytes) -> Path | None:
    """Write a file; where another one of its name goes to, None where there was none, or the very same.

    Raises
    ------
    OutputError
        One line, when it can't be written, or the old one can't be laid aside.
    """
    try:
        if not os.path.lexists(path):
            write_beside(path, data)
            return None
        if not path.is_symlink() and path.is_file() and path.stat().st_size == len(data) and _bytes(path) == data:
            return None
        if path.is_dir():
            raise OutputError(f"{path}: a folder of this name stands in the way")
        aside = _free(path)
        os.replace(path, aside)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise OutputError(f"{path}: the file that is there can't be laid aside ({reason})") from error
    try:
        write_beside(path, data)
    except OutputError:
        os.replace(aside, path)
        raise
    return aside


def _free(path: Path) -> Path:
    folder = path.parent / ASIDE
    folder.mkdir(exist_ok=True)
    aside, number = folder / path.name, 2
    while os.path.lexists(aside):
        aside, number = folder / f"{path.stem} ({number}){path.suffix}", number + 1
    return aside


def _bytes(path: Path) -> bytes:
    with open_regular(path) as stream:
        return stream.read()
