"""Where the bytes of a picture file come from: opened once, looked at before they are read, never mapped."""

import errno
import io
import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

from critique.errors import UnreadablePicture
from critique.photograph.suffixes import RAW_SUFFIXES
from critique.regular_file import NotOrdinary, open_regular

LONGEST_NAME = 255  # no usual file system holds a longer one
HEAD = 16  # bytes by which the formats are told apart


@dataclass(frozen=True, slots=True, eq=False)
class Source:
    """A file by its ``name`` as it may be printed; ``open`` gives its bytes from the start, anew at each call."""

    name: str
    open: Callable[[], BinaryIO]

    def head(self, length: int = HEAD) -> bytes:
        """Its first bytes."""
        with self.open() as stream:
            return stream.read(length)


class _Undescribed:
    """A file without its descriptor. What is handed one may map the file, and dies when the file is cut short."""

    def __init__(self, stream: BinaryIO) -> None:
        self._stream = stream

    def __getattr__(self, name: str) -> Any:
        if name in ("fileno", "name", "raw"):
            raise AttributeError(name)
        return getattr(self._stream, name)

    def __enter__(self) -> "_Undescribed":
        return self

    def __exit__(self, *_: object) -> None:
        self._stream.close()


def printable_name(path: str | Path) -> str:
    """The file's name without its folder, on one line: whatever cannot be printed is escaped."""
    name = (Path(path).name or str(path))[:LONGEST_NAME]
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in name)


def source_of_bytes(data: bytes, name: str) -> Source:
    """A file that lies in memory already."""
    if not data:
        raise UnreadablePicture(f"{name}: the file is empty; copy it again from where it came.")
    return Source(name, lambda: io.BytesIO(data))


def source_of_file(path: Path) -> Source:
    """A file on disk; raises ``UnreadablePicture`` unless it is one with something in it that may be read."""
    name = printable_name(path)
    check_file(path, name)
    return Source(name, lambda: _opened(path, name))


def check_file(path: Path, name: str) -> None:
    """Raise ``UnreadablePicture`` unless ``path`` is a file with something in it that may be read."""
    _opened(path, name).close()
    if path.suffix.lower() in RAW_SUFFIXES:
        raise UnreadablePicture(f"{name}: is a camera's raw file; export it as JPEG or 16-bit TIFF first.")


def _opened(path: Path, name: str) -> BinaryIO:
    """The file, after a look at what was opened: a pipe that took the file's place would be waited for for ever."""
    try:
        stream = open_regular(path)
    except NotOrdinary as error:
        mend = "give a picture in it" if error.errno == errno.EISDIR else "give a picture saved on disk"
        raise UnreadablePicture(f"{name}: {error.strerror}; {mend}.") from None
    except FileNotFoundError:
        if path.is_symlink():
            raise UnreadablePicture(
                f"{name}: is a link to a file that is not there; give the picture itself."
            ) from None
        raise UnreadablePicture(f"{name}: there is no such file; check the name and the folder.") from None
    except PermissionError:
        raise UnreadablePicture(f"{name}: the file may not be read; change its permissions.") from None
    except OSError as error:
        reason = error.strerror or str(error)
        raise UnreadablePicture(f"{name}: cannot be opened ({one_line(reason)}); check the name.") from None
    if os.fstat(stream.fileno()).st_size == 0:
        stream.close()
        raise UnreadablePicture(f"{name}: the file is empty; copy it again from where it came.")
    return _Undescribed(stream)  # type: ignore[return-value]


def one_line(text: str) -> str:
    """``text`` without line breaks, runs of spaces or anything that cannot be printed."""
    return " ".join("".join(c if c.isprintable() or c.isspace() else " " for c in text).split())
