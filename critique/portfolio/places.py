"""Which pictures lie below a folder, and where the review of each one goes."""

import os
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from critique.photograph.source import printable_name
from critique.photograph.suffixes import RAW_SUFFIXES, SUFFIXES
from critique.portfolio.ledger_trust import OURS
from critique.regular_file import open_regular
from critique.report.naming import TakenNames, safe_name

LEDGER = "ledger.sqlite"
REVIEWS = "reviews"
THUMBNAILS = "thumbnails"
_OWNER, _HEADER = 68, 72  # bytes of an SQLite file before and after the mark of the program that it is of

# Raw files are among them, so that they are refused by name and not passed over in silence.
PICTURE_SUFFIXES = RAW_SUFFIXES | SUFFIXES


@dataclass(frozen=True, slots=True)
class Found:
    """What lies below a folder: pictures, and folders that can't be read with the reason; both relative to it."""

    pictures: tuple[str, ...]
    unread: Mapping[str, str]

    def hides(self, path: str) -> bool:
        """Whether a path lies in a folder that could not be read."""
        return any(parent in self.unread for parent in map(str, PurePosixPath(path).parents))


def found_below(folder: Path, out: Path | None = None) -> Found:
    """The pictures below ``folder``, with '/'; sorted folder by folder.

    Hidden files and folders are passed over, and so is a portfolio's own folder: ``out``, and any that is known for
    one. Links to folders are not followed: they may lead in circles.
    """
    unread: dict[str, str] = {}

    def relative(path: str) -> str:
        return Path(path).relative_to(folder).as_posix()

    def missed(error: OSError) -> None:
        unread[relative(os.fsdecode(error.filename))] = (error.strerror or str(error)).lower()

    pictures: list[str] = []
    own = os.path.realpath(out) if out is not None else None
    for top, subfolders, names in os.walk(folder, onerror=missed):
        if os.path.realpath(top) == own or (LEDGER in names and _is_portfolio(Path(top))):
            subfolders.clear()
            continue
        subfolders[:] = sorted(name for name in subfolders if not name.startswith("."))
        inside = Path(top).relative_to(folder)
        pictures += [
            (inside / name).as_posix()
            for name in sorted(names)
            if not name.startswith(".") and os.path.splitext(name)[1].lower() in PICTURE_SUFFIXES
        ]
    return Found(tuple(pictures), unread)


def _is_portfolio(folder: Path) -> bool:
    """Whether a folder is a portfolio's own: its ledger says whose file it is, or its page and reviews stand there."""
    try:
        with open_regular(folder / LEDGER) as stream:
            head = stream.read(_HEADER)
    except OSError:
        return False
    ours = head.startswith(b"SQLite format 3\0") and head[_OWNER:_HEADER] == OURS.to_bytes(4, "big")
    return ours or ((folder / "portfolio.html").is_file() and (folder / REVIEWS).is_dir())


def review_folders(pictures: list[str]) -> list[str]:
    """Where the review of each picture goes, relative to the folder of all reviews: its path without the suffix.

    Names that differ in their suffix only, in capitals only, or that are a folder's beside them, keep their suffix;
    what is still taken gets a number. It depends on the set of pictures alone, never on what was there before.
    """
    paths = [PurePosixPath(picture) for picture in pictures]
    folders = {parent: _safe_folder(parent) for parent in {path.parent for path in paths}}
    taken = TakenNames(folder for parent in folders.values() for folder in _with_parents(parent))
    stems = [_below(folders[path.parent], path.stem) for path in paths]
    wholes = [_below(folders[path.parent], path.name) for path in paths]
    common = Counter(stem.casefold() for stem in stems)
    given: list[str] = []
    for stem, whole in zip(stems, wholes, strict=True):
        given.append(taken.free(stem if common[stem.casefold()] == 1 and stem not in taken else whole))
    return given


def shown_path(picture: str) -> str:
    """A relative path as it is printed: one line, whatever cannot be printed escaped."""
    return "/".join(printable_name(part) for part in PurePosixPath(picture).parts)


def thumbnail_path(content: str) -> str:
    """Where the thumbnail of a picture with this content goes, relative to the portfolio; never too many a folder."""
    return f"{THUMBNAILS}/{content[:2]}/{content[:20]}.jpg"


def outline_path(content: str) -> str:
    """Where the photograph goes that such a picture was cropped out of, outlined and small."""
    return f"{THUMBNAILS}/{content[:2]}/{content[:20]}_outline.jpg"


def _safe_folder(folder: PurePosixPath) -> str:
    return "/".join(safe_name(part) for part in folder.parts)


def _with_parents(folder: str) -> Iterator[str]:
    parts = folder.split("/")
    for length in range(1, len(parts) + 1):
        yield "/".join(parts[:length])


def _below(folder: str, name: str) -> str:
    return f"{folder}/{safe_name(name)}" if folder else safe_name(name)
