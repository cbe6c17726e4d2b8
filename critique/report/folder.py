"""How a report's files come into their folder: all of them, or none."""

import errno
import os
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from critique.errors import unwritten
from critique.publish import followed, settle, sweep, written_beside
from critique.report.exchange import exchanged
from critique.words.printed import shown_line

PLATES = "plates"
REVIEW = "report.html"  # the page whose plates are other ones from run to run
# By which a system says that nothing can be put beside a folder, or moved into it from there: another drive hangs in
# that place, or what lies above it is someone else's.
NOT_FROM_BESIDE = (errno.EXDEV, errno.EACCES, errno.EPERM, errno.EROFS)
# An earlier report on the same picture may have had an aim, or findings in other places; earlier versions had others.
EARLIER_PLATE = re.compile(rf"{PLATES}/(aim|first_step|where_[a-z_]+|suggestion_\d+|repaint_study)\.png")


def replace_files(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write ``files`` (paths relative to ``folder`` with '/', and their bytes) so that none is ever seen half-written.

    They are written to a hidden folder beside, and are on disk before the two change places in one step: there is a
    report at every moment, the old one or the new. A folder that also holds files of the painter's own keeps those, and
    so does every folder where a system can't do that step: the report's files then go in one by one, the page last.
    A folder that nothing can be put beside, such as a drive's own, has them written to a hidden folder within it.

    Raises
    ------
    OutputError
        When a file cannot be written; whatever was written of the new report is gone then.
    """
    try:
        target = followed(folder)
        with _parents_of(target):
            try:
                _replace_from(target.parent, target, files)
            except OSError as error:
                if error.errno not in NOT_FROM_BESIDE or not target.is_dir():
                    raise
                _replace_from(target, target, files)
    except (OSError, RuntimeError, ValueError) as error:
        raise unwritten(f"{shown_line(str(folder))}: the report can't be written here", error) from error


def _replace_from(home: Path, target: Path, files: Mapping[str, bytes]) -> None:
    """Write the files to a hidden folder in ``home``, and put them in their place from there."""
    sweep(home)
    with written_beside(home / target.name, folder=True) as beside:
        _write_all(beside, files)
        _put_in_place(beside, target, files)
        settle(home)


@contextmanager
def _parents_of(target: Path) -> Iterator[None]:
    """Make the folders above ``target``; those that were made go again when what follows fails."""
    missing = [parent for parent in target.parents if not parent.exists()]
    made: list[Path] = []
    try:
        for parent in reversed(missing):
            parent.mkdir(exist_ok=True)
            made.append(parent)
        yield
    except BaseException:
        for parent in reversed(made):
            try:
                parent.rmdir()
            except OSError:  # someone else has put something in it: then it stays
                break
        raise


def _write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    paths = [folder / name for name in files]
    for path, data in zip(paths, files.values(), strict=True):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    for path in (*paths, *dict.fromkeys(path.parent for path in paths), folder):
        settle(path)


def _put_in_place(beside: Path, target: Path, files: Mapping[str, bytes]) -> None:
    if not os.path.lexists(target):
        beside.rename(target)
    elif not target.is_dir():
        raise FileExistsError(0, "a file of this name stands in the way")
    elif not _only_a_report(target, files, beside):
        _move_each(beside, target, files)
        if REVIEW in files:
            _remove_earlier(target, files)
    elif target in beside.parents or not exchanged(beside, target):
        _move_each(beside, target, files)
        _remove_earlier(target, files)


def _only_a_report(target: Path, files: Mapping[str, bytes], beside: Path) -> bool:
    """Whether a folder is empty or holds an earlier report and nothing else, but for what is being written."""
    found = [
        entry
        for entry in target.rglob("*")
        if not (entry.name == PLATES and entry.parent == target) and beside not in (entry, *entry.parents)
    ]
    names = {entry.relative_to(target).as_posix() for entry in found}
    return (
        not target.joinpath(PLATES).is_symlink()
        and all(entry.is_file() and not entry.is_symlink() for entry in found)
        and all(name in files or EARLIER_PLATE.fullmatch(name) for name in names)
    )


def _move_each(beside: Path, target: Path, files: Mapping[str, bytes]) -> None:
    """Rename file by file, the page last: a page is then never newer than its plates."""
    for name in sorted(files, key=lambda name: (name.endswith(".html"), name.endswith(".json"), name)):
        (target / name).parent.mkdir(exist_ok=True)
        os.replace(beside / name, target / name)


def _remove_earlier(target: Path, files: Mapping[str, bytes]) -> None:
    """Plates that the new report has not."""
    for plate in target.joinpath(PLATES).glob("*.png"):
        name = plate.relative_to(target).as_posix()
        if name not in files and EARLIER_PLATE.fullmatch(name):
            plate.unlink()
