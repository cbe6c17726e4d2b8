"""Which pictures lie below a folder, and where the review of each one goes."""

import os
from collections import Counter
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from critique.photograph.source import printable_name
from critique.photograph.suffixes import RAW_SUFFIXES, SUFFIXES
from critique.report.naming import TakenNames, safe_name

LEDGER = "ledger.sqlite"
REVIEWS = "reviews"
THUMBNAILS = "thumbnails"

# Raw files are among them, so that they are refused by name and not passed over in silence.
PICTURE_SUFFIXES = RAW_SUFFIXES | SUFFIXES


def pictures_below(folder: Path) -> Iterator[str]:
    """Paths of the pictures below ``folder``, relative to it, with '/'; sorted folder by folder.

    Hidden files and folders are passed over, and so is a folder that holds a portfolio's own pages. Links to folders
    are not followed: they may lead in circles.
    """
    for top, subfolders, names in os.walk(folder):
        if LEDGER in names:
            subfolders.clear()
            continue
        subfolders[:] = sorted(name for name in subfolders if not name.startswith("."))
        inside = Path(top).relative_to(folder)
        for name in sorted(names):
            if not name.startswith(".") and os.path.splitext(name)[1].lower() in PICTURE_SUFFIXES:
                yield (inside / name).as_posix()


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


def _safe_folder(folder: PurePosixPath) -> str:
    return "/".join(safe_name(part) for part in folder.parts)


def _with_parents(folder: str) -> Iterator[str]:
    parts = folder.split("/")
    for length in range(1, len(parts) + 1):
        yield "/".join(parts[:length])


def _below(folder: str, name: str) -> str:
    return f"{folder}/{safe_name(name)}" if folder else safe_name(name)
