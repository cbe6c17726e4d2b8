"""How a file comes into its place: whole or not at all, on disk before it is seen, and nothing left beside it."""

import os
import shutil
import stat
import time
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from re import compile as pattern

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]

# What is written first, beside its place. Names of earlier versions of the program are among those that are swept.
_HIDDEN = pattern(r"\.critique-[0-9a-f]{12}\.(part|old)|\.(portfolio\.(html|csv|json)|[0-9a-f]{20}\.jpg)\.\d+\.part")
OLD_SECONDS = 86_400.0  # after which a leftover is one, where no lock tells whether someone is still at it
LOCK_SECONDS = 30.0  # that another's work on the same file is waited for
_LOOK_SECONDS = 0.05


@contextmanager
def written_beside(target: Path, *, folder: bool = False) -> Iterator[Path]:
    """A new hidden file or folder beside ``target``, for what will be renamed to it; gone again at the end.

    It is locked while it is open, so that ``sweep`` knows what someone is at work on from what was left behind.
    """
    beside, descriptor = _hidden(target.parent, folder)
    try:
        yield beside
    finally:
        _remove(beside)
        os.close(descriptor)


def _hidden(parent: Path, folder: bool) -> tuple[Path, int]:
    """A path and the descriptor that holds its lock."""
    while True:
        beside = parent / f".critique-{uuid.uuid4().hex[:12]}.part"
        if folder:
            beside.mkdir()  # as open to others as any that the person makes
        else:
            os.close(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666))
        try:
            descriptor = os.open(beside, os.O_RDONLY) if fcntl is not None else os.open(os.devnull, os.O_RDONLY)
        except FileNotFoundError:  # swept in between, before its lock was seen
            continue
        if _lock(descriptor) and beside.exists():
            return beside, descriptor
        os.close(descriptor)


def _lock(descriptor: int) -> bool:
    """Whether the lock was free; also where there are no locks, as on some network drives."""
    if fcntl is None:
        return True
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return True
    return True


def replace_file(path: Path, data: bytes) -> None:
    """Put ``data`` in the place of a file, through links and with the old one's permissions; raises OSError.

    Whoever looks sees the old file or the new one, and after a loss of power too.
    """
    target = followed(path)
    if target.is_dir():
        raise IsADirectoryError(21, "a folder of this name stands in the way", str(path))
    sweep(target.parent)
    with written_beside(target) as beside:
        beside.write_bytes(data)
        if target.exists():
            beside.chmod(stat.S_IMODE(target.stat().st_mode))
        settle(beside)
        os.replace(beside, target)
        settle(target.parent)


def followed(path: Path) -> Path:
    """Where a path leads; links in a circle are an OSError too."""
    try:
        return path.resolve()
    except (RuntimeError, ValueError) as error:
        raise OSError(40, str(error), str(path)) from None


def settle(path: Path) -> None:
    """Wait until a file, or a folder's list of names, is on disk. Some systems can't do so for folders."""
    try:
        descriptor = os.open(path, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(descriptor)
    except OSError as error:
        if error.errno in (5, 28, 122):  # the disk fails or is full: EIO, ENOSPC, EDQUOT
            raise
    finally:
        os.close(descriptor)


@contextmanager
def only_one_at(folder: Path) -> Iterator[None]:
    """Within it, no other run that asks the same is at work in ``folder``; raises TimeoutError after a while."""
    descriptor = os.open(folder, os.O_RDONLY) if fcntl is not None else os.open(os.devnull, os.O_RDONLY)
    try:
        until = time.monotonic() + LOCK_SECONDS
        while not _lock(descriptor):
            if time.monotonic() > until:
                raise TimeoutError(110, "another run is at work on it", str(folder))
            time.sleep(_LOOK_SECONDS)
        yield
    finally:
        os.close(descriptor)


def sweep(folder: Path) -> None:
    """Remove what runs that were killed left half-written in ``folder``. What someone is at work on stays."""
    try:
        left = [entry for entry in os.scandir(folder) if _HIDDEN.fullmatch(entry.name)]
    except OSError:
        return
    for entry in left:
        try:
            if fcntl is None or not entry.name.startswith(".critique-"):
                if time.time() - entry.stat(follow_symlinks=False).st_mtime > OLD_SECONDS:
                    _remove(Path(entry.path))
                continue
            descriptor = os.open(entry.path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
        except OSError:
            continue
        try:
            if _lock(descriptor):
                _remove(Path(entry.path))
        finally:
            os.close(descriptor)


def _remove(path: Path) -> None:
    try:
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path, ignore_errors=True)
        else:
            path.unlink(missing_ok=True)
    except OSError:  # a leftover that stays does no harm
        pass
