"""The norms of a folder of pictures."""

import hashlib
import os
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import count
from pathlib import Path

from critique.advice.norms import Norms, norms_of, read_norms
from critique.errors import CritiqueError, UnreadablePicture
from critique.measures.measure import Measures, measure_picture
from critique.photograph.suffixes import SUFFIXES
from critique.picture.read import read_picture
from critique.words.printed import shown_line

FEWEST_PICTURES = 5  # fewer make no norm: a percentile of four pictures is one of the four
Missed = Callable[[Path, Exception], None]


def norms_of_folder(folder: Path, origin: str, missed: Missed) -> Norms:
    """Measure every picture of a folder, in the order of their names, into norms.

    A picture that cannot be read or measured is left out, and ``missed`` is told which and why.

    Raises
    ------
    UnreadablePicture
        When the folder can't be read, or holds fewer than five pictures that can.
    """

    def measured(paths: list[Path]) -> Iterator[Measures]:
        for path in paths:
            if path.suffix.lower() in SUFFIXES:
                try:
                    yield measure_picture(read_picture(path))
                except Exception as error:  # one picture that trips the program is told like one that can't be read
                    missed(path, error)

    try:
        paths = sorted(folder.iterdir())
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise UnreadablePicture(f"{folder}: the folder can't be read ({reason})") from None
    every = list(measured(paths))
    if len(every) < FEWEST_PICTURES:
        raise UnreadablePicture(
            f"{folder}: {'1 picture' if len(every) == 1 else f'{len(every)} pictures'} can be read here, and norms need {FEWEST_PICTURES}; "
            "give a folder with more of your best"
        )
    return norms_of(every, origin)


def own_norms(folder: Path, missed: Missed) -> Norms:
    """The same of a painter's own folder, called after it and marked as of it."""
    return replace(norms_of_folder(folder, f"the pictures of {_name(folder)}", missed), folder=folder_mark(folder))


def usual_table(folder: Path, norms: Norms) -> Path:
    """Where a folder's norms go unless told otherwise: called after it, and never over those of another folder."""
    for number in count(1):
        path = Path(f"{_name(folder)}-norms{'' if number == 1 else f' ({number})'}.csv")
        if not os.path.lexists(path):
            return path
        try:
            if read_norms(path).folder == norms.folder:
                return path
        except CritiqueError:  # something else of that name
            continue
    raise AssertionError


def folder_mark(folder: Path) -> str:
    """By which a table knows the folder that it is of, and which tells nobody where that lies."""
    return hashlib.sha256(os.fsencode(os.path.realpath(folder))).hexdigest()[:12]


def _name(folder: Path) -> str:
    return shown_line(Path(os.path.realpath(folder)).name).replace("\\", "_")[:80] or "pictures"
