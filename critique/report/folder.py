"""How a report's files come into their folder: all of them, or none."""

import os
import re
import shutil
import uuid
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from critique.errors import OutputError

PLATES = "plates"
# An earlier report on the same picture may have had more suggestions, or fewer, or a repaint study.
EARLIER_PLATE = re.compile(rf"{PLATES}/(suggestion_\d+|repaint_study)\.png")


def replace_files(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write ``files`` (paths relative to ``folder`` with '/', and their bytes) so that none is ever seen half-written.

    They are written to a hidden folder beside and renamed into place. An earlier report is replaced whole. A folder
    that also holds files of the painter's own keeps those: the report's files then go in one by one.

    Raises
    ------
    OutputError
        When a file cannot be written; whatever was written of the new report is gone then.
    """
    try:
        target = folder.resolve()
        with _parents_of(target):
            beside = _hidden_folder(target, "part")
            try:
                _write_all(beside, files)
                _put_in_place(beside, target, files)
            finally:
                shutil.rmtree(beside, ignore_errors=True)
    except (OSError, RuntimeError, ValueError) as error:
        raise OutputError(_line(folder, error), mend="other_report_folder") from error


def _line(folder: Path, error: Exception) -> str:
    reason = (getattr(error, "strerror", None) or str(error) or type(error).__name__).lower()
    name = str(folder).encode("unicode_escape").decode("ascii") if not str(folder).isprintable() else str(folder)
    return f"{name}: the report can't be written here ({reason}): make room"


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


def _hidden_folder(target: Path, what: str) -> Path:
    """A new empty folder beside ``target``, as open to others as any that the person makes."""
    beside = target.parent / f".critique-{uuid.uuid4().hex[:12]}.{what}"
    beside.mkdir()
    return beside


def _write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, data in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)


def _put_in_place(beside: Path, target: Path, files: Mapping[str, bytes]) -> None:
    if not os.path.lexists(target):
        beside.rename(target)
    elif target.is_dir() and _only_a_report(target, files):
        _swap(beside, target)
    elif target.is_dir():
        _move_each(beside, target, files)
    else:
        raise FileExistsError(0, "a file of this name stands in the way")


def _only_a_report(target: Path, files: Mapping[str, bytes]) -> bool:
    """Whether a folder is empty or holds an earlier report and nothing else."""
    found = [entry for entry in target.rglob("*") if not (entry.name == PLATES and entry.parent == target)]
    names = {entry.relative_to(target).as_posix() for entry in found}
    return (
        not target.joinpath(PLATES).is_symlink()
        and all(entry.is_file() and not entry.is_symlink() for entry in found)
        and all(name in files or EARLIER_PLATE.fullmatch(name) for name in names)
    )


def _swap(beside: Path, target: Path) -> None:
    """Put the new folder where the old one is; the old one comes back when that fails."""
    old = _hidden_folder(target, "old")
    try:
        target.rename(old / "report")
        try:
            beside.rename(target)
        except BaseException:
            (old / "report").rename(target)
            raise
    finally:
        shutil.rmtree(old, ignore_errors=True)


def _move_each(beside: Path, target: Path, files: Mapping[str, bytes]) -> None:
    """Rename file by file, the page last: a page is then never newer than its plates."""
    for name in sorted(files, key=lambda name: (name.endswith(".html"), name.endswith(".json"), name)):
        (target / name).parent.mkdir(exist_ok=True)
        os.replace(beside / name, target / name)
